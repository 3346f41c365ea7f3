// The whole travel of a tensioner against many looks along it: every path solved and judged anew.
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

using namespace twoturn;

namespace {

// What many looks along a travel find.
struct Look {
  double q = 0.0;
  std::optional<double> length_mm;
  bool runs = false;
};

std::vector<Look> looks_along(const Drive& drive, double from_q, double to_q, int count) {
  std::vector<Look> looks;
  std::vector<Wheel> wheels;
  TangentPath path;
  for (int k = 0; k <= count; ++k) {
    Look look;
    look.q = from_q + (to_q - from_q) * k / count;
    place_wheels(drive, look.q, wheels);
    const PathResult result = solve_path(wheels, path);
    if (result.solved()) {
      look.length_mm = result.length_mm;
      look.runs = can_run(wheels, path, drive.around);
    }
    looks.push_back(look);
  }
  return looks;
}

DriveSpec random_drive(std::mt19937& random) {
  const auto between = [&random](double least, double most) {
    return std::uniform_real_distribution<double>(least, most)(random);
  };
  // Draws stand in statements and braces: arguments of a call are taken in any order.
  DriveSpec spec;
  spec.crank_turns = between(0, 1) < 0.5 ? Turn::clockwise : Turn::anticlockwise;
  spec.belt.section = "H8M";
  const double roller = between(40, 90);
  const Vec2 cam{between(-30, 30), between(130, 220)};
  const Vec2 pump{between(60, 90), between(40, 110)};
  spec.pulleys = {drives::toothed("crank", 24, 0, 0),
                  drives::back_roller("tensioner", roller, 0, 0),
                  drives::toothed("cam", 48, cam.x(), cam.y()),
                  drives::toothed("pump", 22, pump.x(), pump.y())};
  if (spec.crank_turns == Turn::anticlockwise) {
    for (PulleySpec& pulley : spec.pulleys) pulley.at_mm->x() *= -1.0;
  }
  const double side = spec.crank_turns == Turn::clockwise ? 1.0 : -1.0;
  spec.pulleys[0].role = Role::crankshaft;
  PulleySpec& tensioner = spec.pulleys[1];
  tensioner.at_mm.reset();
  const Vec2 place{side * between(-95, -50), between(50, 110)};
  if (between(0, 1) < 0.3) {
    const Vec2 way{side * between(20, 70), between(-30, 30)};
    TensionerSpec slide;
    slide.path = SlideSpec{place, place + way};
    tensioner.tensioner = slide;
    return spec;
  }
  const double arm = between(6, 40);
  const double slack = between(0, 360);
  const double tight = slack + between(30, 340);
  const Turn tightens = between(0, 1) < 0.5 ? Turn::clockwise : Turn::anticlockwise;
  tensioner.tensioner = drives::swing(place, arm, slack, tight, tightens);
  return spec;
}

constexpr int kLooks = 2000;

// The usable travel: whatever lies a look's width inside it runs, and outside does not.
void check_usable(const Drive& drive, const TensionerCurve& curve, const std::vector<Look>& looks) {
  const double step = drive.tensioner->path.travel_length() / kLooks;
  for (const Look& look : looks) {
    const auto in = [&](double by) {
      return std::any_of(curve.usable().begin(), curve.usable().end(), [&](const auto& range) {
        return look.q >= range.from_q - by && look.q <= range.to_q + by;
      });
    };
    CAPTURE(look.q);
    if (look.runs) CHECK(in(1e-9));
    if (!look.runs) CHECK_FALSE(in(-1e-9));
    CHECK(curve.runs_at(look.q) == in(0.0));
  }
  for (const UsableTravel& range : curve.usable()) {
    CHECK(range.from_q <= range.to_q);
    CHECK(range.slack_cause.has_value() == (range.from_q > 0.0));
    CHECK(range.tight_cause.has_value() ==
          (range.to_q < drive.tensioner->path.travel_length() - 1e-9));
    // Just beyond an end that has a cause nothing runs, and for that cause.
    for (const auto& end : {std::pair(range.from_q - 1e-7, range.slack_cause),
                            std::pair(range.to_q + 1e-7, range.tight_cause)}) {
      const double q = end.first;
      const std::optional<Refusal>& cause = end.second;
      if (!cause) continue;
      const std::vector<Wheel> wheels = placed_wheels(drive, q);
      TangentPath path;
      const bool solved = solve_path(wheels, path).solved();
      CHECK(solved == (cause->reason != Refused::no_tangent));
      if (!solved) continue;
      const auto reasons = reasons_against(wheels, path, drive.around);
      const bool said = std::any_of(reasons.begin(), reasons.end(), [&](const Refusal& reason) {
        return reason.reason == cause->reason && reason.first == cause->first;
      });
      CHECK(said);
    }
  }
  CHECK(step > 0.0);
}

void check_range(const TensionerCurve& curve, const std::vector<Look>& looks) {
  double least = std::numeric_limits<double>::infinity();
  double greatest = -least;
  for (const Look& look : looks) {
    if (!look.runs) continue;
    least = std::min(least, *look.length_mm);
    greatest = std::max(greatest, *look.length_mm);
  }
  CHECK(curve.least_mm() <= least + 1e-9);
  CHECK(curve.greatest_mm() >= greatest - 1e-9);
  // Two looks are a thousandth of the travel apart, some 0.1 mm of it.
  CHECK(curve.least_mm() >= least - 0.3);
  CHECK(curve.greatest_mm() <= greatest + 0.3);
}

// From a place on: the longest before the belt slackens again or stops running.
void check_longest_ahead(const TensionerCurve& curve, const std::vector<Look>& looks) {
  for (std::size_t k = 0; k + 1 < looks.size(); k += 37) {
    if (!looks[k].runs || !looks[k + 1].runs) continue;
    if (curve.at(looks[k].q)->rate < 0.0) {
      const bool steep = *looks[k + 1].length_mm < *looks[k].length_mm;
      if (steep) CHECK(curve.longest_ahead(looks[k].q) == looks[k].q);
      continue;
    }
    if (*looks[k + 1].length_mm <= *looks[k].length_mm) continue;
    // A hair before its least the belt slackens first, though the next look is longer.
    if (curve.at(looks[k].q)->rate <= 0.0) continue;
    std::size_t top = k + 1;
    while (top + 1 < looks.size() && looks[top + 1].runs &&
           *looks[top + 1].length_mm > *looks[top].length_mm) {
      ++top;
    }
    const double ahead = curve.at(curve.longest_ahead(looks[k].q))->length_mm;
    CAPTURE(looks[k].q, looks[top].q);
    CHECK(ahead >= *looks[top].length_mm - 1e-9);
    CHECK(ahead <= *looks[top].length_mm + 0.3);
    CHECK_THAT(curve.describe(looks[k].q).adjustment_left_mm,
               WithinAbs(ahead - *looks[k].length_mm, 1e-9));
  }
}

void check_over_centres(const Drive& drive, const TensionerCurve& curve,
                        const std::vector<Look>& looks) {
  std::vector<double> tops;
  for (std::size_t k = 1; k + 1 < looks.size(); ++k) {
    const auto &before = looks[k - 1].length_mm, &here = looks[k].length_mm,
               &after = looks[k + 1].length_mm;
    // Steps of some degrees are jumps, where a wrap comes to a whole turn.
    if (!before || !here || !after || std::abs(*after - *before) > 5.0) continue;
    if (*here > *before && *here >= *after) tops.push_back(looks[k].q);
  }
  const std::vector<double> found = curve.over_centres();
  REQUIRE(found.size() == tops.size());
  for (std::size_t k = 0; k < tops.size(); ++k) {
    CHECK(std::abs(found[k] - tops[k]) <= 2.0 * drive.tensioner->path.travel_length() / kLooks);
    CHECK(curve.describe(found[k]).over_centre == OverCentre::at);
    CHECK(curve.describe(found[k]).adjustment_left_mm == 0.0);
  }
}

// Belt let off over some looks, a share of all that it can take up.
double let_off(const std::vector<Look>& looks) {
  double off = 0.0;
  for (std::size_t k = 1; k < looks.size(); ++k) {
    if (!looks[k].length_mm || !looks[k - 1].length_mm) continue;
    const double step = *looks[k - 1].length_mm - *looks[k].length_mm;
    if (step < 5.0) off += std::max(0.0, step);
  }
  return off;
}

double range_of(const std::vector<Look>& looks) {
  double least = std::numeric_limits<double>::infinity();
  double greatest = -least;
  for (const Look& look : looks) {
    if (!look.length_mm) continue;
    least = std::min(least, *look.length_mm);
    greatest = std::max(greatest, *look.length_mm);
  }
  return greatest - least;
}

}  // namespace

