#include "twoturn/study/feel.hpp"

#include <memory>

#include "commands.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

Output run(const Asked& asked) {
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "feel");
  std::vector<Missing> ignored;
  const FitAnswer judged = answer_fit(spec, asked.fit(), ignored);
  const EngineAnswers engine = answer_engine(spec, judged, ignored);
  const std::optional<FeelAnswer> answer =
      feel_answer(spec, judged.fitted ? &*judged.fitted : nullptr, asked.fit(),
                  judged.turns ? &*judged.turns : nullptr,
                  engine.valves ? &*engine.valves : nullptr, heading.missing);
  if (!answer) return none(asked, heading, not_enough_given("what the spanner feels"));
  if (asked.json) return {feel_document(heading, *answer), kDone};
  return {feel_text(heading, *answer), kDone};
}

}  // namespace

void add_feel(Program& program, Job& job) {
  const auto asked = std::make_shared<Asked>();
  program.command("feel", "what the spanner feels over two turns by hand, and what the belt does",
                  [asked, &job](const Command& command) {
                    add_common(command, *asked, Profile::required, Table::none, Verdict::none);
                    command.when_chosen([asked, &job] { job = [asked] { return run(*asked); }; });
                  });
}

}  // namespace twoturn::cli
