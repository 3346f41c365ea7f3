// Which paths can be a belt's: every reason against one, and its opposite that is nearly so.
#include "twoturn/geometry/belt_run.hpp"

#include "geometry/random_drives.hpp"

namespace twoturn::test {
namespace {

constexpr double kHair = 1e-3;       // mm: what a nearly-so case misses by
constexpr double kTurnsDeg = 1e-10;  // a dozen wraps, each within 1e-11

Surroundings bare(const std::vector<Wheel>& wheels) {
  Surroundings around;
  for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm);
  return around;
}

BeltRun judged(const std::vector<Wheel>& wheels, const Surroundings& around) {
  const TangentPath path = solved(wheels);
  const BeltRun run = judge_run(wheels, path, around);
  REQUIRE(can_run(wheels, path, around) == run.refused.empty());
  for (const Refusal& r : run.refused) {
    UNSCOPED_INFO("refused: reason " << static_cast<int>(r.reason) << ", first " << r.first
                                     << ", second " << r.second << ", value " << r.value);
  }
  return run;
}

BeltRun judged(const std::vector<Wheel>& wheels) { return judged(wheels, bare(wheels)); }

// The one refusal of a run, which must have no other.
Refusal only_refusal(const BeltRun& run, Refused reason) {
  REQUIRE(run.refused.size() == 1);
  REQUIRE(run.refused[0].reason == reason);
  return run.refused[0];
}

// Corners of a rectangle 400 by 600, anticlockwise; wheels put on its lower and its upper run.
std::vector<Wheel> rectangle_with(const std::vector<Wheel>& low, const std::vector<Wheel>& high) {
  std::vector<Wheel> wheels{wheel(0, 0, 25)};
  wheels.insert(wheels.end(), low.begin(), low.end());
  wheels.push_back(wheel(400, 0, 25));
  wheels.push_back(wheel(400, 600, 25));
  wheels.insert(wheels.end(), high.begin(), high.end());
  wheels.push_back(wheel(0, 600, 25));
  return wheels;
}

TEST_CASE("loops that cancel in the sum of wraps are refused all the same") {
  // exact: one anticlockwise loop inside and one clockwise loop outside; the sum is one turn
  const std::vector<Wheel> wheels =
      rectangle_with({wheel(200, 150, 25)}, {wheel(200, 750, 25, -1)});
  const TangentPath path = solved(wheels);
  REQUIRE_THAT(signed_turn(wheels, path).degrees(), WithinAbs(360.0, kTurnsDeg));
  const BeltRun run = judged(wheels);
  REQUIRE(run.refused.size() == 2);
  CHECK(run.refused[0].reason == Refused::pulley_missed);
  CHECK(run.refused[0].first == 1);
  // exact: spans along 3-4-5 triangles
  const double wrap = 360.0 - 2.0 * std::atan(0.75) / kRadPerDeg;
  CHECK_THAT(run.refused[0].value, WithinAbs(wrap, kTurnsDeg));
  CHECK(run.refused[0].limit == 180.0);
  CHECK(run.refused[1].reason == Refused::pulley_missed);
  CHECK(run.refused[1].first == 4);
  CHECK(run.refused[1].value == path.wraps[4].degrees());
}

TEST_CASE("loops round two pulleys each that cancel in the sum are refused as crossing spans") {
  const std::vector<Wheel> wheels =
      rectangle_with({wheel(250, 150, 25), wheel(150, 150, 25)},
                     {wheel(150, 750, 25, -1), wheel(250, 750, 25, -1)});
  REQUIRE_THAT(signed_turn(wheels, solved(wheels)).degrees(), WithinAbs(360.0, kTurnsDeg));
  const BeltRun run = judged(wheels);
  REQUIRE(run.refused.size() == 2);
  CHECK(run.refused[0].reason == Refused::spans_cross);
  CHECK(run.refused[0].first == 0);
  CHECK(run.refused[0].second == 2);
  CHECK(run.refused[1].reason == Refused::spans_cross);
  CHECK(run.refused[1].first == 4);
  CHECK(run.refused[1].second == 6);
}

TEST_CASE("the same pulleys met the other way about are a belt's") {
  CHECK(judged(rectangle_with({wheel(200, 150, 25, -1)}, {wheel(200, 750, 25)})).refused.empty());
  CHECK(judged(rectangle_with({wheel(150, 150, 25, -1), wheel(250, 150, 25, -1)},
                              {wheel(250, 750, 25), wheel(150, 750, 25)}))
            .refused.empty());
}

TEST_CASE("a loop too many makes two turns") {
  const BeltRun run = judged(rectangle_with({wheel(200, 150, 25)}, {}));
  REQUIRE(run.refused.size() == 2);
  CHECK(run.refused[0].reason == Refused::not_one_turn);
  CHECK_THAT(run.refused[0].value, WithinAbs(2.0, kTurnsDeg));
  CHECK(run.refused[0].limit == 1.0);
  CHECK(run.refused[1].reason == Refused::pulley_missed);
}

TEST_CASE("a crossed belt makes no turn at all") {
  const BeltRun run = judged({wheel(0, 0, 25), wheel(300, 0, 25, -1)});
  REQUIRE(run.refused.size() == 2);
  CHECK(run.refused[0].reason == Refused::not_one_turn);
  CHECK_THAT(run.refused[0].value, WithinAbs(0.0, kTurnsDeg));
  CHECK(run.refused[1].reason == Refused::spans_cross);
  CHECK(run.refused[1].first == 0);
  CHECK(run.refused[1].second == 1);
}

TEST_CASE("one turn is one turn in either direction") {
  const std::vector<Wheel> wheels = rectangle_with({wheel(200, 10, 30, -1)}, {});
  CHECK(judged(wheels).refused.empty());
  CHECK(judged(reversed(wheels)).refused.empty());
  CHECK(judged(mirrored(wheels)).refused.empty());
  CHECK(judged({wheel(0, 0, 25), wheel(300, 0, 60)}).refused.empty());
}

TEST_CASE("a pulley is missed where it stands a hair off the straight run, and met a hair on it") {
  for (const double hair : {kHair, 1e-7}) {
    INFO(hair << " mm");
    const Refusal missed = [&] {
      BeltRun run = judged(rectangle_with({wheel(200, hair, 25)}, {}));
      std::erase_if(run.refused,
                    [](const Refusal& r) { return r.reason == Refused::not_one_turn; });
      return only_refusal(run, Refused::pulley_missed);
    }();
    CHECK(missed.first == 1);
    CHECK_THAT(missed.value,
               WithinAbs(360.0 - 2.0 * std::atan(hair / 200.0) / kRadPerDeg, kTurnsDeg));
    CHECK(judged(rectangle_with({wheel(200, -hair, 25)}, {})).refused.empty());
  }
}

TEST_CASE("a wrap past half a turn is no miss where the spans end before they cross") {
  // A loop over the top pulley, its neck held open by idlers on the back.
  const std::vector<Wheel> open_neck{wheel(-220, 0, 40), wheel(220, 0, 40), wheel(30, 160, 20, -1),
                                     wheel(0, 360, 50), wheel(-30, 160, 20, -1)};
  CHECK(solved(open_neck).wraps[3].degrees() > 200.0);
  CHECK(judged(open_neck).refused.empty());
}

TEST_CASE("rims overlap where their sum is more than the distance between centres") {
  const std::vector<Wheel> wheels = rectangle_with({}, {});
  Surroundings around = bare(wheels);
  around.rims_mm = {200.0 + 0.5, 200.0, 25.0, 25.0};
  const Refusal refusal = only_refusal(judged(wheels, around), Refused::pulleys_overlap);
  CHECK(refusal.first == 0);
  CHECK(refusal.second == 1);
  CHECK(refusal.value == -0.5);
  around.rims_mm[0] = 200.0;  // they touch, and roll on each other, but do not overlap
  CHECK(judged(wheels, around).refused.empty());
}

TEST_CASE("a path that examine_path would pass may still run through a pulley") {
  // The lower run goes straight through a wheel that the upper run carries.
  const std::vector<Wheel> wheels = rectangle_with({}, {wheel(200, -10, 20, -1)});
  const BeltRun run = judged(wheels);
  REQUIRE_FALSE(run.refused.empty());
  bool rubs = false;
  for (const Refusal& r : run.refused) {
    rubs |= r.reason == Refused::rubs_pulley && r.second == 3 && r.first == 0;
  }
  CHECK(rubs);
}

TEST_CASE("judging agrees with plain means on drives of every kind") {
  // Each wheel's rim its pitch circle and the belt without thickness, as plainly_belt_like has it.
  const std::uint64_t seed = 20260350;
  Random random(seed);
  int accepted = 0;
  int refused = 0;
  for (int drive = 0; drive < 3000; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    std::vector<Wheel> wheels = drive % 2 == 0 ? random_belt_drive(random, 2 + drive / 2 % 7)
                                               : random_chain(random, 2 + drive / 2 % 4);
    const auto last = static_cast<int>(wheels.size()) - 1;
    for (int flips = random.whole(0, 2); flips > 0; --flips) {
      Wheel& flipped = wheels[static_cast<std::size_t>(random.whole(0, last))];
      flipped.sense = -flipped.sense;
    }
    TangentPath path;
    if (!solve_path(wheels, path).solved()) continue;
    const bool can = can_run(wheels, path, bare(wheels));
    REQUIRE(can == plainly_belt_like(wheels, 0.0));
    ++(can ? accepted : refused);
  }
  CHECK(accepted > 500);
  CHECK(refused > 500);
}

}  // namespace
}  // namespace twoturn::test
