#include "twoturn/study/bolts.hpp"

#include <algorithm>
#include <numbers>

#include "support/catch.hpp"
#include "support/demos.hpp"

namespace twoturn {
namespace {

BoltsAnswer answer_of(const DriveSpec& spec) {
  std::vector<Missing> ignored;
  return bolts_answer(spec, ignored);
}

BoltsSpec torque_and_two_angles() {
  BoltsSpec bolts;
  bolts.name = "head bolts";
  bolts.count = 4;
  bolts.pitch_mm = 1.25;
  BoltStageSpec torque;
  torque.torque_nm = 40.0;
  BoltStageSpec angle;
  angle.angle_deg = 90.0;
  bolts.stages = {torque, angle, angle};
  return bolts;
}

BoltGroup group_of(const BoltsSpec& bolts) {
  DriveSpec spec;
  spec.bolts = {bolts};
  return answer_of(spec).groups.front();
}

// Published: S. S. Bhavikatti, Strength of Materials (met through a public worked-solution
// notebook): bolt 16, tube 30/20, length 500, E 2e5 and 1.2e5 N/mm2, pitch 2, a quarter turn:
// 107.91 N/mm2 in the bolt and 55.25 in the tube.
TEST_CASE("A profile's bolt in a sleeve is bounded by the textbook's stress") {
  constexpr double kPrinted = 0.005;
  const double tube_mm2 = std::numbers::pi / 4.0 * (30.0 * 30.0 - 20.0 * 20.0);
  BoltsSpec bolts;
  bolts.name = "bolt";
  bolts.count = 1;
  bolts.pitch_mm = 2.0;
  bolts.length_mm = 500.0;
  bolts.shank_mm = 16.0;
  bolts.modulus_n_mm2 = 2e5;
  bolts.joint_stiffness_n_mm = 1.2e5 * tube_mm2 / 500.0;
  BoltStageSpec quarter;
  quarter.angle_deg = 90.0;
  bolts.stages = {quarter};
  const BoltGroup group = group_of(bolts);
  REQUIRE(group.bound);
  CHECK_THAT(group.bound->stress_n_mm2, WithinAbs(107.91, kPrinted));
  CHECK_THAT(group.bound->load_n / tube_mm2, WithinAbs(55.25, kPrinted));
  // Exact: what the nut moved is what the two gave.
  CHECK_THAT(group.bound->stretch_mm + group.bound->squeeze_mm, WithinAbs(0.5, 1e-12));
}

// Exact: 90 deg at pitch 1.25 mm; a foot-pound is 0.3048 x 0.45359237 x 9.80665 Nm.
TEST_CASE("Each stage tells its move first and its total behind, and how far the thread goes") {
  const BoltGroup group = group_of(torque_and_two_angles());
  REQUIRE(group.stages.size() == 3);
  CHECK(group.stages[0].move == "to 40 Nm (29.5 lbf ft)");
  CHECK_THAT(*group.stages[0].torque_lbf_ft, WithinAbs(29.5025, 5e-5));
  CHECK_FALSE(group.stages[0].advance_mm);
  CHECK(group.stages[1].move == "90 more: dot from 12 to 3 o'clock (90 in all)");
  CHECK(group.stages[2].move == "90 more: dot from 3 to 6 o'clock (180 in all)");
  CHECK(*group.stages[2].advance_mm == 0.3125);
  CHECK(*group.stages[2].total_deg == 180.0);
  CHECK_FALSE(group.bound);  // length, shank and joint are not given
}

TEST_CASE("An angle that is no whole hour, and more than a turn, is told as on a clock face") {
  BoltsSpec bolts = torque_and_two_angles();
  bolts.stages[1].angle_deg = 75.0;
  bolts.stages[2].angle_deg = 400.0;
  const BoltGroup group = group_of(bolts);
  CHECK(group.stages[1].move == "75 more: dot from 12:00 to 2:30 (75 in all)");
  CHECK_THAT(group.stages[2].move, ContainsSubstring("once past it"));
  CHECK(*group.stages[2].dot_to_deg == 115.0);
}

// Common practice: a torque, then 90 deg, then 90 deg.
TEST_CASE("The van's head bolts are a torque, then 90, then 90, in an order that takes each once") {
  const BoltsAnswer answer = answer_of(demos::spec_of("night-bakery-van"));
  const BoltGroup& head = answer.groups.front();
  REQUIRE(head.stages.size() == 3);
  CHECK(head.stages[0].torque_nm);
  CHECK(*head.stages[1].angle_deg == 90.0);
  CHECK(*head.stages[2].angle_deg == 90.0);
  CHECK(head.order == BoltOrder::usual);
  CHECK(head.bolts.size() == 10);
  CHECK(head.bound);
}

TEST_CASE("A given order stands as given, and without places numbers are the manual's") {
  BoltsSpec bolts = torque_and_two_angles();
  CHECK(group_of(bolts).order == BoltOrder::not_known);
  REQUIRE(group_of(bolts).bolts.size() == 4);
  CHECK(group_of(bolts).bolts.back().number == 4);
  bolts.order = {3, 1, 4, 2};
  const BoltGroup group = group_of(bolts);
  CHECK(group.order == BoltOrder::given);
  CHECK(group.bolts[0].position == 3);
  CHECK(group.bolts[3].position == 2);
}

TEST_CASE("Where was I: the lowest stage that is open, and of those bolts the first in order") {
  const BoltGroup group = group_of(torque_and_two_angles());
  const NextBolt begin = next_bolt(group, {});
  CHECK(begin.bolt == 1);
  CHECK(begin.stage == 1);
  CHECK(begin.ticks == 0);
  CHECK(begin.of == 12);
  const NextBolt amid = next_bolt(group, {2, 2, 1, 1});
  CHECK(amid.bolt == 3);
  CHECK(amid.stage == 2);
  CHECK(amid.move == group.stages[1].move);
  CHECK(amid.ticks == 6);
  CHECK(amid.noticed.empty());
  CHECK(next_bolt(group, {3, 3, 3, 3}).all_done);
  CHECK_FALSE(next_bolt(group, {3, 3, 3}).all_done);
}

TEST_CASE("Bolts that went before their turn are told") {
  const BoltGroup group = group_of(torque_and_two_angles());
  CHECK(next_bolt(group, {1, 0, 1, 0}).noticed.size() == 1);
  CHECK_THAT(next_bolt(group, {1, 0, 1, 0}).noticed.front(), ContainsSubstring("Bolt 3"));
  CHECK_THAT(next_bolt(group, {1, 0, 3, 0}).noticed.front(), ContainsSubstring("stage 3 already"));
  CHECK(why_not_reached(group, {1, 1, 1, 1}).empty());
  CHECK_FALSE(why_not_reached(group, {1, 1, 1, 1, 1}).empty());
  CHECK_FALSE(why_not_reached(group, {4}).empty());
  CHECK_FALSE(why_not_reached(group, {-1}).empty());
}

TEST_CASE("What is missing for more is named with its key") {
  DriveSpec spec;
  spec.bolts = {torque_and_two_angles()};
  std::vector<Missing> missing;
  CHECK(bolts_answer(spec, missing).groups.size() == 1);
  const auto asked = [&](const std::string& key) {
    return std::any_of(missing.begin(), missing.end(), [&](const Missing& one) {
      return one.key == "bolts.head bolts." + key && !one.measure.empty();
    });
  };
  for (const char* key :
       {"positions_mm", "condition", "threads", "length_mm", "shank_mm", "joint_stiffness_n_mm"}) {
    INFO(key);
    CHECK(asked(key));
  }
  CHECK_FALSE(asked("pitch_mm"));
  CHECK_FALSE(asked("count"));
}

}  // namespace
}  // namespace twoturn
