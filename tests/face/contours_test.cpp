// Contours of a face, against what is known of planes, domes and hulls. The hull is
// Boost.Geometry's.
#include "twoturn/face/contours.hpp"

#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_point.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/base/angle.hpp"

using namespace twoturn;

namespace {

namespace bg = boost::geometry;
using BoostPoint = bg::model::d2::point_xy<double>;

// By the shoelace, both ways round.
double area_of(const std::vector<Vec2>& ring) {
  double twice = 0.0;
  for (std::size_t k = 0; k < ring.size(); ++k) {
    const Vec2& next = ring[(k + 1) % ring.size()];
    twice += ring[k].x() * next.y() - ring[k].y() * next.x();
  }
  return std::abs(twice) / 2.0;
}

double hull_area(const std::vector<Vec3>& points) {
  bg::model::multi_point<BoostPoint> all;
  for (const Vec3& point : points) bg::append(all, BoostPoint(point.x(), point.y()));
  bg::model::polygon<BoostPoint> hull;
  bg::convex_hull(all, hull);
  return bg::area(hull);
}

Slab level(double high_mm) { return {Vec3::UnitZ(), 0.0, high_mm}; }

// A grid of so many by so many over 300 by 200 mm, beginning at (-40, 15), its heights by a rule of
// shares of the way across and up.
template <class Height>
std::vector<Vec3> grid(int columns, int rows, Height height) {
  std::vector<Vec3> points;
  for (int i = 0; i < columns; ++i) {
    for (int j = 0; j < rows; ++j) {
      const double u = static_cast<double>(i) / (columns - 1);
      const double v = static_cast<double>(j) / (rows - 1);
      points.emplace_back(-40.0 + 300.0 * u, 15.0 + 200.0 * v, height(u, v));
    }
  }
  return points;
}

}  // namespace

TEST_CASE("The outline of the measured points is their hull, wherever the face begins") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (const Vec2& corner : {Vec2(0, 0), Vec2(-730, 410), Vec2(55, -900)}) {
    std::vector<Vec3> points;
    for (int k = 0; k < 200; ++k) {
      const double x = corner.x() + 300.0 * share(random);
      const double y = corner.y() + 150.0 * share(random);
      points.emplace_back(x, y, 0.05 * share(random));
    }
    const FaceContours contours = face_contours(points, level(0.05));
    REQUIRE(contours.outline.size() == 1);
    CHECK_THAT(area_of(contours.outline.front()), WithinRel(hull_area(points), 1e-12));
    CHECK(contours.points_used == 200);
  }
}

TEST_CASE("A plane's contours are straight lines across it, each one open chain at its height") {
  const std::vector<Vec3> points = grid(7, 5, [](double u, double) { return 0.09 * u; });
  const FaceContours contours = face_contours(points, level(0.09));
  CHECK_THAT(contours.step_mm, WithinAbs(0.02, 1e-15));
  REQUIRE(contours.lines.size() == 4);
  for (std::size_t k = 0; k < contours.lines.size(); ++k) {
    const ContourLine& line = contours.lines[k];
    CHECK_THAT(line.height_mm, WithinAbs(0.02 * (static_cast<double>(k) + 1.0), 1e-15));
    CHECK_FALSE(line.closed);
    double low = 1e9;
    double high = -1e9;
    for (const Vec2& point : line.points_mm) {
      CHECK_THAT(point.x(), WithinAbs(-40.0 + 300.0 * line.height_mm / 0.09, 1e-9));
      low = std::min(low, point.y());
      high = std::max(high, point.y());
    }
    CHECK_THAT(low, WithinAbs(15.0, 1e-9));
    CHECK_THAT(high, WithinAbs(215.0, 1e-9));
  }
  // The quarters, to the next line outwards: below 0.02 mm and above 0.08 mm.
  CHECK_THAT(contours.low_below_mm, WithinAbs(0.02, 1e-15));
  CHECK_THAT(contours.high_above_mm, WithinAbs(0.08, 1e-15));
  REQUIRE(contours.low.size() == 1);
  REQUIRE(contours.high.size() == 1);
  CHECK_THAT(area_of(contours.low.front()), WithinRel(300.0 * 200.0 * 2.0 / 9.0, 1e-9));
  CHECK_THAT(area_of(contours.high.front()), WithinRel(300.0 * 200.0 * 1.0 / 9.0, 1e-9));
}

