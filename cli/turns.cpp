#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/study/build_shares.hpp"
#include "twoturn/study/warm.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

constexpr double kLeastStepDeg = 0.01;
constexpr double kMostStepDeg = 720.0;
constexpr int kMostTurns = 10000;

struct Options {
  Asked asked;
  bool backwards = false;
  bool steps = false;
  double step_deg = 1.0;
  std::vector<int> turns;
};

TurnsQuestion question_asked(const Options& options, const DriveSpec& spec) {
  TurnsQuestion question;
  question.fit = options.asked.fit();
  question.running = options.backwards ? Running::backwards : Running::forwards;
  question.after.insert(question.after.end(), options.turns.begin(), options.turns.end());
  std::sort(question.after.begin(), question.after.end());
  question.after.erase(std::unique(question.after.begin(), question.after.end()),
                       question.after.end());
  question.step_deg = options.step_deg;
  question.step_turns = options.steps || options.asked.csv ? 2 : 0;
  question.pin_tight_mm = spec.limits.pin_tight_mm.value_or(question.pin_tight_mm);
  return question;
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "turns");
  // Both the drawn and the fitted drive must be there to see what changed.
  const BothFits both = both_fits(spec, asked.fit());
  heading.missing = both.asked.missing;
  if (!both.book.fitted || !both.asked.fitted) {
    if (both.asked.fitted) heading.missing = both.book.missing;
    return none(asked, heading, not_enough_given("how the marks stand after two turns"));
  }
  if (!spec.belt.teeth) {
    heading.missing.push_back(
        {"two turns by hand", "belt.teeth", "count the belt's teeth: paint one and go once round"});
  }
  AssemblyResult result = assemble(*both.book.fitted, *both.asked.fitted);
  const Drive& drive = both.asked.fitted->drive();
  if (!drive.tensioner || drive.both_orders_run) {
    const RouteAnswer route = route_of(*both.asked.fitted);
    if (!route.is_belt) return none(asked, heading, path_refused(route));
  }
  if (!result.assembly) return none(asked, heading, no_assembly(*result.none, drive));
  const TurnsAnswer answer = two_turns(std::move(*result.assembly), question_asked(options, spec));
  const int code = exit_code(asked, verdict_of_turns(spec, answer));
  TurnsBeside beside;
  if (asked.fit() == Fit::as_fitted && !asked.csv) {
    beside = {build_shares(spec, both.book), warm_drive(spec, both)};
  }
  if (beside.warm) {
    const std::vector<Missing>& open = beside.warm->missing;
    heading.missing.insert(heading.missing.end(), open.begin(), open.end());
  }
  if (asked.json) return {turns_document(heading, answer, beside), code};
  if (asked.csv) return {turns_csv(answer), code};
  return {turns_text(heading, answer, beside, options.turns), code};
}

}  // namespace

void add_turns(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "turns", "two turns by hand: what pins, marks and paint show, and how to put it right",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::csv, Verdict::strict);
        command.flag("--backwards", options->backwards, "turn against the running direction");
        command.flag("--steps", options->steps, "list two turns step by step as well");
        command.option("--step-deg", options->step_deg, "crank degrees a step")
            .within(kLeastStepDeg, kMostStepDeg)
            .showing_default();
        command
            .option("--turns", options->turns,
                    "further numbers of turns to look after, as in 6,222")
            .divided_by_commas()
            .one_at_a_time()
            .between_counts(0, kMostTurns);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
