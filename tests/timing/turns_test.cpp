// Two turns as a whole: what repeats or wanders, what cures it, the steps on the way, paint and
// counts between marks. Evidence: counting by hand, and what a rule of the trade says.
#include "twoturn/timing/turns.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"

using namespace twoturn;
using turned_over::belt_on;
using turned_over::geared;
using turned_over::index_of;
using turned_over::mishapped;
using turned_over::seen;
using turned_over::turned;
using turned_over::two_timed_shafts;

namespace {

constexpr double kExactDeg = 1e-9;

Pattern pattern_of(const TurnsAnswer& answer, std::string_view shaft) {
  return answer.patterns.at(index_of(answer.assembly, shaft));
}

// A crank and a shaft that turns twice as fast, one above the other.
DriveSpec twice_as_fast() {
  DriveSpec spec = drives::two_pulleys(8.0, 40, 20, 300.0, 108);
  drives::named(spec, "cam").role = Role::balance_shaft;
  return spec;
}

// Both timed shafts of the example so many teeth on, and the injection pump so far behind that.
TurnsAnswer teeth_on(int cam, int pump, double behind_own_deg = 0.0) {
  DriveSpec spec = two_timed_shafts();
  spec.build.teeth_out = {{"cam", cam}, {"injection pump", pump}};
  Mishap mishap;
  if (behind_own_deg != 0.0) mishap.seat_deg["injection pump"] = behind_own_deg;
  return two_turns(mishapped(spec, mishap), {});
}

}  // namespace

TEST_CASE("A drive that is right shows nothing at any stop and needs no cure") {
  const TurnsAnswer answer = turned(two_timed_shafts());
  CHECK(answer.cures.empty());
  CHECK_FALSE(answer.cure_at_crank.has_value());
  CHECK_FALSE(answer.crank_once_round);
  CHECK(answer.crank_play_deg == 0.0);
  for (const Pattern pattern : answer.patterns) CHECK(pattern == Pattern::right);
  // Common practice: two turns bring every mark back; one turn of the crank is half one of the cam.
  for (const int turns : {0, 1, 2, 4}) {
    CHECK_THAT(seen(answer, "crank", turns).mark_deg.value(), WithinAbs(180.0, kExactDeg));
    const double cam = turns == 1 ? 180.0 : 0.0;
    CHECK_THAT(seen(answer, "cam", turns).mark_deg.value(), WithinAbs(cam, kExactDeg));
    CHECK_THAT(seen(answer, "injection pump", turns).mark_deg.value(),
               WithinAbs(cam + 90.0, kExactDeg));
  }
  REQUIRE(after_two(answer) != nullptr);
  CHECK(after_two(answer)->turns == 2);
}

TEST_CASE("The stop after two turns is found either way round, and not where there was none") {
  TurnsQuestion question;
  question.running = Running::backwards;
  const TurnsAnswer back = two_turns(belt_on(drives::worked_example()), question);
  REQUIRE(after_two(back) != nullptr);
  CHECK(after_two(back)->turns == -2);
  question.after = {0, 1};
  CHECK(after_two(two_turns(belt_on(drives::worked_example()), question)) == nullptr);
}

TEST_CASE("A shaft out by the same at each stop repeats; a wrong count wanders, early or late") {
  // By hand: 40 teeth come in two turns, 1/39 of a cam turn too many or 1/41 too few.
  for (const int teeth : {39, 41}) {
    DriveSpec spec = drives::worked_example();
    drives::named(spec, "cam").teeth = teeth;
    turned_over::take_fitting_belt(spec);
    const TurnsAnswer answer = turned(spec);
    const double a_turn = (20.0 / teeth - 0.5) * 360.0;
    for (const int turns : {1, 2, 4}) {
      CHECK_THAT(seen(answer, "cam", turns).error_own_deg, WithinAbs(a_turn * turns, kExactDeg));
    }
    CHECK(pattern_of(answer, "cam") == Pattern::wanders);
    CHECK(pattern_of(answer, "crank") == Pattern::right);
    CHECK(answer.cures.empty());  // the right pulley is its cure
    // At one stop nothing can be seen to wander; the counts say that it does.
    TurnsQuestion once;
    once.after = {0};
    CHECK(pattern_of(two_turns(belt_on(spec), once), "cam") == Pattern::wanders);
  }
  CHECK(pattern_of(teeth_on(1, 0), "cam") == Pattern::repeats);
  CHECK(pattern_of(teeth_on(1, 0), "injection pump") == Pattern::right);
  CHECK(pattern_of(teeth_on(-1, 0), "cam") == Pattern::repeats);
}

