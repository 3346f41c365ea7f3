#include <memory>

#include "commands.hpp"
#include "twoturn/study/why.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  int seed = 1;
  bool answer = false;
};

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "exercise");
  const std::optional<Exercise> made =
      exercise(spec, asked.fit(), static_cast<unsigned>(options.seed), heading.missing);
  if (!made) return none(asked, heading, not_enough_given("what a fault would show"));
  const Solution solution = options.answer ? Solution::shown : Solution::hidden;
  return {asked.json ? exercise_document(heading, *made, solution)
                     : exercise_text(heading, *made, solution)};
}

}  // namespace

void add_exercise(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "exercise", "for teachers: one fault is hidden, and only what is seen is told",
      [options, &job](const Command& command) {
        constexpr int kMostSeed = 1000000;
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        command
            .option("--seed", options->seed,
                    "another number hides another fault; the same one the same")
            .between_counts(0, kMostSeed)
            .showing_default();
        command.flag("--answer", options->answer,
                     "tell the fault, and how to find it by what was seen");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
