// A belt with every pulley inside runs along the convex hull of their circles.
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_point.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "geometry/random_drives.hpp"

namespace twoturn::test {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<Point, false>;  // anticlockwise

constexpr int kCorners = 2048;

// Hull of the circles as N-gons: inscribed, or with `grow` = 1/cos(pi/N) circumscribed.
Polygon hull(const std::vector<Wheel>& wheels, double grow) {
  bg::model::multi_point<Point> corners;
  for (const Wheel& w : wheels) {
    for (int k = 0; k < kCorners; ++k) {
      const double t = kFullTurn * k / kCorners;
      const Vec2 at = w.centre_mm + grow * w.radius_mm * Vec2(std::cos(t), std::sin(t));
      corners.push_back(Point(at.x(), at.y()));
    }
  }
  Polygon result;
  bg::convex_hull(corners, result);
  return result;
}

// The wheels in the order in which the hull meets them; a large one may come more than once.
std::vector<Wheel> hull_order(const std::vector<Wheel>& wheels, const Polygon& inscribed) {
  std::vector<std::size_t> order;
  for (const Point& corner : inscribed.outer()) {
    const Vec2 at(corner.x(), corner.y());
    std::size_t on = 0;
    double least = 1e300;
    for (std::size_t i = 0; i < wheels.size(); ++i) {
      const double off = std::abs((at - wheels[i].centre_mm).norm() - wheels[i].radius_mm);
      if (off < least) {
        least = off;
        on = i;
      }
    }
    if (order.empty() || order.back() != on) order.push_back(on);
  }
  while (order.size() > 1 && order.front() == order.back()) order.pop_back();
  std::vector<Wheel> path;
  for (std::size_t i : order) path.push_back(wheels[i]);
  return path;
}

TEST_CASE("an all-inside belt lies between the hulls of inscribed and circumscribed polygons") {
  const std::uint64_t seed = 20260304;
  Random random(seed);
  // The brackets are 1/cos(pi/N) apart on arcs, less on spans; their own sums round far below that.
  const double grow = 1.0 / std::cos(kPi / kCorners);
  constexpr double kSumRounding = 1e-12;
  for (int set = 0; set < 60; ++set) {
    INFO("seed " << seed << ", set " << set);
    std::vector<Wheel> wheels;
    const int count = random.whole(2, 12);
    while (static_cast<int>(wheels.size()) < count) {
      const Wheel next{Vec2{random.between(-400, 400), random.between(-150, 150)},
                       random.between(5, 90)};
      bool apart = true;
      for (const Wheel& w : wheels) {
        apart &= (w.centre_mm - next.centre_mm).norm() > std::abs(w.radius_mm - next.radius_mm) + 1;
      }
      if (apart) wheels.push_back(next);
    }
    const Polygon inner = hull(wheels, 1.0);
    const std::vector<Wheel> order = hull_order(wheels, inner);
    if (order.size() < 2) continue;  // one circle hides all others
    const double low = static_cast<double>(bg::perimeter(inner));
    const double high = static_cast<double>(bg::perimeter(hull(wheels, grow)));
    const double length = belt_length_mm(order);
    INFO(order.size() << " on the hull, between " << low << " and " << high);
    REQUIRE(length >= low * (1.0 - kSumRounding));
    REQUIRE(length <= high * (1.0 + kSumRounding));
    REQUIRE(high <= low * grow * (1.0 + kSumRounding));
    CHECK_THAT(signed_turn(order, solved(order)).degrees(), WithinAbs(360.0, 1e-9));
  }
}

}  // namespace
}  // namespace twoturn::test
