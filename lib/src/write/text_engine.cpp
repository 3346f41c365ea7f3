#include "twoturn/write/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "answer_tables.hpp"
#include "text_engine_parts.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string teeth_out_words(int teeth) {
  if (teeth == 0) return "in its tooth";
  return fmt::format("{} {}", counted(std::abs(teeth), "tooth", "teeth"),
                     sentences::early_or_late(teeth, Direction::given));
}

std::string where_words(const ValveRoom& room) {
  if (!room.where) return "";
  return fmt::format(", in cylinder {} at {} crank deg", room.where->cylinder,
                     fixed(room.where->crank_deg, 1));
}

std::string first_line(const ValvesAnswer& valves) {
  const ValveAnswer& valve = tightest_valve(valves);
  const ValveRoom& room = valve.fitted;
  if (room.stands == RoomStands::touches) {
    return wrapped(fmt::format(
        "TOUCHES: {} meets its piston, {} too little room; turned forwards {}{}. Do "
        "not turn it.",
        the(sentences::valve(valve.name)), sentences::mm_amid(-room.least_mm, room.unsure),
        sentences::overlap_place(*room.touches_from_deg), where_words(room)));
  }
  return wrapped(fmt::format("Least room over two turns: {} between {} and piston, {}{}.",
                             sentences::mm_amid(room.least_mm, room.unsure),
                             sentences::valve(valve.name), sentences::overlap_place(room.at_deg),
                             where_words(room)));
}

std::string cylinders_cell(const std::vector<int>& cylinders, int all) {
  if (static_cast<int>(cylinders.size()) == all) return "all";
  std::string text;
  for (const int cylinder : cylinders) {
    text += (text.empty() ? "" : " ") + std::to_string(cylinder);
  }
  return text;
}

std::string valves_table(const ValvesAnswer& valves, int cylinders) {
  TextTable table({{"valve", Align::left},
                   {"cylinders", Align::left},
                   {"opens\nmm"},
                   {"room at\nTDC mm"},
                   {"by the\nbook mm"},
                   {"head\nnearer"},
                   {"as\nfitted"},
                   {"limit"},
                   {"", Align::left}});
  for (const ValveAnswer& valve : valves.valves) {
    const auto cell = [](const ValveRoom& room) {
      return sentences::value_left(room.least_mm, room.unsure);
    };
    table.add({valve.name, cylinders_cell(valve.cylinders, cylinders),
               fixed(valve.greatest_lift_mm, 2), fixed(valve.room_tdc_mm, 2), cell(valve.book),
               cell(valve.nearer), cell(valve.fitted), shortest(valve.limit_mm, 2),
               std::string(sentences::word(valve.fitted.stands))});
  }
  return "\nLeast room along the bore (by the book; the head's height alone as fitted; all\n"
         "as fitted):\n" +
         table.text();
}

std::string column_head(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '\n');
  return name;
}

// Whole teeth out, a column a valve; at most so many side by side.
std::string teeth_grid(const ValvesAnswer& valves) {
  constexpr std::size_t kColumns = 4;
  std::vector<const ValveAnswer*> shown;
  for (const ValveAnswer& valve : valves.valves) {
    if (!valve.teeth.empty()) shown.push_back(&valve);
  }
  std::string text;
  for (std::size_t from = 0; from < shown.size(); from += kColumns) {
    const std::size_t to = std::min(from + kColumns, shown.size());
    std::vector<TextTable::Column> columns{{"cam out by", Align::left}};
    for (std::size_t k = from; k < to; ++k) columns.push_back({column_head(shown[k]->name)});
    TextTable table(columns);
    for (std::size_t row = 0; row < shown[from]->teeth.size(); ++row) {
      const int teeth = shown[from]->teeth[row].teeth_out;
      std::vector<std::string> cells{teeth_out_words(teeth)};
      for (std::size_t k = from; k < to; ++k) {
        cells.push_back(room_cell(shown[k]->teeth[row].room));
      }
      table.add(cells);
    }
    text += table.text();
  }
  return text.empty() ? ""
                      : "\nA cam whole teeth out, all else as fitted (least room, mm):\n" + text;
}

