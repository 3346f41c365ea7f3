#include "answer_tables.hpp"

#include <fmt/format.h>

#include <string>

#include "csv_row.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using Align = TextTable::Align;

std::string reading_head(TensionerKind kind) {
  return kind == TensionerKind::swing ? "roller\nclock" : "mm from\nslack end";
}

std::string yes_or_no(bool value) { return value ? "yes" : "no"; }

// What one place of the tensioner comes to, behind its belt's count.
std::vector<AnswerTable::Column> setting_columns(TensionerKind kind) {
  return {{reading_head(kind), "tensioner stands at", in_unit("at", kind)},
          {"pointer\nclock", {}, "pointer_deg"},
          {"travel", {}, "travel"},
          {{}, {}, "in_travel"},
          {"over\ncentre", {}, "over_centre", Align::left},
          {"adjustment\nleft mm", {}, "adjustment_left_mm"},
          {"in\nteeth", {}, {}}};
}

void add_setting(const Setting& setting, std::vector<AnswerTable::Cell>& row) {
  AnswerTable::Cell at = cells::number(setting.reading.value, digits(setting.reading.kind));
  at.page = sentences::setting(setting);
  row.push_back(std::move(at));
  row.push_back(cells::number(setting.pointer_deg, 1));
  row.push_back(cells::number(setting.travel, 2));
  row.push_back(cells::words(yes_or_no(setting.in_travel)));
  row.push_back(cells::words(sentences::word(setting.over_centre)));
  row.push_back(cells::number(setting.adjustment_left_mm, 2));
  row.push_back(cells::number(setting.adjustment_left_teeth, 2));
}

template <class Items>
void append(std::vector<AnswerTable::Column>& columns, const Items& more) {
  columns.insert(columns.end(), more.begin(), more.end());
}

}  // namespace

AnswerTable pulleys_table(const RouteAnswer& answer) {
  AnswerTable table({{"pulley", "pulley", "name", Align::left},
                     {"runs\non its", "runs on", "face", Align::left},
                     {"goes round\n(wrap) deg", "wrap, deg", "wrap_deg"},
                     {"teeth", "teeth", "teeth"},
                     {"in mesh", "in mesh", "mesh_exact_teeth"},
                     {{}, {}, "teeth_in_mesh"},
                     {"pitch\nradius mm", "pitch radius, mm", "pitch_radius_mm"},
                     {"centre\nright mm", "right, mm", "centre_right_mm"},
                     {"up mm", "up, mm", "centre_up_mm"},
                     {{}, {}, "run_to"},
                     {{}, {}, "run_length_mm"}});
  for (std::size_t i = 0; i < answer.pulleys.size(); ++i) {
    const RoutePulley& pulley = answer.pulleys[i];
    AnswerTable::Cell face = cells::words(pulley.face == Face::back ? "back" : "teeth");
    face.csv = word(pulley.face);
    table.add({cells::words(pulley.name), std::move(face), cells::number(pulley.wrap_deg, 1),
               cells::count(pulley.teeth > 0 ? std::optional(pulley.teeth) : std::nullopt),
               cells::number(pulley.mesh_exact, 1), cells::count(pulley.teeth_in_mesh),
               cells::number(pulley.pitch_radius_mm, 2), cells::number(pulley.centre_mm.x(), 1),
               cells::number(pulley.centre_mm.y(), 1), cells::words(answer.spans[i].to),
               cells::number(answer.spans[i].length_mm, 2)});
  }
  return table;
}

