#include "twoturn/write/starter.hpp"
#include "twoturn/study/starter_example.hpp"

#include <memory>

#include "commands.hpp"
#include "target.hpp"

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

Output run(const Options& options) {
  const std::string path = options.target.is_file() ? options.target.path : "";
  StarterResult result{drive_asked(options), options.paper, path, ""};
  const StarterAnswer starter = starter_for(result.drive);
  result.text = options.paper ? starter_paper(starter) : starter_profile(starter);
  write_to(options.target, result.text);
  if (options.json) return {starter_document(result)};
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
                     "the same questions as a sheet to print and fill in at the engine");
        add_target(command, options->target);
        command.flag("--json", options->json, "one JSON document and nothing else");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
