#pragma once

#include <vector>

#include "twoturn/geometry/belt_run.hpp"

namespace twoturn {

/// Wheels of which one alone is put here and there. What stays is solved and looked at once: from
/// then on only the two runs and three wraps beside that wheel are, to the same results.
class MovedWheel {
 public:
  /// `around` outlives it.
  MovedWheel(std::vector<Wheel> wheels, int moved, const Surroundings& around);

  /// Puts the wheel there and solves the path.
  [[nodiscard]] PathResult put(const Vec2& centre_mm);

  /// Of the place where it was put last, which had a path. A first look is at everything, further
  /// ones at what has moved.
  const TangentPath& path() const { return path_; }
  BeltRun run();
  std::vector<Refusal> reasons_against();

  /// How far the wheel can go from there, whichever way, before anything could stop a belt from
  /// running: half of what is least clear, for nothing draws nearer at more than twice its speed,
  /// and no more than lets a wrap beside it come to nothing or to a whole turn. 0: it cannot run.
  /// Derivation: lib/DERIVATIONS.md, "Free way".
  double free_way_mm();

 private:
  double least_clear_mm(const BeltRun& run) const;
  double way_of_wraps_mm() const;

  std::vector<Wheel> wheels_;
  int moved_;
  const Surroundings& around_;
  TangentPath path_;
  bool solved_ = false;    // once: what lies away from the wheel stays as it is
  bool seen_ = false;      // a whole look at every approach
  bool clear_ = false;     // a whole look without a reason against it
  double still_mm_ = 0.0;  // the least gap of the whole look
};

}  // namespace twoturn
