#include "twoturn/base/problem.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "twoturn/base/utf8.hpp"

namespace twoturn {
namespace {

// Edit distance in which two neighbouring letters swapped count as one slip.
int slips_between(std::string_view a, std::string_view b) {
  const std::size_t width = b.size() + 1;
  std::vector<int> older(width), last(width), row(width);
  std::iota(last.begin(), last.end(), 0);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j < width; ++j) {
      const int change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], older[j - 2] + 1);
    }
    older.swap(last);
    last.swap(row);
  }
  return last.back();
}

}  // namespace

std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  constexpr std::size_t kLongestWorthComparing = 200;
  if (word.size() > kLongestWorthComparing) return "";
  const int most = std::max(2, static_cast<int>(word.size()) / 3);
  std::string best;
  int least = most + 1;
  for (const std::string& candidate : candidates) {
    const int slips = slips_between(word, candidate);
    if (slips < least) {
      least = slips;
      best = candidate;
    }
  }
  return best;
}

std::string describe(const Problem& problem) {
  std::string line = problem.file.empty() ? "" : shown_text(problem.file);
  if (problem.line > 0) line += fmt::format(":{}:{}", problem.line, problem.column);
  if (!line.empty()) line += ": ";
  if (!problem.key.empty()) {
    line += shown_text(problem.key);
    if (!problem.value.empty()) line += fmt::format(" = {}", shown_text(problem.value));
    line += ": ";
  }
  // A rule may quote names of the file.
  constexpr int kLongestRule = 500;
  line += shown_text(problem.rule, kLongestRule);
  if (!problem.nearest.empty()) {
    line += fmt::format("; did you mean \"{}\"?", shown_text(problem.nearest));
  }
  return line;
}

}  // namespace twoturn
