#include "twoturn/study/finding.hpp"

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

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.level < b.level; });
}

}  // namespace twoturn
