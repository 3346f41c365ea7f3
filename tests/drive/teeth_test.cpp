// The tables of tooth counts and of a tensioner's travel, row by row. Evidence: two equal pulleys,
// whose belt is twice their distance and one pulley's teeth; the worked drive; each row solved
// anew.
#include "twoturn/drive/teeth.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/worked_values.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

using namespace twoturn;

namespace {

// Two of 22 teeth of 8 mm so far apart: 176 mm and twice that.
DriveSpec pair(double centre_mm, std::optional<int> teeth) {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 22, centre_mm, 100);
  spec.belt.teeth = teeth;
  spec.belt.length_tolerance_mm = 0.5;
  return spec;
}

const NearbyCount& row(const TeethAnswer& answer, int teeth) {
  for (const NearbyCount& count : answer.nearby) {
    if (count.teeth == teeth) return count;
  }
  FAIL("no row of " << teeth);
  throw 0;
}

std::vector<int> counts_of(const TeethAnswer& answer) {
  std::vector<int> counts;
  for (const NearbyCount& count : answer.nearby) counts.push_back(count.teeth);
  return counts;
}

// The same with a cam that slides away from 300 to 320 mm: 97 to 102 teeth, 4 mm each.
DriveSpec sliding(std::optional<double> set_mm) {
  DriveSpec spec = pair(300.0, {});
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(0, 320)};
  tensioner.set_mm = set_mm;
  drives::named(spec, "cam").tensioner = tensioner;
  return spec;
}

}  // namespace

TEST_CASE(
    "On fixed centres each neighbouring count says how far off it is and what move meets it") {
  const DriveSpec spec = pair(302.0, 104);  // 780 mm: 97.5 pitches
  const TeethAnswer answer = fitting_teeth(drives::fitted(spec));
  CHECK_THAT(answer.teeth_exact, WithinAbs(97.5, 1e-9));
  CHECK(answer.choice == SettingChoice::fixed_centres);
  CHECK(answer.belt_teeth == 104);
  CHECK(answer.fits.empty());
  CHECK_FALSE(answer.right_teeth.has_value());
  CHECK(answer.moved == "cam");
  CHECK_THAT(*answer.move_along_deg, WithinAbs(0.0, 1e-9));
  const std::vector<int> counts = counts_of(answer);
  REQUIRE(counts.size() == 4);
  CHECK(std::is_sorted(counts.begin(), counts.end()));
  CHECK(counts.back() == 104);
  for (const int teeth : counts) {
    CHECK_THAT(row(answer, teeth).mismatch_mm, WithinAbs(8.0 * teeth - 780.0, 1e-9));
    REQUIRE(row(answer, teeth).move_mm.has_value());
    CHECK_THAT(*row(answer, teeth).move_mm, WithinAbs(4.0 * teeth - 390.0, 1e-6));
  }
}

TEST_CASE("Its neighbours are one more and one less than the nearest count, each once") {
  CHECK(counts_of(fitting_teeth(drives::fitted(pair(301.0, {})))) == std::vector<int>{96, 97, 98});
  CHECK(counts_of(fitting_teeth(drives::fitted(pair(303.0, 97)))) == std::vector<int>{97, 98, 99});
}

TEST_CASE("A count fits fixed centres within its belt's tolerance, either way") {
  const auto fits = [](double centre_mm) {
    return fitting_teeth(drives::fitted(pair(centre_mm, 97))).fits;
  };
  CHECK(fits(300.24).size() == 1);
  CHECK(fits(299.76).size() == 1);
  CHECK(fits(300.26).empty());
  CHECK(fits(299.74).empty());
  const TeethAnswer answer = fitting_teeth(drives::fitted(pair(300.24, 97)));
  CHECK(answer.right_teeth == 97);
  CHECK(answer.own_goes_on());
  CHECK(answer.goes_on(97));
  CHECK_FALSE(answer.goes_on(98));
  CHECK(answer.tolerance_mm == 0.5);
  // Not given: by the length of the path, ISO 5296 from memory: 0.76 up to 1270 mm, 0.61 to 762.
  DriveSpec usual = pair(310.0, {});
  usual.belt.length_tolerance_mm.reset();
  CHECK(fitting_teeth(drives::fitted(usual)).tolerance_mm == 0.66);
}

