#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace twoturn {

using Vec3 = Eigen::Vector3d;

/// A slab between two parallel planes that holds points: `low_mm <= normal . p <= high_mm`, met at
/// both ends. The normal has unit length and points up (its last nonzero part is positive).
struct Slab {
  Vec3 normal = Vec3::UnitZ();
  double low_mm = 0.0;
  double high_mm = 0.0;

  double width_mm() const { return high_mm - low_mm; }
  /// Of a point above the slab's lower plane, square to it.
  double height_mm(const Vec3& point) const { return normal.dot(point) - low_mm; }
};

/// The slab of one direction that just holds the points. `normal` has unit length.
Slab slab_along(std::span<const Vec3> points, const Vec3& normal);

/// The thinnest slab that holds all points: the minimum zone, its width the flatness. Exact: a few
/// of the points alone need a slab as wide. `proof_gap_mm` is what rounding leaves between the two.
/// Any directions, not only nearly level ones. Points on one line, or fewer than four, have width
/// 0.
struct MinimumZone {
  Slab slab;
  std::vector<int> decisive;  ///< points that alone need this width
  double proof_gap_mm = 0.0;
  int passes = 0;  ///< times that all points were looked through
};
[[nodiscard]] MinimumZone minimum_zone(std::span<const Vec3> points);

/// An upper bound of the minimum zone, for searches that only ask whether it exceeds something:
/// starts from a normal and stops at the first slab no wider than `enough_mm`.
[[nodiscard]] MinimumZone minimum_zone_until(std::span<const Vec3> points, const Vec3& start,
                                             double enough_mm);

/// The slab square to the plane from which the orthogonal distances have the least sum of squares.
[[nodiscard]] Slab least_squares_slab(std::span<const Vec3> points);

/// Range of the height residuals left by the plane z = a + b x + c y of least squares: what most
/// tables print. Empty where the points stand over one line.
[[nodiscard]] std::optional<double> least_squares_vertical_mm(std::span<const Vec3> points);

}  // namespace twoturn
