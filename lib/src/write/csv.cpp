#include "twoturn/write/csv.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "answer_tables.hpp"
#include "csv_row.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using csv::field;
using csv::row;

std::string yes_or_no(bool value) { return value ? "yes" : "no"; }

TensionerKind kind_of(const Drive& drive) {
  return drive.tensioner ? drive.tensioner->path.kind() : TensionerKind::slide;
}

}  // namespace

std::string route_csv(const RouteAnswer& answer) {
  return pulleys_table(answer).csv({"name", "teeth", "face", "centre_right_mm", "centre_up_mm",
                                    "pitch_radius_mm", "wrap_deg", "mesh_exact_teeth",
                                    "teeth_in_mesh", "run_to", "run_length_mm"});
}

std::string teeth_csv(const Drive& drive, const TeethAnswer& answer) {
  const std::string at = in_unit("at", kind_of(drive));
  std::string text = row({"teeth", "fits", at, "pointer_deg", "travel", "in_travel", "over_centre",
                          "adjustment_left_mm", "mismatch_mm", "move_mm"});
  for (const FittingCount& count : answer.fits) {
    for (const Setting& setting : count.settings) {
      text += row({field(count.teeth), "yes", field(setting.reading.value),
                   field(setting.pointer_deg), field(setting.travel), yes_or_no(setting.in_travel),
                   field(sentences::word(setting.over_centre)), field(setting.adjustment_left_mm),
                   "", ""});
    }
  }
  for (const NearbyCount& count : answer.nearby) {
    bool fits = false;
    for (const FittingCount& fitting : answer.fits) fits = fits || fitting.teeth == count.teeth;
    text += row({field(count.teeth), yes_or_no(fits), "", "", "", "", "", "",
                 field(count.mismatch_mm), field(count.move_mm)});
  }
  return text;
}

std::string tensioner_csv(const TensionerAnswer& answer) {
  const std::string at = in_unit("at", answer.kind);
  const std::string rate = in_unit("rate_mm_per", answer.kind);
  return travel_table(answer).csv({at, "pointer_deg", "travel", "centre_right_mm", "centre_up_mm",
                                   "length_mm", "teeth_exact", "wrap_deg", rate, "over_centre",
                                   "adjustment_left_mm", "refused"});
}

std::string turns_csv(const TurnsAnswer& answer) {
  std::vector<std::string> head{"crank_deg", "belt_teeth"};
  const std::vector<Shaft>& shafts = answer.assembly.shafts;
  for (const Shaft& shaft : shafts) {
    head.push_back(field(shaft.name + " turned_own_deg"));
    if (shaft.timed()) head.push_back(field(shaft.name + " error_crank_deg"));
  }
  std::string text = row(head);
  for (const TurnStep& step : answer.steps) {
    std::vector<std::string> fields{field(step.crank_deg), field(step.belt_teeth)};
    for (std::size_t i = 0; i < shafts.size(); ++i) {
      fields.push_back(field(step.shaft_deg[i]));
      if (shafts[i].timed()) fields.push_back(field(step.error_crank_deg[i]));
    }
    text += row(fields);
  }
  return text;
}

std::string sections_csv() {
  std::string text =
      row({"name", "pitch_mm", "tooth_height_mm", "thickness_mm", "land_to_pitch_line_mm",
           "back_to_pitch_line_mm", "least_teeth", "least_roller_mm", "standard", "trust"});
  for (const BeltSection& section : belt_sections()) {
    text += row({field(section.name), field(section.pitch_mm), field(section.tooth_height_mm),
                 field(section.thickness_mm), field(section.land_to_pitch_line_mm),
                 field(section.back_to_pitch_line_mm()), field(section.least_teeth),
                 field(section.least_roller_mm), field(section.standard),
                 field(sentences::word(section.trust))});
  }
  return text;
}

std::string valves_csv(const ValvesReport& report) {
  std::string text =
      row({"valve", "side", "teeth_out", "error_crank_deg", "least_room_mm", "after_overlap_deg",
           "limit_mm", "touches_from_deg", "touches_to_deg", "cylinder", "crank_deg"});
  for (const ValveAnswer& valve : report.engine.valves->valves) {
    for (const ValveRoomAtTeeth& out : valve.teeth) {
      const ValveRoom& room = out.room;
      text += row({field(valve.name), field(word(valve.side)), field(out.teeth_out),
                   field(room.error_crank_deg), field(room.least_mm), field(room.at_deg),
                   field(valve.limit_mm), field(room.touches_from_deg), field(room.touches_to_deg),
                   room.where ? field(room.where->cylinder) : "",
                   room.where ? field(room.where->crank_deg) : ""});
    }
  }
  return text;
}

}  // namespace twoturn