std::string touch_lines(const ValvesAnswer& valves) {
  std::string text;
  for (const ValveAnswer& valve : valves.valves) {
    for (const ValveRoomAtTeeth& out : valve.teeth) {
      const ValveRoom& room = out.room;
      if (room.stands != RoomStands::touches) continue;
      const std::string teeth = teeth_out_words(out.teeth_out);
      text +=
          wrapped(fmt::format("- {}, cam {}: touches {}{}.", sentences::valve(valve.name), teeth,
                              sentences::overlap_place(*room.touches_from_deg), where_words(room)),
                  2);
    }
  }
  return text.empty()
             ? ""
             : "\nWhere they touch first, turned forwards from the timing position:\n" + text;
}

std::string off_words(const ValveRoom& room) {
  const sentences::Give give = sentences::give_of(room.unsure);
  if (give.size.empty()) return "";
  return fmt::format(" Its least room may be off by {} mm, most of it from {}.", give.size,
                     sentences::number_of(room.unsure.most));
}

std::string phase_words(const ValveAnswer& valve) {
  const double error = valve.fitted.error_crank_deg;
  std::string text = fmt::format("- {}: ", sentences::valve(valve.name));
  switch (valve.phase_from) {
    case PhaseFrom::book:
      text += "its cam is taken in its place";
      break;
    case PhaseFrom::two_turns:
      text += "two turns of the drive leave its cam";
      break;
    case PhaseFrom::counts:
      text += "teeth out alone (the drive's places are not known) leave its cam";
      break;
  }
  if (valve.phase_from != PhaseFrom::book) {
    text += prints_as_nothing(error, 2)
                ? std::string(" in its place")
                : fmt::format(" {} crank deg {}", fixed(std::abs(error), 2),
                              sentences::early_or_late(error, valve.direction));
  }
  if (valve.tooth_crank_deg) {
    text += fmt::format("; a tooth is {} crank deg", fixed(*valve.tooth_crank_deg, 2));
  }
  if (!prints_as_nothing(valve.nearer_mm, 2)) {
    text += fmt::format("; head and piston {} mm {}", fixed(std::abs(valve.nearer_mm), 2),
                        valve.nearer_mm > 0.0 ? "nearer" : "farther apart");
  }
  text +=
      fmt::format(". Leaves its seat {} and is back {}", sentences::overlap_place(valve.opens_deg),
                  sentences::overlap_place(valve.closes_deg));
  if (!valve.law_given) text += "; cycloidal lift is taken, as no law and no table is given";
  if (!valve.crown_given && valve.valve_deg != 0.0) text += "; a pocket is taken, the nearer crown";
  if (valve.room_from_clay) text += "; room at top dead centre from the clay";
  return wrapped(text + "." + off_words(valve.fitted), 2);
}

std::string pair_lines(const ValvesAnswer& valves) {
  std::string text;
  for (const ValvePairAnswer& pair : valves.pairs) {
    text += wrapped(
        fmt::format("- {}: {} apart at least, {} (by the book {}; limit {} mm, "
                    "{}).",
                    sentences::valves(pair.inlet, pair.exhaust),
                    sentences::mm_amid(pair.fitted_mm, pair.fitted_unsure),
                    sentences::overlap_place(pair.at_deg),
                    sentences::mm(pair.book_mm, pair.book_unsure), shortest(pair.limit_mm, 2),
                    pair.limit_given ? "as given" : "from memory"),
        2);
  }
  return text.empty() ? "" : "\nValve to valve, as straight edges in one plane:\n" + text;
}

std::string any_cam_words(const ValvesAnswer& valves) {
  if (!valves.complete) {
    return wrapped(
        "Not every cylinder's valves are given: for the others it is not known whether they can "
        "hit pistons; treat as if they do.");
  }
  if (valves.can_meet) {
    return wrapped(
        "With its cam in the wrong place a valve can reach a piston in this engine: a slipped belt "
        "bends valves.");
  }
  return wrapped(
      "By these numbers no valve reaches a piston wherever the cams stand. That is the numbers, "
      "not the engine: turn it by hand with the same care.");
}

}  // namespace

