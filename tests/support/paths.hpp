// Wheels and paths for tests. Every path made here has been through the independent checker.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/geometry/path.hpp"

namespace twoturn::test {

inline constexpr double kEpsilon = std::numeric_limits<double>::epsilon();

inline Wheel wheel(double x_mm, double y_mm, double radius_mm, int sense = 1) {
  return {Vec2(x_mm, y_mm), radius_mm, sense};
}

/// The greatest coordinate that any point of the drive can have: what its rounding scales with.
inline double size_mm(const std::vector<Wheel>& wheels) {
  double size = 0.0;
  for (const Wheel& w : wheels) {
    size = std::max(size, w.centre_mm.cwiseAbs().maxCoeff() + w.radius_mm);
  }
  return size;
}

/// The greatest D/l of all spans: how much a tangent's direction amplifies rounding.
inline double greatest_stretch(const std::vector<Wheel>& wheels, const TangentPath& path) {
  double stretch = 1.0;
  for (std::size_t i = 0; i < wheels.size(); ++i) {
    const Wheel& next = wheels[(i + 1) % wheels.size()];
    const double distance = (next.centre_mm - wheels[i].centre_mm).norm();
    stretch = std::max(stretch, distance / path.spans[i].length_mm);
  }
  return stretch;
}

/// The shortest of all spans and radii.
inline double shortest_mm(const std::vector<Wheel>& wheels, const TangentPath& path) {
  double least = std::numeric_limits<double>::infinity();
  for (const Span& span : path.spans) least = std::min(least, span.length_mm);
  for (const Wheel& w : wheels) least = std::min(least, w.radius_mm);
  return least;
}

/// The path round `wheels`, after the checks that every path must pass: examine_path finds nothing
/// above rounding, and path_length and solve_path agree.
inline TangentPath solved(const std::vector<Wheel>& wheels) {
  TangentPath path;
  const PathResult result = solve_path(wheels, path);
  INFO("no tangent from wheel " << result.none.from << " to wheel " << result.none.to);
  REQUIRE(result.solved());

  // A contact point comes from some ten rounded operations on numbers as large as the drive.
  constexpr double kRoundings = 32.0;
  const double coordinate = kRoundings * kEpsilon * size_mm(wheels);
  const double stretch = greatest_stretch(wheels, path);
  const double count = static_cast<double>(wheels.size());
  const PathFaults faults = examine_path(wheels, path);
  REQUIRE(faults.off_circle_mm <= coordinate);
  // A direction taken from two rounded points is off by their rounding over the distance between.
  REQUIRE(faults.off_square <= coordinate / shortest_mm(wheels, path));
  REQUIRE(faults.open_end_mm <= coordinate * stretch);
  REQUIRE(faults.length_mm <= count * coordinate * stretch);
  REQUIRE(faults.wrong_way == 0.0);

  // The same pieces are summed in another order, and nothing else differs.
  const double sum_rounding = 4.0 * count * kEpsilon * result.length_mm;
  const PathResult length_only = path_length(wheels);
  REQUIRE(length_only.solved());
  REQUIRE(std::abs(length_only.length_mm - result.length_mm) <= sum_rounding);
  REQUIRE(path.length_mm == result.length_mm);
  REQUIRE(path.spans.size() == wheels.size());
  REQUIRE(path.wraps.size() == wheels.size());
  return path;
}

inline double belt_length_mm(const std::vector<Wheel>& wheels) { return solved(wheels).length_mm; }

/// The same wheels moved, turned about the origin, scaled.
inline std::vector<Wheel> moved(std::vector<Wheel> wheels, const Vec2& by_mm) {
  for (Wheel& w : wheels) w.centre_mm += by_mm;
  return wheels;
}

inline Vec2 turned_point(const Vec2& point, double radians) {
  const double c = std::cos(radians);
  const double s = std::sin(radians);
  return {c * point.x() - s * point.y(), s * point.x() + c * point.y()};
}

inline std::vector<Wheel> turned(std::vector<Wheel> wheels, double radians) {
  for (Wheel& w : wheels) w.centre_mm = turned_point(w.centre_mm, radians);
  return wheels;
}

inline std::vector<Wheel> scaled(std::vector<Wheel> wheels, double factor) {
  for (Wheel& w : wheels) {
    w.centre_mm *= factor;
    w.radius_mm *= factor;
  }
  return wheels;
}

/// Seen from behind: x changes sign, and with it every sense.
inline std::vector<Wheel> mirrored(std::vector<Wheel> wheels) {
  for (Wheel& w : wheels) {
    w.centre_mm.x() = -w.centre_mm.x();
    w.sense = -w.sense;
  }
  return wheels;
}

/// The belt running the other way: the list reversed, every sense flipped.
inline std::vector<Wheel> reversed(std::vector<Wheel> wheels) {
  std::reverse(wheels.begin(), wheels.end());
  for (Wheel& w : wheels) w.sense = -w.sense;
  return wheels;
}

inline std::vector<Wheel> started_at(std::vector<Wheel> wheels, std::size_t first) {
  std::rotate(wheels.begin(), wheels.begin() + static_cast<std::ptrdiff_t>(first), wheels.end());
  return wheels;
}

}  // namespace twoturn::test
