#include "twoturn/geometry/segment.hpp"

#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/linestring.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

namespace twoturn {

Vec2 nearest_on(const Segment& segment, const Vec2& point) {
  const Vec2 along = segment.along();
  const double square = along.squaredNorm();
  if (square == 0.0) return segment.start_mm;
  const double share = (point - segment.start_mm).dot(along) / square;
  return segment.start_mm + std::clamp(share, 0.0, 1.0) * along;
}

bool cross_inside(const Segment& first, const Segment& second) {
  const Vec2 a = first.along();
  const Vec2 b = second.along();
  const double side_start = cross(a, second.start_mm - first.start_mm);
  const double side_end = cross(a, second.end_mm - first.start_mm);
  const double other_start = cross(b, first.start_mm - second.start_mm);
  const double other_end = cross(b, first.end_mm - second.start_mm);
  return side_start * side_end < 0.0 && other_start * other_end < 0.0;
}

Nearest nearest(const Segment& first, const Segment& second) {
  if (cross_inside(first, second)) {
    const Vec2 a = first.along();
    const Vec2 b = second.along();
    const double share = cross(second.start_mm - first.start_mm, b) / cross(a, b);
    const Vec2 meeting = first.start_mm + share * a;
    return {meeting, meeting, 0.0};
  }
  Nearest best{first.start_mm, second.start_mm, (first.start_mm - second.start_mm).norm()};
  const auto consider = [&best](const Vec2& on_first, const Vec2& on_second) {
    const double distance = (on_first - on_second).norm();
    if (distance < best.distance_mm) best = {on_first, on_second, distance};
  };
  consider(first.start_mm, nearest_on(second, first.start_mm));
  consider(first.end_mm, nearest_on(second, first.end_mm));
  consider(nearest_on(first, second.start_mm), second.start_mm);
  consider(nearest_on(first, second.end_mm), second.end_mm);
  return best;
}

bool in_arc(Angle towards, Angle start, Angle wrap, int sense) {
  return (sense * (towards - start)).wrapped_turn() <= wrap;
}

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
