#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/reading.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string told(const HandPull& pull) {
  return fmt::format("{} Nm ({} lbf ft), {} N at the end of a spanner {} mm long",
                     fixed(pull.nm, 1), fixed(pull.lbf_ft, 1), fixed(pull.at_spanner_n, 0),
                     fixed(kSpannerMm, 0));
}

std::string first_line(const FeelAnswer& answer) {
  const std::string humps = counted(static_cast<int>(answer.humps.size()), "hump", "humps");
  if (!answer.springs_known) {
    return wrapped(fmt::format(
        "Two turns by hand have {}; how high they are hangs on the valve springs, which are not "
        "all given.",
        humps));
  }
  return wrapped(fmt::format("Two turns by hand, plugs out, have {}; the highest is {}.", humps,
                             told(answer.greatest)));
}

// "inlet 2 and exhaust 4": valve and cylinder.
std::string parts(const FeelHump& hump) {
  std::string text;
  for (std::size_t k = 0; k < hump.parts.size(); ++k) {
    if (k > 0) text += k + 1 == hump.parts.size() ? " and " : ", ";
    text += fmt::format("{} {}", hump.parts[k].valve, hump.parts[k].cylinder);
  }
  return text;
}

std::string humps_table(const FeelAnswer& answer) {
  TextTable table(
      {{answer.at_engine_place ? "crank deg\nfrom pins in" : "crank deg past\nfiring top, cyl 1"},
       {answer.at_engine_place ? "past firing\ntop, cyl 1" : ""},
       {answer.springs_known ? "Nm" : ""},
       {answer.springs_known ? "lbf ft" : ""},
       {answer.springs_known ? "N at\n300 mm" : ""},
       {"springs of", Align::left},
       {"cylinder", Align::left}});
  for (const FeelHump& hump : answer.humps) {
    const HandPull pull = hump.pull.value_or(HandPull{});
    table.add({fixed(hump.crank_deg, 0),
               hump.past_firing_deg ? fixed(*hump.past_firing_deg, 0) : "",
               hump.pull ? fixed(pull.nm, 1) : "", hump.pull ? fixed(pull.lbf_ft, 1) : "",
               hump.pull ? fixed(pull.at_spanner_n, 0) : "", parts(hump)});
  }
  return "\nThe humps, in the order in which they come:\n" + table.text();
}

std::string spans(const std::vector<FeelSpan>& all) {
  std::string text;
  for (const FeelSpan& span : all) {
    if (!text.empty()) text += ", ";
    text += fmt::format("{} to {}", fixed(span.from_deg, 0), fixed(span.to_deg, 0));
  }
  return text;
}

std::string hump_words(const FeelAnswer& answer) {
  std::string text = wrapped(
      "A hump gives way to a steady pull and stands at the same place every two turns. A solid "
      "stop, or a hump where none is listed, is no spring: stop, turn back a little, find out.");
  if (answer.springs_known && !answer.runs_on.empty()) {
    text += wrapped(fmt::format(
        "The springs turn the crank on by themselves at {} crank deg, with up to {} Nm: hold it "
        "there, fingers away from belt and pulleys.",
        spans(answer.runs_on), fixed(-answer.least_nm, 1)));
  }
  text += wrapped(answer.drag_known
                      ? fmt::format("Of every figure {} Nm is the drag that the profile states.",
                                    fixed(answer.drag_nm, 1))
                      : "Drag of pistons, bearings and pumps is not given (drag_nm): it comes on "
                        "top, the same all the way round.");
  return text;
}

std::string runs_table(const FeelBelt& belt) {
  TextTable table({{"run from", Align::left},
                   {"to", Align::left},
                   {"gives over\nmm"},
                   {"least\nN"},
                   {"at\ndeg"},
                   {"most\nN"},
                   {"at\ndeg"},
                   {"slack at", Align::left}});
  for (const FeelRun& run : belt.runs) {
    table.add({run.from, run.to, fixed(run.length_mm, 0), fixed(run.least_n, 0),
               fixed(run.least_at_deg, 0), fixed(run.greatest_n, 0), fixed(run.greatest_at_deg, 0),
               spans(run.slack)});
  }
  return table.text();
}