std::string text_engine::pistons_table(const PistonsAt& at, const std::string& what) {
  TextTable table({{"cylinder"}, {"after its\nTDC, deg"}, {"below\nTDC, mm"}, {"", Align::left}});
  for (const PistonPlace& place : at.places) {
    table.add({std::to_string(place.cylinder), fixed(place.after_top_deg, 1),
               fixed(place.depth_mm, 2),
               fmt::format("{} mm {} half stroke", fixed(std::abs(place.below_half_mm), 2),
                           place.below_half_mm < 0.0 ? "above" : "below")});
  }
  return fmt::format("\nPistons {} ({} crank deg):\n", what, shortest(at.crank_deg, 2)) +
         table.text();
}

std::string text_engine::compression(const CompressionAnswer& answer) {
  if (!answer.ratio) return "";
  std::string text =
      fmt::format("Compression ratio{}: {} by the book",
                  answer.head.empty() ? "" : fmt::format(" under {}", the(answer.head)),
                  fixed(*answer.ratio, 2));
  if (answer.nearer_mm != 0.0 && answer.ratio_after) {
    text += fmt::format(
        ", {} with {} mm {} (chamber {} cc, was {} cc; taken off over the whole "
        "bore)",
        fixed(*answer.ratio_after, 2), fixed(std::abs(answer.nearer_mm), 2),
        answer.nearer_mm > 0.0 ? "off" : "more", fixed(*answer.left_after_cc, 2),
        fixed(*answer.left_cc, 2));
  }
  return wrapped(text + ".");
}

std::string text_engine::compression(const std::vector<CompressionAnswer>& answers) {
  std::string text;
  for (const CompressionAnswer& answer : answers) text += compression(answer);
  return text.empty() ? "" : '\n' + text;
}

std::string text_engine::in_check(const EngineAnswers& engine) {
  std::string text;
  if (engine.valves) {
    text += "\nLeast room between valve and piston over two turns:\n";
    for (const ValveAnswer& valve : engine.valves->valves) {
      text += wrapped(
          fmt::format("- {}: {} {} (limit {} mm, {}): {}.", valve.name,
                      sentences::mm_amid(valve.fitted.least_mm, valve.fitted.unsure),
                      sentences::overlap_place(valve.fitted.at_deg), shortest(valve.limit_mm, 2),
                      valve.limit_given ? "as given" : "common practice",
                      std::string(sentences::word(valve.fitted.stands))),
          2);
    }
  }
  if (engine.park) text += park_line(*engine.park) + park_ways(*engine.park);
  if (engine.pistons && engine.pistons->at_pins) {
    text += pistons_table(*engine.pistons->at_pins, "with all pins in");
  }
  return text + compression(engine.compression);
}

std::string valves_text(const Heading& heading, const ValvesReport& report) {
  const ValvesAnswer& valves = *report.engine.valves;
  std::string text = first_line(valves) + sentences::heading(heading);
  text += valves_table(valves, report.engine.pistons->cylinders) + teeth_grid(valves) +
          touch_lines(valves) + pair_lines(valves);
  text += "\nTaken for that:\n";
  for (const ValveAnswer& valve : valves.valves) text += phase_words(valve);
  text += '\n' + any_cam_words(valves);
  text += wrapped(
      "Limits are common practice unless given. Crank deg count on in the running direction from "
      "the top dead centre at which cylinder 1 fires; on overlap is the other one, between exhaust "
      "and inlet stroke. Valves that float or stick and followers that are pumped up are in none "
      "of these numbers.");
  if (report.asked) text += text_engine::pistons_table(*report.asked, "where asked");
  if (report.engine.pistons && report.engine.pistons->at_pins) {
    text += text_engine::pistons_table(*report.engine.pistons->at_pins, "with all pins in");
  }
  text += text_engine::compression(report.engine.compression);
  return text + sentences::missing(heading.missing);
}

}  // namespace twoturn
