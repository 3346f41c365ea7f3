#include "twoturn/study/finding.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace twoturn {

std::string word(Level level) {
  switch (level) {
    case Level::stop:
      return "stop";
    case Level::look:
      return "look";
    case Level::note:
      return "note";
  }
  return "";
}

std::string brief_of(const Finding& finding, const std::vector<Finding>& all) {
  const auto more = std::count_if(all.begin(), all.end(), [&](const Finding& other) {
    return other.level == finding.level && other.code == finding.code &&
           other.about != finding.about;
  });
  return more == 0 ? finding.brief : fmt::format("{} (and {} more)", finding.brief, more);
}

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.level < b.level; });
}

}  // namespace twoturn
