// The timing error over many drives by chance. Evidence: two pulleys in closed form (derived beside
// it; one of its values is published in the project's list of exact ones), the quantiles of a
// normal and an even law through a map that only falls, the two turns of the very drive, and the
// gradient where the two must agree.
#include "twoturn/timing/timing_spread.hpp"

#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"

using namespace twoturn;

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kDegPerRad = 180.0 / kPi;
constexpr double kSigmas = 1.959963984540054;  // 95 in 100 of a normal law, any table

// Crank 22 and cam 44, 8 mm, one above the other: the right-hand run is taut, marks at 3 o'clock.
constexpr double kApartMm = 300.0;
const double kCrankMm = 22 * 8.0 / (2.0 * kPi);
const double kCamMm = 44 * 8.0 / (2.0 * kPi);

DriveSpec skimmed_by(double skim_mm) {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 44, kApartMm, 108);
  for (PulleySpec& pulley : spec.pulleys) pulley.mark_deg = 90.0;
  if (skim_mm != 0.0) spec.build.skim_mm["head"] = skim_mm;
  return spec;
}

// From mark to mark: the straight run, and the arcs by which its ends lie beside 3 o'clock.
double way_mm(double apart_mm) {
  const double more = kCamMm - kCrankMm;
  return std::sqrt(apart_mm * apart_mm - more * more) + more * std::asin(more / apart_mm);
}

// The cam's error in crank deg after a skim: the way is shorter, so it is late.
double error_deg(double skim_mm) {
  return -2.0 * (way_mm(kApartMm) - way_mm(kApartMm - skim_mm)) / kCamMm * kDegPerRad;
}

SpreadAnswer spread_of(const DriveSpec& spec, const SpreadQuestion& question) {
  const BothFits both = both_fits(spec, Fit::as_fitted);
  REQUIRE(Spread::why_not(*both.asked.fitted).empty());
  return Spread(*both.asked.fitted, question, timing_beside(*both.book.fitted, *both.asked.fitted))
      .answer();
}

const SpreadError& only(const SpreadAnswer& answer) {
  REQUIRE(answer.errors.size() == 1);
  return answer.errors.front();
}

double turned(const DriveSpec& spec) {
  const BothFits both = both_fits(spec, Fit::as_fitted);
  AssemblyResult result = assemble(*both.book.fitted, *both.asked.fitted);
  REQUIRE(result.assembly);
  const TurnsAnswer turns = two_turns(std::move(*result.assembly), {});
  return turns.after.front().shafts.back().error_crank_deg;
}

}  // namespace

TEST_CASE("A skim known to 0.03 mm spreads the cam by its slope, two pulleys in closed form") {
  DriveSpec spec = skimmed_by(0.3);
  spec.given = {drives::measured("build.skim_mm.head", 0.03)};
  const SpreadAnswer answer = spread_of(spec, {50000, 1, SpreadLaw::normal, {}});
  const SpreadError& cam = only(answer);
  CHECK(cam.shaft == "cam");
  CHECK(cam.spreads);
  CHECK_THAT(cam.nominal, WithinAbs(-0.610952940, 1e-8));  // the project's list of exact values
  constexpr double kStepMm = 1e-3;
  const double slope = (error_deg(0.3 + kStepMm) - error_deg(0.3 - kStepMm)) / (2.0 * kStepMm);
  const double expected = std::abs(slope) * 0.03 / kSigmas;
  CHECK_THAT(cam.error.linear_deviation, WithinRel(expected, 1e-6));
  CHECK_THAT(cam.error.deviation, WithinRel(expected, 0.002));
  CHECK_THAT(cam.error.mean, WithinAbs(error_deg(0.3), 0.01 * expected));
  CHECK_THAT(cam.error.low, WithinAbs(error_deg(0.33), 0.03 * expected));
  CHECK_THAT(cam.error.high, WithinAbs(error_deg(0.27), 0.03 * expected));
  REQUIRE(cam.shares.size() == 1);
  CHECK(cam.shares.front().key == "build.skim_mm.head");
  CHECK(answer.error_samples == answer.samples);
}

TEST_CASE("The quantiles of one number's law go through the drive as they are") {
  // So wide that the map bends: the way's second derivative is in it. Half a tooth is not reached.
  DriveSpec spec = skimmed_by(1.0);
  spec.given = {drives::measured("build.skim_mm.head", 0.8)};
  const SpreadError even = only(spread_of(spec, {50000, 2, SpreadLaw::uniform, {}}));
  CHECK_THAT(even.error.low, WithinAbs(error_deg(1.0 + 0.95 * 0.8), 0.02));
  CHECK_THAT(even.error.middle, WithinAbs(error_deg(1.0), 0.02));
  CHECK_THAT(even.error.high, WithinAbs(error_deg(1.0 - 0.95 * 0.8), 0.02));
  const SpreadError normal = only(spread_of(spec, {50000, 2, SpreadLaw::normal, {}}));
  CHECK_THAT(normal.error.low, WithinAbs(error_deg(1.8), 0.02));
  CHECK_THAT(normal.error.high, WithinAbs(error_deg(0.2), 0.02));
}