TEST_CASE("Another pulley may be the one that is moved, along any line") {
  DriveSpec spec = pair(302.0, 97);
  const Fitted fitted = drives::fitted(spec);
  // 45 deg of a clock: right and up by the same. The belt is 776 mm where they are 300 apart.
  const TeethAnswer slanting = fitting_teeth(fitted, {"cam", 45.0});
  const double move = row(slanting, 97).move_mm.value();
  CHECK_THAT(std::hypot(move / std::sqrt(2.0), 302.0 + move / std::sqrt(2.0)),
             WithinAbs(300.0, 1e-6));
  CHECK_THAT(*slanting.move_along_deg, WithinAbs(45.0, 1e-9));
  const TeethAnswer crank = fitting_teeth(fitted, {"crank", 0.0});
  CHECK(crank.moved == "crank");
  CHECK_THAT(*row(crank, 97).move_mm, WithinAbs(2.0, 1e-6));
  CHECK_THAT(*row(crank, 98).move_mm, WithinAbs(-2.0, 1e-6));
  CHECK(fitting_teeth(fitted, {"nobody", {}}).moved == "cam");
  // Sideways, the cam comes no nearer.
  CHECK_FALSE(row(fitting_teeth(fitted, {"cam", 90.0}), 97).move_mm.has_value());
}

TEST_CASE("A move is nothing where the belt fits already, and no farther than half the drive") {
  const Fitted fitted = drives::fitted(pair(300.0, 97));
  const auto move = [&](double length_mm) {
    return move_for_length(fitted.drive(), 1, Vec2(0, 1), length_mm);
  };
  CHECK(move(776.0) == 0.0);
  CHECK_THAT(*move(776.0 + 280.0), WithinAbs(140.0, 1e-6));
  CHECK_THAT(*move(776.0 - 280.0), WithinAbs(-140.0, 1e-6));
  // The farthest rim of the cam is 300 and the crank's 28.01 away: half of it is 164.0.
  CHECK_THAT(*move(776.0 + 327.9), WithinAbs(163.95, 1e-6));
  CHECK_FALSE(move(776.0 + 328.2).has_value());
}

TEST_CASE("Of counts that go on the one at the maker's marks is right") {
  const auto right = [](std::optional<double> set_mm, std::optional<double> give_mm) {
    DriveSpec spec = sliding(set_mm);
    drives::named(spec, "cam").tensioner->set_give_mm = give_mm;
    const TeethAnswer answer = fitting_teeth(drives::fitted(spec));
    CHECK(answer.fits.size() == 6);
    return answer.right_teeth;
  };
  CHECK_FALSE(right({}, {}).has_value());
  for (int teeth = 97; teeth <= 102; ++teeth) {
    const double reading = 4.0 * teeth - 388.0;
    CAPTURE(teeth);
    CHECK(right(reading + 0.49, {}) == teeth);  // half a mm is usually allowed
    CHECK_FALSE(right(reading + 0.51, {}).has_value());
    if (teeth == 97) continue;
    CHECK(right(reading - 0.49, {}) == teeth);
    CHECK_FALSE(right(reading - 0.51, {}).has_value());
  }
  CHECK(right(6.5, 2.4) == 99);
  CHECK_FALSE(right(6.0, 2.1).has_value());  // both 98 and 99 are within
}

TEST_CASE("The marks are those of the drive by the book") {
  DriveSpec spec = sliding(8.0);
  spec.build.skim_mm["head"] = 2.5;
  const BothFits both = both_fits(spec, Fit::as_fitted);
  // 99 teeth stand at 8 mm by the book, at 10.5 with the head that much lower.
  const TeethAnswer answer = fitting_teeth(*both.asked.fitted, {}, &*both.book.fitted);
  CHECK(answer.right_teeth == 99);
  CHECK(answer.fit == Fit::as_fitted);
  CHECK_FALSE(fitting_teeth(*both.asked.fitted).right_teeth.has_value());
}

TEST_CASE("Counts about a travel are told by how far they miss its nearest end") {
  const Fitted fitted = drives::fitted(drives::worked_example());
  const TensionerCurve& curve = *fitted.curve();
  const TeethAnswer answer = fitting_teeth(fitted);
  CHECK(counts_of(answer) == std::vector<int>{110, 112});
  CHECK_THAT(row(answer, 110).mismatch_mm, WithinAbs(110 * 9.525 - curve.least_mm(), 1e-9));
  CHECK_THAT(row(answer, 112).mismatch_mm, WithinAbs(112 * 9.525 - curve.greatest_mm(), 1e-9));
  CHECK(row(answer, 110).mismatch_mm < 0.0);
  CHECK(row(answer, 112).mismatch_mm > 0.0);
  CHECK(answer.choice == SettingChoice::maker_marks);
  DriveSpec longer = drives::worked_example();
  longer.belt.teeth = 115;
  const TeethAnswer other = fitting_teeth(drives::fitted(longer));
  CHECK(counts_of(other) == std::vector<int>{110, 112, 115});
  CHECK_FALSE(other.own_goes_on());
}

