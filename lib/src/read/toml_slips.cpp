#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "toml_text.hpp"
#include "twoturn/base/utf8.hpp"

namespace twoturn::toml_text {
namespace {

constexpr std::array<std::string_view, 8> kCurly{"\u201C", "\u201D", "\u2018", "\u2019",
                                                 "\u201E", "\u201A", "\u00AB", "\u00BB"};

// One line that is no TOML, as written and with its strings and comments blank.
struct Line {
  std::string_view text;
  std::string_view code;
  int number;
};

bool digit(char c) { return c >= '0' && c <= '9'; }

bool word_char(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-';
}

Problem slip(const Lines& lines, const Line& line, std::size_t byte, std::string rule) {
  Problem problem;
  problem.line = line.number;
  problem.column = lines.column(line.number, byte);
  problem.rule = std::move(rule);
  return problem;
}

// The bare word that ends just before `end`: the key of an equals sign there.
std::string_view key_before(std::string_view text, std::size_t end) {
  while (end > 0 && text[end - 1] == ' ') --end;
  std::size_t start = end;
  while (start > 0 && (word_char(text[start - 1]) || text[start - 1] == '.')) --start;
  return text.substr(start, end - start);
}

bool curly_quotes(const Lines& lines, const Line& line, std::vector<Problem>& found) {
  for (const std::string_view quote : kCurly) {
    const std::size_t at = line.code.find(quote);
    if (at == std::string_view::npos) continue;
    found.push_back(slip(lines, line, at,
                         fmt::format("a curly quote {}: type it again as a straight \" in a plain "
                                     "text editor",
                                     quote)));
    return true;
  }
  // A straight quote opened, a curly one meant to close it.
  const std::size_t open = line.text.find('"');
  if (open == std::string_view::npos || line.text.find('"', open + 1) != std::string_view::npos) {
    return false;
  }
  for (const std::string_view quote : kCurly) {
    const std::size_t at = line.text.find(quote, open);
    if (at == std::string_view::npos) continue;
    found.push_back(slip(lines, line, at,
                         fmt::format("the text opens with \" and closes with a curly {}: type it "
                                     "again as a straight \"",
                                     quote)));
    return true;
  }
  return false;
}

std::size_t number_end(std::string_view code, std::size_t at) {
  if (at < code.size() && (code[at] == '-' || code[at] == '+')) ++at;
  while (at < code.size() && digit(code[at])) ++at;
  return at;
}

std::string unit_slip(std::string_view key, std::string_view number, std::string_view unit) {
  return fmt::format(
      "a number stands alone, its unit is part of the key: write {} = {} without \"{}\" (a length "
      "may be a key in _mm, _in or _thou)",
      key.empty() ? "key" : key, number, shown_text(unit));
}

// The whole number that stands behind a comma and blanks, or "".
std::string after_comma(std::string_view code, std::size_t at) {
  if (at >= code.size() || code[at] != ',') return "";
  const std::size_t start = code.find_first_not_of(" \t", at + 1);
  if (start == std::string_view::npos) return "";
  const std::size_t end = number_end(code, start);
  const bool digits = end > start && digit(code[end - 1]);
  return digits ? std::string(code.substr(start, end - start)) : "";
}

// What is wrong with the value that starts at `at`, behind an equals sign; empty: nothing seen.
std::string value_slip(std::string_view key, std::string_view code, std::size_t at) {
  const std::string_view rest = code.substr(at, code.find_first_of(",}]", at) - at);
  if (trimmed(rest).empty() && (at >= code.size() || code[at] != '[')) {
    return code.find_first_of("\"'", at) == std::string_view::npos &&
                   trimmed(code.substr(at)).empty()
               ? "nothing stands behind the equals sign; take the line out if it is not known"
               : "";
  }
  if (std::isalpha(static_cast<unsigned char>(code[at])) != 0) {
    std::size_t end = at;
    while (end < code.size() && (word_char(code[end]) || code[end] == ' ')) ++end;
    const std::string word(trimmed(code.substr(at, end - at)));
    if (word == "true" || word == "false" || word == "nan" || word == "inf") return "";
    return fmt::format("text stands in quotes: write {} = \"{}\"", key, shown_text(word));
  }
  const std::size_t whole = number_end(code, at);
  if (whole < code.size() && code[whole] == '.' && number_end(code, whole + 1) > whole + 1 &&
      (whole == at || !digit(code[whole - 1]))) {
    const std::string_view number = code.substr(at, number_end(code, whole + 1) - at);
    return fmt::format("a number starts with a digit: write {} = {}", key, with_zero(number));
  }
  if (whole == at || code.substr(at, 2) == "0x") return "";
  if (whole + 1 < code.size() && code[whole] == ',' && digit(code[whole + 1])) {
    const std::size_t end = number_end(code, whole + 1);
    const std::string point =
        fmt::format("{}.{}", code.substr(at, whole - at), code.substr(whole + 1, end - whole - 1));
    return fmt::format("a decimal comma: write {} = {} with a point", key, point);
  }
  if (const std::string second = after_comma(code, whole); !second.empty()) {
    return fmt::format("two numbers stand in brackets: write {} = [{}, {}]", key,
                       code.substr(at, whole - at), second);
  }
  if (whole + 1 < code.size() && code[whole] == ':') {
    std::size_t end = number_end(code, whole + 1);
    return fmt::format("a clock time stands in quotes: write {} = \"{}\"", key,
                       code.substr(at, end - at));
  }
  std::size_t end = whole;
  if (end < code.size() && code[end] == '.') end = number_end(code, end + 1);
  const std::string_view behind = trimmed(code.substr(end, code.find_first_of(",}]", end) - end));
  if (behind.empty() || behind[0] == '_' || behind[0] == '-' || behind[0] == '.' ||
      ((behind[0] == 'e' || behind[0] == 'E') && behind.size() > 1)) {
    return "";
  }
  return unit_slip(key, code.substr(at, end - at), behind);
}

bool value_slips(const Lines& lines, const Line& line, std::vector<Problem>& found) {
  for (std::size_t equals = line.code.find('='); equals != std::string_view::npos;
       equals = line.code.find('=', equals + 1)) {
    std::size_t at = equals + 1;
    while (at < line.code.size() && (line.code[at] == ' ' || line.code[at] == '\t')) ++at;
    std::string rule = value_slip(key_before(line.code, equals), line.code, at);
    if (rule.empty()) continue;
    found.push_back(slip(lines, line, std::min(at, line.text.size()), std::move(rule)));
    return true;
  }
  return false;
}

void colon_slip(const Lines& lines, const Line& line, std::vector<Problem>& found) {
  const std::size_t colon = line.code.find(':');
  if (colon == std::string_view::npos || line.code.find('=') != std::string_view::npos) return;
  const std::string_view key = key_before(line.code, colon);
  if (key.empty() || trimmed(line.code.substr(0, colon)) != key) return;
  found.push_back(slip(
      lines, line, colon,
      fmt::format("an equals sign stands between key and value: write {} = ...", shown_text(key))));
}

}  // namespace

std::vector<Problem> slips(std::string_view text) {
  constexpr std::size_t kEnough = 100;
  constexpr std::size_t kLongestLine = 2000;  // nobody typed a longer one
  const std::string code = code_only(text);
  const Lines lines(text);
  const Lines code_lines(code);
  std::vector<Problem> found;
  for (int number = 1; number <= lines.count() && found.size() < kEnough; ++number) {
    const Line line{lines.line(number), code_lines.line(number), number};
    if (line.text.size() > kLongestLine) continue;
    if (curly_quotes(lines, line, found)) continue;
    if (value_slips(lines, line, found)) continue;
    colon_slip(lines, line, found);
  }
  return found;
}

}  // namespace twoturn::toml_text
