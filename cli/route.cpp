#include <memory>

#include "commands.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/working.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::string at;
  bool working = false;
  std::string from;
  std::string to;
};

std::optional<double> reading_asked(const Options& options, const Drive& drive) {
  if (options.at.empty()) return std::nullopt;
  if (!drive.tensioner) {
    throw UsageError("--at: this drive has no tensioner to stand anywhere");
  }
  if (drive.tensioner->path.swing()) return clock_angle("--at", options.at);
  return number("--at", options.at);
}

// The name must be a pulley's, and two names neighbours.
void require_pulley(const Drive& drive, const char* option, const std::string& name) {
  if (name.empty() || drive.index_of(name) >= 0) return;
  std::vector<std::string> names;
  for (const Pulley& pulley : drive.pulleys) names.push_back(pulley.name);
  const std::string nearest = nearest_word(name, names);
  throw UsageError(std::string(option) + ": there is no pulley \"" + name + "\"" +
                   (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?"));
}

Output run_working(const Options& options, const Built& built, const RouteAnswer& route) {
  require_pulley(built.fitted->drive(), "--from", options.from);
  require_pulley(built.fitted->drive(), "--to", options.to);
  const std::optional<WorkingAnswer> answer =
      work_route(built.fitted->drive(), route, options.from, options.to);
  if (!answer) return none(options.asked, built.heading, path_refused(route));
  if (answer->runs.empty()) {
    throw UsageError("--from and --to: no run of belt joins these two; name neighbours");
  }
  const int code = route.is_belt ? kDone : kStopOrNone;
  if (options.asked.json) return {working_document(built.heading, *answer), code};
  return {working_text(built.heading, *answer), code};
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const Built built = read_and_build(asked, "route");
  if (!built.fitted) return none(asked, built.heading, not_enough_given("the belt's route"));
  const RouteAnswer answer = route_of(*built.fitted, reading_asked(options, built.fitted->drive()));
  if (options.working || !options.from.empty() || !options.to.empty()) {
    return run_working(options, built, answer);
  }
  const int code = answer.is_belt ? kDone : kStopOrNone;
  if (asked.json) return {route_document(built.heading, built.fitted->drive(), answer), code};
  if (asked.csv) return {route_csv(answer), code};
  return {route_text(built.heading, built.fitted->drive(), answer), code};
}

}  // namespace

void add_route(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "route", "the belt's way round: each run, how far it goes round each pulley, its length",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::csv, Verdict::none);
        command
            .option("--at", options->at,
                    "where the tensioner stands: clock angle of the roller's centre seen from the "
                    "pivot (135 or 4:30), on a slide mm from the slack end")
            .hint("READING");
        command.flag("--working", options->working, "the sums step by step, as on a board");
        command.option("--from", options->from, "with --working: only the run from this pulley")
            .hint("PULLEY");
        command.option("--to", options->to, "with --working: only the run to this pulley")
            .hint("PULLEY");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
