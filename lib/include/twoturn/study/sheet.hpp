#pragma once

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn {

/// The sheet for a spec that has passed `validate`. From whatever it holds: what is missing becomes
/// a blank with the measurement to take.
[[nodiscard]] SheetAnswer sheet_of(const DriveSpec& spec, const Heading& heading);

}  // namespace twoturn
