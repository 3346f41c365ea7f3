#include "words/keep_units.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <vector>

namespace twoturn::sentences {
namespace {

constexpr std::string_view kNoBreak = "\u00a0";

bool ends_in_digit(std::string_view word) {
  return !word.empty() && std::isdigit(static_cast<unsigned char>(word.back())) != 0;
}

// Letters alone: "deg)," is deg.
std::string_view bare(std::string_view word) {
  const auto letter = [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; };
  const auto end = std::find_if_not(word.begin(), word.end(), letter);
  return word.substr(0, static_cast<std::size_t>(end - word.begin()));
}

bool is_unit(std::string_view word) {
  constexpr std::array<std::string_view, 12> kUnits{
      "mm", "deg", "tooth", "teeth", "turn", "turns", "thou", "of", "N", "Hz", "Nm", "min"};
  return std::find(kUnits.begin(), kUnits.end(), bare(word)) != kUnits.end();
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    words.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return words;
}

}  // namespace

std::string keep_units(std::string_view text) {
  std::string joined;
  bool number = false;
  const std::vector<std::string_view> words = words_of(text);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool own_degrees = (words[i] == "crank" || words[i] == "cam") && i + 1 < words.size() &&
                             bare(words[i + 1]) == "deg";
    const bool joins = number && (own_degrees || is_unit(words[i]));
    if (i > 0) joined += joins ? kNoBreak : " ";
    joined += words[i];
    number = ends_in_digit(words[i]) || (joins && own_degrees);
  }
  return joined;
}

}  // namespace twoturn::sentences