TEST_CASE("At its limits a number leaves two values of the error, whatever law the others have") {
  DriveSpec spec = skimmed_by(0.3);
  spec.given = {drives::measured("build.skim_mm.head", 0.03),
                drives::measured("pulley.cam.at_mm[1]", 0.2)};
  const SpreadAnswer answer =
      spread_of(spec, {20000, 1, SpreadLaw::normal, {{"build.skim_mm.head", SpreadLaw::limits}}});
  const SpreadError& cam = only(answer);
  const double half = (error_deg(0.27) - error_deg(0.33)) / 2.0;
  CHECK_THAT(cam.error.deviation, WithinRel(half, 1e-3));
  CHECK_THAT(cam.error.low, WithinAbs(error_deg(0.33), 0.05 * half));
  CHECK_THAT(cam.error.high, WithinAbs(error_deg(0.27), 0.05 * half));
  // Of the belt, what the centre's normal law leaves (a mm of it is all but two of belt) and what
  // two limits do.
  const double rate = 2.0 * std::sqrt(1.0 - std::pow((kCamMm - kCrankMm) / kApartMm, 2));
  CHECK_THAT(answer.reading.deviation, WithinRel(rate * std::hypot(0.2 / kSigmas, 0.03), 0.005));
}

TEST_CASE("What is off alike in both drives puts no shaft out, and the answer says so") {
  DriveSpec spec = skimmed_by(0.3);
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.5)};
  const SpreadAnswer answer = spread_of(spec, {5000, 1, SpreadLaw::normal, {}});
  const SpreadError& cam = only(answer);
  CHECK_FALSE(cam.spreads);
  CHECK_THAT(cam.nominal, WithinAbs(error_deg(0.3), 1e-9));
  CHECK(cam.error.deviation == 0.0);
  CHECK(cam.error.low == cam.nominal);
  CHECK(cam.error.high == cam.nominal);
  CHECK(cam.shares.empty());
  // Nor is the book solved for it.
  CHECK(answer.error_samples == 0);
  const Fitted fitted = *both_fits(spec, Fit::as_fitted).asked.fitted;
  const SpreadAnswer alone = Spread(fitted, {5000, 1, SpreadLaw::normal, {}}).answer();
  CHECK(answer.path_evaluations == alone.path_evaluations);
  CHECK(answer.reading.mean == alone.reading.mean);
}

TEST_CASE("A stretched belt puts the cam late by what lies between the marks") {
  DriveSpec spec = skimmed_by(0.0);
  spec.build.stretch_percent = 0.05;
  spec.given = {drives::measured("build.stretch_percent", 0.01)};
  const SpreadError cam = only(spread_of(spec, {20000, 1, SpreadLaw::normal, {}}));
  const double a_percent = -2.0 * 0.01 * way_mm(kApartMm) / kCamMm * kDegPerRad;
  CHECK_THAT(cam.nominal, WithinAbs(0.05 * a_percent, 1e-9));
  CHECK_THAT(cam.error.deviation, WithinRel(0.01 / kSigmas * std::abs(a_percent), 0.003));
}

TEST_CASE("Without anything under [build] there is no second drive") {
  const BothFits both = both_fits(skimmed_by(0.0), Fit::as_fitted);
  CHECK_FALSE(timing_beside(*both.book.fitted, *both.asked.fitted).has_value());
}

TEST_CASE("With a tensioner the many have the error of two turns, and the gradient's deviation") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  spec.build.renewed["water pump"].at_mm = Vec2(61.4, 150.5);
  spec.given = {drives::measured("build.skim_mm.head", 0.05),
                drives::measured("build.renewed.water pump.at_mm[0]", 0.1),
                drives::measured("build.renewed.water pump.at_mm[1]", 0.1),
                drives::measured("pulley.tensioner.tensioner.pivot_mm[0]", 0.2),
                drives::measured("pulley.water pump.at_mm[0]", 0.1)};
  const SpreadAnswer answer = spread_of(spec, {20000, 4, SpreadLaw::normal, {}});
  const SpreadError& cam = only(answer);
  CHECK_THAT(cam.nominal, WithinAbs(turned(spec), 1e-9));
  CHECK(cam.error.linear_deviation > 0.0);
  CHECK_THAT(cam.error.deviation, WithinRel(cam.error.linear_deviation, 0.02));
  // A new pump's place is off in the fitted drive alone, the old one's in the book alone: two
  // numbers, and each has its share.
  const auto share = [&cam](const std::string& key) {
    for (const SpreadShare& one : cam.shares) {
      if (one.key == key) return one.share;
    }
    return -1.0;
  };
  CHECK(share("build.renewed.water pump.at_mm") > 0.1);
  CHECK(share("pulley.water pump.at_mm") > 0.1);
  CHECK(share("pulley.tensioner.tensioner.pivot_mm") < 0.0);  // the way has no tensioner on it
}

