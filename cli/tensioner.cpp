#include <memory>

#include "commands.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  int rows = 11;
};

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const Built built = read_and_build(asked, "tensioner");
  if (!built.fitted) {
    return none(asked, built.heading, not_enough_given("where the tensioner stands"));
  }
  const Drive& drive = built.fitted->drive();
  const std::optional<TensionerAnswer> answer = preview_tensioner(*built.fitted, options.rows);
  if (!answer) return none(asked, built.heading, no_tensioner());
  const int code = answer->holds_its_belt() ? kDone : kStopOrNone;
  if (asked.json) return {tensioner_document(built.heading, drive, *answer), code};
  if (asked.csv) return {tensioner_csv(*answer), code};
  return {tensioner_text(built.heading, *answer), code};
}

}  // namespace

void add_tensioner(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "tensioner", "which way it tightens, where it stands, and what adjustment is left",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::csv, Verdict::none);
        constexpr int kMostRows = 10000;
        command.option("--rows", options->rows, "places listed from slack to tight")
            .between_counts(2, kMostRows)
            .showing_default();
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
