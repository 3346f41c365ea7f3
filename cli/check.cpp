#include <memory>

#include "commands.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

Output run(const Asked& asked) {
  const DriveSpec spec = read_spec(asked);
  const Heading heading = heading_for(asked, spec, "check");
  const CheckAnswer answer = check_drive(spec, asked.fit());
  const int code = exit_code(asked, answer.verdict);
  if (asked.json) return {check_document(heading, answer), code};
  return {check_text(heading, answer), code};
}

}  // namespace

void add_check(Program& program, Job& job) {
  const auto asked = std::make_shared<Asked>();
  program.command("check",
                  "is it right? the verdict first, why, what to see after two turns, what is open",
                  [asked, &job](const Command& command) {
                    add_common(command, *asked, Profile::required, Table::none, Verdict::strict);
                    command.when_chosen([asked, &job] { job = [asked] { return run(*asked); }; });
                  });
}

}  // namespace twoturn::cli
