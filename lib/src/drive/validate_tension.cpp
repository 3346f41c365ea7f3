#include <fmt/format.h>

#include <algorithm>

#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

void judge_end(Judge& judge, const char* key, const std::optional<std::string>& name) {
  const std::vector<std::string> pulleys = pulley_names(judge.spec);
  if (!name || std::find(pulleys.begin(), pulleys.end(), *name) != pulleys.end()) return;
  judge.add(key, fmt::format("\"{}\"", *name),
            "must name a pulley: a run goes from one to the next", nearest_word(*name, pulleys));
}

}  // namespace

void judge_tension(Judge& judge) {
  const TensionSpec& tension = judge.spec.tension;
  judge.positive("tension.target_n", tension.target_n, 100000.0, "N");
  judge.positive("tension.target_hz", tension.target_hz, 2000.0, "Hz");
  judge.positive("tension.give_mm", tension.give_mm, 200.0, "mm");
  judge.positive("tension.push_n", tension.push_n, 5000.0, "N");
  judge.range("tension.at_crank_deg", tension.at_crank_deg, {-720.0, 720.0, "deg"});
  judge_end(judge, "tension.from", tension.from);
  judge_end(judge, "tension.to", tension.to);
  const int targets = int(tension.target_n.has_value()) + int(tension.target_hz.has_value()) +
                      int(tension.give_mm.has_value());
  if (targets > 1) {
    judge.add("tension", "", "one target is enough: target_n, target_hz or give_mm with push_n");
  }
  if (tension.give_mm && !tension.push_n) {
    judge.add("tension.give_mm", shown(*tension.give_mm, "mm"),
              "say with what push the run gives so far: push_n");
  }
  if ((tension.target_hz || tension.give_mm) && (!tension.from || !tension.to)) {
    judge.add("tension", "", "say which run is meant: from and to, two neighbouring pulleys");
  }
  if (tension.from && tension.to && tension.from == tension.to) {
    judge.add("tension.to", fmt::format("\"{}\"", *tension.to),
              "a run goes from one pulley to another");
  }
}

}  // namespace twoturn::validation
