#pragma once

#include <algorithm>
#include <cmath>
#include <span>

#include "twoturn/face/face.hpp"

namespace twoturn {

// Seen from above: heights do not make up for it.
inline bool on_a_line(std::span<const Vec3> points) {
  Vec2 far = Vec2::Zero();
  for (const Vec3& point : points) {
    const Vec2 off = (point - points[0]).head<2>();
    if (off.squaredNorm() > far.squaredNorm()) far = off;
  }
  const double length = far.norm();
  if (length <= kSameSpotMm) return true;
  return std::all_of(points.begin(), points.end(), [&](const Vec3& point) {
    const Vec2 off = (point - points[0]).head<2>();
    return std::abs(far.x() * off.y() - far.y() * off.x()) <= kSameSpotMm * length;
  });
}

}  // namespace twoturn
