#include "phone_lines.hpp"

#include <algorithm>

#include "words/sentences.hpp"

namespace twoturn::phone {
namespace {

constexpr std::size_t kColumns = 40;
constexpr std::string_view kNoBreak = "\u00a0";

bool starts_letter(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

std::size_t letters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_letter));
}

// A word that no line holds is cut into pieces that one does.
std::string cut(std::string_view word, std::size_t room) {
  std::string pieces;
  std::size_t column = 0;
  for (const char c : word) {
    if (starts_letter(c) && column++ == room) {
      pieces += ' ';
      column = 1;
    }
    pieces += c;
  }
  return pieces;
}

}  // namespace

std::string narrow(std::string_view text, int indent) {
  const std::size_t room = kColumns - static_cast<std::size_t>(indent);
  std::string fitting;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    const std::string_view word = text.substr(from, end - from);
    fitting += (fitting.empty() ? "" : " ");
    fitting += letters(word) > room ? cut(word, room) : std::string(word);
    from = end + 1;
  }
  std::string lines = sentences::wrapped(fitting, indent, kColumns);
  for (std::size_t at = lines.find(kNoBreak); at != std::string::npos;
       at = lines.find(kNoBreak, at)) {
    lines.replace(at, kNoBreak.size(), " ");
  }
  return lines;
}

std::string title(std::string_view words) {
  return '\n' + std::string(words) + '\n' + std::string(words.size(), '-') + '\n';
}

}  // namespace twoturn::phone
