#include "twoturn/write/starter.hpp"
#include "twoturn/study/starter_example.hpp"

#include <memory>
#include <string_view>

#include "commands.hpp"
#include "target.hpp"
#include "twoturn/page/paper.hpp"
#include "twoturn/picture/sketches.hpp"
#include "twoturn/picture/svg.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  StarterDrive drive;
  int heads = 0;  // not said: two where there are four cams
  std::string tensioner = "eccentric";
  bool paper = false;
  bool json = false;
  Target target;
};

enum class Form { profile, paper };

StarterDrive drive_asked(const Options& options) {
  StarterDrive drive = options.drive;
  constexpr int kMostCamsOfOneHead = 2;
  drive.heads = options.heads > 0 ? options.heads : drive.cams > kMostCamsOfOneHead ? 2 : 1;
  if (options.tensioner == "slide") drive.tensioner = StarterDrive::Tensioner::slide;
  if (options.tensioner == "none") drive.tensioner = StarterDrive::Tensioner::none;
  const std::string why_not = no_starter_for(drive);
  if (!why_not.empty()) throw UsageError("starter: " + why_not);
  return drive;
}

// A file that a browser opens is a page with sketches; else the paper is plain text.
std::string text_of(const StarterAnswer& starter, Form form, const std::string& path) {
  constexpr std::string_view kPage = ".html";
  if (form == Form::profile) return starter_profile(starter);
  const bool page = path.size() > kPage.size() &&
                    path.compare(path.size() - kPage.size(), kPage.size(), kPage) == 0;
  return page ? paper_html(starter) : starter_paper(starter);
}

std::vector<StarterSketch> sketches() {
  std::vector<StarterSketch> list;
  for (const MeasuringSketch& sketch : measuring_sketches()) {
    const std::string prefix = "sketch" + std::to_string(list.size() + 1) + "-";
    list.push_back({sketch.scene.title, sketch.keys, svg_of(sketch.scene, prefix)});
  }
  return list;
}

Output run(const Options& options) {
  const std::string path = options.target.is_file() ? options.target.path : "";
  StarterResult result{drive_asked(options), options.paper, path, "", {}};
  const StarterAnswer starter = starter_for(result.drive);
  result.text = text_of(starter, options.paper ? Form::paper : Form::profile, path);
  write_to(options.target, result.text);
  if (options.json) {
    result.sketches = sketches();
    return {starter_document(result)};
  }
  if (path.empty()) return {result.text};
  const char* next = options.paper ? "Print it and take it to the engine."
                                   : "Put your numbers over the example's, then run \"twoturn "
                                     "check\" on it.";
  return {"Written: " + path + ". " + next + "\n"};
}

void add_drive_options(const Command& command, Options& options) {
  constexpr int kMostCams = 4;
  constexpr int kMostIdlers = 2;
  command.option("--cams", options.drive.cams, "camshafts that the belt drives")
      .between_counts(1, kMostCams)
      .showing_default();
  command.option("--heads", options.heads, "cylinder heads; two for a V engine")
      .between_counts(1, 2);
  command.option("--tensioner", options.tensioner, "how the belt is tensioned")
      .one_of({"eccentric", "slide", "none"})
      .showing_default();
  command.option("--idlers", options.drive.idlers, "fixed smooth rollers")
      .between_counts(0, kMostIdlers)
      .showing_default();
  command.flag("--pump", options.drive.water_pump, "the belt drives the water pump");
  command.flag("--injection-pump", options.drive.injection_pump,
               "the belt drives an injection pump");
  command.flag("--calliper", options.drive.calliper,
               "distances between centres in place of coordinates");
  command.flag("--geared-balance", options.drive.balance_shaft,
               "a balance shaft is driven off the crank by gears");
}

}  // namespace

void add_starter(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "starter", "a profile to fill in, which says how to measure each number; or a paper for it",
      [options, &job](const Command& command) {
        add_drive_options(command, *options);
        command.flag("--paper", options->paper,
                     "the same questions as a sheet to print and fill in at the engine; a page "
                     "with sketches where -o names a file that ends in .html");
        add_target(command, options->target);
        command.flag("--json", options->json, "one JSON document and nothing else");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
