#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "read_file.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/validate.hpp"
#include "twoturn/face/contours.hpp"
#include "twoturn/picture/face_picture.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/read/readings.hpp"
#include "twoturn/study/skim.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;  // its profile is the drive's
  std::string readings;
  bool svg = false;
  std::string head;
  std::string skim;
  std::vector<std::string> along, across, diagonal, lines;
  FaceLimits limits;
  std::optional<double> side;
  std::optional<double> height;
  std::optional<double> least_height;
};

FeelerLine feeler_line(const std::string& option, const std::string& name,
                       const std::string& range) {
  const GapReading read = read_gap(range);
  if (!read.fault.empty()) throw UsageError(option + " " + range + ": " + read.fault);
  FeelerLine line;
  line.name = name;
  line.way = edge_way(name);
  line.goes_mm = read.gap.goes_mm;
  line.stops_mm = read.gap.stops_mm;
  return line;
}

void add_lines(const std::string& option, const std::string& name,
               const std::vector<std::string>& ranges, std::vector<FeelerLine>& lines) {
  int number = 0;
  for (const std::string& range : ranges) {
    ++number;
    lines.push_back(
        feeler_line(option, ranges.size() > 1 ? name + " " + std::to_string(number) : name, range));
  }
}

void add_named_lines(const Options& options, std::vector<FeelerLine>& lines) {
  for (const std::string& text : options.lines) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0) {
      throw UsageError("--line " + text + ": write NAME=RANGE, as in --line \"bore 2=0.04..0.05\"");
    }
    lines.push_back(feeler_line("--line", text.substr(0, equals), text.substr(equals + 1)));
  }
}

// What the file says, with the options over it.
FaceReadings all_readings(const Options& options) {
  FaceReadings readings;
  if (!options.readings.empty()) {
    const std::string name = options.readings == "-" ? "standard input" : options.readings;
    readings = read_readings(name, read_file(options.readings, kReadingsSize));
    if (readings.title.empty()) readings.title = name;
  }
  add_lines("--along", "along", options.along, readings.lines);
  add_lines("--across", "across", options.across, readings.lines);
  add_lines("--diagonal", "diagonal", options.diagonal, readings.lines);
  add_named_lines(options, readings.lines);
  if (options.limits.strict_mm) readings.limits.strict_mm = options.limits.strict_mm;
  if (options.limits.loose_mm) readings.limits.loose_mm = options.limits.loose_mm;
  if (options.limits.gap_mm) readings.limits.gap_mm = options.limits.gap_mm;
  if (options.limits.local_mm) readings.limits.local_mm = options.limits.local_mm;
  if (options.side) readings.local_side_mm = options.side;
  if (options.height) readings.height_mm = options.height;
  if (options.least_height) readings.least_height_mm = options.least_height;
  const FaceLimits& limits = readings.limits;
  if (limits.strict_mm && limits.loose_mm && *limits.strict_mm > *limits.loose_mm) {
    throw UsageError("the strict limit, " + shortest(*limits.strict_mm, 3) +
                     " mm, is above the loose one, " + shortest(*limits.loose_mm, 3) + " mm");
  }
  return readings;
}

void add_heights(const FaceReadings& readings, FaceReport& report) {
  if (readings.points.empty()) return;
  FaceQuestion question;
  question.local_side_mm = readings.local_side_mm.value_or(kLocalSideMm);
  question.datum = readings.datum;
  question.height_mm = readings.height_mm;
  question.least_height_mm = readings.least_height_mm;
  if (question.local_side_mm < least_local_side_mm(readings.points)) {
    throw UsageError("--side: squares smaller than " +
                     shortest(least_local_side_mm(readings.points), 4) +
                     " mm are too many on this face");
  }
  report.heights = examine_face(readings.points, question);
}

double skim_asked(const Options& options, FaceReport& report) {
  if (options.skim.empty() || options.skim == "least") {
    if (!report.heights) {
      throw UsageError(
          "--profile needs --skim: feeler lines alone do not say how much must come off");
    }
    report.skim_is_least = true;
    return report.heights->skim.to_best_plane_mm;
  }
  const double skim = number("--skim", options.skim);
  constexpr double kMostSkimMm = 5.0;
  if (skim < 0.0 || skim > kMostSkimMm) {
    throw UsageError("--skim " + options.skim + ": must be from 0 to 5 mm");
  }
  return skim;
}