std::string shafts_table(const FeelBelt& belt) {
  TextTable table({{"shaft", Align::left},
                   {"most early\ncrank deg"},
                   {"at\ndeg"},
                   {"most late\ncrank deg"},
                   {"at\ndeg"}});
  for (const FeelShaft& shaft : belt.shafts) {
    table.add({shaft.name, fixed(std::max(0.0, shaft.most_early_deg), 2),
               fixed(shaft.early_at_deg, 0), fixed(std::max(0.0, -shaft.most_late_deg), 2),
               fixed(shaft.late_at_deg, 0)});
  }
  return table.text();
}

std::string tensioner_words(const FeelBelt& belt) {
  if (!belt.kind) return "";
  std::string text =
      fmt::format("Its sprung tensioner goes from {} to {} {} while you turn.",
                  fixed(belt.least_reading, digits(*belt.kind)),
                  fixed(belt.greatest_reading, digits(*belt.kind)), unit(*belt.kind));
  if (belt.on_stop) text += " It comes to a stop of its travel: it holds the belt no longer there.";
  if (belt.over_centre) text += " It goes over centre: that must not be.";
  return wrapped(text);
}

std::string belt_words(const FeelAnswer& answer) {
  if (!answer.belt) return "";
  const FeelBelt& belt = *answer.belt;
  std::string text =
      "\n" +
      wrapped(fmt::format("The belt with its give, {} N in every run without a load:",
                          fixed(belt.static_n, 0))) +
      runs_table(belt) + "\n" +
      wrapped("What its stretch does to the shafts, against a belt without give:") +
      shafts_table(belt);
  const bool slack = std::any_of(belt.runs.begin(), belt.runs.end(),
                                 [](const FeelRun& run) { return !run.slack.empty(); });
  text += wrapped(slack ? "Where a run is slack the belt may jump a tooth: turn gently, and look "
                          "whether it is tight enough."
                        : "No run goes slack.");
  text += tensioner_words(belt);
  for (const FeelSnap& snap : belt.snaps) {
    text += wrapped(
        fmt::format("- at {} crank deg {} snaps {} deg {} on its springs.",
                    fixed(snap.crank_deg, 0), the(snap.shaft), fixed(std::abs(snap.own_deg), 1),
                    snap.own_deg > 0.0 ? "forwards" : "back"),
        2);
  }
  for (const std::string& name : belt.undetermined) {
    text += wrapped(
        fmt::format("- where {} stands between its two slack runs nothing tells.", the(name)), 2);
  }
  if (!belt.settled) {
    text +=
        wrapped("- some steps have no balance: there the figures are of a belt without give.", 2);
  }
  return text;
}

std::string teeth_words(const FeelStop& stop) {
  if (stop.as_fitted) return "as it stands";
  return fmt::format("with its cam {} {}", counted(std::abs(stop.teeth_out), "tooth", "teeth"),
                     stop.teeth_out > 0 ? "early" : "late");
}

std::string stop_words(const FeelAnswer& answer) {
  if (!answer.stops_known) return "";
  if (answer.stops.empty()) {
    return "\n" + wrapped("No valve that is known meets its piston, up to four teeth out.");
  }
  std::string text =
      "\n" + wrapped(
                 "Where a valve would stop the crank against its piston, turning on, and "
                 "coming back from the other side of it:");
  for (const FeelStop& stop : answer.stops) {
    text += wrapped(fmt::format("- {}, cylinder {}, {}: at {} and at {} crank deg.",
                                sentences::valve(stop.valve), stop.cylinder, teeth_words(stop),
                                fixed(stop.forwards_deg, 0), fixed(stop.backwards_deg, 0)),
                    2);
  }
  return text;
}

std::string compression_words(const FeelAnswer& answer) {
  if (!answer.compression) return "";
  const FeelCompression& air = *answer.compression;
  return "\n" +
         wrapped(fmt::format(
             "With all plugs in, air squeezed {} to 1 asks at most {} more, {} crank deg before "
             "each top dead centre; it gives way slowly as the air leaks. Turn with plugs out.",
             fixed(air.ratio, 1), told(air.greatest), fixed(air.before_top_deg, 0)));
}

}  // namespace

std::string feel_text(const Heading& heading, const FeelAnswer& answer) {
  return first_line(answer) + sentences::heading(heading) + humps_table(answer) +
         hump_words(answer) + belt_words(answer) + stop_words(answer) + compression_words(answer) +
         sentences::missing(heading.missing);
}

}  // namespace twoturn
