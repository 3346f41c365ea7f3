#include "twoturn/study/why.hpp"

#include <memory>

#include "commands.hpp"
#include "seen_options.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  SeenAsked seen;
  bool catalogue = false;
};

Output run(const Options& options) {
  Asked asked = options.asked;
  // Behind --set, so that what this command line says was seen stands.
  for (std::string& setting : settings_of(options.seen)) asked.set.push_back(std::move(setting));
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "why");
  const std::optional<WhyAnswer> answer = why_answer(spec, asked.fit(), heading.missing);
  if (!answer) return none(asked, heading, not_enough_given("what each fault would show"));
  const Catalogue catalogue =
      options.catalogue ? Catalogue::always : Catalogue::where_nothing_was_seen;
  return {asked.json ? why_document(heading, *answer) : why_text(heading, *answer, catalogue)};
}

}  // namespace

void add_why(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "why",
      "what is wrong: what each fault would show here, and which one what was seen points to",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        add_seen(command, options->seen);
        command.flag("--catalogue", options->catalogue,
                     "what every fault would show as well, where something was seen");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
