// How far one wheel may go before anything can stop a belt: no step within it, whichever way, does.
#include "geometry/random_drives.hpp"
#include "twoturn/geometry/moved_wheel.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("within its free way a wheel may go anywhere and a belt still runs") {
  const std::uint64_t seed = 20260360;
  Random random(seed);
  int steps = 0;
  double farthest_mm = 0.0;
  for (int k = 0; k < 300; ++k) {
    INFO("seed " << seed << ", drive " << k);
    const std::vector<Wheel> wheels = random_belt_drive(random, 3 + k % 5);
    Surroundings around;
    around.loop = Loop::either;
    around.body = {2.0, 1.5};
    for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm + 1.0);
    const TangentPath path = solved(wheels);
    const Vec2 place = wheels[static_cast<std::size_t>(k) % wheels.size()].centre_mm;
    Obstacle part;
    part.kind = Outline::open;
    for (int p = 0; p < 3; ++p) part.points_mm.push_back(place + random.arrow(60.0, 200.0));
    around.obstacles = {part};
    if (!can_run(wheels, path, around)) continue;
    for (int moved = 0; moved < static_cast<int>(wheels.size()); ++moved) {
      const Vec2 home = wheels[static_cast<std::size_t>(moved)].centre_mm;
      MovedWheel wheel(wheels, moved, around);
      REQUIRE(wheel.put(home + Vec2(0.01, 0.0)).solved());  // looks whole, then at what moves
      CHECK(wheel.free_way_mm() > 0.0);
      REQUIRE(wheel.put(home).solved());
      const double way = wheel.free_way_mm();
      CHECK(way > 0.0);
      farthest_mm = std::max(farthest_mm, way);
      for (int i = 0; i < 24; ++i) {
        const double angle = kFullTurn * i / 24;
        const double share = i % 3 == 0 ? 0.999 : random.between(0.0, 1.0);
        std::vector<Wheel> there = wheels;
        there[static_cast<std::size_t>(moved)].centre_mm +=
            share * way * Vec2(std::cos(angle), std::sin(angle));
        TangentPath now;
        REQUIRE(solve_path(there, now).solved());
        CHECK(can_run(there, now, around));
        ++steps;
      }
    }
  }
  CHECK(steps > 5000);
  CHECK(farthest_mm > 3.0);
}

TEST_CASE("a roller on the back goes no nearer than half of what its tangent has left") {
  // Radii of 30 and 20, so the run between them needs 50 mm from centre to centre: with 50.5 mm and
  // rims of 1 mm, which are far from each other, a quarter of a mm.
  for (const double deg : {-70.0, -50.0, -30.0}) {
    INFO(deg);
    const double angle = deg * kRadPerDeg;
    const Vec2 home = 50.5 * Vec2(std::cos(angle), std::sin(angle));
    std::vector<Wheel> wheels{wheel(0, 0, 30), {home, 20, -1}, wheel(220, 0, 30)};
    Surroundings around;
    around.loop = Loop::either;
    around.body = {0.01, 0.01};
    around.rims_mm = {1.0, 1.0, 1.0};
    MovedWheel moved(wheels, 1, around);
    REQUIRE(moved.put(home).solved());
    REQUIRE(moved.reasons_against().empty());
    const double way = moved.free_way_mm();
    CHECK(way > 0.0);
    CHECK(way <= 0.25 + 1e-12);
    wheels[1].centre_mm -= 0.999 * way * home.normalized();
    TangentPath now;
    REQUIRE(solve_path(wheels, now).solved());
    CHECK(can_run(wheels, now, around));
  }
}

TEST_CASE("where no belt runs there is no free way") {
  const std::vector<Wheel> wheels{wheel(0, 0, 30), wheel(0, 50, 30), wheel(100, 25, 20)};
  Surroundings around;
  around.loop = Loop::either;
  for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm);
  MovedWheel moved(wheels, 1, around);
  REQUIRE(moved.put(wheels[1].centre_mm).solved());
  REQUIRE_FALSE(moved.reasons_against().empty());  // two of them overlap by 10 mm
  CHECK(moved.free_way_mm() == 0.0);
}

}  // namespace
}  // namespace twoturn::test
