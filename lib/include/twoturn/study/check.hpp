#pragma once

#include <vector>

#include "twoturn/study/check_answer.hpp"

namespace twoturn {

/// Runs everything that a spec which passed `validate` allows, and judges it.
[[nodiscard]] CheckAnswer check_drive(const DriveSpec& spec, Fit fit = Fit::as_fitted);

/// One fit of the drive, every answer that can be had; what is missing is added to `missing`.
FitAnswer answer_fit(const DriveSpec& spec, Fit fit, std::vector<Missing>& missing);

/// Pistons, valves, park and compression; what is missing is added to `missing`.
EngineAnswers answer_engine(const DriveSpec& spec, const FitAnswer& fitted,
                            std::vector<Missing>& missing);

}  // namespace twoturn
