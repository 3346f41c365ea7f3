#pragma once

#include <Eigen/Core>
#include <span>

#include "twoturn/face/zone.hpp"
#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// The worst place of a face for a square window: the square with sides along x and y whose points
/// have the widest minimum zone.
struct LocalFlatness {
  double width_mm = 0.0;
  Vec2 corner_mm = Vec2::Zero();  ///< of the square, lowest x and y
  double side_mm = 0.0;
  int points = 0;        ///< in that square; 0: none holds four, so there is no answer
  bool exact = true;     ///< every square looked at; else only those `step_mm` apart
  double step_mm = 0.0;  ///< 0 where exact
};

inline constexpr int kMostPointsForEverySquare = 2000;
inline constexpr double kLocalSideMm = 100.0;
inline constexpr int kStepsASide = 10;

/// Squares smaller than this are too many to look at: a two-hundredth of the face.
[[nodiscard]] double least_local_side_mm(std::span<const Vec3> points);

/// Every square of the side, edges included, as far as squares differ in their points: up to
/// `kMostPointsForEverySquare` points. Above, squares a tenth of their side apart. A square with
/// fewer than four points says nothing.
[[nodiscard]] LocalFlatness local_flatness(std::span<const Vec3> points, double side_mm,
                                           const Vec3& start_normal);

}  // namespace twoturn
