// What a path's length costs at least.
#pragma once

#include <cmath>
#include <vector>

#include "twoturn/geometry/path.hpp"

// The floor: one square root and one arc tangent a pulley, and nothing else that a length needs.
inline double floor_kernel(const std::vector<twoturn::Wheel>& w) {
  double length = 0.0, in_x = 0.0, in_y = 0.0;
  const std::size_t n = w.size();
  for (std::size_t i = n - 1, j = 0, k = 0; k <= n; i = j, j = j + 1 == n ? 0 : j + 1, ++k) {
    const double dx = w[j].centre_mm.x() - w[i].centre_mm.x();
    const double dy = w[j].centre_mm.y() - w[i].centre_mm.y();
    const double r = w[j].sense * w[j].radius_mm - w[i].sense * w[i].radius_mm;
    const double square = dx * dx + dy * dy, l = std::sqrt(square - r * r);
    const double x = (l * dx + r * dy) / square, y = (l * dy - r * dx) / square;
    const double turn = w[i].sense * std::atan2(in_x * y - in_y * x, in_x * x + in_y * y);
    if (k > 0) length += l + w[i].radius_mm * (turn < 0.0 ? turn + twoturn::kFullTurn : turn);
    in_x = x, in_y = y;
  }
  return length;
}
