#include <memory>
#include <optional>

#include "commands.hpp"
#include "twoturn/study/pistons.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::optional<double> crank;
};

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
  const RoomStands worst = worst_stand(*report.engine.valves);
  const int code =
      exit_code(asked, worst == RoomStands::touches       ? twoturn::Verdict::stop
                       : worst == RoomStands::below_limit ? twoturn::Verdict::look_again
                                                          : twoturn::Verdict::agrees);
  if (asked.json) return {valves_document(heading, report), code};
  if (asked.csv) return {valves_csv(report), code};
  return {valves_text(heading, report), code};
}

}  // namespace

void add_valves(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "valves", "room between valves and pistons over two turns, as it is and teeth out",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::csv, Verdict::strict);
        add_crank_place(command, options->crank);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
