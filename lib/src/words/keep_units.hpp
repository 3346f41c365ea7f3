// Numbers that no end of a line parts from their units.
#pragma once

#include <string>
#include <string_view>

namespace twoturn::sentences {

/// The text with no-break spaces between each number and its unit.
std::string keep_units(std::string_view text);

}  // namespace twoturn::sentences
