#pragma once

#include <algorithm>
#include <vector>

#include "twoturn/study/check_answer.hpp"

namespace twoturn::study {

inline Verdict worse(Verdict one, Verdict other) { return std::max(one, other); }

/// What findings come to: one that stops, one that is to be looked at, or none of either.
Verdict verdict_of(const std::vector<Finding>& findings);

}  // namespace twoturn::study
