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

void add_sections(CLI::App& program, Job& job) {
  const auto asked = std::make_shared<Asked>();
  CLI::App* command = program.add_subcommand(
      "sections", "the belt sections that are known, with their sizes and where those come from");
  CLI::Option* json =
      command->add_flag("--json", asked->json, "one JSON document and nothing else");
  command->add_flag("--csv", asked->csv, "comma-separated values")->excludes(json);
  command->callback([asked, &job] { job = [asked] { return run(*asked); }; });
}

}  // namespace twoturn::cli
