#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "twoturn/base/problem.hpp"

namespace twoturn::toml_text {

/// A text in lines, with places counted as TOML errors count them: columns in code points.
class Lines {
 public:
  explicit Lines(std::string_view text);

  /// The 1-based line without its end; empty beyond the text.
  std::string_view line(int number) const;
  int count() const { return static_cast<int>(starts_.size()); }

  /// The text from one place up to, not including, another.
  std::string between(int line, int column, int end_line, int end_column) const;
  /// The column, in code points, of a byte of a line.
  int column(int line, std::size_t byte) const;

 private:
  std::size_t offset(int line, int column) const;

  std::string_view text_;
  std::vector<std::size_t> starts_;
  bool bytes_are_columns_;  // no character of more than a byte
};

/// The text without a byte order mark.
std::string_view without_mark(std::string_view text);

/// The text with everything in comments and strings made blank; quotes and line ends stay.
std::string code_only(std::string_view text);

/// What forbids parsing at all: not UTF-8, or nested so deep that no profile could mean it.
std::vector<Problem> unreadable(std::string_view text);

/// Slips of people who write numbers and text as elsewhere: curly quotes, a decimal comma, a unit
/// behind the number, a clock time or a word without quotes, a colon for the equals sign. Looked
/// for only where a text is no TOML, since each is one reason why.
std::vector<Problem> slips(std::string_view text);

/// The number with a 0 before a leading point, as TOML wants it; any other text as it is.
std::string with_zero(std::string_view text);

/// The number that a text would be with a decimal point for its comma, or empty.
std::string with_point(std::string_view text);

/// True for a whole text that is one decimal number.
bool is_number(std::string_view text);

std::string_view trimmed(std::string_view text);

}  // namespace twoturn::toml_text
