// Alone in its file: Boost.Geometry takes longer to compile than the rest of this floor.
#include <boost/geometry/algorithms/append.hpp>
#include <boost/geometry/algorithms/correct.hpp>
#include <boost/geometry/algorithms/intersects.hpp>
#include <boost/geometry/algorithms/is_valid.hpp>
#include <boost/geometry/geometries/linestring.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "twoturn/geometry/segment.hpp"

namespace twoturn {
namespace {

// Whether an edge of the line goes straight back along the edge before it.
bool turns_back(std::span<const Vec2> points) {
  Vec2 last = Vec2::Zero();
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Vec2 edge = points[i] - points[i - 1];
    if (edge.isZero(0.0)) continue;
    if (cross(last, edge) == 0.0 && last.dot(edge) < 0.0) return true;
    last = edge;
  }
  return false;
}

}  // namespace

bool is_simple(std::span<const Vec2> points_mm, Outline kind) {
  namespace bg = boost::geometry;
  using Point = bg::model::d2::point_xy<double>;
  if (kind == Outline::open) {
    bg::model::linestring<Point> line;
    for (const Vec2& point : points_mm) line.emplace_back(point.x(), point.y());
    // Not bg::is_simple: in Boost 1.74 it takes lines of more than some twenty points for crossed.
    // bg::intersects lets an edge pass that turns straight back.
    return bg::is_valid(line) && !bg::intersects(line) && !turns_back(points_mm);
  }
  bg::model::polygon<Point> polygon;
  for (const Vec2& point : points_mm) bg::append(polygon.outer(), Point(point.x(), point.y()));
  bg::correct(polygon);
  return bg::is_valid(polygon);
}

}  // namespace twoturn
