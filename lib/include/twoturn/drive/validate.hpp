#pragma once

#include <vector>

#include "twoturn/base/problem.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// Everything in a spec that contradicts itself or cannot be, all at once. Empty: it can be built.
/// What is merely missing is no problem here; it narrows what can be answered.
[[nodiscard]] std::vector<Problem> validate(const DriveSpec& spec);

}  // namespace twoturn