TEST_CASE("A dome's contours come round, one inside the other, and so do a hollow's") {
  for (const double sign : {1.0, -1.0}) {
    const auto dome = [sign](double u, double v) {
      const double off = std::hypot(u - 0.5, v - 0.5);
      const double height = std::max(0.0, 0.045 * (1.0 - 4.0 * off * off));
      return sign > 0.0 ? height : 0.045 - height;
    };
    const std::vector<Vec3> points = grid(41, 41, dome);
    const FaceContours contours = face_contours(points, level(0.045));
    std::set<double> heights;
    std::vector<std::pair<double, double>> areas;
    for (const ContourLine& line : contours.lines) {
      CHECK(line.closed);
      CHECK(heights.insert(line.height_mm).second);  // one chain each
      // Where a paraboloid has this height: an ellipse.
      const double share = sign > 0.0 ? line.height_mm / 0.045 : 1.0 - line.height_mm / 0.045;
      const double ellipse = kPi * 150.0 * 100.0 * (1.0 - share);
      CHECK_THAT(area_of(line.points_mm), WithinAbs(ellipse, 0.02 * kPi * 150.0 * 100.0));
      areas.emplace_back(line.height_mm, area_of(line.points_mm));
    }
    CHECK(areas.size() >= 4);
    std::sort(areas.begin(), areas.end());
    for (std::size_t k = 1; k < areas.size(); ++k) {
      CHECK((areas[k].second < areas[k - 1].second) == (sign > 0.0));
    }
  }
}

TEST_CASE("Two hills and a saddle between them have chains of their own, and rings with a hole") {
  const auto hills = [](double u, double v) {
    const auto hill = [&](double at) {
      return std::exp(-40.0 * ((u - at) * (u - at) + (v - 0.5) * (v - 0.5)));
    };
    return 0.08 * (hill(0.25) + hill(0.75));
  };
  const std::vector<Vec3> points = grid(61, 41, hills);
  const FaceContours contours = face_contours(points, level(0.08));
  const auto at_height = [&](double height) {
    return std::count_if(
        contours.lines.begin(), contours.lines.end(),
        [&](const ContourLine& line) { return std::abs(line.height_mm - height) < 1e-9; });
  };
  CHECK(at_height(0.05) == 2);
  CHECK(contours.high.size() == 2);
  CHECK(contours.low.size() == 3);  // all round, and a hole for each hill
}

TEST_CASE("Of more than 3,000 points those are kept that say as much, evenly over the face") {
  const std::vector<Vec3> points =
      grid(120, 80, [](double u, double v) { return 0.05 * u + 0.02 * v; });
  REQUIRE(points.size() > 3U * kMostContourPoints);
  const FaceContours contours = face_contours(points, level(0.07));
  CHECK(contours.points_used <= kMostContourPoints);
  CHECK(contours.points_used > kMostContourPoints / 2);
  REQUIRE(contours.outline.size() == 1);
  CHECK(area_of(contours.outline.front()) > 0.95 * 300.0 * 200.0);
  CHECK(area_of(contours.outline.front()) <= 300.0 * 200.0 + 1e-6);
  for (const ContourLine& line : contours.lines) {
    for (const Vec2& point : line.points_mm) {
      const double height = 0.05 * (point.x() + 40.0) / 300.0 + 0.02 * (point.y() - 15.0) / 200.0;
      CHECK_THAT(height, WithinAbs(line.height_mm, 1e-9));
    }
  }
  // As many points as are allowed are all used.
  const std::vector<Vec3> few = grid(60, 50, [](double u, double) { return 0.05 * u; });
  CHECK(face_contours(few, level(0.05)).points_used == 3000);
}

TEST_CASE("Lines are a step of 1, 2 or 5 apart, about five to ten of them; none where it is flat") {
  for (const double width : {0.003, 0.008, 0.011, 0.04, 0.047, 0.1, 0.13, 0.5, 2.3}) {
    const std::vector<Vec3> points = grid(5, 4, [&](double u, double) { return width * u; });
    const FaceContours contours = face_contours(points, level(width));
    const double tens = std::pow(10.0, std::floor(std::log10(contours.step_mm) + 1e-9));
    const double lead = contours.step_mm / tens;
    CHECK((std::abs(lead - 1.0) < 1e-6 || std::abs(lead - 2.0) < 1e-6 ||
           std::abs(lead - 5.0) < 1e-6));
    CHECK(contours.lines.size() >= 3);
    CHECK(contours.lines.size() <= 8);
  }
  const std::vector<Vec3> flat = grid(5, 4, [](double, double) { return 0.0; });
  const FaceContours none = face_contours(flat, level(0.0));
  CHECK(none.lines.empty());
  CHECK(none.step_mm == 0.0);
  CHECK(none.outline.size() == 1);
}