TEST_CASE("Where a belt runs, how long it is there and what is left are what many looks show") {
  std::mt19937 random(4);
  int begins_late = 0;
  int ends_early = 0;
  int tops = 0;
  for (int k = 0; k < 40; ++k) {
    const DriveSpec spec = random_drive(random);
    const Drive drive = drives::built(spec);
    const TensionerCurve curve(drive);
    const double travel = drive.tensioner->path.travel_length();
    const std::vector<Look> looks = looks_along(drive, 0.0, travel, kLooks);
    CAPTURE(k);
    check_usable(drive, curve, looks);
    if (curve.usable().empty()) continue;
    check_range(curve, looks);
    check_longest_ahead(curve, looks);
    check_over_centres(drive, curve, looks);
    begins_late += curve.usable().front().from_q > 0.0 ? 1 : 0;
    ends_early += curve.usable().back().to_q < travel - 1e-9 ? 1 : 0;
    tops += static_cast<int>(curve.over_centres().size());
  }
  CHECK(begins_late > 5);
  CHECK(ends_early > 5);
  CHECK(tops > 5);
}

TEST_CASE(
    "A belt that runs somewhere in a travel is found from either way of listing its pulleys") {
  std::mt19937 random(21);
  int somewhere = 0;
  for (int k = 0; k < 400; ++k) {
    const DriveSpec spec = random_drive(random);
    DriveSpec backwards = spec;
    std::reverse(backwards.pulleys.begin(), backwards.pulleys.end());
    const Drive one = drives::built(spec);
    const Drive other = drives::built(backwards);
    // Nine settings are looked at, from end to end.
    bool runs = false;
    for (const Look& look : looks_along(one, 0.0, one.tensioner->path.travel_length(), 8)) {
      runs = runs || look.runs;
    }
    if (!runs) continue;
    CAPTURE(k);
    CHECK(one.order == Order::as_listed);
    CHECK(other.order == Order::reversed);
    somewhere += looks_along(one, 0.0, 1.0, 1).front().runs ? 0 : 1;
  }
  CHECK(somewhere > 10);
}

