#include "target.hpp"

#include "write_file.hpp"

namespace twoturn::cli {

void add_target(const Command& command, Target& target) {
  command
      .option("-o,--output", target.path,
              "the file to write, whole or not at all; - or without it standard output")
      .hint("FILE");
  command.flag("--force", target.force, "write over a file that is there already");
}

void write_to(const Target& target, const std::string& text) {
  if (target.force && !target.is_file()) throw UsageError("--force goes with -o FILE");
  if (!target.is_file()) return;
  write_file(target.path, text, target.force ? Existing::replaced : Existing::kept);
}

}  // namespace twoturn::cli
