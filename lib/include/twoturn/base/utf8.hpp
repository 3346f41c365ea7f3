#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace twoturn {

/// Length of the UTF-8 sequence that starts `text` (not empty), or 0 where it is none.
std::size_t utf8_length(std::string_view text);

/// The text fit for one line of a message: control characters out, at most so many code points.
std::string shown_text(std::string_view text, int most = 60);

/// The text on one line, without characters that HTML or a terminal cannot show; each run of them
/// is one space, none at the start.
std::string printable(std::string_view text);

}  // namespace twoturn
