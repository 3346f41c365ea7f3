#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "twoturn/base/angle.hpp"

namespace twoturn {

using Vec2 = Eigen::Vector2d;

/// A circle that the belt's pitch line runs round. `sense` is +1 where the belt goes round it
/// anticlockwise, -1 where it goes clockwise.
struct Wheel {
  Vec2 centre_mm = Vec2::Zero();
  double radius_mm = 0.0;
  int sense = 1;

  double signed_radius_mm() const { return sense * radius_mm; }
  bool operator==(const Wheel&) const = default;
};

/// A straight piece of the pitch line, from wheel i to wheel i + 1.
struct Span {
  Vec2 start_mm = Vec2::Zero();    ///< on wheel i
  Vec2 end_mm = Vec2::Zero();      ///< on wheel i + 1
  Vec2 direction = Vec2::UnitX();  ///< of travel, unit length
  double length_mm = 0.0;
};

/// The closed pitch line round n wheels, in order of travel: arc on wheel 0, span 0, arc on wheel
/// 1, and so on. `spans` and `wraps` hold n values each.
struct TangentPath {
  std::vector<Span> spans;
  std::vector<Angle> wraps;  ///< arc of contact on each wheel, [0, 2 pi)
  double length_mm = 0.0;
};

/// Why no path exists: wheels `from` and `to` of the list have no common tangent.
struct NoTangent {
  int from = -1;
  int to = -1;
  double distance_mm = 0.0;  ///< between centres
  double needed_mm = 0.0;    ///< the distance must be greater than this
};

/// The outcome of a path solve: the length, or the first pair without a tangent.
struct PathResult {
  double length_mm = 0.0;
  NoTangent none;
  [[nodiscard]] bool solved() const { return none.from < 0; }
};

/// Length of the closed tangent path round `wheels` (two or more, in order of travel), mm. Open
/// and crossed tangents alike; says nothing about whether a belt could run so (see belt_run.hpp).
/// Never allocates or throws. Relative accuracy 1e-13. Derivation: lib/DERIVATIONS.md, "Belt path".
[[nodiscard]] PathResult path_length(std::span<const Wheel> wheels);

/// The same path whole. `path` is overwritten and its storage reused: no allocation once it has
/// held as many wheels. Without a tangent its contents are unspecified.
[[nodiscard]] PathResult solve_path(std::span<const Wheel> wheels, TangentPath& path);

/// The same where `path` is that of these wheels before wheel `moved` alone was moved: the two runs
/// and three wraps beside it are solved anew, the rest stays. To the last bit what `solve_path`
/// gives.
[[nodiscard]] PathResult solve_path_moved(std::span<const Wheel> wheels, TangentPath& path,
                                          int moved);

/// dL/dcentre of every wheel, one Vec2 each: the exact gradient u_in - u_out. (dL/dradius of a
/// wheel is its wrap in radians.) `out` has as many places as the path has wheels.
void centre_gradient(const TangentPath& path, std::span<Vec2> out);
Vec2 centre_gradient(const TangentPath& path, int wheel);

/// Angle of the point where the belt meets (`entry_angle`) or leaves (`exit_angle`) a wheel, from
/// the wheel's centre, in (-pi, pi].
Angle entry_angle(const Wheel& wheel, const TangentPath& path, int index);
Angle exit_angle(const Wheel& wheel, const TangentPath& path, int index);

/// Sum of the signed wraps. A belt's path makes exactly one turn, 2 pi either way.
Angle signed_turn(std::span<const Wheel> wheels, const TangentPath& path);

/// What an independent look at a finished path finds: the greatest fault of each kind.
struct PathFaults {
  double off_circle_mm = 0.0;  ///< contact point's distance from its circle
  double off_square = 0.0;     ///< |cos| between a span and the radius at its contact point
  double open_end_mm = 0.0;    ///< gap between the end of an arc and the start of its span
  double length_mm = 0.0;      ///< stated length against spans and arcs measured anew
  double wrong_way = 0.0;      ///< 1 where a span leaves against its wheel's sense, else 0
};

/// Checks a finished path without using how it was made: contact points on circles, spans square to
/// radii, ends meet, direction of travel agrees with each wheel's sense.
PathFaults examine_path(std::span<const Wheel> wheels, const TangentPath& path);

}  // namespace twoturn