TEST_CASE("What a swing lets off, either way round, is what many looks show") {
  for (const double slack : {0.0, 40.0, 100.0, 190.0, 300.0}) {
    for (const double travel_deg : {60.0, 150.0, 250.0, 350.0}) {
      for (const Turn tightens : {Turn::clockwise, Turn::anticlockwise}) {
        DriveSpec spec = drives::worked_example();
        const double tight = tightens == Turn::clockwise ? slack + travel_deg : slack - travel_deg;
        drives::named(spec, "tensioner").tensioner =
            drives::swing(Vec2(-40, 170), 6.0, slack, tight, tightens);
        const Drive drive = drives::built(spec);
        const TensionerCurve curve(drive);
        const double travel = drive.tensioner->path.travel_length();
        CAPTURE(slack, travel_deg, tightens == Turn::clockwise);
        const std::vector<Look> there = looks_along(drive, 0.0, travel, kLooks);
        const std::vector<Look> back = looks_along(drive, kFullTurn, travel, kLooks);
        const double range = range_of(looks_along(drive, 0.0, kFullTurn, kLooks));
        // Tops between two looks: a millionth of the range.
        CHECK_THAT(curve.lets_off(), WithinAbs(let_off(there) / range, 1e-4));
        REQUIRE(curve.lets_off_the_other_way().has_value());
        CHECK_THAT(*curve.lets_off_the_other_way(), WithinAbs(let_off(back) / range, 1e-4));
      }
    }
  }
}

TEST_CASE("A slide has no other way round, and a swing through a gap has none either") {
  std::mt19937 random(9);
  int gaps = 0;
  for (int k = 0; k < 60; ++k) {
    const Drive drive = drives::built(random_drive(random));
    const TensionerCurve curve(drive);
    if (!drive.tensioner->path.swing()) {
      CHECK_FALSE(curve.lets_off_the_other_way().has_value());
      continue;
    }
    const std::vector<Look> looks = looks_along(drive, 0.0, kFullTurn, kLooks);
    const bool gap =
        std::any_of(looks.begin(), looks.end(), [](const Look& look) { return !look.length_mm; });
    if (!gap) continue;
    ++gaps;
    CHECK_FALSE(curve.lets_off_the_other_way().has_value());
  }
  CHECK(gaps > 3);
}

TEST_CASE("Every count between the ends of a usable travel goes on, and none beyond them") {
  std::mt19937 random(4);
  int counted = 0;
  for (int k = 0; k < 40; ++k) {
    const Drive drive = drives::built(random_drive(random));
    const TensionerCurve curve(drive);
    const std::vector<FittingCount> counts = fitting_counts(curve, drive.belt);
    if (curve.usable().size() != 1) continue;
    std::vector<int> expected;
    for (int teeth = 40; teeth < 120; ++teeth) {
      if (8.0 * teeth >= curve.least_mm() && 8.0 * teeth <= curve.greatest_mm()) {
        expected.push_back(teeth);
      }
    }
    std::vector<int> found;
    for (const FittingCount& count : counts) found.push_back(count.teeth);
    CAPTURE(k);
    CHECK(found == expected);
    counted += static_cast<int>(found.size());
  }
  CHECK(counted > 20);
}

TEST_CASE("A count whose length is that of an end itself still goes on") {
  // A cam that slides straight away from a crank of its size: two mm of belt a mm. 22 teeth of 8
  // and 2 x 300 mm are 97 pitches; 2 x 320, 102.
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(0, 320)};
  drives::named(spec, "cam").tensioner = tensioner;
  const Fitted fitted = drives::fitted(spec);
  const std::vector<FittingCount> counts = fitting_counts(*fitted.curve(), fitted.drive().belt);
  REQUIRE(counts.size() == 6);
  CHECK(counts.front().teeth == 97);
  CHECK(counts.back().teeth == 102);
  const TeethAnswer answer = fitting_teeth(fitted);
  REQUIRE(answer.nearby.size() == 2);
  CHECK(answer.nearby[0].teeth == 96);
  CHECK_THAT(answer.nearby[0].mismatch_mm, WithinAbs(-8.0, 1e-9));
  CHECK(answer.nearby[1].teeth == 103);
  CHECK_THAT(answer.nearby[1].mismatch_mm, WithinAbs(8.0, 1e-9));
  CHECK_FALSE(fitted.curve()->usable().front().slack_cause.has_value());
}
