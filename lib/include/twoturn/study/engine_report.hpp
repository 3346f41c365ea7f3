#pragma once

#include <optional>

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/parking.hpp"
#include "twoturn/study/pistons_answer.hpp"

namespace twoturn {

/// All that is asked of the valves: room at each, pistons, compression.
struct ValvesReport {
  EngineAnswers engine;            ///< with valves
  std::optional<PistonsAt> asked;  ///< pistons at a crank angle that was asked for
};

/// Where to park the crank: from a profile with valves, or from counts alone.
struct ParkReport {
  std::optional<PistonsAnswer> pistons;
  std::optional<ParkAnswer> park;
  std::optional<CountedParkAnswer> counted;
  std::optional<PistonsAt> asked;

  /// There is a place to park the crank.
  bool any() const { return park ? park->best_is_clear : counted && counted->enough; }
};

}  // namespace twoturn
