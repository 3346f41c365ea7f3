// Where a command's file goes: -o FILE, -o - or nothing for standard output, --force.
#pragma once

#include <string>

#include "common.hpp"

namespace twoturn::cli {

struct Target {
  std::string path;
  bool force = false;

  bool is_file() const { return !path.empty() && path != "-"; }
};

/// Adds -o and --force to a command.
void add_target(const Command& command, Target& target);

/// Writes the text to the target's file, whole or not at all; nothing where there is none. Throws
/// UsageError or OutputError.
void write_to(const Target& target, const std::string& text);

}  // namespace twoturn::cli
