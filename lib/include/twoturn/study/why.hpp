#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/spec.hpp"
#include "twoturn/study/why_answer.hpp"

namespace twoturn {

/// Every fault of one drive, simulated; and, where its profile says what was seen, which of them
/// that points to. Empty where there are no two turns to try faults on; `missing` says why.
[[nodiscard]] std::optional<WhyAnswer> why_answer(const DriveSpec& spec, Fit fit,
                                                  std::vector<Missing>& missing);

/// The second part alone; empty where nothing was seen, or there is nothing to hold it against.
[[nodiscard]] std::optional<WhySeen> why_seen(const DriveSpec& spec, Fit fit);

/// One fault hidden by chance, for teachers: the same for the same seed.
[[nodiscard]] std::optional<Exercise> exercise(const DriveSpec& spec, Fit fit, unsigned seed,
                                               std::vector<Missing>& missing);

}  // namespace twoturn
