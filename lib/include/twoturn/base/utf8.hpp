#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace twoturn {

/// Length of the UTF-8 sequence that starts `text` (not empty), or 0 where it is none.
std::size_t utf8_length(std::string_view text);

/// The text fit for one line of a message: control characters out, at most so many code points.
std::string shown_text(std::string_view text, int most = 60);

}  // namespace twoturn
