// What pins and errors show, and how sure that is. Evidence: chords by hand, limits from both
// sides, and the sum of squares by hand.
#include <cmath>
#include <cstddef>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"
#include "twoturn/timing/turns.hpp"

using namespace twoturn;
using turned_over::belt_on;
using turned_over::index_of;
using turned_over::seen;

namespace {

constexpr double kSigmas = 1.959963984540054;   // 95 in 100 of a normal law, any table
constexpr double kOneSide = 1.644853626951472;  // the same on one side

// The worked example with its cam so many own degrees out, and a pin of 35 mm there.
Assembly out_by(double own_deg) {
  Assembly assembly = belt_on(drives::worked_example());
  assembly.fits[index_of(assembly, "cam")].turned_on_shaft_deg = -own_deg;
  return assembly;
}

ShaftAfter cam_of(const Assembly& assembly, double tight_mm = 0.1) {
  TurnsQuestion question;
  question.pin_tight_mm = tight_mm;
  return seen(two_turns(assembly, question), "cam", 2);
}

// The same, its pin's play such that the holes are so far beyond it, and one number that moves them
// by a sigma so large.
ShaftAfter beyond_by(double beyond_mm, double sigma_mm, double tight_mm = 0.1) {
  Assembly assembly = out_by(2.0);
  const double miss = 70.0 * std::sin(kPi / 180.0);  // by hand: a chord of 2 deg at 35 mm
  Pin& pin = *assembly.shafts[index_of(assembly, "cam")].pin;
  pin.play_mm = miss - beyond_mm;
  pin.gives = {{"play", 0.0, sigma_mm}};
  return cam_of(assembly, tight_mm);
}

}  // namespace

TEST_CASE("A pin goes in where its holes are apart by its very play, tight by the very rest") {
  for (const double own_deg : {2.0, -2.0}) {
    Assembly assembly = out_by(own_deg);
    Pin& pin = *assembly.shafts[index_of(assembly, "cam")].pin;
    const double miss = 70.0 * std::sin(kPi / 180.0);
    CHECK_THAT(cam_of(assembly).miss_mm.value(), WithinAbs(miss, 1e-10));
    // Within 1e-9 of a limit rounding decides nothing; beyond that the limit does.
    pin.play_mm = miss - 5e-10;
    CHECK(cam_of(assembly).pin == PinState::in);
    pin.play_mm = miss - 2e-9;
    CHECK(cam_of(assembly).pin == PinState::tight);
    pin.play_mm = miss - 0.1 - 5e-10;
    CHECK(cam_of(assembly).pin == PinState::tight);
    pin.play_mm = miss - 0.1 - 2e-9;
    CHECK(cam_of(assembly).pin == PinState::out);
    CHECK(cam_of(assembly, 0.2).pin == PinState::tight);
  }
}

TEST_CASE("A pin is looked at when its shaft has come round whole, and not in between") {
  // Common practice: a cam's pin is due every second turn of the crank, the crank's at each.
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "crank").pin = PinSpec{40.0, 0.2, {}, {}, {}};
  const TurnsAnswer answer = turned_over::turned(spec);
  for (const int turns : {0, 1, 2, 4}) {
    CHECK(seen(answer, "crank", turns).pin == PinState::in);
    CHECK(seen(answer, "crank", turns).miss_mm == 0.0);
    const ShaftAfter& cam = seen(answer, "cam", turns);
    CHECK(cam.pin == (turns == 1 ? PinState::not_due : PinState::in));
    CHECK(cam.miss_mm.has_value() == (turns != 1));
  }
  // By hand: the play of 0.2 at 40 mm as an angle.
  CHECK_THAT(answer.crank_play_deg, WithinAbs(2.0 * std::asin(0.0025) * 180.0 / kPi, 1e-12));
  drives::named(spec, "cam").pin.reset();
  const TurnsAnswer without = turned_over::turned(spec);
  CHECK(seen(without, "cam", 2).pin == PinState::not_given);
  CHECK_FALSE(seen(without, "cam", 2).miss_mm.has_value());
}

TEST_CASE("What a pin shows is sure where the next state is 1.645 sigmas away") {
  constexpr double kSigmaMm = 0.02;
  constexpr double kSureMm = kOneSide * kSigmaMm;
  const auto sure = [&](double beyond) { return beyond_by(beyond, kSigmaMm).pin_sure; };
  // In, so far within its play.
  CHECK(beyond_by(-kSureMm - 1e-6, kSigmaMm).pin == PinState::in);
  CHECK(sure(-kSureMm - 1e-6));
  CHECK_FALSE(sure(-kSureMm + 1e-6));
  // Tight: beyond the play and within the tenth.
  CHECK(beyond_by(0.05, kSigmaMm).pin == PinState::tight);
  CHECK_FALSE(sure(kSureMm - 1e-6));
  CHECK(sure(kSureMm + 1e-6));
  CHECK(sure(0.1 - kSureMm - 1e-6));
  CHECK_FALSE(sure(0.1 - kSureMm + 1e-6));
  // Out, so far beyond the tenth.
  CHECK(beyond_by(0.15, kSigmaMm).pin == PinState::out);
  CHECK_FALSE(sure(0.1 + kSureMm - 1e-6));
  CHECK(sure(0.1 + kSureMm + 1e-6));
  // Where all is exact it is sure right up to a limit.
  CHECK(beyond_by(-1e-6, 0.0).pin_sure);
  CHECK(beyond_by(0.0, 0.0).pin_sure);
  CHECK(beyond_by(1e-6, 0.0).pin_sure);
}

