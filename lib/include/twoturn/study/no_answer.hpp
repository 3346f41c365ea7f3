#pragma once

#include <string>
#include <utility>
#include <vector>

#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/route_answer.hpp"
#include "twoturn/timing/assembly_answer.hpp"

namespace twoturn {

/// What every answer says of itself before it says anything else.
struct Heading {
  std::string command;
  std::string profile;  ///< the profile's title, else its file's name
  Fit fit = Fit::as_fitted;
  bool build_said = false;  ///< the profile has something under [build]
  std::vector<Missing> missing;
};

/// A question without an answer, and why. `numbers` go by keys that carry their unit.
struct NoAnswer {
  std::string reason;  ///< a short code: "missing", "no-setting", "refused", ...
  std::string about;
  std::string text;  ///< the sentence, with its numbers and what to do
  std::vector<std::pair<std::string, double>> numbers;
  std::vector<NamedRefusal> refused;
};

/// The profile does not say enough for the command; `heading.missing` lists what would.
NoAnswer not_enough_given(const std::string& question);
NoAnswer no_tensioner();
NoAnswer nothing_to_spread(const std::string& why_not);
/// No belt can take the path, for the reasons of a route.
NoAnswer path_refused(const RouteAnswer& route);
/// The belt cannot be put on for two turns.
NoAnswer no_assembly(const NoAssembly& none, const Drive& drive);

}  // namespace twoturn
