#include "toml_text.hpp"
#include "twoturn/base/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace twoturn::toml_text {
namespace {

bool continues(char byte) { return (static_cast<unsigned char>(byte) & 0xC0u) == 0x80u; }

// Walks TOML's comments and strings, so that the rest can be looked at by itself.
class Blanker {
 public:
  explicit Blanker(std::string_view text) : text_(text), code_(text) {}

  std::string run() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '#') {
        blank_line();
      } else if (c == '"' || c == '\'') {
        string(c);
      } else {
        ++at_;
      }
    }
    return code_;
  }

 private:
  bool here(std::string_view what) const { return text_.substr(at_, what.size()) == what; }

  void blank() {
    if (text_[at_] != '\n' && text_[at_] != '\r') code_[at_] = ' ';
    ++at_;
  }

  void blank_line() {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    const auto begin = code_.begin();
    std::replace_if(
        begin + static_cast<std::ptrdiff_t>(at_), begin + static_cast<std::ptrdiff_t>(end),
        [](char c) { return c != '\r'; }, ' ');
    at_ = end;
  }

  void string(char quote) {
    const std::string triple(3, quote);
    const bool multi_line = here(triple);
    at_ += multi_line ? 3 : 1;
    while (at_ < text_.size()) {
      if (quote == '"' && text_[at_] == '\\') {
        blank();
        if (at_ < text_.size()) blank();
      } else if (multi_line && here(triple)) {
        at_ += 3;
        for (int more = 0; more < 2 && at_ < text_.size() && text_[at_] == quote; ++more) ++at_;
        return;
      } else if (!multi_line && text_[at_] == quote) {
        ++at_;
        return;
      } else if (!multi_line && text_[at_] == '\n') {
        return;
      } else {
        blank();
      }
    }
  }

  std::string_view text_;
  std::string code_;
  std::size_t at_ = 0;
};

}  // namespace

Lines::Lines(std::string_view text)
    : text_(text),
      starts_{0},
      bytes_are_columns_(std::none_of(text.begin(), text.end(), continues)) {
  for (std::size_t at = text.find('\n'); at != std::string_view::npos;
       at = text.find('\n', at + 1)) {
    starts_.push_back(at + 1);
  }
}

std::string_view Lines::line(int number) const {
  if (number < 1 || number > count()) return {};
  const std::size_t start = starts_[static_cast<std::size_t>(number) - 1];
  const std::size_t end = std::min(text_.find('\n', start), text_.size());
  std::string_view found = text_.substr(start, end - start);
  if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
  return found;
}

std::size_t Lines::offset(int line, int column) const {
  if (line < 1) return 0;
  if (line > count()) return text_.size();
  std::size_t at = starts_[static_cast<std::size_t>(line) - 1];
  if (bytes_are_columns_) {
    const std::size_t end = std::min(text_.find('\n', at), text_.size());
    return std::min(end, at + static_cast<std::size_t>(std::max(column - 1, 0)));
  }
  for (int i = 1; i < column && at < text_.size() && text_[at] != '\n'; ++i) {
    ++at;
    while (at < text_.size() && continues(text_[at])) ++at;
  }
  return at;
}

std::string Lines::between(int line, int column, int end_line, int end_column) const {
  const std::size_t start = offset(line, column);
  const std::size_t end = offset(end_line, end_column);
  return end > start ? std::string(text_.substr(start, end - start)) : std::string();
}

int Lines::column(int line_number, std::size_t byte) const {
  const std::string_view before = line(line_number).substr(0, byte);
  return 1 + static_cast<int>(
                 std::count_if(before.begin(), before.end(), [](char c) { return !continues(c); }));
}

std::string_view without_mark(std::string_view text) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
  return text;
}

std::string code_only(std::string_view text) { return Blanker(text).run(); }

namespace {

std::vector<Problem> not_utf8(std::string_view text) {
  const auto ascii = [](char c) { return static_cast<unsigned char>(c) < 0x80U; };
  if (std::all_of(text.begin(), text.end(), ascii)) return {};
  const bool utf16 = text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF";
  int line = 1;
  int column = 1;
  for (std::size_t at = 0; at < text.size(); ++column) {
    const std::size_t length = utf8_length(text.substr(at));
    if (length == 0) {
      Problem problem;
      problem.line = line;
      problem.column = column;
      problem.rule = utf16 ? "the text is UTF-16; save it again as UTF-8 (plain text)"
                           : "the text is not UTF-8 from here on; save it again as UTF-8 (plain "
                             "text, not a word processor's file)";
      return {problem};
    }
    if (text[at] == '\n') {
      ++line;
      column = 0;
    }
    at += length;
  }
  return {};
}

}  // namespace

std::vector<Problem> unreadable(std::string_view text) {
  std::vector<Problem> found = not_utf8(text);
  if (!found.empty()) return found;
  constexpr int kDeepest = 32;
  const std::string code = code_only(text);
  int brackets = 0;
  int dots = 0;
  int line = 1;
  for (const char c : code) {
    switch (c) {
      case '.':
        ++dots;
        break;
      case '[':
      case '{':
        ++brackets;
        dots = 0;
        break;
      case ']':
      case '}':
        --brackets;
        dots = 0;
        break;
      case '\n':
        ++line;
        dots = 0;
        break;
      case '=':
      case ',':
        dots = 0;
        break;
      default:
        continue;
    }
    if (brackets > kDeepest || dots > kDeepest) {
      Problem problem;
      problem.line = line;
      problem.column = 1;
      problem.rule =
          fmt::format("nested more than {} deep; a profile has no more than 4", kDeepest);
      return {problem};
    }
  }
  return {};
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

bool is_number(std::string_view text) {
  if (!text.empty() && (text[0] == '-' || text[0] == '+')) text.remove_prefix(1);
  const std::size_t dot = std::min(text.find('.'), text.size());
  const std::string_view whole = text.substr(0, dot);
  const std::string_view part = dot < text.size() ? text.substr(dot + 1) : "0";
  const auto digits = [](std::string_view of) {
    return !of.empty() && of.find_first_not_of("0123456789") == std::string_view::npos;
  };
  return (digits(whole) || (whole.empty() && dot < text.size())) && digits(part);
}

std::string with_zero(std::string_view text) {
  std::string number(text);
  if (!is_number(text)) return number;
  const std::size_t dot = number.find('.');
  if (dot != std::string::npos && (dot == 0 || dot + 1 == number.find_first_of("0123456789"))) {
    number.insert(dot, "0");
  }
  return number;
}

std::string with_point(std::string_view text) {
  std::string changed(trimmed(text));
  const std::size_t comma = changed.find(',');
  if (comma == std::string::npos) return "";
  changed[comma] = '.';
  return is_number(changed) ? changed : "";
}

}  // namespace twoturn::toml_text
