// Belts side by side. Evidence: the drive that is worked out by hand (support/worked_values.hpp),
// and the normal distribution's own table.
#include "twoturn/drive/compare.hpp"

#include <cmath>

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

namespace {

// Two of 22 teeth of 8 mm, the cam on a slide from 300 to 320 mm: a belt of N teeth, 97 to 102,
// stands at 4 N - 388 mm, and marks may be there.
DriveSpec sliding(std::optional<double> set_mm, std::optional<double> give_mm) {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 99);
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(0, 320)};
  tensioner.set_mm = set_mm;
  tensioner.set_give_mm = give_mm;
  drives::named(spec, "cam").tensioner = tensioner;
  return spec;
}

CompareAnswer compared(const DriveSpec& spec, const std::vector<int>& counts) {
  const BothFits both = both_fits(spec, Fit::as_fitted);
  return compare_counts(*both.asked.fitted, *both.book.fitted, counts);
}

}  // namespace

TEST_CASE("Of several belts that meet the marks one is meant that is twice as near as any other") {
  const auto meant = [](double set_mm) {
    const CompareAnswer answer = compared(sliding(set_mm, 5.0), {98, 99, 100});
    for (const ComparedCount& count : answer.counts) {
      CHECK_THAT(*count.apart, WithinAbs(std::abs(4.0 * count.teeth - 388.0 - set_mm), 1e-6));
      CHECK(count.meets_marks == (*count.apart <= 5.0));
    }
    return answer.meant_teeth;
  };
  CHECK(meant(8.4) == 99);
  CHECK(meant(9.3) == 99);               // 1.3 and 2.7 mm
  CHECK_FALSE(meant(9.4).has_value());   // 1.4 and 2.6
  CHECK_FALSE(meant(10.6).has_value());  // 2.6 and 1.4
  CHECK(meant(10.7) == 100);             // 2.7 and 1.3
  CHECK_FALSE(meant(10.0).has_value());
  const CompareAnswer none = compared(sliding(10.0, 1.9), {98, 99, 100});
  CHECK_FALSE(none.meant_teeth.has_value());
  CHECK_FALSE(none.counts[1].meets_marks);
  CHECK(none.set_give == 1.9);
  CHECK(none.kind == TensionerKind::slide);
  CHECK_FALSE(compared(sliding({}, {}), {98, 99}).meant_teeth.has_value());
  CHECK_FALSE(compared(sliding({}, {}), {98, 99}).counts[0].apart.has_value());
  CHECK_FALSE(compared(sliding({}, {}), {98, 99}).set_give.has_value());
}

TEST_CASE("A belt meets the marks within what they allow and its numbers leave open together") {
  const auto meets = [](double set_mm) {
    DriveSpec spec = sliding(set_mm, 0.5);
    // At 8 of 20 mm two fifths of the tight end's: 0.4 mm.
    spec.given = {drives::measured("pulley.cam.tensioner.tight_at_mm[1]", 1.0)};
    const CompareAnswer answer = compared(spec, {99});
    CHECK_THAT(answer.counts[0].unsure.give_or_take, WithinAbs(0.4, 1e-9));
    return answer.counts[0].meets_marks;
  };
  CHECK(meets(8.89));
  CHECK(meets(7.11));
  CHECK_FALSE(meets(8.91));
  CHECK_FALSE(meets(7.09));
}

TEST_CASE("Marks are held against the drive by the book, places are of the drive as it is fitted") {
  DriveSpec spec = sliding(8.0, 0.5);
  spec.build.skim_mm["head"] = 1.0;
  const CompareAnswer answer = compared(spec, {96, 99, 103});
  CHECK(answer.fit == Fit::as_fitted);
  CHECK_THAT(answer.counts[1].meant->reading.value, WithinAbs(9.0, 1e-6));
  CHECK_THAT(*answer.counts[1].apart, WithinAbs(0.0, 1e-6));
  CHECK(answer.meant_teeth == 99);
  // From 299 to 319 mm: 774 to 814 mm of belt.
  CHECK_THAT(answer.counts[0].mismatch_mm, WithinAbs(96 * 8.0 - 774.0, 1e-9));
  CHECK_THAT(answer.counts[2].mismatch_mm, WithinAbs(103 * 8.0 - 814.0, 1e-9));
  CHECK_FALSE(answer.counts[0].meant.has_value());
  CHECK_FALSE(answer.counts[0].goes_on);
}

TEST_CASE("On fixed centres belts are compared by their tolerance, without marks") {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, 300.0, 97);
  spec.belt.length_tolerance_mm = 0.5;
  const CompareAnswer answer = compared(spec, {96, 97});
  CHECK_FALSE(answer.kind.has_value());
  CHECK_FALSE(answer.set_give.has_value());
  CHECK(answer.tolerance_mm == 0.5);
  CHECK_THAT(answer.counts[0].mismatch_mm, WithinAbs(-8.0, 1e-9));
  CHECK(answer.counts[1].goes_on);
  CHECK(answer.counts[1].probability == 1.0);
  CHECK(answer.counts[0].probability == 0.0);
}
