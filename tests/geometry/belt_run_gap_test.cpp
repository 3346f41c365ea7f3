// How near the belt comes to pulleys, covers and itself: gaps worked out by hand.
#include <stdexcept>
#include <string>

#include "geometry/random_drives.hpp"
#include "twoturn/geometry/belt_run.hpp"

namespace twoturn::test {
namespace {

constexpr double kGapRounding = 1e-11;  // mm, on drives of some hundred mm
constexpr double kHair = 1e-3;          // mm: what a nearly-so case misses by

// Tooth side (left of travel, inside this anticlockwise belt) 3 mm from the pitch line, back 2 mm.
constexpr BeltBody kBody{3.0, 2.0};

// A rectangle 400 by 300, and an idler on the back that presses the upper run down to y = 60. It
// stands midway, its centre 125 mm above the lower run.
std::vector<Wheel> pressed_down() {
  return {wheel(0, 0, 25), wheel(400, 0, 25), wheel(400, 300, 25), wheel(200, 100, 40, -1),
          wheel(0, 300, 25)};
}
constexpr int kIdler = 3;

Surroundings around(const std::vector<Wheel>& wheels, const BeltBody& body = kBody) {
  Surroundings result;
  result.body = body;
  for (const Wheel& w : wheels) result.rims_mm.push_back(w.radius_mm);
  return result;
}

Surroundings beside(const std::vector<Vec2>& points, Outline kind = Outline::open) {
  Surroundings result = around(pressed_down());
  result.obstacles.push_back({points, kind});
  return result;
}

BeltRun judged(const std::vector<Wheel>& wheels, const Surroundings& all) {
  const BeltRun run = judge_run(wheels, solved(wheels), all);
  for (const Refusal& r : run.refused) {
    UNSCOPED_INFO("refused: reason " << static_cast<int>(r.reason) << ", first " << r.first
                                     << ", second " << r.second << ", value " << r.value);
  }
  return run;
}

BeltRun judged(const Surroundings& all) { return judged(pressed_down(), all); }

const Approach& approach(const BeltRun& run, Neighbour kind, int other) {
  for (const Approach& a : run.approaches) {
    if (a.kind == kind && a.other == other) return a;
  }
  throw std::out_of_range("no approach to " + std::to_string(other));
}

bool has_approach(const BeltRun& run, Neighbour kind, int other) {
  for (const Approach& a : run.approaches) {
    if (a.kind == kind && a.other == other) return true;
  }
  return false;
}

void refused_only_for(const BeltRun& run, Refused reason, int first, int second, double gap) {
  REQUIRE(run.refused.size() == 1);
  CHECK(run.refused[0].reason == reason);
  CHECK(run.refused[0].first == first);
  CHECK(run.refused[0].second == second);
  CHECK_THAT(run.refused[0].value, WithinAbs(gap, kGapRounding));
  CHECK(run.refused[0].limit == 0.0);
}

// Pulleys

TEST_CASE("a span clears a pulley by its distance less the rim and the belt's own reach") {
  // exact: 125 - 40 - 3, tooth side towards the idler
  const BeltRun run = judged(around(pressed_down()));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::pulley, kIdler);
  CHECK(near.span == 0);
  CHECK(near.wheel == -1);
  CHECK_THAT(near.gap_mm, WithinAbs(82.0, kGapRounding));
  CHECK((near.at_mm - Vec2(200, -25)).norm() < kGapRounding);
}

TEST_CASE("a belt running the other way has its sides exchanged") {
  // exact: 125 - 40 - 2
  const BeltRun run = judged(reversed(pressed_down()), around(reversed(pressed_down())));
  CHECK_THAT(approach(run, Neighbour::pulley, 1).gap_mm, WithinAbs(83.0, kGapRounding));
}

TEST_CASE("a flange that reaches the belt rubs, and a hair less does not") {
  Surroundings all = around(pressed_down());
  all.rims_mm[kIdler] = 122.0;
  refused_only_for(judged(all), Refused::rubs_pulley, 0, kIdler, 0.0);
  all.rims_mm[kIdler] = 124.0;
  refused_only_for(judged(all), Refused::rubs_pulley, 0, kIdler, -2.0);
  all.rims_mm[kIdler] = 122.0 - kHair;
  const BeltRun run = judged(all);
  CHECK(run.refused.empty());
  CHECK_THAT(approach(run, Neighbour::pulley, kIdler).gap_mm, WithinAbs(kHair, kGapRounding));
}

TEST_CASE("belt on an arc clears a pulley by the centre distance less both radii and its reach") {
  // exact: idler at 100, its belt facing down onto a pulley at -10: 110 - 25 - (40 + 3)
  std::vector<Wheel> wheels = pressed_down();
  wheels.insert(wheels.begin() + 1, wheel(200, -10, 25));
  Surroundings all = around(wheels);
  const BeltRun run = judged(wheels, all);
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::pulley, 1);
  CHECK(near.wheel == 4);
  CHECK(near.span == -1);
  CHECK_THAT(near.gap_mm, WithinAbs(42.0, kGapRounding));
  CHECK((near.at_mm - Vec2(200, 60)).norm() < kGapRounding);
  all.rims_mm[1] = 67.0;
  refused_only_for(judged(wheels, all), Refused::rubs_pulley, 4, 1, 0.0);
  all.rims_mm[1] = 67.0 - kHair;
  CHECK(judged(wheels, all).refused.empty());
}

