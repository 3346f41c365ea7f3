// What a fault does to two pulleys, worked out here on paper, and CHECKS.md's exact table of a
// skim.
#include <cmath>

#include "fault/two_pulleys.hpp"
#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/worked_values.hpp"

namespace {

using namespace twoturn;
using two_pulleys::Sizes;

constexpr double kHalfTurn = 3.14159265358979323846;
constexpr double kRounding = 1e-9;  // deg
constexpr Sizes kTwo{8.0, 22, 44, 300.0, 109};

double short_way(double deg) { return std::remainder(deg, 360.0); }

class Two {
 public:
  explicit Two(const Sizes& sizes) : Two(two_pulleys::spec_of(two_pulleys::text_of(sizes))) {}
  explicit Two(const DriveSpec& spec) : base_(fault_base(spec, Fit::as_fitted)) {
    REQUIRE(base_.turns);
  }

  Bench bench(const Fault& fault, double size) const {
    std::optional<Bench> bench = simulate(base_, {{fault}, 1.0}, size).bench;
    REQUIRE(bench);
    return *bench;
  }
  // Own deg of the cam.
  double shaft(const Fault& fault, double size = 0.0, int stop = 2) const {
    return bench(fault, size).shafts[1].shaft_deg[stop];
  }
  double mark(const Fault& fault, double size = 0.0, int stop = 2) const {
    return bench(fault, size).shafts[1].mark_deg[stop];
  }
  const FaultBase& base() const { return base_; }

 private:
  FaultBase base_;
};

double tooth_deg(const Sizes& sizes) { return 360.0 / sizes.cam; }
double cam_radius(const Sizes& sizes) { return sizes.pitch_mm * sizes.cam / 2.0 / kHalfTurn; }

// From the crank's mark to the cam's, both at 12 o'clock, along the taut run of an open belt: its
// tangent, and what the lean of the contact points adds on the one and takes off the other.
double way_mm(const Sizes& sizes, double centre_mm) {
  const double more = sizes.pitch_mm * (sizes.cam - sizes.crank) / 2.0 / kHalfTurn;
  return std::sqrt(centre_mm * centre_mm - more * more) + more * std::asin(more / centre_mm);
}

}  // namespace

TEST_CASE("an uncounted skim leaves the cam late by the exact table") {
  for (const worked::InLineSkim& row : worked::kInLineSkims) {
    CAPTURE(row.skim_mm);
    const Sizes sizes{row.pitch_mm, row.crank_teeth, row.cam_teeth, row.centre_mm,
                      row.belt_teeth + 1};
    const Two two(sizes);
    const Fault skim{FaultKind::head_change, "head", "", 1};
    CHECK_THAT(two.shaft(skim, row.skim_mm), WithinAbs(-row.cam_deg, 1e-8));
    CHECK_THAT(two.mark(skim, row.skim_mm), WithinAbs(-row.cam_deg, 1e-8));
    CHECK_THAT(2.0 * two.shaft(skim, row.skim_mm), WithinAbs(-row.crank_deg, 1e-8));
    // A thicker gasket does the same the other way, by the same sum at the other length.
    const double thicker =
        way_mm(sizes, sizes.centre_mm + row.skim_mm) - way_mm(sizes, sizes.centre_mm);
    CHECK_THAT(two.shaft({FaultKind::head_change, "head", "", -1}, row.skim_mm),
               WithinAbs(thicker / cam_radius(sizes) * 180.0 / kHalfTurn, kRounding));
  }
}

TEST_CASE("a tooth is 360 degrees by the pulley's count, at cam and crank") {
  const Two two(kTwo);
  for (const int teeth : {-2, -1, 1, 2}) {
    CHECK_THAT(two.shaft({FaultKind::tooth_out, "cam", "", teeth}),
               WithinAbs(teeth * tooth_deg(kTwo), kRounding));
    // Crank 1 early leaves all others 1 late (DESIGN.md).
    CHECK_THAT(two.shaft({FaultKind::crank_tooth, "crank", "", teeth}),
               WithinAbs(-teeth * tooth_deg(kTwo), kRounding));
    const Bench bench = two.bench({FaultKind::tooth_out, "cam", "", teeth}, 0.0);
    REQUIRE(bench.counts.size() == 1);
    CHECK_THAT(std::abs(bench.counts[0] - two.base().layout.pairs[0].nominal),
               WithinAbs(std::abs(teeth), kRounding));
  }
}

TEST_CASE("slack of so many millimetres is that arc of the cam, late") {
  const Two two(kTwo);
  for (const FaultCase& suspect : suspects_of(two.base())) {
    if (suspect.first().kind != FaultKind::slack_left || suspect.faults.size() > 1) continue;
    for (const double slack_mm : {0.5, 2.37, 6.0}) {
      CHECK_THAT(two.shaft(suspect.first(), slack_mm),
                 WithinAbs(-slack_mm / cam_radius(kTwo) * 180.0 / kHalfTurn, kRounding));
      CHECK(two.bench(suspect.first(), slack_mm).moved_when_tensioned);
    }
  }
}

TEST_CASE("a wrong count drifts by the ratio of the counts") {
  const Two two(kTwo);
  for (const int more : {-1, 1}) {
    const double turns_a_turn = 22.0 / (44.0 + more);  // of the cam for one of the crank
    const double at_crank = (22.0 + more) / 44.0;
    for (int stop = 1; stop < static_cast<int>(kBenchStops); ++stop) {
      CAPTURE(more, stop);
      const int turns = kBenchTurns[stop];
      const Bench cam = two.bench({FaultKind::tooth_count, "cam", "", more}, 0.2);
      const Bench crank = two.bench({FaultKind::tooth_count, "crank", "", more}, 0.2);
      CHECK_THAT(short_way(cam.shafts[1].mark_deg[stop] - cam.shafts[1].mark_deg[0] -
                           360.0 * turns * (turns_a_turn - 0.5)),
                 WithinAbs(0.0, kRounding));
      CHECK_THAT(short_way(crank.shafts[1].mark_deg[stop] - crank.shafts[1].mark_deg[0] -
                           360.0 * turns * (at_crank - 0.5)),
                 WithinAbs(0.0, kRounding));
    }
  }
}

