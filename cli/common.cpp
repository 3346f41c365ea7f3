#include "common.hpp"

#include <cmath>
#include <filesystem>

#include "read_file.hpp"
#include "twoturn/base/parse_number.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

// A lift table that a profile names, beside it; beside standard input, here.
TableText table_beside(const std::string& path, const std::string& name) {
  const std::filesystem::path folder =
      path == "-" ? std::filesystem::path() : std::filesystem::path(path).parent_path();
  TableText table;
  table.name = name;
  try {
    table.text = read_file((folder / name).string(), kProfileSize);
  } catch (const InputError& error) {
    table.fault = error.problems().front().rule;
  }
  return table;
}

}  // namespace

void add_common(const Command& command, Asked& asked, Profile profile, Table table,
                Verdict verdict) {
  const Option path = command.option(
      "PROFILE", asked.profile, "the drive profile, a TOML file; - reads it from standard input");
  if (profile == Profile::required) path.required();
  const Option json =
      command.flag("--json", asked.json, "one JSON document, with every number, and nothing else");
  if (table == Table::csv) {
    command.flag("--csv", asked.csv, "the table as comma-separated values").excludes(json);
  }
  command
      .option("--set", asked.set,
              "what if: KEY=VALUE in place of the file's (pulley.cam.teeth=39); may be repeated")
      .hint("KEY=VALUE")
      .one_at_a_time();
  command.flag("--by-the-book", asked.by_the_book, "the drive as drawn, without what [build] says");
  if (verdict == Verdict::strict) {
    command.flag("--strict", asked.strict, "end with 1 also when the verdict is \"look again\"");
  }
}

DriveSpec read_spec(const Asked& asked, ProfileText::Fingerprint fingerprint) {
  ProfileText profile;
  profile.fingerprint = fingerprint;
  profile.name = asked.profile == "-" ? "standard input" : asked.profile;
  for (const std::string& set : asked.set) {
    const std::size_t equals = set.find('=');
    if (equals == std::string::npos || equals == 0) {
      throw UsageError("--set " + set + ": write KEY=VALUE, as in --set pulley.cam.teeth=39");
    }
    profile.settings.push_back({set.substr(0, equals), set.substr(equals + 1)});
  }
  profile.text = read_file(asked.profile, kProfileSize);
  profile.find_table = [&asked](const std::string& name) {
    return table_beside(asked.profile, name);
  };
  return read_profile(profile);
}

Heading heading_for(const Asked& asked, const DriveSpec& spec, const std::string& command) {
  Heading heading;
  heading.command = command;
  heading.profile = spec.title.empty() ? asked.profile : spec.title;
  if (spec.title.empty() && asked.profile == "-") heading.profile = "standard input";
  heading.fit = asked.fit();
  heading.build_said = changes_the_drive(spec.build);
  return heading;
}

Built read_and_build(const Asked& asked, const std::string& command) {
  Built built;
  built.spec = read_spec(asked);
  built.heading = heading_for(asked, built.spec, command);
  FittedResult result = fitted_for(built.spec, asked.fit());
  built.heading.missing = std::move(result.missing);
  built.fitted = std::move(result.fitted);
  return built;
}

std::optional<Fitted> by_the_book(const Built& built) {
  return fitted_for(built.spec, Fit::by_the_book).fitted;
}

void add_crank_place(const Command& command, std::optional<double>& crank_deg) {
  constexpr double kFarthestDeg = 7200.0;
  command
      .option("--crank", crank_deg,
              "where the pistons stand with the crank so many deg past the top dead centre at "
              "which cylinder 1 fires")
      .hint("DEG")
      .within(-kFarthestDeg, kFarthestDeg);
}

int exit_code(const Asked& asked, twoturn::Verdict verdict) {
  const bool look = verdict == twoturn::Verdict::look_again;
  return verdict == twoturn::Verdict::stop || (asked.strict && look) ? kStopOrNone : kDone;
}

void refuse_record_by_the_book(const Asked& asked) {
  if (!asked.by_the_book) return;
  throw UsageError("--record is of the job as fitted: leave out --by-the-book");
}

Output none(const Asked& asked, const Heading& heading, const NoAnswer& answer) {
  return {asked.json ? none_document(heading, answer) : none_text(heading, answer), kStopOrNone};
}

double number(const std::string& option, const std::string& text) {
  const std::optional<double> value = parsed_number(text);
  if (!value) throw UsageError(option + " " + text + ": not a number, as in " + option + " 12.5");
  return *value;
}

double clock_angle(const std::string& option, const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) {
    if (const std::optional<double> value = parsed_number(text)) return *value;
  } else {
    const std::optional<double> hour = parsed_number(text.substr(0, colon));
    const std::optional<double> minutes = parsed_number(text.substr(colon + 1));
    const bool good = hour && minutes && *hour >= 0.0 && *hour <= 12.0 &&
                      *hour == std::floor(*hour) && *minutes >= 0.0 && *minutes < 60.0 &&
                      text.size() - colon == 3;
    constexpr double kDegreesAnHour = 30.0;
    if (good) return std::fmod((*hour + *minutes / 60.0) * kDegreesAnHour, 360.0);
  }
  throw UsageError(option + " " + text +
                   ": not a clock angle; write degrees clockwise from 12 o'clock (135), or as on a "
                   "clock face (4:30)");
}

}  // namespace twoturn::cli
