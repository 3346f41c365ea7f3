#include "twoturn/face/zone.hpp"

#include <algorithm>

#include "support/catch.hpp"
#include "support/faces.hpp"
#include "support/oracle_plane.hpp"

using namespace twoturn;

namespace {

double zone(const faces::Points& points) { return minimum_zone(points).slab.width_mm(); }

// The tables print 13 decimals: half of the last one.
constexpr double kPrinted13 = 0.5e-13;
// Sums of a few products of numbers below 1000 mm, which the normals scale down to heights.
constexpr double kRoundingMm = 1e-15;

std::vector<oracle::Point3> plain(const faces::Points& points) {
  std::vector<oracle::Point3> result;
  for (const Vec3& point : points) result.push_back({point.x(), point.y(), point.z()});
  return result;
}

}  // namespace

TEST_CASE("one corner of nine is up: the exact zone, orthogonal and vertical least squares") {
  const faces::Points points = faces::one_corner_up();
  // Exact: less 0.000125 (x + y), the raised corner and the one opposite stand at 0, its two
  // neighbours at -0.0375, all others between; over sqrt(1 + 2 x 0.000125^2).
  CHECK_THAT(zone(points), WithinAbs(0.0374999994141, kPrinted13));
  CHECK_THAT(least_squares_slab(points).width_mm(), WithinAbs(0.0416666661844, kPrinted13));
  CHECK_THAT(least_squares_vertical_mm(points).value(), WithinAbs(0.0416666666667, kPrinted13));
}

TEST_CASE("exact faces: a raised centre, a twist, a plane, a bow with three rows") {
  CHECK_THAT(zone(faces::centre_up()), WithinAbs(0.05, kRoundingMm));
  CHECK_THAT(zone(faces::twisted()), WithinAbs(0.1, kRoundingMm));
  CHECK_THAT(least_squares_slab(faces::twisted()).width_mm(), WithinAbs(0.1, kRoundingMm));
  CHECK_THAT(least_squares_vertical_mm(faces::twisted()).value(), WithinAbs(0.1, kRoundingMm));
  CHECK_THAT(zone(faces::plane()), WithinAbs(0.0, kRoundingMm));
  CHECK_THAT(least_squares_slab(faces::plane()).width_mm(), WithinAbs(0.0, kRoundingMm));
  CHECK_THAT(zone(faces::five_by_three()), WithinAbs(0.05, kRoundingMm));
  CHECK_THAT(least_squares_vertical_mm(faces::five_by_three()).value(),
             WithinAbs(0.05, kRoundingMm));
}

TEST_CASE("five points published in an engineering forum") {
  constexpr double kPrinted10 = 0.5e-10;
  CHECK_THAT(zone(faces::forum()), WithinAbs(0.0672620575, kPrinted10));
  CHECK_THAT(least_squares_slab(faces::forum()).width_mm(), WithinAbs(0.0720973004, kPrinted10));
  CHECK_THAT(least_squares_vertical_mm(faces::forum()).value(),
             WithinAbs(0.0720973132, kPrinted10));
}

TEST_CASE("small faces and lumps agree with an exhaustive search in 50 digits") {
  faces::Random random(20240);
  for (int round = 0; round < 60; ++round) {
    const int count = 4 + round % 6;
    const double high = round % 3 == 0 ? 0.05 : round % 3 == 1 ? 5.0 : 100.0;
    const bool on_grid = round % 2 == 1;
    faces::Points points;
    for (int i = 0; i < count; ++i) {
      Vec3 point(faces::uniform(random, 0, 400), faces::uniform(random, 0, 160),
                 faces::uniform(random, 0, high));
      // Points in line and level make ties.
      if (on_grid)
        point = Vec3(100, 40, high / 4)
                    .cwiseProduct(
                        point.cwiseQuotient(Vec3(100, 40, high / 4)).array().round().matrix());
      points.push_back(point);
    }
    const double exact = oracle::minimum_zone(plain(points)).convert_to<double>();
    if (exact < 0.0) continue;
    CAPTURE(round, count, high);
    CHECK_THAT(zone(points), WithinAbs(exact, 1e-13));  // sums of numbers up to 400
  }
}

TEST_CASE("a rigid motion changes nothing") {
  faces::Random random(4);
  for (int round = 0; round < 100; ++round) {
    const faces::Points points = faces::random_face(random, 4 + 3 * round);
    const faces::Points moved = faces::moved(points, random);
    // Coordinates up to 1000 mm carry 1e-13 mm each.
    constexpr double kMovedMm = 2e-12;
    CHECK_THAT(zone(moved), WithinAbs(zone(points), kMovedMm));
    CHECK_THAT(least_squares_slab(moved).width_mm(),
               WithinAbs(least_squares_slab(points).width_mm(), kMovedMm));
  }
}

TEST_CASE("the minimum zone never exceeds least squares, and holds every point") {
  faces::Random random(5);
  for (int round = 0; round < 200; ++round) {
    const faces::Points points = faces::random_face(random, 4 + round);
    const MinimumZone found = minimum_zone(points);
    CHECK(found.slab.width_mm() <= least_squares_slab(points).width_mm() + kRoundingMm);
    CHECK(found.proof_gap_mm <= 1e-14);
    for (const Vec3& point : points) {
      const double height = found.slab.height_mm(point);
      CHECK(height >= -1e-14);
      CHECK(height <= found.slab.width_mm() + 1e-14);
    }
  }
}

TEST_CASE("the decisive points alone need the same slab") {
  faces::Random random(6);
  for (int round = 0; round < 50; ++round) {
    const faces::Points points = faces::random_face(random, 300);
    const MinimumZone found = minimum_zone(points);
    faces::Points few;
    for (const int index : found.decisive) few.push_back(points[static_cast<std::size_t>(index)]);
    REQUIRE(few.size() >= 4);
    CHECK_THAT(zone(few), WithinAbs(found.slab.width_mm(), 1e-14));
  }
}

TEST_CASE("the order of the points changes nothing, mirroring neither") {
  faces::Random random(7);
  for (int round = 0; round < 50; ++round) {
    faces::Points points = faces::random_face(random, 50);
    const double width = zone(points);
    std::shuffle(points.begin(), points.end(), random);
    CHECK_THAT(zone(points), WithinAbs(width, 1e-14));
    for (Vec3& point : points) point = Vec3(-point.x(), point.y(), -point.z());
    CHECK_THAT(zone(points), WithinAbs(width, 1e-14));
  }
}

TEST_CASE("three points are flat, and so are points on a line") {
  const faces::Points three{{0, 0, 0}, {100, 0, 0.3}, {0, 100, 0.7}};
  CHECK(zone(three) == 0.0);
  faces::Points line;
  for (int i = 0; i < 6; ++i) line.emplace_back(10.0 * i, 20.0 * i, 0.5 * i);
  CHECK_THAT(zone(line), WithinAbs(0.0, 1e-13));
}

TEST_CASE("a search that asks for less stops at an upper bound") {
  faces::Random random(8);
  const faces::Points points = faces::random_face(random, 500);
  const double width = zone(points);
  const MinimumZone bound = minimum_zone_until(points, Vec3::UnitZ(), 1000.0);
  CHECK(bound.slab.width_mm() <= 1000.0);
  CHECK(bound.slab.width_mm() >= width);
  CHECK(bound.passes == 1);
}
