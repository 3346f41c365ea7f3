#include "twoturn/write/text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "answer_tables.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;

std::string first_line(const Drive& drive, const RouteAnswer& answer) {
  if (answer.pulleys.empty()) return "No belt can run so: there is no path round the pulleys.\n";
  if (!answer.is_belt) {
    return wrapped(fmt::format("No belt can run so. The tangent path is {} mm long (not a belt).",
                               fixed(answer.length_mm, 2)));
  }
  return wrapped(fmt::format("The belt's path is {} mm long: {} teeth of {} mm.",
                             fixed(answer.length_mm, 2), fixed(answer.teeth_exact, 2),
                             shortest(drive.belt.pitch_mm, 4)));
}

std::string where_it_was_taken(const Drive& drive, const RouteAnswer& answer) {
  if (!answer.setting) return "";
  std::string why;
  switch (answer.choice) {
    case SettingChoice::fixed_centres:
      break;
    case SettingChoice::as_asked:
      why = "as asked";
      break;
    case SettingChoice::maker_marks:
      why = "the maker's marks";
      break;
    case SettingChoice::belt_length:
      why = fmt::format("where the belt's {} teeth are at their own length",
                        drive.belt.teeth.value_or(0));
      break;
    case SettingChoice::mid_travel:
      why = "the middle of its travel, as nothing says better";
      break;
  }
  std::string text = fmt::format("Tensioner at {}: {}", sentences::setting(*answer.setting), why);
  if (!answer.setting->in_travel) text += ", outside its travel";
  return wrapped(text + ".");
}

std::string approaches(const RouteAnswer& answer) {
  if (answer.approaches.empty()) return "";
  std::string text = "\nNearest to what the belt does not run on (nought or less: it touches):\n";
  for (const NamedApproach& near : answer.approaches) {
    const bool own_run = near.approach.kind == Neighbour::own_run;
    std::string line =
        fmt::format("- {}: {} mm from {}", own_run ? "another run of its own" : near.to,
                    fixed(near.approach.gap_mm, 1), near.piece);
    if (near.least_in_travel_mm && near.least_at_reading) {
      const auto& [reading, kind] = *near.least_at_reading;
      line += fmt::format(
          "; in the tensioner's travel least {} mm, at {}", fixed(*near.least_in_travel_mm, 1),
          kind == TensionerKind::swing ? "clock " + fixed(reading, 1) : fixed(reading, 1) + " mm");
    }
    text += wrapped(line + ".", 2);
  }
  return text;
}

// A rule held at such a point shows whether it was measured right.
std::string cover_points(const RouteAnswer& answer) {
  std::string text;
  std::string line;
  std::string cover;
  for (const CoverPoint& point : answer.cover_points) {
    if (point.cover != cover && !line.empty()) text += wrapped(line + ".", 2);
    line = point.cover == cover ? line + ", " : "- " + point.cover + ": ";
    line += fixed(point.gap_mm, 1);
    cover = point.cover;
  }
  if (line.empty()) return "";
  return "\nMm from the belt to each point given of a cover, to be checked with a rule:\n" + text +
         wrapped(line + ".", 2);
}

std::string own_check(const RouteAnswer& answer) {
  const PathFaults& faults = answer.faults;
  const double worst = std::max({faults.off_circle_mm, faults.open_end_mm, faults.length_mm});
  constexpr double kMillionth = 1e-6;
  return '\n' +
         wrapped(fmt::format(
             "Checked a second way (contact points, square ends, length): off by {}.",
             worst < kMillionth ? "less than a millionth of a mm" : fixed(worst, 6) + " mm"));
}

}  // namespace

std::string route_text(const Heading& heading, const Drive& drive, const RouteAnswer& answer) {
  std::string text = first_line(drive, answer);
  text += sentences::heading(heading);
  if (answer.setting) text += where_it_was_taken(drive, answer);
  text += sentences::refusals(answer.refused);
  if (drive.direction == Direction::assumed) {
    text += wrapped(
        "Which way the crank turns is not given: clockwise is taken, and which run is "
        "tight hangs on it. The length does not.");
  }
  if (answer.order == Order::reversed) {
    text += wrapped("The pulleys are listed against the belt's travel; below they follow it.");
  }
  if (!answer.pulleys.empty()) {
    text += '\n' + pulleys_table(answer).text() + "\nRuns in the order the belt travels:\n" +
            runs_table(answer).text() + approaches(answer);
    text += cover_points(answer) + own_check(answer);
  }
  return text + sentences::missing(heading.missing);
}

std::string sections_text() {
  return std::string("The belt sections that are known; lengths in mm.\n") + '\n' +
         sections_table().text() + '\n' +
         wrapped(
             "Land-line, back-line: from the land between teeth, or the back, to the pitch line. "
             "Roller: the diameter of a smooth roller on the back. "
             "Numbers are from the standards named, from memory; where the trust is low, or "
             "your belt measures otherwise, give its own numbers in the profile's [belt]. Least "
             "teeth and rollers are common practice; a dash is not known.");
}

std::string none_text(const Heading& heading, const NoAnswer& none) {
  return wrapped(none.text) + sentences::heading(heading) + sentences::refusals(none.refused) +
         sentences::missing(heading.missing);
}

}  // namespace twoturn