TEST_CASE("A cure is the whole teeth, then what no tooth takes out") {
  // By hand: a cam tooth is 9 degrees; 13 late is a tooth on and 4 more, 14 late two teeth less 4.
  for (const double side : {1.0, -1.0}) {
    for (const auto& [own, teeth] : {std::pair(4.0, 0), {4.5, 0}, {4.6, 1}, {13.0, 1}, {14.0, 2}}) {
      Mishap mishap;
      mishap.seat_deg["cam"] = -side * own;
      const TurnsAnswer answer = two_turns(mishapped(drives::worked_example(), mishap), {});
      REQUIRE(answer.cures.size() == 1);
      const Cure& cure = answer.cures[0];
      CAPTURE(side, own);
      CHECK(answer.assembly.shafts[static_cast<std::size_t>(cure.shaft)].name == "cam");
      CHECK(cure.moved == cure.shaft);
      CHECK(cure.teeth_on == -side * teeth);
      const double rest = -side * own + side * teeth * 9.0;
      CHECK_THAT(cure.rest_own_deg, WithinAbs(rest, kExactDeg));
      CHECK_THAT(cure.rest_crank_deg, WithinAbs(2.0 * rest, kExactDeg));
      CHECK_THAT(cure.rest_moved_deg, WithinAbs(rest, kExactDeg));
      CHECK_FALSE(cure.slots_short_deg.has_value());
      CHECK_FALSE(cure.key_offset_mm.has_value());
    }
  }
}

TEST_CASE("A geared shaft is cured at its driver's pulley, in the driver's degrees") {
  // By hand: at 4 turns of the cam's one a tooth is 36 degrees; 10 late is 2.5 at the cam.
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft)};
  drives::named(spec, "cam").key_radius_mm = 20.0;
  Mishap mishap;
  mishap.seat_deg["balance shaft"] = 36.0 + 10.0;
  const TurnsAnswer answer = two_turns(mishapped(spec, mishap), {});
  REQUIRE(answer.cures.size() == 1);
  const Cure& cure = answer.cures[0];
  CHECK(cure.moved == static_cast<int>(index_of(answer.assembly, "cam")));
  CHECK(cure.teeth_on == 1);
  CHECK_THAT(cure.rest_own_deg, WithinAbs(10.0, kExactDeg));
  CHECK_THAT(cure.rest_crank_deg, WithinAbs(5.0, kExactDeg));
  CHECK_THAT(cure.rest_moved_deg, WithinAbs(2.5, kExactDeg));
  CHECK_THAT(cure.key_offset_mm.value(), WithinAbs(2.5 * kPi / 180.0 * 20.0, kExactDeg));
}

TEST_CASE("Slots are short by what is used and still wanted, less what they reach each way") {
  // By hand: 1 degree used, 2 more wanted, 2.5 there are.
  DriveSpec spec = drives::worked_example();
  PulleySpec& cam = drives::named(spec, "cam");
  cam.fixing = Fixing::adjustable;
  cam.range_deg = 2.5;
  for (const double side : {1.0, -1.0}) {
    spec.build.adjusted_deg["cam"] = side;
    Mishap mishap;
    mishap.late_mm["cam"] = side * 3.0 * kPi / 180.0 * 40 * 9.525 / (2.0 * kPi);
    const TurnsAnswer answer = two_turns(mishapped(spec, mishap), {});
    REQUIRE(answer.cures.size() == 1);
    CHECK_THAT(answer.cures[0].rest_own_deg, WithinAbs(side * 2.0, kExactDeg));
    CHECK_THAT(answer.cures[0].slots_short_deg.value(), WithinAbs(0.5, kExactDeg));
    // Adjusted the other way so far, the slots reach.
    spec.build.adjusted_deg["cam"] = -side;
    mishap.late_mm["cam"] = side * 1.0 * kPi / 180.0 * 40 * 9.525 / (2.0 * kPi);
    const TurnsAnswer other = two_turns(mishapped(spec, mishap), {});
    CHECK_THAT(other.cures.at(0).rest_own_deg, WithinAbs(side * 2.0, kExactDeg));
    CHECK(other.cures.at(0).slots_short_deg == 0.0);
  }
  Mishap mishap;
  mishap.late_mm["cam"] = 1.0;
  cam.range_deg.reset();  // how far they reach nobody said
  CHECK_FALSE(two_turns(mishapped(spec, mishap), {}).cures.at(0).slots_short_deg.has_value());
  cam.range_deg = 2.5;
  cam.fixing = Fixing::keyed;
  CHECK_FALSE(two_turns(mishapped(spec, mishap), {}).cures.at(0).slots_short_deg.has_value());
}