TEST_CASE("belt that leaves a flanged pulley for an idler close by does not rub on the flange") {
  // It rises from between the flanges, steadily drawing off; only a return would be a danger.
  const double leaning = 30.0 * kRadPerDeg;
  const std::vector<Wheel> wheels{
      wheel(0, 0, 50), wheel(63.5 * std::cos(leaning), -63.5 * std::sin(leaning), 10, -1),
      wheel(300, 0, 30), wheel(0, 300, 30)};
  Surroundings all = around(wheels, {7.0, 2.0});
  all.rims_mm[0] = 53.0;
  // The span from the idler begins nearer to the flange than the belt is thick.
  const TangentPath path = solved(wheels);
  REQUIRE((path.spans[1].start_mm - wheels[0].centre_mm).norm() < 53.0 + 7.0);
  CHECK(judged(wheels, all).refused.empty());
}

TEST_CASE("a pulley that no part of the belt draws near has no nearest approach") {
  const std::vector<Wheel> two{wheel(0, 0, 25), wheel(300, 0, 60)};
  CHECK(judged(two, around(two)).approaches.empty());
}

// Obstacles

TEST_CASE("a cover along a run clears it by the distance less the belt's back") {
  // exact: lower run at y = -25, back 2 mm below it
  const BeltRun run = judged(beside({Vec2(100, -30), Vec2(300, -30)}));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::obstacle, 0);
  CHECK(near.span == 0);
  CHECK_THAT(near.gap_mm, WithinAbs(3.0, kGapRounding));
  refused_only_for(judged(beside({Vec2(100, -27), Vec2(300, -27)})), Refused::rubs_obstacle, 0, 0,
                   0.0);
  CHECK(judged(beside({Vec2(100, -27 - kHair), Vec2(300, -27 - kHair)})).refused.empty());
}

TEST_CASE("a bracket inside the belt clears a run by the distance less the teeth") {
  // exact: -20 is 5 mm inside the run, the teeth reach 3
  const BeltRun run = judged(beside({Vec2(150, 20), Vec2(180, -20), Vec2(210, 20)}));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::obstacle, 0);
  CHECK_THAT(near.gap_mm, WithinAbs(2.0, kGapRounding));
  CHECK(near.at_mm == Vec2(180, -20));
  refused_only_for(judged(beside({Vec2(180, 20), Vec2(180, -22)})), Refused::rubs_obstacle, 0, 0,
                   0.0);
}

TEST_CASE("a cover round a pulley clears the arc by its distance from the centre") {
  // exact: an edge square to the diagonal, 30 from the lower right centre: 30 - 25 - 2
  const Vec2 out = Vec2(1, -1).normalized();
  const Vec2 along(out.y(), -out.x());
  const auto edge_at = [&](double distance) -> std::vector<Vec2> {
    const Vec2 middle = Vec2(400, 0) + distance * out;
    return {middle - 10.0 * along, middle + 10.0 * along};
  };
  const BeltRun run = judged(beside(edge_at(30.0)));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::obstacle, 0);
  CHECK(near.wheel == 1);
  CHECK(near.span == -1);
  CHECK_THAT(near.gap_mm, WithinAbs(3.0, kGapRounding));
  refused_only_for(judged(beside(edge_at(27.0 - kHair))), Refused::rubs_obstacle, 1, 0, -kHair);
  CHECK(judged(beside(edge_at(27.0 + kHair))).refused.empty());
}

