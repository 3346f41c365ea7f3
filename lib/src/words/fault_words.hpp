// What faults are called together, and how likely one is told.
#pragma once

#include <string>
#include <string_view>

#include "twoturn/drive/fault_kind.hpp"

namespace twoturn::sentences {

/// "A shaft whole teeth out": over all faults of a kind.
std::string_view heading(FaultKind kind);

/// "91 in 100", "fewer than 1 in 100", "more than 99 in 100".
std::string in_hundred(double probability);

}  // namespace twoturn::sentences
