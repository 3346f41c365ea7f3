#pragma once

#include <vector>

#include "twoturn/study/check_answer.hpp"

namespace twoturn {

/// Runs everything that a spec which passed `validate` allows, and judges it.
[[nodiscard]] CheckAnswer check_drive(const DriveSpec& spec, Fit fit = Fit::as_fitted);

/// One fit of the drive, every answer that can be had; what is missing is added to `missing`.
FitAnswer answer_fit(const DriveSpec& spec, Fit fit, std::vector<Missing>& missing);

/// What two turns alone come to: stop and look again are those of `check_drive`; agrees where they
/// have nothing against them.
[[nodiscard]] Verdict verdict_of_turns(const DriveSpec& spec, const TurnsAnswer& turns);

/// Pistons, valves, park and compression; what is missing is added to `missing`.
EngineAnswers answer_engine(const DriveSpec& spec, const FitAnswer& fitted,
                            std::vector<Missing>& missing);

}  // namespace twoturn