TEST_CASE("a point that an arc and a span share as their nearest is not lost between them") {
  // Straight below the join of span and arc, in drives turned every way: exact 5 - 2.
  for (int degrees = 0; degrees < 360; ++degrees) {
    INFO("turned by " << degrees << " deg");
    const double turn = degrees * kRadPerDeg;
    const std::vector<Wheel> wheels = turned(pressed_down(), turn);
    Surroundings all = around(wheels);
    all.obstacles.push_back({{turned_point(Vec2(400, -30), turn)}, Outline::open});
    all.obstacles.push_back(
        {{turned_point(Vec2(0, -30), turn), turned_point(Vec2(0, -60), turn)}, Outline::open});
    const BeltRun run = judged(wheels, all);
    REQUIRE_THAT(approach(run, Neighbour::obstacle, 0).gap_mm, WithinAbs(3.0, kGapRounding));
    REQUIRE_THAT(approach(run, Neighbour::obstacle, 1).gap_mm, WithinAbs(3.0, kGapRounding));
  }
}

TEST_CASE("the side of the belt that faces an obstacle decides, also past a span's end") {
  // A deep tooth side must not count towards a point that faces the back on the arc.
  Surroundings all = around(pressed_down(), {20.0, 2.0});
  all.obstacles.push_back({{Vec2(408, -24)}, Outline::open});
  const BeltRun run = judged(all);
  // exact: the point is hypot(8, 24) from the lower right centre, 0.3 from the pitch line
  const double gap = std::hypot(8.0, 24.0) - 25.0 - 2.0;
  CHECK_THAT(approach(run, Neighbour::obstacle, 0).gap_mm, WithinAbs(gap, kGapRounding));
}

TEST_CASE("an outline all round the drive does not touch it") {
  // exact: 100 mm beyond the centres on all sides, the belt's back 27 beyond them
  const std::vector<Vec2> round{Vec2(-100, -100), Vec2(500, -100), Vec2(500, 400), Vec2(-100, 400)};
  const BeltRun run = judged(beside(round, Outline::closed));
  CHECK(run.refused.empty());
  CHECK_THAT(approach(run, Neighbour::obstacle, 0).gap_mm, WithinAbs(73.0, kGapRounding));
}

TEST_CASE("the closing edge of an outline counts, and is absent from an open one") {
  // exact: both ends stand 35 off the runs beside the lower left pulley; the line between them
  // passes its centre at 7
  const std::vector<Vec2> corner{Vec2(-60, 50), Vec2(-150, -150), Vec2(50, -60)};
  const BeltRun open = judged(beside(corner, Outline::open));
  CHECK(open.refused.empty());
  CHECK_THAT(approach(open, Neighbour::obstacle, 0).gap_mm, WithinAbs(33.0, kGapRounding));
  const BeltRun closed = judged(beside(corner, Outline::closed));
  REQUIRE(closed.refused.size() == 2);
  CHECK(closed.refused[0].reason == Refused::rubs_obstacle);
  CHECK(closed.refused[1].reason == Refused::pulley_meets_obstacle);
  CHECK_THAT(closed.refused[1].value, WithinAbs(10.0 / std::sqrt(2.0) - 25.0, kGapRounding));
}

TEST_CASE("an obstacle that goes through the belt touches it, whatever its ends do") {
  for (const std::vector<Vec2>& line : {std::vector<Vec2>{Vec2(100, -80), Vec2(100, 40)},
                                        std::vector<Vec2>{Vec2(400, 0), Vec2(440, -40)},
                                        std::vector<Vec2>{Vec2(420, -60), Vec2(430, 60)}}) {
    INFO("from " << line[0].transpose());
    const BeltRun run = judged(beside(line));
    REQUIRE_FALSE(run.refused.empty());
    CHECK(run.refused[0].reason == Refused::rubs_obstacle);
    CHECK(run.refused[0].second == 0);
    CHECK(run.refused[0].value < 0.0);
    for (std::size_t k = 1; k < run.refused.size(); ++k) {
      CHECK(run.refused[k].reason == Refused::pulley_meets_obstacle);
    }
  }
}