AnswerTable runs_table(const RouteAnswer& answer, std::span<const SeenRun> seen) {
  AnswerTable table({{"run of belt", "run", {}, Align::left},
                     {"length mm", "length, mm", {}},
                     {"", "side", {}, Align::left}});
  for (std::size_t i = 0; i < answer.spans.size(); ++i) {
    const RouteSpan& span = answer.spans[i];
    AnswerTable::Cell side{"", "-", ""};
    if (i == 0) side.text = fmt::format("leaves the crank: {}", sentences::kSlackSide);
    if (i + 1 == answer.spans.size()) {
      side.text = fmt::format("arrives at the crank: {}", sentences::kTightSide);
    }
    if (i < seen.size() && seen[i].side == Side::tight) side.page = sentences::kTightSide;
    if (i < seen.size() && seen[i].side == Side::slack) side.page = sentences::kSlackSide;
    table.add({cells::words(span.from + " to " + span.to), cells::number(span.length_mm, 2),
               std::move(side)});
  }
  return table;
}

AnswerTable travel_table(const TensionerAnswer& answer) {
  const bool swing = answer.kind == TensionerKind::swing;
  AnswerTable table(
      {{reading_head(answer.kind), swing ? "roller at clock" : "mm from the slack end",
        in_unit("at", answer.kind)},
       {"pointer", "pointer at clock", "pointer_deg"},
       {"travel", "travel, 0 slack to 1 tight", "travel"},
       {"centre mm\nright", {}, "centre_right_mm"},
       {"up", {}, "centre_up_mm"},
       {"belt\nmm", "belt length, mm", "length_mm"},
       {"teeth", "teeth", "teeth_exact"},
       {"wrap\ndeg", {}, "wrap_deg"},
       {std::string("mm a\n") + unit(answer.kind), {}, in_unit("rate_mm_per", answer.kind)},
       {{}, {}, "over_centre"},
       {{}, "left to take up, mm", "adjustment_left_mm"},
       {"", {}, "refused", Align::left}});
  for (const TravelRow& row : answer.rows) {
    const TensionerPlace& place = row.place;
    const auto of_belt = [&row](auto member) {
      return row.setting ? std::optional((*row.setting).*member) : std::nullopt;
    };
    AnswerTable::Cell length = cells::or_dash(cells::number(of_belt(&Setting::length_mm), 2));
    AnswerTable::Cell teeth = cells::or_dash(cells::number(row.teeth_exact, 2));
    if (row.refused) {
      length.page = "no belt";
      teeth.page = "-";
    }
    const auto over_centre = of_belt(&Setting::over_centre);
    AnswerTable::Cell refused = cells::words(row.refused ? row.refused->text : "");
    refused.text = row.refused ? "no" : "";
    table.add({cells::number(place.reading.value, digits(answer.kind)),
               cells::number(place.pointer_deg, 1), cells::number(place.travel, 2),
               cells::number(place.centre_mm.x(), 1), cells::number(place.centre_mm.y(), 1),
               std::move(length), std::move(teeth), cells::or_dash(cells::number(row.wrap_deg, 1)),
               cells::or_dash(cells::signed_number(of_belt(&Setting::rate), 3)),
               cells::words(over_centre ? sentences::word(*over_centre) : ""),
               cells::number(of_belt(&Setting::adjustment_left_mm), 2), std::move(refused)});
  }
  return table;
}

AnswerTable counts_table(const Drive& drive, const TeethAnswer& answer) {
  const TensionerKind kind = drive.tensioner ? drive.tensioner->path.kind() : TensionerKind::slide;
  std::vector<AnswerTable::Column> columns{{"teeth", "belt teeth", "teeth"}, {{}, {}, "fits"}};
  append(columns, setting_columns(kind));
  append(columns, std::vector<AnswerTable::Column>{
                      {{}, {}, "mismatch_mm"}, {{}, {}, "move_mm"}, {"", {}, {}, Align::left}});
  AnswerTable table(columns);
  for (const FittingCount& count : answer.fits) {
    const Setting* meant =
        drive.tensioner ? meant_setting(count.settings, *drive.tensioner) : nullptr;
    for (const Setting& setting : count.settings) {
      std::string note;
      if (&setting == meant && count.teeth == answer.right_teeth) note = "<- the one meant";
      if (!setting.in_travel) note = "out of its travel";
      std::vector<AnswerTable::Cell> row{cells::count(count.teeth), cells::words("yes")};
      add_setting(setting, row);
      row.insert(row.end(), {{}, {}, cells::words(note)});
      table.add(std::move(row),
                setting.in_travel ? AnswerTable::In::all : AnswerTable::In::text_and_csv);
    }
  }
  for (const NearbyCount& near : answer.nearby) {
    std::vector<AnswerTable::Cell> row{cells::count(near.teeth),
                                       cells::words(yes_or_no(answer.goes_on(near.teeth)))};
    row.resize(columns.size() - 3);
    row.insert(row.end(), {cells::number(near.mismatch_mm, 2), cells::number(near.move_mm, 2), {}});
    table.add(std::move(row), AnswerTable::In::csv);
  }
  return table;
}

