#pragma once

#include <optional>

#include "twoturn/drive/spread.hpp"

namespace twoturn {

/// The timing error of each timed shaft, crank deg, + early, read off every drive of a spread: what
/// the reference way changes from the book to the fit, both thrown alike, as `assemble` has it. A
/// shaft with a wrong ratio has no error that stays and is left out. Empty where [build] changes
/// nothing of the drive, or the belt cannot be put on.
[[nodiscard]] std::optional<SpreadBeside> timing_beside(const Fitted& book, const Fitted& fitted);

}  // namespace twoturn