TEST_CASE("Shafts out alike are cured at the crank, and only where that puts none of them out") {
  // Common practice: cams that agree with each other and not with the crank: the crank is out.
  CHECK(teeth_on(1, 1).cure_at_crank == 1);
  CHECK(teeth_on(-2, -2).cure_at_crank == -2);
  CHECK_FALSE(teeth_on(1, 0).cure_at_crank.has_value());  // one pulley is moved by itself
  CHECK_FALSE(teeth_on(1, 2).cure_at_crank.has_value());
  CHECK_FALSE(teeth_on(1, -1).cure_at_crank.has_value());
  CHECK(teeth_on(1, 2).cures.size() == 2);
  // Up to half a tooth may be left: 1.5 teeth less one, by the last digit and beyond.
  CHECK(teeth_on(1, 2, 4.5).cure_at_crank == 1);
  CHECK_FALSE(teeth_on(1, 2, 4.49).cure_at_crank.has_value());
  CHECK(teeth_on(1, 2, 4.51).cure_at_crank == 1);
}

TEST_CASE("A shaft and what is geared off it are one pulley to move") {
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft)};
  spec.build.teeth_out["cam"] = 1;
  const TurnsAnswer answer = turned(spec);
  CHECK(answer.cures.size() == 2);
  CHECK_FALSE(answer.cure_at_crank.has_value());
}

TEST_CASE("A whole turn of the crank rights cams that are half a turn out, and nothing less") {
  // Common practice: all cams opposite their marks, and the crank on its own: it is a turn out.
  const TurnsAnswer answer = teeth_on(20, 20);
  CHECK(answer.crank_once_round);
  CHECK_FALSE(answer.cure_at_crank.has_value());
  CHECK_FALSE(teeth_on(20, 0).crank_once_round);
  CHECK_FALSE(teeth_on(1, 1).crank_once_round);
  // A shaft as fast as the crank or faster stands as before after it: less than a tooth out is no
  // reason to turn anything.
  DriveSpec spec = twice_as_fast();
  spec.build.skim_mm["head"] = 0.3;
  const TurnsAnswer small = turned(spec);
  REQUIRE(small.cures.size() == 1);
  CHECK(small.cures[0].teeth_on == 0);
  CHECK_FALSE(small.crank_once_round);
}

TEST_CASE("A pulley free until tightened is right wherever the crank is put") {
  DriveSpec spec = two_timed_shafts();
  drives::named(spec, "injection pump").fixing = Fixing::free_until_tightened;
  spec.geared = {geared("balance shaft", "crank", 2.0, Role::balance_shaft)};
  spec.build.teeth_out["cam"] = 20;
  // By hand: the crank once round brings the cam half a turn and the shaft on it two whole ones.
  CHECK(turned(spec).crank_once_round);
  drives::named(spec, "injection pump").fixing = Fixing::keyed;
  CHECK_FALSE(turned(spec).crank_once_round);
}

TEST_CASE("Without a direction no cure is told: on may be back") {
  DriveSpec spec = drives::worked_example();
  spec.build.teeth_out["cam"] = 1;
  Assembly assembly = belt_on(spec);
  CHECK(two_turns(assembly, {}).cures.size() == 1);
  assembly.fitted.direction = Direction::assumed;
  CHECK(two_turns(assembly, {}).cures.empty());
}

TEST_CASE("Steps go from pins in to the end of the last turn, either way") {
  DriveSpec spec = drives::worked_example();
  spec.build.teeth_out["cam"] = 1;
  TurnsQuestion question;
  question.step_deg = 7.5;
  question.step_turns = 2;
  for (const Running running : {Running::forwards, Running::backwards}) {
    question.running = running;
    const double side = running == Running::forwards ? 1.0 : -1.0;
    const TurnsAnswer answer = two_turns(belt_on(spec), question);
    REQUIRE(answer.steps.size() == 97);  // by hand: 720 / 7.5, and the start
    for (std::size_t k = 0; k < answer.steps.size(); ++k) {
      const TurnStep& step = answer.steps[k];
      const double crank = side * 7.5 * static_cast<double>(k);
      REQUIRE(step.shaft_deg.size() == answer.assembly.shafts.size());
      REQUIRE(step.error_crank_deg.size() == answer.assembly.shafts.size());
      CHECK_THAT(step.crank_deg, WithinAbs(crank, kExactDeg));
      CHECK_THAT(step.belt_teeth, WithinAbs(crank / 18.0, kExactDeg));
      CHECK_THAT(step.shaft_deg[0], WithinAbs(crank, kExactDeg));
      CHECK_THAT(step.shaft_deg[1], WithinAbs(crank / 2.0 + 9.0, kExactDeg));
      CHECK(step.error_crank_deg[0] == 0.0);
      CHECK_THAT(step.error_crank_deg[1], WithinAbs(18.0, 2 * kExactDeg));
      CHECK(step.error_crank_deg[2] == 0.0);  // a water pump is not timed
    }
  }
  question.step_turns = 0;
  CHECK(two_turns(belt_on(spec), question).steps.empty());
}

