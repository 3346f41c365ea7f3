#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "twoturn/drive/compare.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::string move;
  std::string along;
  std::vector<int> compare;
};

MoveQuestion move_asked(const Options& options, const Drive& drive) {
  MoveQuestion question;
  if (!options.along.empty()) question.along_deg = clock_angle("--along", options.along);
  const bool any = !options.move.empty() || !options.along.empty();
  if (any && drive.tensioner) {
    throw UsageError("--move, --along: this drive has a tensioner, which takes up the difference");
  }
  if (options.move.empty()) return question;
  const int index = drive.index_of(options.move);
  if (index < 0) {
    std::vector<std::string> names;
    for (const Pulley& pulley : drive.pulleys) names.push_back(pulley.name);
    const std::string nearest = nearest_word(options.move, names);
    throw UsageError("--move " + options.move + ": no pulley has that name" +
                     (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?"));
  }
  if (index == 0 && options.along.empty()) {
    throw UsageError("--move " + options.move + ": say which way with --along, as in --along 4:30");
  }
  question.pulley = options.move;
  return question;
}

Output run_compare(const Options& options, const Built& built, const Fitted& book) {
  const Asked& asked = options.asked;
  const CompareAnswer answer = compare_counts(*built.fitted, book, options.compare);
  const bool any = std::any_of(answer.counts.begin(), answer.counts.end(),
                               [](const ComparedCount& count) { return count.goes_on; });
  const int code = any ? kDone : kStopOrNone;
  if (asked.json) return {compare_document(built.heading, answer), code};
  if (asked.csv) return {compare_csv(answer), code};
  return {compare_text(built.heading, answer), code};
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const Built built = read_and_build(asked, "teeth");
  if (!built.fitted) return none(asked, built.heading, not_enough_given("which tooth counts fit"));
  const Drive& drive = built.fitted->drive();
  const std::optional<Fitted> book = by_the_book(built);
  if (!options.compare.empty()) return run_compare(options, built, book.value_or(*built.fitted));
  const TeethAnswer answer =
      fitting_teeth(*built.fitted, move_asked(options, drive), book ? &*book : nullptr);
  if (answer.fits.empty() && answer.nearby.empty()) {
    const RouteAnswer route = route_of(*built.fitted);
    if (!route.is_belt) return none(asked, built.heading, path_refused(route));
  }
  // Fixed centres without a length tolerance: measured, not judged.
  const bool judged = drive.tensioner || answer.tolerance_mm;
  const bool own_misses = answer.belt_teeth && !answer.own_goes_on();
  const int code = judged && (answer.fits.empty() || own_misses) ? kStopOrNone : kDone;
  if (asked.json) return {teeth_document(built.heading, drive, answer), code};
  if (asked.csv) return {teeth_csv(drive, answer), code};
  return {teeth_text(built.heading, drive, answer), code};
}

}  // namespace

void add_teeth(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "teeth",
      "which tooth counts go on, where the tensioner then stands, and what the next miss by",
      [options, &job](const Command& command) {
        constexpr int kMostTeeth = 10000;
        add_common(command, options->asked, Profile::required, Table::csv, Verdict::none);
        command
            .option("--move", options->move,
                    "fixed centres: how far this pulley would have to move for each count")
            .hint("PULLEY");
        command
            .option("--along", options->along,
                    "the direction it moves in, as a clock angle (135 or 4:30)")
            .hint("CLOCK");
        command
            .option("--compare", options->compare,
                    "belts of these tooth counts side by side: 164,165")
            .hint("TEETH,TEETH")
            .divided_by_commas()
            .one_at_a_time()
            .between_counts(3, kMostTeeth);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
