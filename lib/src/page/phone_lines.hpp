// Lines of plain text for a phone.
#pragma once

#include <string>
#include <string_view>

namespace twoturn::phone {

/// Wrapped at 40 columns, lines after the first indented; no-break spaces end as spaces.
std::string narrow(std::string_view text, int indent = 0);

/// A heading, underlined.
std::string title(std::string_view words);

}  // namespace twoturn::phone
