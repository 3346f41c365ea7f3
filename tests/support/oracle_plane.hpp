// The minimum zone computed a second time, in another way and in 50 digits: every direction square
// to two edges between points is tried. Shares nothing with the library.
#pragma once

#include <array>
#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cstddef>
#include <vector>

namespace oracle {

using PlaneReal = boost::multiprecision::cpp_bin_float_50;
using Point3 = std::array<double, 3>;

namespace plane_detail {

using Direction = std::array<PlaneReal, 3>;

inline Direction edge(const Point3& from, const Point3& to) {
  return {PlaneReal(to[0]) - from[0], PlaneReal(to[1]) - from[1], PlaneReal(to[2]) - from[2]};
}

inline Direction square_to(const Direction& a, const Direction& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

// Width of all points along a direction; below 0 where it is none.
inline PlaneReal width_along(const std::vector<Point3>& points, const Direction& direction) {
  const PlaneReal squared =
      direction[0] * direction[0] + direction[1] * direction[1] + direction[2] * direction[2];
  if (squared < PlaneReal("1e-30")) return -1;
  PlaneReal low = 0;
  PlaneReal high = 0;
  for (const Point3& point : points) {
    const Direction off = edge(points[0], point);
    const PlaneReal along = off[0] * direction[0] + off[1] * direction[1] + off[2] * direction[2];
    if (along < low) low = along;
    if (along > high) high = along;
  }
  return (high - low) / sqrt(squared);
}

}  // namespace plane_detail

/// The thinnest slab's width: points not all on one line. Time grows with the fifth power.
inline PlaneReal minimum_zone(const std::vector<Point3>& points) {
  using namespace plane_detail;
  std::vector<Direction> edges;
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) edges.push_back(edge(points[i], points[j]));
  }
  PlaneReal best = -1;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    for (std::size_t j = i + 1; j < edges.size(); ++j) {
      const PlaneReal width = width_along(points, square_to(edges[i], edges[j]));
      if (width >= 0 && (best < 0 || width < best)) best = width;
    }
  }
  return best;
}

}  // namespace oracle
