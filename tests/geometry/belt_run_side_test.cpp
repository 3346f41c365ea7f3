// Which side of a path is its inner one, and parts that stand in a pulley's rim.
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/linestring.hpp>
#include <boost/geometry/geometries/point_xy.hpp>

#include "geometry/random_drives.hpp"
#include "twoturn/geometry/belt_run.hpp"

namespace twoturn::test {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Line = bg::model::linestring<Point>;

Surroundings round_wheels(const std::vector<Wheel>& wheels, Loop loop) {
  Surroundings around;
  around.loop = loop;
  for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm);
  return around;
}

std::vector<Wheel> mirrored(std::vector<Wheel> wheels) {
  for (Wheel& w : wheels) {
    w.centre_mm.x() = -w.centre_mm.x();
    w.sense = -w.sense;
  }
  return wheels;
}

TEST_CASE("a path whose inner wheels lie outside its loop is refused, mirrored too") {
  // exact: two inner wheels far apart, two outer ones between them; taken in the other order the
  // path runs round the outer wheels and the inner ones hang outside it
  const std::vector<Wheel> good{wheel(0, 0, 30), wheel(60, 60, 32, -1), wheel(0, 120, 30),
                                wheel(-60, 60, 32, -1)};
  const std::vector<Wheel> inside_out{good[0], good[3], good[2], good[1]};
  CHECK(judge_run(good, solved(good), round_wheels(good, Loop::anticlockwise)).refused.empty());
  for (const bool mirror : {false, true}) {
    const std::vector<Wheel> wheels = mirror ? mirrored(inside_out) : inside_out;
    const Loop loop = mirror ? Loop::clockwise : Loop::anticlockwise;
    const TangentPath path = solved(wheels);
    const double turns = signed_turn(wheels, path).degrees() / 360.0;
    REQUIRE_THAT(std::abs(turns), WithinAbs(1.0, 1e-12));
    const BeltRun run = judge_run(wheels, path, round_wheels(wheels, loop));
    REQUIRE(run.refused.size() == 1);
    CHECK(run.refused[0].reason == Refused::not_one_turn);
    CHECK_THAT(run.refused[0].value, WithinAbs(-1.0, 1e-12));
    // Where either side may be the inner one nothing is wrong with it.
    CHECK(judge_run(wheels, path, round_wheels(wheels, Loop::either)).refused.empty());
  }
}

TEST_CASE("a belt's loop goes the way its inner wheels turn, on random drives") {
  const std::uint64_t seed = 20260350;
  Random random(seed);
  for (int k = 0; k < 100; ++k) {
    INFO("seed " << seed << ", drive " << k);
    const std::vector<Wheel> wheels = random_belt_drive(random, 3 + k % 8);
    const TangentPath path = solved(wheels);
    const bool anticlockwise = signed_turn(wheels, path).radians() > 0.0;
    const auto right = anticlockwise ? Loop::anticlockwise : Loop::clockwise;
    const auto wrong = anticlockwise ? Loop::clockwise : Loop::anticlockwise;
    CHECK(judge_run(wheels, path, round_wheels(wheels, right)).refused.empty());
    const BeltRun run = judge_run(wheels, path, round_wheels(wheels, wrong));
    REQUIRE(run.refused.size() == 1);
    CHECK(run.refused[0].reason == Refused::not_one_turn);
  }
}

TEST_CASE("the gap from each rim to each part is Boost.Geometry's distance less the rim") {
  const std::uint64_t seed = 20260351;
  Random random(seed);
  int touching = 0;
  for (int k = 0; k < 200; ++k) {
    INFO("seed " << seed << ", drive " << k);
    const std::vector<Wheel> wheels = random_belt_drive(random, 2 + k % 6);
    Surroundings around = round_wheels(wheels, Loop::either);
    Obstacle part;
    part.kind = k % 2 == 0 ? Outline::open : Outline::closed;
    const auto near_one = static_cast<std::size_t>(k) % wheels.size();
    const Vec2 place = wheels[near_one].centre_mm + random.arrow(0.0, 120.0);
    for (int p = 0; p < 4; ++p) part.points_mm.push_back(place + random.arrow(0.0, 60.0));
    around.obstacles = {part};
    Line line;
    for (const Vec2& p : part.points_mm) line.emplace_back(p.x(), p.y());
    if (part.kind == Outline::closed) line.push_back(line.front());
    const BeltRun run = judge_run(wheels, solved(wheels), around);
    REQUIRE(run.rims.size() == wheels.size());
    for (const RimGap& rim : run.rims) {
      const Wheel& w = wheels[static_cast<std::size_t>(rim.wheel)];
      const double gap = bg::distance(Point(w.centre_mm.x(), w.centre_mm.y()), line) - w.radius_mm;
      CHECK_THAT(rim.gap_mm, WithinAbs(gap, 1e-9));
      const bool refused =
          std::any_of(run.refused.begin(), run.refused.end(), [&](const Refusal& refusal) {
            return refusal.reason == Refused::pulley_meets_obstacle && refusal.first == rim.wheel;
          });
      CHECK(refused == (gap <= 0.0));
      touching += refused ? 1 : 0;
    }
  }
  CHECK(touching > 20);
}

}  // namespace
}  // namespace twoturn::test
