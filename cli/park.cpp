#include <map>
#include <memory>
#include <optional>

#include "commands.hpp"
#include "twoturn/study/pistons.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::optional<int> cylinders;
  int layout = static_cast<int>(CrankLayout::in_line);
  std::optional<double> bank;
  std::vector<double> pins;
  std::vector<double> bores;
  std::optional<double> margin;
  std::optional<double> crank;

  CrankLayout crank_layout() const { return static_cast<CrankLayout>(layout); }
};

constexpr int kFewest = 3;
constexpr int kMost = 8;

void judge_list(const std::string& option, std::size_t size, int cylinders) {
  if (size == 0 || size == static_cast<std::size_t>(cylinders)) return;
  throw UsageError(option + ": one number for each cylinder, " + std::to_string(cylinders) +
                   " and not " + std::to_string(size));
}

// The layout that the options say, cylinders and no profile.
CylinderLayout layout_asked(const Options& options) {
  const int cylinders = *options.cylinders;
  const bool vee = options.crank_layout() == CrankLayout::vee;
  if (options.crank_layout() != CrankLayout::in_line && cylinders % 2 != 0) {
    throw UsageError("--layout: a V or a flat engine has an even number of cylinders");
  }
  judge_list("--pins", options.pins.size(), cylinders);
  judge_list("--bores", options.bores.size(), cylinders);
  if (!options.bores.empty() && options.pins.empty()) {
    throw UsageError("--bores says nothing without --pins");
  }
  if (options.pins.empty()) {
    if (vee != options.bank.has_value()) {
      throw UsageError(vee ? "--layout v needs the angle between its banks: --bank 60"
                           : "--bank is the angle between the banks of a V: --layout v");
    }
    return usual_layout(cylinders, options.crank_layout(), options.bank.value_or(0.0));
  }
  if (vee || options.bank) throw UsageError("--pins and --bores say the layout already");
  CylinderLayout layout;
  layout.cylinders = cylinders;
  layout.pins_deg = options.pins;
  layout.bores_deg = options.bores;
  return layout;
}

Output printed(const Options& options, const Heading& heading, const ParkReport& report) {
  const int code = report.any() ? kDone : kStopOrNone;
  if (options.asked.json) return {park_document(heading, report), code};
  return {park_text(heading, report), code};
}

Output from_counts(const Options& options) {
  if (!options.asked.set.empty() || options.margin || options.crank) {
    throw UsageError("--set, --margin and --crank need a profile");
  }
  Heading heading;
  heading.command = "park";
  ParkReport report;
  report.counted = counted_park(layout_asked(options));
  return printed(options, heading, report);
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  const bool counts = options.cylinders || options.bank || !options.pins.empty() ||
                      !options.bores.empty() || options.crank_layout() != CrankLayout::in_line;
  if (asked.profile.empty()) {
    if (!options.cylinders) {
      throw UsageError("name a profile, or say how many cylinders: --cylinders 4");
    }
    return from_counts(options);
  }
  if (counts) {
    throw UsageError("a profile says its own cylinders; leave out --cylinders and the layout");
  }
  const DriveSpec spec = read_spec(asked);
  Heading heading = heading_for(asked, spec, "park");
  ParkReport report;
  std::vector<Missing> ignored;
  report.pistons = pistons_answer(spec, ignored);
  report.park = park_answer(spec, asked.fit(), options.margin, heading.missing);
  if (spec.engine.cylinders) report.counted = counted_park(layout_of(spec.engine));
  if (!report.park && !report.counted) {
    return none(asked, heading, not_enough_given("where to park the crank"));
  }
  if (options.crank) {
    if (!report.pistons) {
      throw UsageError("--crank needs cylinders, stroke and rod in the profile");
    }
    report.asked = pistons_at(*report.pistons, *options.crank);
  }
  return printed(options, heading, report);
}

void add_counts(const Command& command, Options& options) {
  static const std::map<std::string, int> layouts{
      {"in-line", static_cast<int>(CrankLayout::in_line)},
      {"v", static_cast<int>(CrankLayout::vee)},
      {"flat", static_cast<int>(CrankLayout::flat)}};
  command
      .option("--cylinders", options.cylinders,
              "without a profile: how many, 3 to 8; even firing is taken")
      .hint("N")
      .between_counts(kFewest, kMost);
  command
      .option("--layout", options.layout,
              "in-line, v (both rods of a pair on one pin, with --bank) or flat (opposed pins)")
      .hint("WORD")
      .translated(layouts);
  constexpr double kTurnDeg = 360.0;
  command.option("--bank", options.bank, "deg between the banks of a V")
      .hint("DEG")
      .within(0.0, kTurnDeg);
  const auto list = [&](const char* name, std::vector<double>& into, const char* what) {
    command.option(name, into, what)
        .hint("DEG,...")
        .divided_by_commas()
        .one_at_a_time()
        .within(-kTurnDeg, kTurnDeg);
  };
  list("--pins", options.pins, "each cylinder's crank pin ahead of that of cylinder 1");
  list("--bores", options.bores, "each cylinder's bore from that of cylinder 1, with --pins");
}

}  // namespace

void add_park(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "park", "where the crank stands clear of every valve, and the way from there to the pins",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::optional, Table::none, Verdict::none);
        add_counts(command, *options);
        constexpr double kMostMarginMm = 50.0;
        command
            .option("--margin", options->margin,
                    "room wanted everywhere, mm, in place of the profile's limits")
            .hint("MM")
            .within(0.0, kMostMarginMm);
        add_crank_place(command, options->crank);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
