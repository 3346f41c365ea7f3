#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace twoturn {

/// How much a finding weighs: stop (do not turn it), look (look again), note.
enum class Level { stop, look, note };

/// One thing found. `text` says what it is, by how much, and what to do.
struct Finding {
  Level level = Level::note;
  std::string code{};   ///< short and stable: "phase", "pin", "belt-fit"
  std::string about{};  ///< the part: "cam"
  std::string text{};
  double value = 0.0;
  double limit = 0.0;
  std::string unit{};       ///< of value and limit
  std::string limit_key{};  ///< the profile key that overrides the limit; empty: none does
  std::string brief{};      ///< the heart of it, for the verdict line: "cam 1.0 tooth late"
  std::string action{};     ///< what to do, for the verdict line; empty for notes
  std::string caution{};    ///< a sentence that holds for all of its kind, told once
};

std::string word(Level level);

/// A finding's heart, with how many other parts have the same fault: "... (and 3 more)".
std::string brief_of(const Finding& finding, const std::vector<Finding>& all);

/// A finding as people read it: alike ones are one, and a caution stands once.
struct ToldFinding {
  Level level = Level::note;
  std::string about{};  ///< "left cam, right cam"
  std::string text{};
};
std::vector<ToldFinding> told(const std::vector<Finding>& findings);

/// The text with its caution behind it, for whoever reads one finding alone.
std::string whole_text(const Finding& finding);

/// Stop before look before note; within a level, the order in which they were found.
void sort_findings(std::vector<Finding>& findings);

}  // namespace twoturn