TEST_CASE("The chance of a count is that of both ends of the travel, all or nothing where exact") {
  DriveSpec spec = drives::worked_example();
  const Fitted exact = drives::fitted(spec);
  const TeethAnswer sure = fitting_teeth(exact);
  CHECK(chance_of(exact, sure, 111).probability == 1.0);
  CHECK(chance_of(exact, sure, 112).probability == 0.0);
  CHECK(chance_of(exact, sure, 111).mismatch_mm == 0.0);
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 8.0)};
  const Fitted fitted = drives::fitted(spec);
  const TensionerCurve& curve = *fitted.curve();
  const TeethAnswer answer = fitting_teeth(fitted);
  const double slack_sigma = fitted.uncertainty().length(fitted.drive(), 0.0, 111).sigma();
  const double end = curve.usable().back().to_q;
  const double tight_sigma = fitted.uncertainty().length(fitted.drive(), end, 111).sigma();
  for (const int teeth : {110, 111, 112}) {
    const double mm = teeth * 9.525;
    const double over = 0.5 * std::erfc((curve.least_mm() - mm) / slack_sigma / std::sqrt(2.0));
    const double under = 0.5 * std::erfc((mm - curve.greatest_mm()) / tight_sigma / std::sqrt(2.0));
    const CountChance chance = chance_of(fitted, answer, teeth);
    CHECK_THAT(chance.probability, WithinAbs(over + under - 1.0, 1e-9));
    CHECK(chance.unsure.sigma() == (teeth == 110 ? slack_sigma : tight_sigma));
    const double in_table =
        teeth == 111 ? answer.fits[0].probability : row(answer, teeth).probability;
    CHECK(in_table == chance.probability);
  }
  CHECK(row(answer, 112).unsure.give_or_take > 0.0);
}

TEST_CASE("Each row of a travel is the drive solved there") {
  const DriveSpec spec = drives::worked_example();
  const Fitted fitted = drives::fitted(spec);
  const TensionerAnswer answer = preview_tensioner(fitted, 14).value();
  REQUIRE(answer.rows.size() == 14);
  for (std::size_t k = 0; k < 14; ++k) {
    const TravelRow& row = answer.rows[k];
    // 260 deg in thirteen steps of 20.
    const double on = 20.0 * static_cast<double>(k);
    CHECK_THAT(row.place.reading.value, WithinAbs(std::fmod(300.0 + on, 360.0), 1e-9));
    CHECK_THAT(row.place.travel, WithinAbs(on / 260.0, 1e-12));
    CHECK(row.place.in_travel);
    const std::vector<Wheel> wheels = placed_wheels(fitted.drive(), on * kRadPerDeg);
    TangentPath path;
    REQUIRE(solve_path(wheels, path).solved());
    CHECK_THAT(row.setting->length_mm, WithinAbs(path.length_mm, 1e-9));
    CHECK_THAT(*row.teeth_exact, WithinAbs(path.length_mm / 9.525, 1e-9));
    CHECK_THAT(*row.wrap_deg, WithinAbs(path.wraps[1].degrees(), 1e-9));
    CHECK(row.refused.has_value() == !can_run(wheels, path, fitted.drive().around));
  }
  CHECK(preview_tensioner(fitted, 1)->rows.size() == 1);
  CHECK_FALSE(preview_tensioner(drives::fitted(pair(300.0, 97))).has_value());
}

TEST_CASE("A row where the belt touches something says what") {
  DriveSpec spec = drives::worked_example();
  CoverSpec stud;
  stud.name = "stud";
  stud.points_mm = {Vec2(-3, 160), Vec2(3, 160)};
  spec.covers = {stud};
  const Fitted fitted = drives::fitted(spec);
  int refused = 0;
  const TensionerAnswer answer = preview_tensioner(fitted, 27).value();
  for (const TravelRow& one : answer.rows) {
    const std::vector<Wheel> wheels = placed_wheels(fitted.drive(), one.place.q);
    TangentPath path;
    REQUIRE(solve_path(wheels, path).solved());
    const bool runs = can_run(wheels, path, fitted.drive().around);
    CHECK(one.refused.has_value() == !runs);
    if (one.refused) CHECK_THAT(one.refused->text, ContainsSubstring("stud"));
    refused += runs ? 0 : 1;
  }
  CHECK(refused > 0);
  CHECK(refused < 27);
}

