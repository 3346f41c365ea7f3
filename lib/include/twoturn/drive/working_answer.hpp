#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/route_answer.hpp"

namespace twoturn {

/// How one pulley's pitch radius came about.
struct WorkingRadius {
  std::string name;
  int teeth = 0;                  ///< 0: plain
  double pitch_mm = 0.0;          ///< toothed
  double diameter_mm = 0.0;       ///< plain: as measured
  double to_pitch_line_mm = 0.0;  ///< plain: from its face to the pitch line
  double pitch_radius_mm = 0.0;
  int sense = 1;  ///< +1 where the belt goes round it anticlockwise
  Vec2 centre_mm = Vec2::Zero();
};

/// The sums of one run of belt, from pulley i to the next, j.
struct WorkingRun {
  WorkingRadius from;
  WorkingRadius to;
  Vec2 across_mm = Vec2::Zero();   ///< d = c_j - c_i
  double distance_mm = 0.0;        ///< D = |d|
  double k_mm = 0.0;               ///< s_j r_j - s_i r_i
  double length_mm = 0.0;          ///< l = sqrt((D - |k|)(D + |k|))
  Vec2 direction = Vec2::UnitX();  ///< u = (l d + k (d_y, -d_x)) / D^2
  Vec2 leaves_mm = Vec2::Zero();
  Vec2 meets_mm = Vec2::Zero();
};

/// The sums of one arc: radius times wrap.
struct WorkingArc {
  std::string name;
  double pitch_radius_mm = 0.0;
  double wrap_deg = 0.0;
  double length_mm = 0.0;
};

/// A route as on a board: every run, every arc, and the sum. Each sum is worked anew from the
/// values shown, so that a reader with a pocket calculator gets the same.
struct WorkingAnswer {
  std::vector<WorkingRun> runs;  ///< one, or all, in order of travel
  std::vector<WorkingArc> arcs;  ///< of the whole route
  double runs_mm = 0.0;          ///< sum of all runs
  double arcs_mm = 0.0;
  double length_mm = 0.0;
  double pitch_mm = 0.0;
  double teeth_exact = 0.0;
};

}  // namespace twoturn