TEST_CASE("The crank's own paint meets the belt's after as many turns as its count shares") {
  // By hand: lcm(111, 20)/20 and lcm(120, 20)/20; 40 teeth on of 111, and of 30.
  CHECK(paint_after_two(111, 20, {}).crank_meets_turns == 111);
  CHECK(paint_after_two(111, 20, {}).all_meet_turns == 111);
  CHECK(paint_after_two(120, 20, {}).crank_meets_turns == 6);
  CHECK(paint_after_two(30, 20, {}).teeth_further_on == 10);
  CHECK(paint_after_two(30, 20, {}).belt_teeth == 30);
  CHECK(paint_after_two(30, 20, {}).crank_teeth == 20);
}

TEST_CASE("Turns until all paint meets are told while a double holds their teeth, and not beyond") {
  // Exact: 211 x 20 x 199 x 197 x 193 x 191 x 181 is 1.1e15 teeth, a factor of 179 more 2e17; 2^53
  // is 9e15.
  const std::vector<int> five{199, 197, 193, 191, 181};
  CHECK(paint_after_two(211, 20, five).all_meet_turns == 211LL * 199 * 197 * 193 * 191 * 181);
  std::vector<int> six = five;
  six.push_back(179);
  CHECK_FALSE(paint_after_two(211, 20, six).all_meet_turns.has_value());
  CHECK(paint_after_two(211, 20, six).crank_meets_turns == 211);
  // Exact: 2^53 / 3 is 4405103 x 681573110 and a part; times 3 that is as many as there may be.
  CHECK(paint_after_two(681573110, 4405103, {3}).all_meet_turns == 3LL * 681573110);
}

TEST_CASE("Counts go round the belt from mark to mark, with the names of what is passed") {
  // By hand, clockwise: crank, tensioner, cam, idler, water pump, low pump.
  DriveSpec spec = turned_over::six();
  drives::named(spec, "water pump").role = Role::auxiliary_shaft;
  drives::named(spec, "water pump").turns_per_crank = 1.0;
  drives::named(spec, "water pump").mark_deg = 90.0;
  const TurnsAnswer answer = turned(spec);
  REQUIRE(answer.between_marks.size() == 3);
  const auto check = [&](std::size_t k, const char* from, const char* to, const char* along) {
    CHECK(answer.between_marks[k].from == from);
    CHECK(answer.between_marks[k].to == to);
    CHECK(answer.between_marks[k].along == along);
  };
  // The way from crank to cam does not hold the tensioner: against travel.
  check(0, "crank", "cam", "low pump, water pump, idler");
  check(1, "cam", "water pump", "idler");
  check(2, "water pump", "crank", "low pump");
  CHECK(answer.between_marks[0].count.way == Way::against_travel);
  CHECK(answer.between_marks[1].count.way == Way::with_travel);
  // Exact: the second and third together are the first.
  CHECK_THAT(answer.between_marks[1].count.teeth + answer.between_marks[2].count.teeth,
             WithinAbs(answer.between_marks[0].count.teeth, 1e-9));
  // A shaft without a mark, untimed or geared has none to count to; two marks are one way.
  drives::named(spec, "water pump").mark_deg.reset();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft)};
  spec.geared[0].mark_deg = 10.0;
  drives::named(spec, "low pump").mark_deg = 20.0;
  REQUIRE(turned(spec).between_marks.size() == 1);
  CHECK(turned(spec).between_marks[0].to == "cam");
  drives::named(spec, "cam").mark_deg.reset();
  CHECK(turned(spec).between_marks.empty());
}

TEST_CASE("With travel, passed pulleys are named as the belt comes to them") {
  DriveSpec spec = turned_over::six();
  spec.crank_turns = Turn::anticlockwise;
  const TurnsAnswer answer = turned(spec);
  REQUIRE(answer.between_marks.size() == 1);
  CHECK(answer.between_marks[0].count.way == Way::with_travel);
  CHECK(answer.between_marks[0].along == "low pump, water pump, idler");
}

TEST_CASE("Asked plainly, two turns are those of the belt put on, or none where none goes on") {
  DriveSpec spec = drives::worked_example();
  spec.build.teeth_out["cam"] = 1;
  const BothFits both = both_fits(spec, Fit::as_fitted);
  const std::optional<TurnsAnswer> answer =
      two_turns_of(both.book.fitted.value(), both.asked.fitted.value());
  REQUIRE(answer.has_value());
  CHECK_THAT(seen(*answer, "cam", 2).error_own_deg, WithinAbs(9.0, kExactDeg));
  spec.belt.teeth = 100;  // too short
  const BothFits other = both_fits(spec, Fit::as_fitted);
  CHECK_FALSE(two_turns_of(other.book.fitted.value(), other.asked.fitted.value()).has_value());
}
