#pragma once

#include <algorithm>
#include <span>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

struct Segment {
  Vec2 start_mm = Vec2::Zero();
  Vec2 end_mm = Vec2::Zero();

  Vec2 along() const { return end_mm - start_mm; }
};

inline double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

/// The nearest pair of points of two things, and how far apart they are; 0 where they meet.
struct Nearest {
  Vec2 on_first = Vec2::Zero();
  Vec2 on_second = Vec2::Zero();
  double distance_mm = 0.0;
};

/// Nearest point of a segment to a point. A segment of no length is its point.
inline Vec2 nearest_on(const Segment& segment, const Vec2& point) {
  const Vec2 along = segment.along();
  const double square = along.squaredNorm();
  if (square == 0.0) return segment.start_mm;
  const double share = (point - segment.start_mm).dot(along) / square;
  return segment.start_mm + std::clamp(share, 0.0, 1.0) * along;
}

/// Nearest points of two segments; the crossing point where they cross.
Nearest nearest(const Segment& first, const Segment& second);

/// True where two segments cross at a point inside both, not merely touch with an end.
inline bool cross_inside(const Segment& first, const Segment& second) {
  const Vec2 a = first.along();
  const Vec2 b = second.along();
  const double side_start = cross(a, second.start_mm - first.start_mm);
  const double side_end = cross(a, second.end_mm - first.start_mm);
  const double other_start = cross(b, first.start_mm - second.start_mm);
  const double other_end = cross(b, first.end_mm - second.start_mm);
  return side_start * side_end < 0.0 && other_start * other_end < 0.0;
}

/// Whether direction `towards` lies in the arc that starts at `start` and runs `wrap` with `sense`.
bool in_arc(Angle towards, Angle start, Angle wrap, int sense);

/// True for an outline whose edges nowhere cross or retrace each other (judged by Boost.Geometry).
/// `closed` joins the last point to the first.
enum class Outline { open, closed };
bool is_simple(std::span<const Vec2> points_mm, Outline kind);

}  // namespace twoturn