TEST_CASE("a pulley turned on its shaft shows at the pin or at the mark") {
  const Two two(kTwo);
  for (const double seat : {-17.3, -2.0, 3.1, 25.0}) {
    CAPTURE(seat);
    // The belt goes on by the mark: that is right, the shaft behind by the seat.
    CHECK_THAT(two.mark({FaultKind::seat, "cam"}, seat), WithinAbs(0.0, kRounding));
    CHECK_THAT(two.shaft({FaultKind::seat, "cam"}, seat), WithinAbs(-seat, kRounding));
    // By the pin: the shaft is as near as a whole tooth brings it.
    const double teeth = std::round(seat / tooth_deg(kTwo));
    CHECK_THAT(two.mark({FaultKind::seat_by_pins, "cam"}, seat),
               WithinAbs(teeth * tooth_deg(kTwo), kRounding));
    CHECK_THAT(two.shaft({FaultKind::seat_by_pins, "cam"}, seat),
               WithinAbs(teeth * tooth_deg(kTwo) - seat, kRounding));
  }
}

TEST_CASE("half a turn stands opposite at every stop") {
  const Two two(kTwo);
  for (int stop = 0; stop < static_cast<int>(kBenchStops); ++stop) {
    CHECK_THAT(std::abs(two.mark({FaultKind::half_turn, "cam", "", 22}, 0.0, stop)),
               WithinAbs(180.0, kRounding));
  }
}

TEST_CASE("what leaves the timing alone leaves marks and pins right") {
  const Two two(kTwo);
  const Fault faults[] = {{FaultKind::eye, ""},
                          {FaultKind::belt_count, "belt", "", 1},
                          {FaultKind::loose_pin, "cam"},
                          {FaultKind::outer_mark, "damper", "crank"}};
  for (const Fault& fault : faults) {
    const Bench bench = two.bench(fault, 4.0);
    for (std::size_t stop = 0; stop < kBenchStops; ++stop) {
      CHECK_THAT(bench.shafts[1].shaft_deg[stop], WithinAbs(0.0, kRounding));
      CHECK_THAT(bench.shafts[1].mark_deg[stop], WithinAbs(0.0, kRounding));
    }
  }
  CHECK(two.bench(faults[0], 1.5).seen_aside_mm == 1.5);
  CHECK_THAT(two.bench(faults[1], 0.0).loose_mm, WithinAbs(8.0, kRounding));  // a pitch
  CHECK(two.bench(faults[2], 0.0).rocks);
  CHECK(two.bench(faults[2], 0.0).shafts[1].play_mm > 1.0);
  CHECK(two.bench(faults[3], 7.0).further_deg[0] == 7.0);
  // Nothing takes up a missing tooth on fixed centres.
  CHECK_FALSE(simulate(two.base(), {{{FaultKind::belt_count, "belt", "", -1}}, 1.0}, 0.0).bench);
}

TEST_CASE("set by another mark the shaft is out by what lies between") {
  const Two two(kTwo);
  // 120 deg clockwise on, the way it turns, are 14.67 teeth: whole ones, and behind.
  CHECK_THAT(two.shaft({FaultKind::other_mark, "cam", "notch", 1}),
             WithinAbs(-15.0 * tooth_deg(kTwo), kRounding));
}

TEST_CASE("a belt that rides at the crank moves all others, at the cam only it") {
  const Two two(kTwo);
  CHECK_THAT(two.shaft({FaultKind::not_seated, "cam"}, 0.3),
             WithinAbs(0.3 * tooth_deg(kTwo), kRounding));
  CHECK_THAT(two.shaft({FaultKind::not_seated, "crank"}, 0.3),
             WithinAbs(-0.3 * tooth_deg(kTwo), kRounding));
}

TEST_CASE("a crank pulley that slips carries its mark and all shafts") {
  const Two two(kTwo);
  const Bench bench = two.bench({FaultKind::slipped, "crank"}, 6.0);
  CHECK_THAT(bench.shafts[0].mark_deg[2], WithinAbs(6.0, kRounding));
  CHECK_THAT(bench.shafts[1].shaft_deg[2], WithinAbs(3.0, kRounding));  // half speed
  CHECK_FALSE(bench.same_each_try);
}

TEST_CASE("the cam bench, two demo pulleys, has the same signatures") {
  const Two two(demos::spec_of("cam-bench"));  // 22 and 44 teeth, pitch 8 mm
  CHECK_THAT(two.shaft({FaultKind::tooth_out, "cam spindle", "", 1}),
             WithinAbs(360.0 / 44.0, kRounding));
  CHECK_THAT(two.shaft({FaultKind::crank_tooth, "hand wheel", "", 1}),
             WithinAbs(-360.0 / 44.0, kRounding));
  const Bench bench = two.bench({FaultKind::tooth_count, "cam spindle", "", 1}, 0.0);
  CHECK_THAT(short_way(bench.shafts[1].mark_deg[2] - bench.shafts[1].mark_deg[0] + 8.0),
             WithinAbs(0.0, kRounding));  // 720 (22/45 - 22/44)
  CHECK_THAT(two.shaft({FaultKind::not_seated, "cam spindle"}, -0.25),
             WithinAbs(-0.25 * 360.0 / 44.0, kRounding));
}
