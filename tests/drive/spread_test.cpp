// Many drives by chance. Evidence: in one dimension the quantiles of the law itself (normal
// distribution, any table; uniform by arithmetic), two pulleys in closed form, and the gradient
// where the two must agree.
#include "twoturn/drive/spread.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/known.hpp"

using namespace twoturn;

namespace {

// Equal pulleys: a mm of centre distance is two of belt, exactly.
DriveSpec equal_pulleys() {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.pitch_mm = 8.0;
  spec.belt.teeth = 100;
  spec.belt.length_tolerance_mm = 1.0;
  PulleySpec crank = drives::toothed("crank", 20, 0, 0);
  crank.role = Role::crankshaft;
  spec.pulleys = {crank, drives::toothed("cam", 20, 320, 0)};
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.5)};
  return spec;
}

SpreadAnswer spread_of(const DriveSpec& spec, const SpreadQuestion& question) {
  const Fitted fitted = drives::fitted(spec);
  REQUIRE(Spread::why_not(fitted).empty());
  const Spread spread(fitted, question);
  return spread.answer();
}

DriveSpec worked() {
  DriveSpec spec = drives::worked_example();
  constexpr double kGive = 0.1;
  std::vector<GivenValue> given;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.role == Role::crankshaft) continue;
    const std::string key =
        "pulley." + pulley.name + (pulley.tensioner ? ".tensioner.pivot_mm" : ".at_mm");
    given.push_back(drives::measured(key + "[0]", kGive));
    given.push_back(drives::measured(key + "[1]", kGive));
  }
  spec.given = given;
  return spec;
}

}  // namespace

TEST_CASE("Where the gradient says nothing the quantiles are those of the law all the same") {
  // A cam thrown across by y goes 320 - hypot(320, y) nearer: never the other way, and twice that
  // of belt; at two and a half in a hundred by normal tables |y| = 2.2414 sigmas. The pitch is
  // known to a hundred thousandth.
  DriveSpec spec = equal_pulleys();
  spec.belt.length_tolerance_mm.reset();
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 30.0),
                drives::measured("belt.pitch_mm", 1e-5)};
  const SpreadAnswer across = spread_of(spec, {50000, 1, SpreadLaw::normal, {}});
  const double y = 2.2414 * 30.0 / kSigmas95;
  CHECK_THAT(across.reading.low, WithinAbs(-2.0 * (std::hypot(320.0, y) - 320.0), 0.03));
  CHECK(across.reading.high < 0.02);
}

TEST_CASE("In one dimension the quantiles are those of the law") {
  // Half a mm 95 times in 100, and two of belt to each: 1 mm. What the belt is too long turns the
  // sign.
  const SpreadAnswer normal = spread_of(equal_pulleys(), {50000, 1, SpreadLaw::normal, {}});
  CHECK_FALSE(normal.kind.has_value());
  CHECK_THAT(normal.nominal, WithinAbs(0.0, 1e-9));
  CHECK_THAT(normal.reading.low, WithinAbs(-1.0, 0.01));
  CHECK_THAT(normal.reading.middle, WithinAbs(0.0, 0.01));
  CHECK_THAT(normal.reading.high, WithinAbs(1.0, 0.01));
  CHECK_THAT(normal.reading.deviation, WithinAbs(1.0 / 1.959964, 0.002));
  CHECK_THAT(normal.reading.linear_deviation, WithinAbs(1.0 / 1.959964, 1e-6));

  const SpreadAnswer uniform = spread_of(equal_pulleys(), {50000, 1, SpreadLaw::uniform, {}});
  CHECK_THAT(uniform.reading.low, WithinAbs(-0.95, 0.01));
  CHECK_THAT(uniform.reading.high, WithinAbs(0.95, 0.01));
  CHECK_THAT(uniform.reading.deviation, WithinAbs(1.0 / std::sqrt(3.0), 0.002));

  const SpreadAnswer limits = spread_of(equal_pulleys(), {50000, 1, SpreadLaw::limits, {}});
  CHECK_THAT(limits.reading.deviation, WithinAbs(1.0, 0.002));
  CHECK(limits.bins.size() == 2);
}

TEST_CASE("A number may have a law of its own, by its key or as one of a list") {
  for (const char* key : {"pulley.cam.at_mm", "pulley.cam.at_mm[0]"}) {
    const SpreadAnswer limits =
        spread_of(equal_pulleys(), {10000, 1, SpreadLaw::normal, {{key, SpreadLaw::limits}}});
    CAPTURE(key);
    CHECK(limits.bins.size() == 2);
    CHECK_THAT(limits.reading.linear_deviation, WithinAbs(1.0, 1e-6));
  }
  const SpreadAnswer other = spread_of(
      equal_pulleys(), {10000, 1, SpreadLaw::normal, {{"pulley.cam.at_mm[1]", SpreadLaw::limits}}});
  CHECK(other.bins.size() > 10);
}

TEST_CASE("The keys that a law can be given to are those of the numbers that may be off") {
  DriveSpec spec = equal_pulleys();
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.3),
                drives::measured("pulley.cam.at_mm[1]", 0.4)};
  const std::vector<std::string> expected{"pulley.cam.at_mm", "pulley.cam.at_mm[0]",
                                          "pulley.cam.at_mm", "pulley.cam.at_mm[1]"};
  CHECK(Spread::numbers(drives::fitted(spec)) == expected);
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.0)};
  CHECK(Spread::numbers(drives::fitted(spec)).empty());
}

TEST_CASE("For small numbers the many agree with the gradient, each number with its share") {
  const SpreadAnswer answer = spread_of(worked(), {100000, 3, SpreadLaw::normal, {}});
  CHECK(answer.kind == TensionerKind::swing);
  CHECK_THAT(answer.reading.deviation, WithinRel(answer.reading.linear_deviation, 0.03));
  double sum = 0.0;
  for (const SpreadShare& share : answer.shares) sum += share.share;
  CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
  CHECK(answer.counts.at(111) > 99000);
}

TEST_CASE("The order in which lanes are worked on changes nothing, another seed does") {
  const Fitted fitted = drives::fitted(worked());
  const Spread spread(fitted, {10000, 5, SpreadLaw::normal, {}});
  std::vector<std::shared_ptr<const Spread::Tally>> forwards;
  std::vector<std::shared_ptr<const Spread::Tally>> backwards(Spread::kLanes);
  for (int k = 0; k < Spread::kLanes; ++k) forwards.push_back(spread.lane(k));
  for (int k = Spread::kLanes; k-- > 0;) backwards[static_cast<std::size_t>(k)] = spread.lane(k);
  const SpreadAnswer one = spread.answer(forwards);
  const SpreadAnswer other = spread.answer(backwards);
  CHECK(one.reading.mean == other.reading.mean);
  CHECK(one.reading.low == other.reading.low);
  CHECK(one.not_assembled == other.not_assembled);
  const SpreadAnswer seeded = spread_of(worked(), {10000, 6, SpreadLaw::normal, {}});
  CHECK(seeded.reading.mean != one.reading.mean);
}

TEST_CASE("What cannot be spread says why") {
  DriveSpec spec = equal_pulleys();
  spec.given = {};
  CHECK_THAT(Spread::why_not(drives::fitted(spec)), ContainsSubstring("exact"));
  spec = equal_pulleys();
  spec.belt.teeth.reset();
  CHECK_THAT(Spread::why_not(drives::fitted(spec)), ContainsSubstring("teeth"));
}
