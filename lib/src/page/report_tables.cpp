#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"
#include "write/answer_tables.hpp"

namespace twoturn::report {

using html::Data;
using html::List;
using html::Object;

namespace {

Table table_of(const AnswerTable& answer, std::string id, std::string title, std::string lead) {
  return {std::move(id), std::move(title), std::move(lead), answer.page_heads(),
          answer.page_rows()};
}

// What needs tooth counts alone.
std::optional<Table> worth(const ReportAnswer& report) {
  const MarksAnswer& counts = report.counts;
  if (counts.empty()) return std::nullopt;
  Table table{"worth",
              "What one tooth is worth",
              "",
              {"one tooth at", "teeth", "crank deg", "deg of its own"},
              {}};
  for (const ToothWorth& pulley : counts.worth) {
    table.rows.push_back({pulley.name, std::to_string(pulley.teeth), fixed(pulley.crank_deg, 2),
                          fixed(pulley.own_deg, 2)});
  }
  if (counts.paint && !report.check.judged.turns)
    table.lead = printable(sentences::paint(*counts.paint));
  return table;
}

Table counts(const Drive& drive, const TeethAnswer& answer) {
  Table table = table_of(counts_table(drive, answer), "counts", "Tooth counts that go on", "");
  for (const FittingCount& count : answer.fits) {
    if (count.settings.empty()) {
      table.rows.push_back({std::to_string(count.teeth), "fixed centres"});
    }
  }
  if (table.rows.empty()) {
    table.lead = drive.tensioner ? "None goes on within the tensioner's travel."
                                 : "None fits on these fixed centres.";
  }
  return table;
}

std::string give_cell(const GivenValue& value) {
  const GiveOrTake known = give_or_take(value);
  if (known.stated) return shortest(known.value, 4);
  return known.value > 0.0 ? shortest(known.value, 4) + ", usual" : "-";
}

Table given(const CheckAnswer& check) {
  Table table{"given",
              "Values given",
              "Each number of the profile and where it came from. Give or take: 95 %.",
              {"key", "value", "origin", "give or take", "line"},
              {}};
  for (const GivenValue& value : check.given) {
    table.rows.push_back({value.key, value.text, std::string(word(value.origin)), give_cell(value),
                          value.line > 0 ? std::to_string(value.line) : "-"});
  }
  return table;
}

std::string error_cell(const ShaftAfter& seen) {
  const std::string error = sentences::error(seen.error_crank_deg, seen.direction);
  if (error == "right" || !seen.error_edge_mm) return error;
  return fmt::format("{} ({} mm at the mark)", error, fixed(std::abs(*seen.error_edge_mm), 2));
}

Table side_by_side(const CheckAnswer& check) {
  Table table{"fits", "By the book and as fitted", "", {"shaft", "by the book", "as fitted"}, {}};
  const auto& book = check.book->turns->after.front().shafts;
  const auto& fitted = check.judged.turns->after.front().shafts;
  for (std::size_t k = 0; k < fitted.size() && k < book.size(); ++k) {
    const Assembly& assembly = check.judged.turns->assembly;
    table.rows.push_back({assembly.shafts[static_cast<std::size_t>(fitted[k].shaft)].name,
                          error_cell(book[k]), error_cell(fitted[k])});
  }
  return table;
}

std::string with_give(double value, const Unsure& unsure) {
  const sentences::Give give = sentences::give_of(unsure);
  return fixed(value, give.digits) + (give.size.empty() ? "" : ", give or take " + give.size);
}

// As fitted, how far off that may be with it.
std::string fitted_cell(const ValveRoom& room) {
  return fmt::format("{} {}", with_give(room.least_mm, room.unsure), sentences::word(room.stands));
}

Table valves(const ValvesAnswer& answer) {
  Table table{"valves",
              "Least room between valve and piston, mm",
              "As fitted, and with the cam so many whole teeth out (+ early).",
              {"valve", "limit", "by the book", "as fitted"},
              {}};
  for (int teeth = -kMostTeethOut; teeth <= kMostTeethOut; ++teeth) {
    if (teeth != 0) table.heads.push_back(fmt::format("{:+d}", teeth));
  }
  for (const ValveAnswer& valve : answer.valves) {
    std::vector<std::string> row{valve.name, fixed(valve.limit_mm, 2), room_cell(valve.book),
                                 fitted_cell(valve.fitted)};
    for (int teeth = -kMostTeethOut; teeth <= kMostTeethOut; ++teeth) {
      if (teeth == 0) continue;
      const auto found =
          std::find_if(valve.teeth.begin(), valve.teeth.end(),
                       [teeth](const ValveRoomAtTeeth& one) { return one.teeth_out == teeth; });
      row.push_back(found == valve.teeth.end() ? "-" : room_cell(found->room));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table park(const ParkAnswer& answer) {
  Table table{"park",
              "Where to park the crank",
              "Crank deg past top dead centre of cylinder 1. The manual's place comes first.",
              {"place", "crank deg", "to spare, mm"},
              {}};
  if (answer.best_is_clear) {
    table.rows.push_back({"best: no cam can reach a piston", fixed(answer.best_deg, 1),
                          with_give(answer.best_spare_mm, answer.best_unsure)});
  } else {
    table.rows.push_back({"none: some valve reaches its piston wherever the crank stands", "-",
                          with_give(answer.best_spare_mm, answer.best_unsure)});
  }
  for (const ParkWay& way : answer.ways) {
    const char* direction = way.way == TurnWay::forwards ? "forwards" : "backwards, belt off only";
    table.rows.push_back({fmt::format("to the timing position, {}{}", direction,
                                      way.clear ? "" : ": NOT, a valve is met"),
                          fixed(way.turn_deg, 1) + " to turn", fixed(way.least_mm, 2)});
  }
  return table;
}

std::string turned_words(int turns) {
  if (turns == 0) return "pins in";
  return turns == 1 ? "1 turn" : fmt::format("{} turns", turns);
}

std::string clock_cell(const std::optional<double>& clock_deg) {
  return clock_deg ? fmt::format("{} ({})", fixed(*clock_deg, 1), sentences::clock_face(*clock_deg))
                   : "-";
}

}  // namespace

std::vector<Table> tables_of(const ReportAnswer& report) {
  std::vector<Table> tables;
  const FitAnswer& judged = report.check.judged;
  if (std::optional<Table> table = worth(report)) tables.push_back(std::move(*table));
  if (report.check.book && report.check.book->turns && judged.turns) {
    tables.push_back(side_by_side(report.check));
  }
  if (judged.route)
    tables.push_back(table_of(
        pulleys_table(*judged.route), "pulleys", "Pulleys",
        "In the order in which the belt meets them, mm from the crank's centre as drawn."));
  if (judged.route && report.view)
    tables.push_back(
        table_of(runs_table(*judged.route, report.view->runs), "runs", "Runs of belt", ""));
  if (judged.tensioner)
    tables.push_back(table_of(travel_table(*judged.tensioner), "tensioner", "Tensioner", ""));
  if (judged.teeth) {
    tables.push_back(counts(*judged.drive(), *judged.teeth));
  }
  if (report.check.engine.valves) tables.push_back(valves(*report.check.engine.valves));
  if (report.check.engine.park) tables.push_back(park(*report.check.engine.park));
  if (!report.check.given.empty()) tables.push_back(given(report.check));
  return tables;
}

Data turns_of(const ReportAnswer& report) {
  const TurnsAnswer& turns = *report.check.judged.turns;
  List rows;
  for (const AfterTurns& after : turns.after) {
    bool first = true;
    for (const ShaftAfter& seen : after.shafts) {
      const Shaft& shaft = turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)];
      Object row;
      row["first"] = first ? Data::type::bool_true : Data::type::bool_false;
      row["after"] = turned_words(after.turns);
      row["shaft"] = shaft.name;
      row["mark"] = clock_cell(seen.mark_deg);
      row["belongs"] = clock_cell(seen.belongs_deg);
      row["error"] = error_cell(seen);
      row["pin"] =
          std::string(seen.pin_sure ? sentences::word(seen.pin)
                                    : sentences::pin_shows(seen.pin, sentences::Sureness::open));
      rows.push_back(Data(row));
      first = false;
    }
  }
  List between;
  for (const BetweenMarks& count : turns.between_marks) {
    std::string text = sentences::teeth_between_marks({count});
    text = text.substr(text.find("- ") + 2);
    between.push_back(Data(Object{{"text", Data(printable(text))}}));
  }
  Object object{{"rows", Data(rows)},
                {"paint", Data(printable(sentences::paint(turns.paint)))},
                {"between", Data(between)}};
  object["stop"] =
      report.check.verdict == Verdict::stop ? Data::type::bool_true : Data::type::bool_false;
  return Data(object);
}

}  // namespace twoturn::report
