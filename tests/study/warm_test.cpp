// Stretch and running temperature. Evidence: two pulleys, crank and cam in one line, in closed
// form; each run, from mark to mark, is half of the belt. Expansions: Callister, Fundamentals of
// Materials Science and Engineering, table B.6.
#include "twoturn/study/warm.hpp"

#include <cmath>

#include "support/assembled.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "twoturn/timing/turns.hpp"

using namespace twoturn;

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kPitchMm = 8.0;
constexpr int kCrank = 22;
constexpr int kCam = 44;
constexpr int kBelt = 120;
// The centres at which 120 teeth of 8 mm go round 22 and 44: the exact inverse in teeth, the form
// of ISO 5296 and ISO 13050 (from memory).
constexpr double kCentreMm = 346.86836251;
constexpr double kPrintedMm = 1e-8;
constexpr double kGreyIron = 11.4;
constexpr double kAluminium = 21.5;
constexpr double kGlass = 5.0;

double radius_mm(int teeth) { return kPitchMm * teeth / (2.0 * kPi); }

// From the crank's lowest point to the cam's highest, on one side.
double run_mm(double centre_mm) {
  const double k = radius_mm(kCam) - radius_mm(kCrank);
  return std::sqrt(centre_mm * centre_mm - k * k) + k * std::asin(k / centre_mm) +
         kPi / 2.0 * (radius_mm(kCam) + radius_mm(kCrank));
}

// So much belt more on the tight side makes the cam so late.
double late_crank_deg(double belt_mm) { return 2.0 * belt_mm / radius_mm(kCam) * 180.0 / kPi; }

DriveSpec drive() { return drives::two_pulleys(kPitchMm, kCrank, kCam, kCentreMm, kBelt); }

double cam_after_two(const DriveSpec& spec) {
  const BothFits both = both_fits(spec, Fit::as_fitted);
  AssemblyResult result = assemble(*both.book.fitted, *both.asked.fitted);
  REQUIRE(result.assembly.has_value());
  const TurnsAnswer turns = two_turns(std::move(*result.assembly), {});
  return after_two(turns)->shafts[1].error_crank_deg;
}

WarmSpec warm(double belt_ppm) {
  WarmSpec spec;
  spec.cold_c = 20.0;
  spec.block_c = 90.0;
  spec.head_c = 95.0;
  spec.belt_c = 70.0;
  spec.block_ppm_per_c = kGreyIron;
  spec.head_ppm_per_c = kAluminium;
  spec.belt_ppm_per_c = belt_ppm;
  return spec;
}

WarmAnswer warmed(const DriveSpec& spec) {
  const std::optional<WarmAnswer> answer = warm_drive(spec, both_fits(spec, Fit::as_fitted));
  REQUIRE(answer.has_value());
  return *answer;
}

// On the block, or on a head whose face lies 200 mm above the crank.
constexpr double kFaceMm = 200.0;
double warm_centre_mm() {
  const double block = 1.0 + 70.0 * kGreyIron * 1e-6;
  const double head = 1.0 + 75.0 * kAluminium * 1e-6;
  return kFaceMm * block + (kCentreMm - kFaceMm) * head;
}

}  // namespace

TEST_CASE("A stretched belt makes the cam late by what its tight side is longer") {
  DriveSpec spec = drive();
  spec.build.stretch_percent = 0.1;
  const double expected = -late_crank_deg(0.001 * run_mm(kCentreMm));
  CHECK_THAT(cam_after_two(spec), WithinAbs(expected, kPrintedMm));
}

TEST_CASE("Teeth further apart fit as a longer belt does") {
  DriveSpec spec = drives::worked_example();
  spec.build.stretch_percent = 0.05;
  const Fitted fitted = *fitted_for(spec, Fit::as_fitted).fitted;
  const double length = 111 * 9.525 * 1.0005;
  CHECK_THAT(fitted.drive().belt.length_mm(111), WithinRel(length, 1e-15));
  REQUIRE_FALSE(fitted.curve()->settings_for(length).empty());
  const BothFits both = both_fits(spec, Fit::as_fitted);
  AssemblyResult result = assemble(*both.book.fitted, *both.asked.fitted);
  REQUIRE(result.assembly.has_value());
  CHECK_THAT(result.assembly->fitted_path.path.length_mm, WithinAbs(length, 1e-9));
}

