#include <memory>

#include "commands.hpp"
#include "twoturn/write/commands_document.hpp"

namespace twoturn::cli {

void add_list(Program& program, Job& job) {
  const auto json = std::make_shared<bool>(false);
  program.command("commands",
                  "every command with all that it can be asked, for a page that asks by forms",
                  [&program, &job, json](const Command& command) {
                    command.flag("--json", *json, "one JSON document and nothing else");
                    command.when_chosen([&program, &job, json] {
                      job = [&program, json] {
                        const std::vector<CommandAbout> all = program.about();
                        return Output{*json ? commands_document(all) : commands_text(all)};
                      };
                    });
                  });
}

}  // namespace twoturn::cli
