#include "twoturn/write/csv.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

std::string field(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c;
    if (c == '"') quoted += '"';
  }
  return quoted + '"';
}

std::string field(double value) {
  if (!std::isfinite(value)) return "";
  return fmt::format("{}", value == 0.0 ? 0.0 : value);
}

std::string field(int value) { return fmt::format("{}", value); }

template <class T>
std::string field(const std::optional<T>& value) {
  return value ? field(*value) : std::string();
}

std::string yes_or_no(bool value) { return value ? "yes" : "no"; }

std::string row(const std::vector<std::string>& fields) {
  std::string line;
  for (const std::string& one : fields) {
    if (&one != &fields.front()) line += ',';
    line += one;
  }
  return line + "\r\n";
}

TensionerKind kind_of(const Drive& drive) {
  return drive.tensioner ? drive.tensioner->path.kind() : TensionerKind::slide;
}

}  // namespace

std::string route_csv(const RouteAnswer& answer) {
  std::string text =
      row({"name", "teeth", "face", "centre_right_mm", "centre_up_mm", "pitch_radius_mm",
           "wrap_deg", "mesh_exact_teeth", "teeth_in_mesh", "run_to", "run_length_mm"});
  for (std::size_t i = 0; i < answer.pulleys.size(); ++i) {
    const RoutePulley& pulley = answer.pulleys[i];
    text += row({field(pulley.name), pulley.teeth > 0 ? field(pulley.teeth) : "",
                 field(word(pulley.face)), field(pulley.centre_mm.x()), field(pulley.centre_mm.y()),
                 field(pulley.pitch_radius_mm), field(pulley.wrap_deg), field(pulley.mesh_exact),
                 field(pulley.teeth_in_mesh), field(answer.spans[i].to),
                 field(answer.spans[i].length_mm)});
  }
  return text;
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

std::string tensioner_csv(const Drive& drive, const TensionerAnswer& answer) {
  const TensionerKind kind = kind_of(drive);
  std::string text =
      row({in_unit("at", kind), "pointer_deg", "travel", "centre_right_mm", "centre_up_mm",
           "length_mm", "teeth_exact", "wrap_deg", in_unit("rate_mm_per", kind), "over_centre",
           "adjustment_left_mm", "refused"});
  for (const TravelRow& place : answer.rows) {
    const Setting& setting = place.setting;
    const bool tangent = setting.length_mm > 0.0;
    const auto known = [tangent](double value) { return tangent ? field(value) : std::string(); };
    text +=
        row({field(setting.reading.value), field(setting.pointer_deg), field(setting.travel),
             field(setting.centre_mm.x()), field(setting.centre_mm.y()), known(setting.length_mm),
             known(place.teeth_exact), known(place.wrap_deg), known(setting.rate),
             tangent ? field(sentences::word(setting.over_centre)) : "",
             known(setting.adjustment_left_mm), place.refused ? field(place.refused->text) : ""});
  }
  return text;
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
