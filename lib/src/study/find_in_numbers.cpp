#include <fmt/format.h>

#include "twoturn/base/numbers.hpp"
#include "twoturn/study/check.hpp"

namespace twoturn {
namespace {

void example_numbers(const DriveSpec& spec, std::vector<Finding>& findings) {
  std::string where;
  int count = 0;
  for (const GivenValue& given : spec.given) {
    if (given.origin != Origin::example) continue;
    ++count;
    where += fmt::format("{}{} (line {})", where.empty() ? "" : ", ", given.key, given.line);
  }
  if (count == 0) return;
  Finding finding{Level::look, "example-numbers", "profile", ""};
  finding.value = count;
  finding.unit = "numbers";
  finding.text =
      fmt::format("{} still the example's, not this engine's: {}. Measure each and put it in.",
                  count == 1 ? "1 number is" : fmt::format("{} numbers are", count), where);
  finding.brief = fmt::format("{} still the example's",
                              count == 1 ? "1 number is" : fmt::format("{} numbers are", count));
  finding.action = "measure them and put them in";
  findings.push_back(finding);
}

void interference(const DriveSpec& spec, std::vector<Finding>& findings) {
  if (spec.engine.interference == false) return;
  const bool known = spec.engine.interference.has_value();
  Finding finding{Level::note, known ? "interference" : "interference-unknown", "valves", ""};
  finding.text =
      known ? "Valves and pistons can meet in this engine: a slipped belt bends valves. Turn "
              "it by hand only, and stop at any solid resistance."
            : "It is not known whether valves can hit pistons: treat as if they do.";
  findings.push_back(finding);
}

}  // namespace

void find_in_numbers(const DriveSpec& spec, std::vector<Finding>& findings) {
  example_numbers(spec, findings);
  interference(spec, findings);
}

}  // namespace twoturn
