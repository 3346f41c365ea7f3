#pragma once

#include <span>
#include <vector>

#include "twoturn/face/zone.hpp"
#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// A line of one height on a face, in its own x and y.
struct ContourLine {
  double height_mm = 0.0;  ///< above the slab's lower plane
  bool closed = false;
  std::vector<Vec2> points_mm;
};

/// Part of a face, as closed outlines; inside by the even-odd rule.
using FaceRegion = std::vector<std::vector<Vec2>>;

/// Contours between the measured points: straight between neighbours (Delaunay), heights above the
/// lower plane of a slab. What lies between points is a guess; beyond them there is nothing.
struct FaceContours {
  double step_mm = 0.0;  ///< between heights; 0: too flat to draw
  std::vector<ContourLine> lines;
  double low_below_mm = 0.0;   ///< the low region lies below this height
  double high_above_mm = 0.0;  ///< the high one above this
  FaceRegion low;
  FaceRegion high;
  FaceRegion outline;  ///< of all that is measured
  int points_used = 0;
};

/// More points than this are thinned, evenly over the face.
inline constexpr int kMostContourPoints = 3000;

}  // namespace twoturn