TEST_CASE("Pulleys that overlap have no count, near or far") {
  const TeethAnswer answer = fitting_teeth(drives::fitted(pair(50.0, 35)));
  CHECK(answer.nearby.empty());
  CHECK(answer.fits.empty());
}

TEST_CASE("A count at an end that is exactly known goes on for certain") {
  DriveSpec spec = sliding({});
  spec.given = {drives::measured("pulley.cam.tensioner.tight_at_mm[1]", 0.5)};
  const Fitted slack = drives::fitted(spec);
  CHECK(chance_of(slack, fitting_teeth(slack), 97).probability == 1.0);
  CHECK_THAT(chance_of(slack, fitting_teeth(slack), 102).probability, WithinAbs(0.5, 1e-6));
  spec.given = {drives::measured("pulley.cam.tensioner.slack_at_mm[1]", 0.5)};
  const Fitted tight = drives::fitted(spec);
  CHECK(chance_of(tight, fitting_teeth(tight), 102).probability == 1.0);
  CHECK_THAT(chance_of(tight, fitting_teeth(tight), 97).probability, WithinAbs(0.5, 1e-6));
}

TEST_CASE("A travel is told by its marks, its ends, what is meant and how far that is from them") {
  const Fitted fitted = drives::fitted(drives::worked_example());
  const TensionerAnswer answer = preview_tensioner(fitted).value();
  CHECK(answer.rows.size() == 11);
  CHECK(answer.pulley == "tensioner");
  CHECK(answer.kind == TensionerKind::swing);
  CHECK(answer.tightens == Turn::clockwise);
  CHECK(answer.arm_mm == 6.0);
  CHECK_THAT(answer.travel_length, WithinAbs(260.0, 1e-9));
  CHECK_THAT(answer.maker->reading.value, WithinAbs(346.0, 1e-9));
  CHECK_THAT(answer.meant->reading.value, WithinAbs(worked::kSetDeg, worked::kHalfDigitDeg));
  CHECK_THAT(*answer.apart, WithinAbs(worked::kSetDeg - 346.0, worked::kHalfDigitDeg));
  CHECK_THAT(answer.slack_end->reading.value, WithinAbs(300.0, 1e-9));
  CHECK_THAT(answer.tight_end->reading.value, WithinAbs(200.0, 1e-9));
  CHECK(answer.slack_end->over_centre == OverCentre::before);
  CHECK(answer.tight_end->over_centre == OverCentre::past);
  REQUIRE(answer.usable.size() == 1);
  CHECK(answer.usable[0].first.setting.q == 0.0);
  CHECK_FALSE(answer.usable[0].second.cause.has_value());
  CHECK(answer.least_mm == fitted.curve()->least_mm());
  CHECK(answer.holds_its_belt());
  REQUIRE(answer.over_centres.size() == 1);
  DriveSpec other = drives::worked_example();
  auto& path = std::get<SwingSpec>(drives::named(other, "tensioner").tensioner->path);
  path.tightens = Turn::anticlockwise;
  CHECK(preview_tensioner(drives::fitted(other))->tightens == Turn::anticlockwise);
}

TEST_CASE("A slide is told by the way it tightens") {
  DriveSpec spec = pair(300.0, 99);
  drives::named(spec, "cam").at_mm.reset();
  TensionerSpec tensioner;
  tensioner.path = SlideSpec{Vec2(0, 300), Vec2(30, 340)};  // 3-4-5
  tensioner.set_mm = 10.0;
  drives::named(spec, "cam").tensioner = tensioner;
  const TensionerAnswer answer = preview_tensioner(drives::fitted(spec)).value();
  CHECK(answer.kind == TensionerKind::slide);
  CHECK_THAT(answer.tightens_towards_deg, WithinAbs(std::atan2(3.0, 4.0) / kRadPerDeg, 1e-9));
  CHECK_THAT(answer.travel_length, WithinAbs(50.0, 1e-9));
  CHECK(answer.set_give == 0.5);
  // 792 mm: 308 apart.
  const double q = answer.meant->q;
  CHECK_THAT(std::hypot(0.6 * q, 300.0 + 0.8 * q), WithinAbs(308.0, 1e-6));
  CHECK_THAT(*answer.apart, WithinAbs(std::abs(q - 10.0), 1e-9));
}

