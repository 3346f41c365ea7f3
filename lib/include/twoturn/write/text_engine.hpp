#pragma once

#include <optional>
#include <string>

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/no_answer.hpp"

namespace twoturn {

/// All that `twoturn valves` prints: room at every valve, pistons, compression.
struct ValvesReport {
  EngineAnswers engine;            ///< with valves
  std::optional<PistonsAt> asked;  ///< pistons at a crank angle that was asked for
};

/// All that `twoturn park` prints: from a profile with valves, or from counts alone.
struct ParkReport {
  std::optional<PistonsAnswer> pistons;
  std::optional<ParkAnswer> park;
  std::optional<CountedParkAnswer> counted;
  std::optional<PistonsAt> asked;

  /// There is a place to park the crank.
  bool any() const { return park ? park->best_is_clear : counted && counted->enough; }
};

/// Plain text at 80 columns, the answer first; every number of it is in the document.
std::string valves_text(const Heading& heading, const ValvesReport& report);
std::string valves_document(const Heading& heading, const ValvesReport& report);
/// One row a valve and whole teeth out.
std::string valves_csv(const ValvesReport& report);

std::string park_text(const Heading& heading, const ParkReport& report);
std::string park_document(const Heading& heading, const ParkReport& report);

}  // namespace twoturn
