// Where each tooth of the belt lies along its path.
#pragma once

#include <vector>

#include "twoturn/study/view.hpp"
#include "twoturn/timing/run.hpp"

namespace twoturn {

/// A place on the closed pitch line.
struct BeltPoint {
  Vec2 at_mm = Vec2::Zero();
  Vec2 along = Vec2::UnitX();  ///< of travel, unit length
};

/// `mm` along travel from where the belt meets the crank; goes round as often as need be.
BeltPoint point_along(const PlacedPath& placed, double mm);

/// Where belt tooth 0 lies, in belt teeth from the crank's entry along travel.
double first_belt_tooth(const Assembly& assembly, const RunState& state);

/// Every tooth of the belt. With fixed centres what the belt is longer or shorter than its path
/// lies on the run that leaves the crank.
std::vector<SeenTooth> belt_teeth_along(const Assembly& assembly, const RunState& state);

/// The side of the belt its teeth are on, seen along its travel.
enum class BeltSide { left, right };

/// Teeth at true pitch from the crank's entry on, as many as there is room for: they show the face.
std::vector<SeenTooth> drawn_teeth(const PlacedPath& placed, double pitch_mm, BeltSide side);

}  // namespace twoturn
