#include <memory>
#include <optional>

#include "commands.hpp"
#include "twoturn/io/documents.hpp"
#include "twoturn/io/text.hpp"
#include "twoturn/io/text_engine.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::optional<double> crank;
};

bool any_stands(const ValvesAnswer& valves, RoomStands stands) {
  for (const ValveAnswer& valve : valves.valves) {
    if (valve.fitted.stands == stands) return true;
  }
  for (const ValvePairAnswer& pair : valves.pairs) {
    const bool touches = pair.fitted_mm <= 0.0;
    const bool near = !touches && pair.fitted_mm < pair.limit_mm;
    if (stands == (touches ? RoomStands::touches : RoomStands::below_limit) && (touches || near)) {
      return true;
    }
  }
  return false;
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "valves");
  std::vector<Missing> ignored;
  const FitAnswer fitted = answer_fit(spec, asked.fit(), ignored);
  ValvesReport report;
  report.engine = answer_engine(spec, fitted, heading.missing);
  if (!report.engine.valves) {
    NoAnswer answer = not_enough_given("whether valves can hit pistons");
    answer.text += " It is not known: treat as if they do.";
    return none(asked, heading, answer);
  }
  if (options.crank) report.asked = pistons_at(*report.engine.pistons, *options.crank);
  const bool stop = any_stands(*report.engine.valves, RoomStands::touches);
  const bool look = any_stands(*report.engine.valves, RoomStands::below_limit);
  const int code = stop || (asked.strict && look) ? kStopOrNone : kDone;
  if (asked.json) return {valves_document(heading, report), code};
  if (asked.csv) return {valves_csv(report), code};
  return {valves_text(heading, report), code};
}

}  // namespace

void add_valves(CLI::App& program, Job& job) {
  const auto options = std::make_shared<Options>();
  CLI::App* command = program.add_subcommand(
      "valves", "room between valves and pistons over two turns, as it is and teeth out");
  add_common(*command, options->asked, Profile::required, Table::csv, Verdict::strict);
  constexpr double kFarthestDeg = 7200.0;
  command
      ->add_option("--crank", options->crank,
                   "where the pistons stand with the crank so many deg past the top dead centre at "
                   "which cylinder 1 fires")
      ->type_name("DEG")
      ->check(in_range(-kFarthestDeg, kFarthestDeg));
  command->callback([options, &job] { job = [options] { return run(*options); }; });
}

}  // namespace twoturn::cli