AnswerTable compare_table(const CompareAnswer& answer) {
  const TensionerKind kind = answer.kind.value_or(TensionerKind::slide);
  std::vector<AnswerTable::Column> columns{
      {"teeth", {}, "teeth"},     {"mm", {}, "length_mm"}, {"goes\non", {}, "goes_on", Align::left},
      {"chance\nin 100", {}, {}}, {{}, {}, "probability"}, {"off by\nmm", {}, "mismatch_mm"}};
  if (answer.kind) {
    append(columns,
           std::vector<AnswerTable::Column>{{reading_head(kind), {}, in_unit("at", kind)},
                                            {"give or\ntake", {}, in_unit("give_or_take", kind)},
                                            {"pointer\nclock", {}, "pointer_deg"},
                                            {"left\nmm", {}, "adjustment_left_mm"},
                                            {"from\nmarks", {}, in_unit("apart", kind)}});
  }
  AnswerTable table(columns);
  constexpr double kHundred = 100.0;
  for (const ComparedCount& count : answer.counts) {
    std::vector<AnswerTable::Cell> row{cells::count(count.teeth),
                                       cells::number(count.length_mm, 2),
                                       cells::words(yes_or_no(count.goes_on)),
                                       cells::number(kHundred * count.probability, 0),
                                       cells::number(count.probability, 2),
                                       cells::signed_number(count.mismatch_mm, 2)};
    if (answer.kind) {
      const auto of_setting = [&](auto value) -> std::optional<double> {
        return count.meant ? std::optional<double>(value(*count.meant)) : std::nullopt;
      };
      row.push_back(cells::or_dash(cells::number(
          of_setting([](const Setting& at) { return at.reading.value; }), digits(kind))));
      row.push_back(
          cells::number(of_setting([&](const Setting&) { return count.unsure.give_or_take; }), 1));
      row.push_back(cells::number(count.meant ? count.meant->pointer_deg : std::nullopt, 1));
      row.push_back(cells::or_dash(
          cells::number(of_setting([](const Setting& at) { return at.adjustment_left_mm; }), 2)));
      row.push_back(cells::number(count.apart, 1));
    }
    table.add(std::move(row));
  }
  return table;
}

AnswerTable settings_table(const TensionerAnswer& answer) {
  std::vector<AnswerTable::Column> columns = setting_columns(answer.kind);
  append(columns, std::vector<AnswerTable::Column>{{"", {}, {}, Align::left}});
  AnswerTable table(columns);
  for (const Setting& setting : answer.settings) {
    std::string note = answer.only_tightens ? "" : "not meant";
    if (answer.meant && setting.q == answer.meant->q) note = "<- the one meant";
    if (!setting.in_travel) note = "out of its travel";
    std::vector<AnswerTable::Cell> row;
    add_setting(setting, row);
    row.push_back(cells::words(note));
    table.add(std::move(row));
  }
  return table;
}