TEST_CASE("an obstacle behind a pulley is measured to the belt round it, from within") {
  // exact: a mark 10 from the lower right centre, outwards; the teeth reach in to 25 - 3
  // (no part can stand in the pulley itself: that is refused apart, by all of its 25)
  const BeltRun run = judged(beside({Vec2(400, 0), Vec2(406, -8)}));
  refused_only_for(run, Refused::pulley_meets_obstacle, 1, 0, -25.0);
  const Approach& near = approach(run, Neighbour::obstacle, 0);
  CHECK(near.wheel == 1);
  CHECK_THAT(near.gap_mm, WithinAbs(12.0, kGapRounding));
}

TEST_CASE("one point is an obstacle, and no point is none") {
  // exact: 6 mm below the lower run, the back at 2
  const BeltRun run = judged(beside({Vec2(100, -31)}));
  CHECK_THAT(approach(run, Neighbour::obstacle, 0).gap_mm, WithinAbs(4.0, kGapRounding));
  for (const Outline kind : {Outline::open, Outline::closed}) {
    const BeltRun nothing = judged(beside({}, kind));
    CHECK(nothing.refused.empty());
    CHECK_FALSE(has_approach(nothing, Neighbour::obstacle, 0));
  }
}

TEST_CASE("each obstacle is judged for itself and named by its place in the list") {
  Surroundings all = beside({Vec2(100, -40), Vec2(200, -40)});
  all.obstacles.push_back({{Vec2(100, -20), Vec2(200, -40)}, Outline::open});
  all.obstacles.push_back({{Vec2(300, -26), Vec2(300, -90)}, Outline::open});
  const BeltRun run = judged(all);
  REQUIRE(run.refused.size() == 2);
  CHECK(run.refused[0].second == 1);
  CHECK(run.refused[1].second == 2);
  CHECK_THAT(run.refused[1].value, WithinAbs(-1.0, kGapRounding));
  CHECK_THAT(approach(run, Neighbour::obstacle, 0).gap_mm, WithinAbs(13.0, kGapRounding));
}

// The belt's own runs

TEST_CASE("belt on an idler clears the run that it faces by both their tooth sides") {
  // exact: 125 - (40 + 3) - 3
  const BeltRun run = judged(around(pressed_down()));
  const Approach& near = approach(run, Neighbour::own_run, kIdler);
  CHECK(near.span == 0);
  CHECK_THAT(near.gap_mm, WithinAbs(79.0, kGapRounding));
}

TEST_CASE("a belt pressed onto its own other run rubs on itself, and a hair less does not") {
  // exact: an idler 71 above the lower run: 71 - 40 - 2 * 15.5
  std::vector<Wheel> wheels = pressed_down();
  wheels[kIdler].centre_mm.y() = 46.0;
  refused_only_for(judged(wheels, around(wheels, {15.5, 2.0})), Refused::rubs_itself, 0, kIdler,
                   0.0);
  const BeltRun run = judged(wheels, around(wheels, {15.5 - 0.5 * kHair, 2.0}));
  CHECK(run.refused.empty());
  CHECK_THAT(approach(run, Neighbour::own_run, kIdler).gap_mm, WithinAbs(kHair, kGapRounding));
}

TEST_CASE(
    "a neck pinched between two idlers rubs where their belts meet, and a hair less does not") {
  // exact: centres 60 apart, radii 20: 60 - 2 * (20 + 10)
  const std::vector<Wheel> wheels{wheel(-220, 0, 40), wheel(220, 0, 40), wheel(30, 160, 20, -1),
                                  wheel(0, 360, 50), wheel(-30, 160, 20, -1)};
  REQUIRE(solved(wheels).wraps[3].degrees() > 180.0);
  refused_only_for(judged(wheels, around(wheels, {10.0, 2.0})), Refused::rubs_itself, 2, 4, 0.0);
  const BeltRun run = judged(wheels, around(wheels, {10.0 - 0.5 * kHair, 2.0}));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::own_run, 4);
  CHECK(near.wheel == 2);
  CHECK_THAT(near.gap_mm, WithinAbs(kHair, kGapRounding));
  CHECK((near.at_mm - Vec2(10, 160)).norm() < kGapRounding);
}

