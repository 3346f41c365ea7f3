#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "twoturn/geometry/path.hpp"
#include "twoturn/geometry/segment.hpp"

namespace twoturn {

/// How far the belt's body reaches on each side of its pitch line, seen along its travel, mm.
struct BeltBody {
  double left_mm = 0.0;
  double right_mm = 0.0;
};

/// A part that the belt must clear: a cover or bracket, as a line or a closed outline.
struct Obstacle {
  std::vector<Vec2> points_mm;
  Outline kind = Outline::open;
};

/// Which way round a belt's path goes, followed along its travel: the way in which the wheels on
/// its inner side turn. Either: nothing tells its inner side from its outer one.
enum class Loop { either, anticlockwise, clockwise };

/// All that decides whether a path can be a belt's. `rims_mm` holds each wheel's largest solid
/// radius: its outside or its flange, whichever is more.
struct Surroundings {
  BeltBody body;
  Loop loop = Loop::either;
  std::vector<double> rims_mm;
  std::vector<Obstacle> obstacles;
};

enum class Refused {
  no_tangent,       ///< wheels `first` and `second` have none; value and limit are distances
  pulley_missed,    ///< the two spans of wheel `first` cross beside it; value is the wrap, deg
  spans_cross,      ///< spans `first` and `second` cross
  not_one_turn,     ///< the signed wraps sum to `value` turns the loop's way instead of one;
                    ///< -1: inside out, the inner wheels lie outside the loop
  pulleys_overlap,  ///< rims of wheels `first` and `second`; value is the gap, mm
  pulley_meets_obstacle,  ///< rim of wheel `first` and obstacle `second`; value is the gap, mm
  rubs_pulley,            ///< the belt rubs on wheel `second`, which it does not run on there
  rubs_obstacle,          ///< the belt touches obstacle `second`
  rubs_itself,            ///< span `first` touches the belt again at span or wheel `second`
};

/// One reason why a path cannot be a belt's. Gaps are negative where bodies overlap.
struct Refusal {
  Refused reason = Refused::no_tangent;
  int first = -1;
  int second = -1;
  double value = 0.0;
  double limit = 0.0;
};

enum class Neighbour { pulley, obstacle, own_run };

/// A wheel's rim and the nearest point of an obstacle.
struct RimGap {
  int wheel = -1;
  int obstacle = -1;
  double gap_mm = 0.0;  ///< 0 or less: touching
  Vec2 at_mm = Vec2::Zero();
};

/// The belt's nearest approach to one thing that it does not run on.
struct Approach {
  Neighbour kind = Neighbour::pulley;
  int other = -1;       ///< the pulley or obstacle; for the belt's own run, the other span or wheel
  int span = -1;        ///< the span that comes nearest, or -1 where it is an arc
  int wheel = -1;       ///< the wheel whose arc comes nearest, or -1
  double gap_mm = 0.0;  ///< between bodies; 0 or less: touching
  Vec2 at_mm = Vec2::Zero();
};

/// Whether a solved path can be a belt's, and how near it comes to everything else.
struct BeltRun {
  std::vector<Refusal> refused;      ///< empty: a belt can run so
  std::vector<Approach> approaches;  ///< the nearest to each pulley, each obstacle, and itself
  std::vector<RimGap> rims;          ///< every wheel to every obstacle
};

/// Judges a solved path: every reason against it and every nearest approach. Exact for spans, arcs
/// and straight-edged obstacles.
BeltRun judge_run(std::span<const Wheel> wheels, const TangentPath& path,
                  const Surroundings& around);

/// Only the reasons against it, the same ones; several times as fast where little touches.
std::vector<Refusal> reasons_against(std::span<const Wheel> wheels, const TangentPath& path,
                                     const Surroundings& around);

/// Both where wheel `moved` alone has moved since a whole look: only what moved with it is looked
/// at, its rim, its two spans and the arcs at their ends.
BeltRun judge_moved(std::span<const Wheel> wheels, const TangentPath& path,
                    const Surroundings& around, int moved);
std::vector<Refusal> reasons_against_moved(std::span<const Wheel> wheels, const TangentPath& path,
                                           const Surroundings& around, int moved);

/// True where nothing refuses the path.
bool can_run(std::span<const Wheel> wheels, const TangentPath& path, const Surroundings& around);

}  // namespace twoturn
