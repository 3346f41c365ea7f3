#include "twoturn/base/utf8.hpp"

#include <algorithm>

namespace twoturn {
namespace {

bool continues(char byte) { return (static_cast<unsigned char>(byte) & 0xC0u) == 0x80u; }

}  // namespace

std::size_t utf8_length(std::string_view text) {
  const auto first = static_cast<unsigned char>(text[0]);
  const std::size_t length = first < 0x80                     ? 1
                             : first >= 0xC2 && first < 0xE0  ? 2
                             : first >= 0xE0 && first < 0xF0  ? 3
                             : first >= 0xF0 && first <= 0xF4 ? 4
                                                              : 0;
  if (length == 0 || length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues(text[i])) return 0;
  }
  return length;
}

std::string shown_text(std::string_view text, int most) {
  std::string out;
  int count = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (count++ == most) return out + "...";
    const std::size_t length = std::max<std::size_t>(1, utf8_length(text.substr(at)));
    const auto byte = static_cast<unsigned char>(text[at]);
    const bool control =
        byte < 0x20 || byte == 0x7F ||
        (length == 2 && byte == 0xC2 && static_cast<unsigned char>(text[at + 1]) < 0xA0);
    const bool broken = length == 1 && byte >= 0x80;
    if (byte == '\n' || byte == '\t') {
      out += ' ';
    } else if (control || broken) {
      out += '?';
    } else {
      out += text.substr(at, length);
    }
    at += length;
  }
  return out;
}

std::string printable(std::string_view text) {
  std::string safe;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : ' ');
    const bool c0 = byte < 0x20 || byte == 0x7F;
    const bool c1 = byte == 0xC2 && next >= 0x80 && next < 0xA0;  // U+0080 to U+009F
    if (c1) ++i;
    if (c0 || c1) {
      if (!safe.empty() && safe.back() != ' ') safe += ' ';
    } else {
      safe += text[i];
    }
  }
  return safe;
}

}  // namespace twoturn
