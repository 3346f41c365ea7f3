#include <fmt/format.h>

#include <cmath>

#include "text_engine_parts.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/study/park_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string tenths(double value) { return fixed(value, 1); }

std::string needs_table(const ParkAnswer& park) {
  TextTable table({{"cylinder"},
                   {"valve", Align::left},
                   {"comes down\nmm"},
                   {"room at\nTDC mm"},
                   {"margin\nmm"},
                   {"piston to be\ndown mm"}});
  for (const ParkNeed& need : park.needs) {
    table.add({std::to_string(need.cylinder), need.valve, fixed(need.greatest_drop_mm, 2),
               fixed(need.room_tdc_mm, 2), shortest(need.margin_mm, 2),
               fixed(std::max(need.need_mm, 0.0), 2)});
  }
  return "\nHow far each piston must be down, cams anywhere:\n" + table.text();
}

std::string intervals(const ParkAnswer& park) {
  std::string text;
  for (const ParkInterval& interval : park.clear) {
    text += wrapped(fmt::format("- from {} to {} crank deg", tenths(interval.from_deg),
                                tenths(interval.to_deg)),
                    2);
  }
  return text.empty() ? ""
                      : "\nClear of every valve, past top dead centre of cylinder 1 (the ends "
                        "left out,\nevery turn alike):\n" +
                            text;
}

std::string timing_words(const ParkAnswer& park) {
  if (!park.timing_spare_mm) return "";
  if (*park.timing_spare_mm > 0.0) {
    return wrapped(
        fmt::format("The timing position itself ({} crank deg) is clear too: {} beyond the margin.",
                    tenths(*park.timing_position_deg),
                    sentences::mm_amid(*park.timing_spare_mm, park.timing_unsure)));
  }
  return wrapped(fmt::format(
      "The timing position itself ({} crank deg) is not clear, {} short: there no cam may turn "
      "with the belt off.",
      tenths(*park.timing_position_deg),
      sentences::mm_amid(-*park.timing_spare_mm, park.timing_unsure)));
}

std::string listed(const std::vector<double>& values) {
  std::string text;
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (k > 0) text += k + 1 == values.size() ? " or " : ", ";
    text += tenths(values[k]);
  }
  return text;
}

std::string counted_line(const CountedParkAnswer& answer) {
  constexpr double kPercent = 100.0;
  const std::string share = fixed(kPercent * answer.park.stroke_share, 1);
  if (!answer.enough) {
    return wrapped(fmt::format(
        "None: with {} cylinders so placed no crank position keeps every piston down. At best, {} "
        "crank deg from the nearest top dead centre, a piston is {} % of its stroke down, and a "
        "valve is taken to open by {} % of it (our own figure; the engine's is not known).",
        answer.cylinders, tenths(answer.park.from_top_deg), share,
        shortest(kPercent * kTakenLiftShare, 1)));
  }
  return wrapped(fmt::format(
      "From the number of cylinders alone: park the crank at {} crank deg past top dead centre of "
      "cylinder 1. Every piston is then {} crank deg or more from its own, at least {} % of its "
      "stroke down; a valve is taken to open by {} % of it (our own figure; the engine's is not "
      "known).",
      listed(answer.park.best_deg), tenths(answer.park.from_top_deg), share,
      shortest(kPercent * kTakenLiftShare, 1)));
}

std::string counted_text(const CountedParkAnswer& answer) {
  std::string text = "Top dead centres, crank deg past that of cylinder 1: ";
  for (std::size_t k = 0; k < answer.phases.top_deg.size(); ++k) {
    text += fmt::format("{}{} at {}", k == 0 ? "" : ", ", k + 1, tenths(answer.phases.top_deg[k]));
  }
  if (answer.phases.even) text += " (even firing taken, whatever its order)";
  return wrapped(text + ".") +
         wrapped(
             "Whether the valves clear the pistons there has not been worked out: that takes "
             "stroke, rod, lift and room at top dead centre. Follow the engine maker's manual; "
             "until it is known, treat as if they can touch.");
}

}  // namespace

std::string text_engine::park_line(const ParkAnswer& park) {
  if (!park.best_is_clear) {
    return wrapped(fmt::format(
        "None: no crank position is clear of every valve wherever the cams stand. At the best, {} "
        "crank deg past top dead centre of cylinder 1, the piston of cylinder {} is {} short.",
        tenths(park.best_deg), park.best_cylinder,
        sentences::mm_amid(-park.best_spare_mm, park.best_unsure)));
  }
  return wrapped(fmt::format(
      "Park the crank at {} crank deg past top dead centre of cylinder 1: wherever the cams stand, "
      "every piston is {} beyond the margin, or more.",
      tenths(park.best_deg), sentences::mm_amid(park.best_spare_mm, park.best_unsure)));
}

std::string text_engine::park_ways(const ParkAnswer& park) {
  if (park.ways.empty()) return "";
  std::string text = fmt::format(
      "\nFrom there to the timing position ({} crank deg), cams standing at their pins:\n",
      tenths(*park.timing_position_deg));
  for (const ParkWay& way : park.ways) text += wrapped("- " + told(way) + ".", 2);
  if (const ParkWay* shorter = way_to_take(park)) {
    text += wrapped(fmt::format("Take the shorter clear way: {} crank deg {}.",
                                tenths(shorter->turn_deg),
                                shorter->way == TurnWay::forwards ? "forwards" : "backwards"));
  } else {
    text += wrapped(
        "Neither way is clear: loosen the cams or rockers so that the valves shut, or follow the "
        "manual's own order.");
  }
  return text +
         wrapped(
             "Backwards is allowed here alone: belt off, before anything is tensioned. With the "
             "belt on, forwards only.");
}

std::string park_text(const Heading& heading, const ParkReport& report) {
  std::string text;
  if (report.park) {
    const ParkAnswer& park = *report.park;
    text = text_engine::park_line(park) + sentences::heading(heading) + intervals(park);
    text += timing_words(park) + needs_table(park) + text_engine::park_ways(park);
    if (park.best_is_timing) text += "\nThat is the timing position: nothing to turn.\n";
    text += text_engine::pistons_table(park.at_best, "there");
    text += '\n' + wrapped(
                       "Find top dead centre with a gauge or a stop, not by eye, and hold the "
                       "crank there. Plugs out. The manual's own position comes before this one.");
  } else if (report.counted) {
    text = counted_line(*report.counted);
    if (!heading.profile.empty()) text += sentences::heading(heading);
    text += counted_text(*report.counted);
  }
  if (report.asked) text += text_engine::pistons_table(*report.asked, "where asked");
  if (report.pistons && report.pistons->at_pins) {
    text += text_engine::pistons_table(*report.pistons->at_pins, "with all pins in");
  }
  return text + sentences::missing(heading.missing);
}

}  // namespace twoturn
