#include <memory>

#include "commands.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/timing/marks.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  std::optional<int> belt;
  std::optional<int> crank;
  std::vector<int> cams;
  std::optional<double> pitch;
  std::optional<double> centre;
  std::optional<double> skim;
  std::string section;
};

void set_section(const std::string& name, MarksQuestion& question) {
  const BeltSection* section = find_section(name);
  if (section) {
    question.pitch_mm = section->pitch_mm;
    return;
  }
  const std::string nearest = nearest_word(name, section_names());
  throw UsageError("--section " + name + ": no such belt section" +
                   (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?") +
                   " (\"twoturn sections\" lists them)");
}

// Options come before the profile, so that it can be asked what if.
void put_options_over(const Options& options, MarksQuestion& question) {
  if (options.belt) question.belt_teeth = options.belt;
  if (options.crank) question.crank_teeth = options.crank;
  if (!options.section.empty()) set_section(options.section, question);
  if (options.pitch) question.pitch_mm = options.pitch;
  if (!options.cams.empty()) {
    question.timed.clear();
    for (const int teeth : options.cams) {
      CountedPulley cam;
      cam.name =
          question.timed.empty() ? "cam" : "cam " + std::to_string(question.timed.size() + 1);
      cam.teeth = teeth;
      question.timed.push_back(cam);
    }
  }
  for (CountedPulley& pulley : question.timed) {
    if (pulley.role != Role::camshaft) continue;
    if (options.centre) pulley.centre_mm = options.centre;
    if (options.skim) pulley.skim_mm = options.skim;
  }
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  Heading heading;
  heading.command = "marks";
  heading.fit = asked.fit();
  MarksQuestion question;
  if (!asked.profile.empty()) {
    const DriveSpec spec = read_spec(asked);
    heading = heading_for(asked, spec, "marks");
    question = marks_question(spec, asked.fit());
  } else if (!asked.set.empty()) {
    throw UsageError("--set changes a profile's values: name the profile as well");
  }
  put_options_over(options, question);
  const MarksAnswer answer = marks_from_counts(question);
  const int code = answer.empty() ? kStopOrNone : kDone;
  return {asked.json ? marks_document(heading, answer) : marks_text(heading, answer), code};
}

}  // namespace

void add_marks(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "marks",
      "from tooth counts alone: degrees a tooth, and where the paint stands after two turns",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::optional, Table::none, Verdict::none);
        constexpr int kMostTeeth = 10000;
        constexpr double kMostMm = 100000.0;
        constexpr double kLeastMm = 1e-3;
        constexpr double kMostSkimMm = 5.0;
        command.option("--belt", options->belt, "teeth of the belt").between_counts(3, kMostTeeth);
        command.option("--crank", options->crank, "teeth of the crank pulley")
            .between_counts(3, kMostTeeth);
        command.option("--cam", options->cams, "teeth of a cam pulley; may be repeated")
            .one_at_a_time()
            .between_counts(3, kMostTeeth);
        const Option pitch =
            command.option("--pitch", options->pitch, "mm from tooth to tooth of the belt")
                .within(kLeastMm, kMostMm);
        command.option("--section", options->section, "the belt's section, in place of the pitch")
            .hint("NAME")
            .excludes(pitch);
        command
            .option("--centre", options->centre, "mm from the crank's centre to the cam's, roughly")
            .within(kLeastMm, kMostMm);
        command
            .option("--skim", options->skim,
                    "mm taken off the head; below nought: a thicker gasket")
            .within(-kMostSkimMm, kMostSkimMm);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