void choose_head(const Options& options, const DriveSpec& spec, SkimQuestion& question) {
  std::vector<std::string> names;
  for (const HeadSpec& head : spec.heads) names.push_back(head.name);
  question.head = options.head;
  if (options.head.empty()) {
    if (names.size() > 1) {
      std::string list;
      for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
      throw UsageError("the profile has more than one head: say which with --head (" + list + ")");
    }
    return;
  }
  if (std::find(names.begin(), names.end(), options.head) != names.end()) return;
  const std::string nearest = nearest_word(options.head, names);
  throw UsageError("--head " + options.head + ": the profile has no such head" +
                   (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?"));
}

void add_skim(const Options& options, FaceReport& report) {
  if (options.asked.profile.empty()) {
    if (!options.skim.empty() || !options.head.empty() || !options.asked.set.empty()) {
      throw UsageError("--skim, --head and --set need the drive's profile: --profile FILE");
    }
    return;
  }
  const DriveSpec spec = read_spec(options.asked);
  SkimQuestion question;
  question.skim_mm = skim_asked(options, report);
  question.fit = options.asked.fit();
  choose_head(options, spec, question);
  const std::vector<Problem> problems = validate(skimmed(spec, question));
  if (!problems.empty()) throw InputError(problems);
  report.profile = heading_for(options.asked, spec, "face").profile;
  report.fit = question.fit;
  report.skim = skim_consequences(spec, question);
}

twoturn::Verdict worst_of(const FaceReport& report) {
  twoturn::Verdict worst = twoturn::Verdict::agrees;
  if (report.verdict) worst = std::max(worst, report.verdict->verdict);
  if (report.skim) worst = std::max(worst, report.skim->verdict);
  return worst;
}

Output run(const Options& options) {
  const FaceReadings readings = all_readings(options);
  FaceReport report;
  report.title = readings.title;
  add_heights(readings, report);
  if (!readings.lines.empty()) report.feelers = judge_feelers(readings.lines);
  if (report.heights || report.feelers) {
    report.verdict = judge_face(report.heights, report.feelers, readings.limits);
  } else if (options.asked.profile.empty()) {
    throw UsageError(
        "nothing to judge: name a file of readings, or say what the feelers showed, as in --along "
        "0.04..0.05 --across ..0.03");
  }
  add_skim(options, report);
  const int code = exit_code(options.asked, worst_of(report));
  if (options.asked.json) return {face_document(report), code};
  if (!options.svg && !options.asked.csv) return {face_text(report), code};
  if (!report.heights) {
    throw UsageError(
        "--svg and --csv show heights at points; feeler lines alone have no place on the face");
  }
  if (options.asked.csv) return {face_csv(readings.points, *report.heights), code};
  return {svg_of(face_scene(readings.points, report,
                            face_contours(readings.points, report.heights->zone.slab))),
          code};
}

void add_readings_options(const Command& command, Options& options) {
  command.option("READINGS", options.readings,
                 "heights at points or feeler lines, as a table (x_mm,y_mm,height_mm) or "
                 "TOML; - reads standard input");
  const auto lines = [&](const char* name, std::vector<std::string>& into, const char* what) {
    command.option(name, into, what).hint("RANGE").one_at_a_time();
  };
  lines("--along", options.along,
        "under the edge along the face: 0.04..0.05 (0.04 goes, 0.05 does not), ..0.03, 0.2..");
  lines("--across", options.across, "the same across the face");
  lines("--diagonal", options.diagonal, "the same on a diagonal; twice for both");
  command.option("--line", options.lines, "the same on any other line")
      .hint("NAME=RANGE")
      .one_at_a_time();
  constexpr double kLeast = 1e-4;
  constexpr double kMost = 10'000.0;
  const auto mm = [&](const char* name, std::optional<double>& into, const char* what) {
    command.option(name, into, what).hint("MM").within(kLeast, kMost);
  };
  mm("--limit-strict", options.limits.strict_mm, "out of flat by no more: good (usual: 0.05)");
  mm("--limit-loose", options.limits.loose_mm, "out of flat by more: refused (usual: 0.10)");
  mm("--limit-gap", options.limits.gap_mm, "a gap this wide under the edge: refused (usual: 0.2)");
  mm("--limit-local", options.limits.local_mm, "out of flat by more in one square: refused");
  mm("--side", options.side, "side of that square (usual: 100)");
  mm("--height", options.height, "how high the part is now");
  mm("--least-height", options.least_height, "and must stay");
}

void add_drive_options(const Command& command, Options& options) {
  Asked& asked = options.asked;
  command.option("--profile", asked.profile, "the drive that the skim goes through").hint("FILE");
  command.option("--head", options.head, "which of the profile's heads").hint("NAME");
  command
      .option("--skim", options.skim,
              "mm to come off, on top of what [build] says; without it the least that trues "
              "the face")
      .hint("MM");
  command
      .option("--set", asked.set, "what if: KEY=VALUE in place of the profile's; may be repeated")
      .hint("KEY=VALUE")
      .one_at_a_time();
  command.flag("--by-the-book", asked.by_the_book, "the drive without what [build] says");
}

}  // namespace

void add_face(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "face", "is the head face flat, how much must come off, and what that does to the timing",
      [options, &job](const Command& command) {
        add_readings_options(command, *options);
        add_drive_options(command, *options);
        Asked& asked = options->asked;
        const Option json =
            command.flag("--json", asked.json, "one JSON document, with every number");
        const Option csv =
            command.flag("--csv", asked.csv, "each point's height above the lower plane");
        command.flag("--svg", options->svg, "a contour picture").excludes(json).excludes(csv);
        csv.excludes(json);
        command.flag("--strict", asked.strict,
                     "end with 1 also when the verdict is \"look again\"");
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