AnswerTable steps_table(const TurnsAnswer& answer) {
  std::vector<AnswerTable::Column> columns{{"crank\ndeg", {}, "crank_deg"},
                                           {"belt\nteeth", {}, "belt_teeth"}};
  for (const Shaft& shaft : answer.assembly.shafts) {
    columns.push_back({shaft.name + "\nown deg", {}, csv::field(shaft.name + " turned_own_deg")});
    if (!shaft.timed()) continue;
    columns.push_back({"off by\ncrank deg", {}, csv::field(shaft.name + " error_crank_deg")});
  }
  AnswerTable table(columns);
  for (const TurnStep& step : answer.steps) {
    std::vector<AnswerTable::Cell> row{cells::shortest_number(step.crank_deg, 3),
                                       cells::number(step.belt_teeth, 2)};
    for (std::size_t i = 0; i < answer.assembly.shafts.size(); ++i) {
      row.push_back(cells::number(step.shaft_deg[i], 2));
      if (answer.assembly.shafts[i].timed()) {
        row.push_back(cells::signed_number(step.error_crank_deg[i], 2));
      }
    }
    table.add(std::move(row));
  }
  return table;
}

AnswerTable sections_table() {
  AnswerTable table({{"section", {}, "name", Align::left},
                     {"pitch\nmm", {}, "pitch_mm"},
                     {"tooth\nheight", {}, "tooth_height_mm"},
                     {"thick-\nness", {}, "thickness_mm"},
                     {"land-\nline", {}, "land_to_pitch_line_mm"},
                     {"back-\nline", {}, "back_to_pitch_line_mm"},
                     {"least\nteeth", {}, "least_teeth"},
                     {"least\nroller", {}, "least_roller_mm"},
                     {"standard", {}, "standard", Align::left},
                     {"trust", {}, "trust", Align::left}});
  for (const BeltSection& section : belt_sections()) {
    AnswerTable::Cell trust = cells::words(sentences::word(section.trust));
    trust.text = section.trust == Trust::low_confidence ? "low" : "memory";
    table.add({cells::words(section.name), cells::number(section.pitch_mm, 3),
               cells::number(section.tooth_height_mm, 2), cells::number(section.thickness_mm, 2),
               cells::number(section.land_to_pitch_line_mm, 3),
               cells::number(section.back_to_pitch_line_mm(), 3),
               cells::or_dash(cells::count(section.least_teeth)),
               cells::or_dash(cells::shortest_number(section.least_roller_mm, 1)),
               cells::words(section.standard), std::move(trust)});
  }
  return table;
}

AnswerTable rooms_table(const ValvesAnswer& answer) {
  AnswerTable table({{{}, {}, "valve"},
                     {{}, {}, "side"},
                     {{}, {}, "teeth_out"},
                     {{}, {}, "error_crank_deg"},
                     {{}, {}, "least_room_mm"},
                     {{}, {}, "after_overlap_deg"},
                     {{}, {}, "limit_mm"},
                     {{}, {}, "touches_from_deg"},
                     {{}, {}, "touches_to_deg"},
                     {{}, {}, "cylinder"},
                     {{}, {}, "crank_deg"}});
  for (const ValveAnswer& valve : answer.valves) {
    for (const ValveRoomAtTeeth& out : valve.teeth) {
      const ValveRoom& room = out.room;
      const auto where = [&](auto member) {
        return room.where ? std::optional((*room.where).*member) : std::nullopt;
      };
      table.add({cells::words(valve.name), cells::words(word(valve.side)),
                 cells::count(out.teeth_out), cells::number(room.error_crank_deg, 2),
                 cells::number(room.least_mm, 2), cells::number(room.at_deg, 1),
                 cells::number(valve.limit_mm, 2), cells::number(room.touches_from_deg, 1),
                 cells::number(room.touches_to_deg, 1), cells::count(where(&CrankPlace::cylinder)),
                 cells::number(where(&CrankPlace::crank_deg), 1)});
    }
  }
  return table;
}

std::string room_cell(const ValveRoom& room) {
  return fmt::format("{} {}", sentences::value_left(room.least_mm, room.unsure),
                     sentences::word(room.stands));
}

}  // namespace twoturn
