#pragma once

#include <vector>

#include "twoturn/drive/compare_answer.hpp"
#include "twoturn/drive/fitted.hpp"

namespace twoturn {

/// Belts of these tooth counts side by side on one drive; `book`: the same drive by the book, whose
/// marks they are held against.
[[nodiscard]] CompareAnswer compare_counts(const Fitted& fitted, const Fitted& book,
                                           const std::vector<int>& counts);

}  // namespace twoturn
