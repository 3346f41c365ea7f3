#include <memory>

#include "commands.hpp"
#include "twoturn/io/csv.hpp"
#include "twoturn/io/documents.hpp"
#include "twoturn/io/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::string at;
};

std::optional<double> reading_asked(const Options& options, const Drive& drive) {
  if (options.at.empty()) return std::nullopt;
  if (!drive.tensioner) {
    throw UsageError("--at: this drive has no tensioner to stand anywhere");
  }
  if (drive.tensioner->path.swings()) return clock_angle("--at", options.at);
  return number("--at", options.at);
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const Built built = read_and_build(asked, "route");
  if (!built.drive) return none(asked, built.heading, not_enough_given("the belt's route"));
  const RouteAnswer answer =
      route_of(*built.drive, asked.fit(), reading_asked(options, *built.drive));
  const int code = answer.is_belt ? kDone : kStopOrNone;
  if (asked.json) return {route_document(built.heading, *built.drive, answer), code};
  if (asked.csv) return {route_csv(answer), code};
  return {route_text(built.heading, *built.drive, answer), code};
}

}  // namespace

void add_route(CLI::App& program, Job& job) {
  const auto options = std::make_shared<Options>();
  CLI::App* command = program.add_subcommand(
      "route", "the belt's way round: each run, how far it goes round each pulley, its length");
  add_common(*command, options->asked, Profile::required, Table::csv, Verdict::none);
  command
      ->add_option("--at", options->at,
                   "where the tensioner stands: clock angle of the roller's centre seen from the "
                   "pivot (135 or 4:30), on a slide mm from the slack end")
      ->type_name("READING");
  command->callback([options, &job] { job = [options] { return run(*options); }; });
}

}  // namespace twoturn::cli
