#include <memory>

#include "commands.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

Output run(const Asked& asked) {
  if (asked.json) return {sections_document()};
  return {asked.csv ? sections_csv() : sections_text()};
}

}  // namespace

void add_sections(Program& program, Job& job) {
  const auto asked = std::make_shared<Asked>();
  program.command("sections",
                  "the belt sections that are known, with their sizes and where those come from",
                  [asked, &job](const Command& command) {
                    const Option json =
                        command.flag("--json", asked->json, "one JSON document and nothing else");
                    command.flag("--csv", asked->csv, "comma-separated values").excludes(json);
                    command.when_chosen([asked, &job] { job = [asked] { return run(*asked); }; });
                  });
}

}  // namespace twoturn::cli