TEST_CASE("A belt is held only before over centre, where a belt can run at all") {
  TensionerAnswer answer;
  CHECK_FALSE(answer.holds_its_belt());
  answer.usable.resize(1);
  CHECK(answer.holds_its_belt());
  answer.belt_teeth = 111;
  CHECK_FALSE(answer.holds_its_belt());
  answer.meant.emplace().over_centre = OverCentre::before;
  CHECK(answer.holds_its_belt());
  answer.meant->over_centre = OverCentre::at;
  CHECK(answer.holds_its_belt());
  answer.meant->over_centre = OverCentre::past;
  CHECK_FALSE(answer.holds_its_belt());
  answer.meant->over_centre = OverCentre::before;
  answer.usable.clear();
  CHECK_FALSE(answer.holds_its_belt());
}

TEST_CASE(
    "A swing said the wrong way round is told, unless both ways tighten or the marks say so") {
  // Over centre is at 86.3 of the clock, the slackest place opposite. From 300 to 60 it tightens
  // clockwise all along; said anticlockwise, it lets off first.
  const auto judged = [](double slack, double tight, Turn tightens, std::optional<double> set) {
    DriveSpec spec = drives::worked_example();
    drives::named(spec, "tensioner").tensioner =
        drives::swing(Vec2(-40, 170), 6.0, slack, tight, tightens);
    drives::named(spec, "tensioner").tensioner->set_deg = set;
    return preview_tensioner(drives::fitted(spec)).value();
  };
  const TensionerAnswer right = judged(300, 60, Turn::clockwise, {});
  CHECK(right.lets_off == 0.0);
  CHECK_FALSE(right.only_tightens.has_value());
  CHECK_FALSE(right.either_way);
  CHECK(right.meant.has_value());
  const TensionerAnswer wrong = judged(300, 60, Turn::anticlockwise, {});
  CHECK(wrong.lets_off > 0.1);
  CHECK(wrong.only_tightens == Turn::clockwise);
  CHECK_FALSE(wrong.meant.has_value());
  const TensionerAnswer mirrored = judged(240, 110, Turn::clockwise, {});
  CHECK(mirrored.only_tightens == Turn::anticlockwise);
  const TensionerAnswer marked = judged(300, 60, Turn::anticlockwise, 186.3);
  CHECK_FALSE(marked.only_tightens.has_value());
  CHECK(marked.meant.has_value());
  // Marks on the other way bear nothing out.
  CHECK(judged(300, 60, Turn::anticlockwise, 346.0).only_tightens == Turn::clockwise);
  CHECK(judged(300, 60, Turn::anticlockwise, 346.0).apart == std::nullopt);
  // Marks on it where it lets off: 275 is before the slackest place.
  CHECK(judged(300, 60, Turn::anticlockwise, 285.0).only_tightens == Turn::clockwise);
  for (const Turn turn : {Turn::clockwise, Turn::anticlockwise}) {
    const TensionerAnswer both = judged(267, 86, turn, {});
    CHECK(both.either_way);
    CHECK_FALSE(both.only_tightens.has_value());
  }
}

TEST_CASE("The setting that is meant is nearest to the marks, else the first that tightens") {
  DriveSpec spec = drives::worked_example();
  const Fitted fitted = drives::fitted(spec);
  const Tensioner& marked = *fitted.drive().tensioner;
  Setting one, other;
  one.in_travel = other.in_travel = true;
  one.q = *marked.set_q + 0.2;
  other.q = *marked.set_q - 0.1;
  CHECK(meant_setting({one, other}, marked)->q == other.q);
  CHECK(meant_setting({other, one}, marked)->q == other.q);
  other.in_travel = false;
  CHECK(meant_setting({other, one}, marked)->q == one.q);
  one.in_travel = false;
  CHECK(meant_setting({other, one}, marked) == nullptr);
  Tensioner bare = marked;
  bare.set_q.reset();
  one.in_travel = other.in_travel = true;
  one.over_centre = OverCentre::past;
  CHECK(meant_setting({one, other}, bare)->q == other.q);
  other.over_centre = OverCentre::past;
  CHECK(meant_setting({one, other}, bare)->q == one.q);
  one.over_centre = other.over_centre = OverCentre::before;
  CHECK(meant_setting({one, other}, bare)->q == one.q);
  const FittingCount count{111, {one}, 1.0};
  CHECK(count.fits());
}