TEST_CASE("A belt that a warm engine pulls evenly longer leaves the cam where it was") {
  // The two runs are alike, so what is pulled longer is shared alike.
  DriveSpec spec = drive();
  spec.heads[0].deck_from_crank_mm = kFaceMm;
  spec.build.warm = warm(kGlass);
  const WarmAnswer answer = warmed(spec);
  REQUIRE(answer.shafts.size() == 1);
  const double grows = 2.0 * (run_mm(warm_centre_mm()) - run_mm(kCentreMm));
  const double belt_grows = kBelt * kPitchMm * 50.0 * kGlass * 1e-6;
  CHECK(grows > belt_grows);
  CHECK_THAT(answer.path_grows_mm, WithinAbs(grows, kPrintedMm));
  CHECK_THAT(answer.belt_grows_mm, WithinAbs(belt_grows, 1e-12));
  CHECK_THAT(answer.tighter_mm(), WithinAbs(grows - belt_grows, kPrintedMm));
  CHECK_THAT(answer.shafts[0].locked_crank_deg, WithinAbs(0.0, kPrintedMm));
}

TEST_CASE("A belt that grows more than the engine hangs on the slack side, and the cam is late") {
  DriveSpec spec = drive();
  spec.heads[0].deck_from_crank_mm = kFaceMm;
  spec.build.warm = warm(60.0);
  const WarmAnswer answer = warmed(spec);
  const double cold = run_mm(kCentreMm);
  const double more = 50.0 * 60.0e-6 * cold - (run_mm(warm_centre_mm()) - cold);
  CHECK(answer.tighter_mm() < 0.0);
  CHECK(more > 0.0);
  CHECK_THAT(answer.shafts[0].locked_crank_deg, WithinAbs(-late_crank_deg(more), kPrintedMm));
}

TEST_CASE("A tensioner that follows stands where the warm belt has its length") {
  DriveSpec spec = drives::worked_example();
  spec.heads[0].deck_from_crank_mm = 210.0;
  spec.build.warm = warm(kGlass);
  const WarmAnswer answer = warmed(spec);
  REQUIRE(answer.sprung_setting.has_value());
  CHECK_THAT(answer.sprung_setting->length_mm,
             WithinAbs(111 * 9.525 * (1.0 + 50.0 * kGlass * 1e-6), 1e-9));
  REQUIRE(answer.shafts[0].sprung_crank_deg.has_value());
  // The engine grows more than its belt, as with a thicker gasket: early, where a skim is late.
  CHECK(*answer.shafts[0].sprung_crank_deg > answer.shafts[0].cold_crank_deg);
}

TEST_CASE("What is missing for a warm drive is asked for") {
  DriveSpec spec = drive();
  spec.build.warm = warm(kGlass);
  spec.build.warm->belt_ppm_per_c.reset();
  const WarmAnswer answer = warmed(spec);
  REQUIRE(answer.missing.size() == 2);
  CHECK(answer.missing[0].key == "build.warm.belt_ppm_per_c");
  CHECK(answer.missing[1].key == "head.head.deck_from_crank_mm");
  CHECK(answer.shafts.empty());
}

TEST_CASE("A belt's tolerance by its standard is known in the tensioner's place") {
  DriveSpec spec = drives::worked_example();
  spec.build.length_by_standard = true;
  const Fitted fitted = *fitted_for(spec, Fit::as_fitted).fitted;
  REQUIRE(fitted.uncertainty().unknowns().size() == 1);
  // 1057.275 mm: up to 1270 plus or minus 0.76 (ISO 5296, from memory).
  const double q = fitted.drive().tensioner->set_q.value_or(0.0);
  CHECK_THAT(fitted.uncertainty().length(fitted.drive(), q, 111).give_or_take,
             WithinRel(0.76, 1e-12));
}
