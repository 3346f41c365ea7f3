#include "twoturn/page/report.hpp"

#include <memory>

#include "commands.hpp"
#include "progress.hpp"
#include "target.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/study/report.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  Target target;
};

// The order of the pulleys, where their places are not known.
std::string order_of(const DriveSpec& spec) {
  const Vec2 most_mm(110.0, 170.0);
  return spec.pulleys.empty() ? "" : svg_of(threading_scene(spec, most_mm), "order-");
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  if (asked.json && !options.target.is_file()) {
    throw UsageError("--json tells of the file written: it goes with -o FILE");
  }
  Progress progress;
  progress.at("working out the drive");
  const DriveSpec spec = read_spec(asked);
  const ReportAnswer report = report_of(spec, heading_for(asked, spec, "report"));
  progress.at("drawing the report");
  const std::string page = report_html(report, report.view ? "" : order_of(spec));
  write_to(options.target, page);
  const int code = exit_code(asked, report.check.verdict);
  if (!options.target.is_file()) return {page, code};
  if (asked.json) return {report_document(report, options.target.path, page.size()), code};
  return {"Written: " + options.target.path +
              ". Any browser opens it, with or without a connection.\n" + report.check.headline +
              "\n",
          code};
}

}  // namespace

void add_report(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "report", "one page for any browser: verdict, a picture that turns, plots, tables",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::strict);
        add_target(command, options->target);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
