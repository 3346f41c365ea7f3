#include <fmt/format.h>

#include <array>

#include "toml_tree.hpp"
#include "twoturn/base/utf8.hpp"

namespace twoturn::reading {
namespace {

// What the parser says and what it means to someone who never heard of TOML.
struct Meaning {
  std::string_view said;
  std::string_view also;
  std::string_view means;
};

constexpr std::array kMeanings{
    Meaning{"expected '=', saw", "", "an equals sign stands between key and value: key = value"},
    Meaning{"parsing string", "control characters",
            "the quote that closes the text is missing, or a control character stands in it"},
    Meaning{"parsing string", "end-of-file", "the quote that closes the text is missing"},
    Meaning{"expected keys, tables", "",
            "a line holds key = value, a [table] or a # comment, nothing else"},
    Meaning{"not representable", "", "the number is too large"},
    Meaning{"after '\\r'", "",
            "a line ends in a lone carriage return; save the text with ordinary line ends"},
    Meaning{"control characters", "", "a control character stands in the text"},
    Meaning{"determine value type", "",
            "the value is no number, text in quotes, true or false, list or table"},
    Meaning{"key-value pair", "end-of-file", "the text ends in the middle of a line"},
    Meaning{"parsing array", "", "the list is not closed; write [1, 2] with its last bracket"},
    Meaning{"comment or whitespace", "saw ','", "a comma stands behind the value: take it away"},
    Meaning{"comment or whitespace", "", "something stands behind the value: take it away"},
    Meaning{"expected decimal digit", "", "a digit is missing behind the point: 3 or 3.0"},
    Meaning{"leading zeroes", "", "a number does not begin with a 0: 12, not 012"},
    Meaning{"not be interpreted as a value", "", "the number is too large"},
    Meaning{"escape sequence", "",
            "a backslash stands in the text: write it twice, or put the text in single quotes"},
    Meaning{"blank bare keys", "", "the brackets are empty; between them stands a name: [belt]"},
    Meaning{"expected ']'", "", "a closing bracket is missing: [belt], [[pulley]]"},
    Meaning{"inline table", "",
            "a table in braces stands on one line: { radius_mm = 35, play_mm = 0.15 }"},
};

std::string in_plain_words(std::string_view said) {
  for (const Meaning& meaning : kMeanings) {
    if (said.find(meaning.said) != std::string_view::npos &&
        said.find(meaning.also) != std::string_view::npos) {
      return std::string(meaning.means);
    }
  }
  constexpr std::size_t kMost = 160;
  constexpr std::string_view kOpening = "Error while ";
  if (said.substr(0, kOpening.size()) == kOpening) said.remove_prefix(kOpening.size());
  std::string words(said.substr(0, kMost));
  for (char& c : words) {
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) >= 0x7F) c = '?';
  }
  return words;
}

std::string_view key_of(std::string_view line) {
  const std::size_t end = line.find('=');
  return toml_text::trimmed(line.substr(0, end == std::string_view::npos ? line.find('#') : end));
}

std::string_view without_brackets(std::string_view header) {
  const std::size_t first = header.find_first_not_of("[ ");
  const std::size_t last = header.find_last_not_of("] ");
  return first == std::string_view::npos || last < first ? header
                                                         : header.substr(first, last - first + 1);
}

bool is_header(std::string_view key) { return !key.empty() && key[0] == '['; }

// The line above `line` that says the same key of the same table, or opens the same table; or 0.
int first_said(const toml_text::Lines& lines, int line) {
  const std::string_view wanted = key_of(lines.line(line));
  for (int above = line - 1; above > 0 && !wanted.empty(); --above) {
    const std::string_view said = key_of(lines.line(above));
    if (is_header(wanted) ? is_header(said) && without_brackets(said) == without_brackets(wanted)
                          : said == wanted) {
      return above;
    }
    if (!is_header(wanted) && is_header(said)) return 0;
  }
  return 0;
}

std::string said_twice(const toml_text::Lines& lines, int line) {
  const std::string_view key = key_of(lines.line(line));
  const int first = first_said(lines, line);
  const std::string where = first > 0 ? fmt::format(", first in line {}", first) : "";
  if (!is_header(key)) {
    return fmt::format("{} stands twice{}; keep one", shown_text(key), where);
  }
  return fmt::format(
      "{} stands twice{}; what a profile has several of, each [[pulley]], [[head]], "
      "[[geared]] or [[cover]], has two pairs of brackets every time",
      shown_text(key), where);
}

}  // namespace

Problem syntax_problem(const toml::parse_error& error, const toml_text::Lines& lines) {
  Problem problem;
  problem.line = static_cast<int>(error.source().begin.line);
  problem.column = static_cast<int>(error.source().begin.column);
  const std::string_view said = error.description();
  problem.rule = said.find("redefine") != std::string_view::npos ? said_twice(lines, problem.line)
                                                                 : in_plain_words(said);
  return problem;
}

}  // namespace twoturn::reading