TEST_CASE("two spans of one pulley that draw together are nearest at the idler that ends one") {
  // exact: an upright span at x = 5; the idler of the other span reaches to x = -5 from -25
  const std::vector<Wheel> wheels{wheel(-220, 0, 40), wheel(220, 0, 40), wheel(25, 100, 20, -1),
                                  wheel(-45, 360, 50), wheel(-25, 200, 20, -1)};
  const TangentPath path = solved(wheels);
  REQUIRE_THAT(path.spans[2].direction.x(), WithinAbs(0.0, 4.0 * kEpsilon));
  REQUIRE(path.wraps[3].degrees() > 180.0);
  const BeltRun run = judged(wheels, around(wheels, {2.0, 1.0}));
  CHECK(run.refused.empty());
  const Approach& near = approach(run, Neighbour::own_run, 4);
  CHECK(near.span == 2);
  CHECK_THAT(near.gap_mm, WithinAbs(6.0, kGapRounding));
  CHECK_THAT(approach(run, Neighbour::pulley, 4).gap_mm, WithinAbs(8.0, kGapRounding));
  refused_only_for(judged(wheels, around(wheels, {5.0, 1.0})), Refused::rubs_itself, 2, 4, 0.0);
}

TEST_CASE("short spans between close pulleys are no danger to each other") {
  // Three pulleys nearly in line, 52 apart with rims of 25: spans that a thick belt would bridge.
  const std::vector<Wheel> wheels{wheel(0, 0, 25), wheel(52, -1, 25), wheel(104, -1.5, 25),
                                  wheel(156, 0, 25), wheel(78, 300, 40)};
  const BeltRun run = judged(wheels, around(wheels, {12.0, 12.0}));
  CHECK(run.refused.empty());
}

TEST_CASE("two pulleys and three in a triangle have no run of their own that comes near") {
  const std::vector<Wheel> two{wheel(0, 0, 25), wheel(300, 0, 60)};
  const std::vector<Wheel> three{wheel(0, 0, 25), wheel(300, 0, 60), wheel(100, 200, 10)};
  for (const std::vector<Wheel>& wheels : {two, three}) {
    const BeltRun run = judged(wheels, around(wheels));
    CHECK(run.refused.empty());
    for (const Approach& a : run.approaches) CHECK(a.kind != Neighbour::own_run);
  }
}

// Scale and place

TEST_CASE("gaps move, turn and scale with the drive") {
  const std::uint64_t seed = 20260360;
  Random random(seed);
  for (int drive = 0; drive < 100; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(3, 8));
    Surroundings all = around(wheels);
    const std::vector<Vec2> pitch_line = sampled(wheels, solved(wheels), 0.3);
    Obstacle bracket;
    for (int k = 0; k < 3; ++k) {
      const auto last = static_cast<int>(pitch_line.size()) - 1;
      const Vec2 foot = pitch_line[static_cast<std::size_t>(random.whole(0, last))];
      bracket.points_mm.push_back(foot + random.arrow(0.0, 30.0));
    }
    all.obstacles.push_back(bracket);
    const double turn = random.between(0.0, kFullTurn);
    const Vec2 shift = 500.0 * random.direction();
    constexpr double kFactor = 2.5;
    Surroundings again = all;
    again.body = {kFactor * kBody.left_mm, kFactor * kBody.right_mm};
    for (double& rim : again.rims_mm) rim *= kFactor;
    for (Vec2& p : again.obstacles[0].points_mm) p = kFactor * (turned_point(p, turn) + shift);
    const std::vector<Wheel> redrawn_wheels = scaled(moved(turned(wheels, turn), shift), kFactor);
    const BeltRun first = judged(wheels, all);
    const BeltRun second = judged(redrawn_wheels, again);
    REQUIRE(first.approaches.size() == second.approaches.size());
    REQUIRE(first.refused.size() == second.refused.size());
    for (std::size_t k = 0; k < first.approaches.size(); ++k) {
      REQUIRE(first.approaches[k].other == second.approaches[k].other);
      REQUIRE_THAT(second.approaches[k].gap_mm,
                   WithinAbs(kFactor * first.approaches[k].gap_mm, 10.0 * kGapRounding));
    }
  }
}

}  // namespace
}  // namespace twoturn::test
