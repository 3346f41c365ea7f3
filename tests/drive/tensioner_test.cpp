#include "twoturn/drive/tensioner_curve.hpp"

#include <algorithm>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/paths.hpp"
#include "support/worked_values.hpp"
#include "twoturn/drive/teeth.hpp"

using namespace twoturn;

namespace {

constexpr double kPromisedMm = 1e-9;  // what a solved setting promises

double length_at(const Drive& drive, double q) {
  return twoturn::test::solved(placed_wheels(drive, q)).length_mm;
}

}  // namespace

TEST_CASE("The worked example's belt stands where tangents alone put it") {
  const Drive drive = drives::built(drives::worked_example());
  const TensionerCurve curve(drive);
  const std::vector<Setting> settings = curve.settings_for(111 * 9.525);
  REQUIRE(settings.size() == 2);
  CHECK_THAT(settings[0].reading.value, WithinAbs(worked::kSetDeg, worked::kHalfDigitDeg));
  CHECK(settings[0].over_centre == OverCentre::before);
  CHECK_THAT(settings[0].adjustment_left_mm,
             WithinAbs(worked::kAdjustmentLeftMm, worked::kHalfDigitMm));
  CHECK(settings[0].rate > 0.0);
  CHECK_THAT(settings[1].reading.value, WithinAbs(worked::kPastDeg, worked::kHalfDigitDeg));
  CHECK(settings[1].over_centre == OverCentre::past);
  CHECK(settings[1].adjustment_left_mm == 0.0);
  CHECK(settings[1].in_travel);
  REQUIRE(curve.over_centres().size() == 1);
  CHECK_THAT(curve.describe(curve.over_centres()[0]).reading.value,
             WithinAbs(worked::kOverCentreDeg, worked::kHalfDigitDeg));
}

TEST_CASE("Only 111 teeth fit the worked example, not 110 and not 112") {
  const Drive drive = drives::built(drives::worked_example());
  const std::vector<FittingCount> counts = fitting_counts(TensionerCurve(drive), drive.belt);
  REQUIRE(counts.size() == 1);
  CHECK(counts[0].teeth == 111);
}

TEST_CASE("Every setting put back gives the belt's length") {
  const double arm = GENERATE(3.0, 6.0, 12.0, 40.0);
  const double slack = GENERATE(0.0, 77.0, 200.0, 300.0);
  DriveSpec spec = drives::worked_example();
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  tensioner = drives::swing(Vec2(-40, 170), arm, slack, slack + 300.0, Turn::clockwise);
  const Drive drive = drives::built(spec);
  const TensionerCurve curve(drive);
  int found = 0;
  for (int teeth = 104; teeth <= 118; ++teeth) {
    for (const Setting& setting : curve.settings_for(teeth * 9.525)) {
      CAPTURE(arm, slack, teeth, setting.q);
      CHECK_THAT(length_at(drive, setting.q) - teeth * 9.525, WithinAbs(0.0, kPromisedMm));
      ++found;
    }
  }
  CHECK(found > 0);
}

TEST_CASE("A length touched only at over centre has one setting, and it is called at") {
  // Exact: the greatest length itself is a double root.
  const Drive drive = drives::built(drives::worked_example());
  const TensionerCurve curve(drive);
  const double top = curve.describe(curve.over_centres().at(0)).length_mm;
  const std::vector<Setting> settings = curve.settings_for(top);
  REQUIRE(settings.size() == 1);
  CHECK(settings[0].over_centre == OverCentre::at);
  CHECK(settings[0].adjustment_left_mm == 0.0);
  CHECK(curve.settings_for(top + 1e-6).empty());
  CHECK(curve.settings_for(top - 1e-6).size() == 2);
}

TEST_CASE("The rate is the slope of length against setting") {
  const Drive drive = drives::built(drives::worked_example());
  const TensionerCurve curve(drive);
  constexpr double kStep = 1e-5;
  constexpr double kDifference = 1e-7;  // central difference: step squared and rounding over step
  for (int k = 1; k < 30; ++k) {
    const double q = k * 0.15;
    const double slope = (length_at(drive, q + kStep) - length_at(drive, q - kStep)) / (2 * kStep);
    CHECK_THAT(curve.at(q)->rate - slope, WithinAbs(0.0, kDifference));
  }
}

