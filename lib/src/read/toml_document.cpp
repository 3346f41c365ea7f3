#include "toml_document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "toml_tree.hpp"
#include "twoturn/read/profile.hpp"

namespace twoturn::reading {

void refuse(std::vector<Problem> problems, const std::string& name) {
  for (Problem& problem : problems) {
    if (problem.file.empty()) problem.file = name;
  }
  const auto order = [](const Problem& problem) {
    return std::tuple(problem.line == 0, problem.line, problem.column);
  };
  std::stable_sort(problems.begin(), problems.end(),
                   [&](const Problem& a, const Problem& b) { return order(a) < order(b); });
  if (problems.size() > kMostProblems) {
    Problem more;
    more.file = name;
    more.rule = fmt::format("more than {} problems; these are the first", kMostProblems);
    problems.resize(kMostProblems);
    problems.push_back(more);
  }
  throw InputError(std::move(problems));
}

toml::table parsed(std::string_view text, const toml_text::Lines& lines, const std::string& name) {
  std::vector<Problem> problems = toml_text::unreadable(text);
  if (!problems.empty()) refuse(std::move(problems), name);
  try {
    return toml::parse(text);
  } catch (const toml::parse_error& error) {
    problems = toml_text::slips(text);
    const Problem own = syntax_problem(error, lines);
    const bool explained = std::any_of(problems.begin(), problems.end(), [&](const Problem& slip) {
      return slip.line == own.line || slip.line + 1 == own.line;
    });
    if (!explained) problems.push_back(own);
    refuse(std::move(problems), name);
  }
}

}  // namespace twoturn::reading
