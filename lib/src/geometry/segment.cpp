#include "twoturn/geometry/segment.hpp"

namespace twoturn {

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
