// What was seen at the engine, on the command line: each option stands for a key of [seen].
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "options.hpp"

namespace twoturn::cli {

struct SeenAsked {
  std::vector<std::string> pins;
  std::vector<std::string> marks;
  std::vector<std::string> counts;
  std::string after;
  std::string again;
  std::string pointer;
  std::string turned;
  std::optional<double> stop_deg;
  bool no_stop = false;
  bool rocks = false;
  bool not_seated = false;
  bool moved_when_tensioned = false;
  bool right_forwards = false;
  bool pointer_stuck = false;
  bool differs_each_try = false;
};

/// Adds the options to a command.
void add_seen(const Command& command, SeenAsked& seen);

/// The same as what --set takes: "seen.pin.cam=out". Throws UsageError for what cannot be read.
std::vector<std::string> settings_of(const SeenAsked& seen);

}  // namespace twoturn::cli