TEST_CASE("A pin's miss less its play is off by error, radius and play as a chord is") {
  // By hand: 2 r sin(e/2) - play moves by r cos(e/2) de, by 2 sin(e/2) dr and by - dplay.
  for (const double own_deg : {90.0, -90.0, 30.0, -30.0}) {
    Assembly assembly = out_by(own_deg);
    const std::size_t cam = index_of(assembly, "cam");
    const double half = std::abs(own_deg) / 2.0 * kPi / 180.0;
    assembly.fits[cam].effects = {{"skim", 0.5}};
    const double by_error = 35.0 * std::cos(half) * 0.5 * kPi / 180.0;
    CHECK_THAT(cam_of(assembly).beyond_unsure.give_or_take, WithinRel(kSigmas * by_error, 1e-9));
    CHECK(cam_of(assembly).beyond_unsure.most == "skim");
    // A number that moves both radius and play, as a bar's length does: the one against the other.
    assembly.shafts[cam].pin->gives = {{"length", 0.3, 0.2}};
    const double by_pin = 2.0 * std::sin(half) * 0.3 - 0.2;
    CHECK_THAT(cam_of(assembly).beyond_unsure.give_or_take,
               WithinRel(kSigmas * std::hypot(by_error, by_pin), 1e-9));
  }
}

TEST_CASE("A shaft's error is off in crank degrees by what [build] is off, over its rate") {
  DriveSpec spec = drives::worked_example();
  Assembly assembly = belt_on(spec);
  assembly.fits[index_of(assembly, "cam")].effects = {{"skim", 0.3}, {"gasket", 0.4}};
  const ShaftAfter cam = cam_of(assembly);
  CHECK_THAT(cam.error_unsure.give_or_take, WithinRel(kSigmas * 0.5 * 2.0, 1e-12));  // 3-4-5
  CHECK(cam.error_unsure.most == "gasket");
  CHECK_THAT(cam.error_unsure.most_share, WithinRel(0.64, 1e-12));
}

TEST_CASE("A mark a hair before 12 o'clock stands at 0, and one that is not, where it stands") {
  Assembly assembly = belt_on(drives::worked_example());
  std::vector<Mark>& marks = assembly.shafts[index_of(assembly, "cam")].marks;
  marks[0].at_deg = 360.0 - 1e-10;
  CHECK(cam_of(assembly).mark_deg == 0.0);
  CHECK(cam_of(assembly).belongs_deg == 0.0);
  marks[0].at_deg = 360.0 - 1e-8;
  CHECK_THAT(cam_of(assembly).mark_deg.value(), WithinAbs(360.0 - 1e-8, 1e-10));
  marks[0].at_deg = 0.5;
  CHECK_THAT(cam_of(assembly).mark_deg.value(), WithinAbs(0.5, 1e-10));
}

TEST_CASE("A wrong pulley's grooves leave half a tooth either way open, a right one's nothing") {
  // By hand: 360/39 is a tooth.
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").teeth = 39;
  turned_over::take_fitting_belt(spec);
  const ShaftAfter cam = seen(turned_over::turned(spec), "cam", 2);
  CHECK_THAT(cam.known_within_own_deg.value(), WithinAbs(180.0 / 39.0, 1e-12));
  CHECK_FALSE(cam_of(out_by(9.0)).known_within_own_deg.has_value());
}

TEST_CASE("An error is told by the shaft, the crank, the tooth and the edge") {
  // By hand: 9 deg of a cam with 40 teeth, mark at 50 mm.
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").mark_radius_mm = 50.0;
  spec.build.teeth_out["cam"] = 1;
  const ShaftAfter cam = seen(turned_over::turned(spec), "cam", 4);
  CHECK_THAT(cam.error_own_deg, WithinAbs(9.0, 1e-9));
  CHECK_THAT(cam.error_crank_deg, WithinAbs(18.0, 1e-9));
  CHECK_THAT(cam.error_teeth, WithinAbs(1.0, 1e-9));
  CHECK_THAT(cam.error_edge_mm.value(), WithinAbs(9.0 * kPi / 180.0 * 50.0, 1e-9));
  // Clockwise and early: further on than where it belongs.
  CHECK_THAT(cam.mark_deg.value(), WithinAbs(9.0, 1e-9));
  CHECK_THAT(cam.belongs_deg.value(), WithinAbs(0.0, 1e-9));
}
