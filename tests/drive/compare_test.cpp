// Belts side by side. Evidence: the drive that is worked out by hand (support/worked_values.hpp),
// and the normal distribution's own table.
#include "twoturn/drive/compare.hpp"

#include "support/catch.hpp"
#include "support/drives.hpp"

using namespace twoturn;

TEST_CASE("Of two belts the one that the marks mean is named, with where both put the tensioner") {
  DriveSpec spec = drives::worked_example();
  const Fitted fitted = drives::fitted(spec);
  const CompareAnswer answer = compare_counts(fitted, fitted, {111, 112});
  REQUIRE(answer.counts.size() == 2);
  CHECK(answer.counts[0].goes_on);
  CHECK(answer.counts[0].probability == 1.0);
  CHECK(answer.counts[0].mismatch_mm == 0.0);
  CHECK_FALSE(answer.counts[1].goes_on);  // worked: the travel takes 1055.86 to 1060.23 mm
  CHECK_THAT(answer.counts[1].mismatch_mm, WithinAbs(112 * 9.525 - 1060.23, 0.005));
  CHECK(answer.counts[0].length_mm == 111 * 9.525);
  REQUIRE(answer.counts[0].meant.has_value());
  // The place at which the belt of 111 teeth is at its own length.
  CHECK_THAT(answer.counts[0].meant->length_mm, WithinAbs(111 * 9.525, 1e-9));
}

TEST_CASE("Of a belt that just fits so many in a hundred go on") {
  // Two pulleys of 20 teeth: 320 mm round them and twice the centre distance.
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.pitch_mm = 8.0;
  spec.belt.length_tolerance_mm = 1.0;
  PulleySpec crank = drives::toothed("crank", 20, 0, 0);
  crank.role = Role::crankshaft;
  // Half a mm is one sigma, and one mm of belt.
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.5 * kSigmas95)};
  const auto chance = [&](double belt_too_long_mm) {
    spec.pulleys = {crank, drives::toothed("cam", 20, 320 - belt_too_long_mm / 2.0, 0)};
    const Fitted fitted = drives::fitted(spec);
    return compare_counts(fitted, fitted, {100}).counts[0].probability;
  };
  // Within 1 mm either way: the share of the distribution between (-1 - x) and (1 - x) sigmas.
  CHECK_THAT(chance(0.0), WithinAbs(0.6827, 1e-4));
  CHECK_THAT(chance(1.0), WithinAbs(0.4772, 1e-4));
  CHECK_THAT(chance(2.0), WithinAbs(0.1573, 1e-4));  // from memory, to four places
}