TEST_CASE("A slide takes up twice its sideways share of the belt") {
  // Exact: a pulley moved along the bisector of its wrap lengthens the path by 2 sin(wrap/2) a mm.
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 100);
  drives::named(spec, "cam").at_mm.reset();
  SlideSpec slide;
  slide.slack_at_mm = Vec2(0, 290);
  slide.tight_at_mm = Vec2(0, 320);
  TensionerSpec tensioner;
  tensioner.path = slide;
  tensioner.set_mm = 10.0;
  drives::named(spec, "cam").tensioner = tensioner;
  const Drive drive = drives::built(spec);
  const TensionerCurve curve(drive);
  const Setting setting = curve.describe(10.0);
  CHECK_THAT(setting.rate, WithinAbs(2.0, 1e-12));  // wrap 180
  CHECK_THAT(setting.length_mm, WithinAbs(2 * 300.0 + 22 * 8.0, 1e-10));
  CHECK_THAT(setting.adjustment_left_mm, WithinAbs(40.0, 1e-10));
  const std::vector<Setting> settings = curve.settings_for(98 * 8.0);
  REQUIRE(settings.size() == 1);
  CHECK_THAT(settings[0].reading.value, WithinAbs((98 * 8.0 - 22 * 8.0) / 2 - 290.0, 1e-9));
}

TEST_CASE("A cover in the roller's way shortens the usable travel and is named") {
  DriveSpec spec = drives::worked_example();
  CoverSpec stud;
  stud.name = "stud";
  stud.points_mm = {Vec2(-3, 160), Vec2(3, 160)};
  spec.covers = {stud};
  const Drive drive = drives::built(spec);
  const TensionerCurve curve(drive);
  REQUIRE_FALSE(curve.usable().empty());
  const UsableTravel& usable = curve.usable().front();
  REQUIRE(usable.tight_cause.has_value());
  CHECK(usable.tight_cause->reason == Refused::rubs_obstacle);
  CHECK(usable.to_q < drive.tensioner->path.travel_length());
  const std::optional<TensionerAnswer> answer = preview_tensioner(drives::fitted(spec));
  CHECK_THAT(answer->usable.front().second.cause->text, ContainsSubstring("stud"));
  // A setting beyond it is no setting.
  for (const Setting& setting : curve.settings_for(111 * 9.525)) {
    const bool inside =
        std::any_of(curve.usable().begin(), curve.usable().end(), [&](const UsableTravel& range) {
          return setting.q >= range.from_q && setting.q <= range.to_q;
        });
    if (setting.in_travel) CHECK(inside);
  }
}

TEST_CASE("The pointer turns with the eccentric") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "tensioner").tensioner->pointer_deg = 90.0;
  const Drive drive = drives::built(spec);
  const Tensioner& tensioner = *drive.tensioner;
  CHECK_THAT(*tensioner.pointer_at(*tensioner.set_q), WithinAbs(90.0, 1e-9));
  const double ten_on = tensioner.path.from_reading(356.0);
  CHECK_THAT(*tensioner.pointer_at(ten_on), WithinAbs(100.0, 1e-9));
}

TEST_CASE("The arm of an eccentric is half the difference of its walls") {
  // Common practice, and exact: (thickest - thinnest)/2.
  DriveSpec spec = drives::worked_example();
  auto& swing = std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
  swing.arm_mm.reset();
  swing.thickest_mm = 15.5;
  swing.thinnest_mm = 3.5;
  CHECK(drives::built(spec).tensioner->path.swing()->arm_mm == 6.0);
}

TEST_CASE("Centre distances for a whole tooth count come back from the exact inverse") {
  // Exact inverse in teeth, derived: tan f - f = pi (z_b - z2)/(z2 - z1) and then
  // C = p (z2 - z1)/(2 pi cos f). The form of the ISO 5296 and ISO 13050 annexes, from memory.
  struct Row {
    double pitch;
    int small, large, belt;
    double centre;
  };
  const Row row =
      GENERATE(Row{8, 22, 44, 120, 346.86836251}, Row{9.525, 20, 40, 110, 379.789154598},
               Row{8, 24, 48, 140, 414.874117676}, Row{5, 20, 60, 120, 197.428373742},
               Row{5.08, 16, 32, 70, 116.118682997});
  constexpr double kPrintedMm = 5e-9;  // the table's last printed digit
  DriveSpec spec = drives::two_pulleys(row.pitch, row.small, row.large, row.centre, row.belt);
  spec.belt.length_tolerance_mm = 0.6;
  const TeethAnswer teeth = fitting_teeth(drives::fitted(spec));
  REQUIRE(teeth.fits.size() == 1);
  CHECK(teeth.fits[0].teeth == row.belt);
  CHECK_THAT(teeth.teeth_exact * row.pitch, WithinAbs(row.belt * row.pitch, 4 * kPrintedMm));
  // From somewhere else, the move back to the table's centre distance.
  drives::named(spec, "cam").at_mm = Vec2(0, row.centre - 2.0);
  const TeethAnswer moved = fitting_teeth(drives::fitted(spec));
  for (const NearbyCount& count : moved.nearby) {
    if (count.teeth == row.belt) CHECK_THAT(*count.move_mm, WithinAbs(2.0, 2 * kPrintedMm));
  }
}