TEST_CASE("Teeth, adjustment and gears are in every throw as they are in two turns") {
  // By hand: 2 teeth at the cam less 1 at the crank, 0.5 deg on, of 44 teeth; twice that at the
  // crank.
  DriveSpec spec = skimmed_by(0.3);
  spec.build.teeth_out = {{"cam", 2}, {"crank", 1}};
  spec.build.adjusted_deg["cam"] = 0.5;
  spec.geared = {turned_over::geared("balance shaft", "cam", -4.0, Role::balance_shaft),
                 turned_over::geared("distributor", "crank", -0.5, Role::camshaft),
                 turned_over::geared("wrong one", "cam", -3.0, Role::balance_shaft)};
  spec.given = {drives::measured("build.skim_mm.head", 0.03)};
  const SpreadAnswer answer = spread_of(spec, {3000, 1, SpreadLaw::normal, {}});
  REQUIRE(answer.errors.size() == 3);
  const double expected = error_deg(0.3) + 2.0 * (360.0 / 44.0 + 0.5);
  CHECK(answer.errors[0].shaft == "cam");
  CHECK_THAT(answer.errors[0].nominal, WithinAbs(expected, 1e-9));
  // Four times the cam's degrees, at a shaft that turns four times as fast: alike at the crank.
  CHECK(answer.errors[1].shaft == "balance shaft");
  CHECK_THAT(answer.errors[1].nominal, WithinAbs(expected, 1e-9));
  CHECK_THAT(answer.errors[1].error.deviation, WithinRel(answer.errors[0].error.deviation, 1e-9));
  CHECK(answer.errors[2].shaft == "distributor");
  CHECK(answer.errors[2].nominal == 0.0);
  CHECK_FALSE(answer.errors[2].spreads);
  const std::vector<ShaftAfter> shafts = turned_over::turned(spec).after.front().shafts;
  CHECK_THAT(shafts.at(1).error_crank_deg, WithinAbs(expected, 1e-8));
  CHECK_THAT(shafts.at(2).error_crank_deg, WithinAbs(expected, 1e-8));
}

TEST_CASE("A pulley free until tightened is in phase in every throw") {
  DriveSpec spec = skimmed_by(0.3);
  drives::named(spec, "cam").fixing = Fixing::free_until_tightened;
  spec.given = {drives::measured("build.skim_mm.head", 0.03)};
  const SpreadAnswer answer = spread_of(spec, {3000, 1, SpreadLaw::normal, {}});
  CHECK(only(answer).nominal == 0.0);
  CHECK_FALSE(only(answer).spreads);
}

TEST_CASE("Where no belt goes on, or no shaft is timed beside the crank, no error is read") {
  const auto beside = [](const DriveSpec& spec) {
    const BothFits both = both_fits(spec, Fit::as_fitted);
    return timing_beside(*both.book.fitted, *both.asked.fitted).has_value();
  };
  DriveSpec spec = skimmed_by(0.3);
  CHECK(beside(spec));
  drives::named(spec, "cam").role = Role::water_pump;
  CHECK_FALSE(beside(spec));
  spec = skimmed_by(0.3);
  spec.belt.teeth.reset();
  CHECK_FALSE(beside(spec));
}

TEST_CASE("The order of the lanes changes no digit of an error") {
  DriveSpec spec = skimmed_by(0.3);
  spec.given = {drives::measured("build.skim_mm.head", 0.03)};
  const BothFits both = both_fits(spec, Fit::as_fitted);
  const Spread spread(*both.asked.fitted, {3000, 1, SpreadLaw::normal, {}},
                      timing_beside(*both.book.fitted, *both.asked.fitted));
  std::vector<std::shared_ptr<const Spread::Tally>> lanes(Spread::kLanes);
  for (int k = Spread::kLanes; k-- > 0;) lanes[static_cast<std::size_t>(k)] = spread.lane(k);
  CHECK(only(spread.answer(lanes)).error.mean == only(spread.answer()).error.mean);
  CHECK(only(spread.answer(lanes)).error.low == only(spread.answer()).error.low);
}
