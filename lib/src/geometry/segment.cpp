#include "twoturn/geometry/segment.hpp"

#include <algorithm>

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

}  // namespace twoturn
