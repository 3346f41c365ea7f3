#include <fmt/format.h>

#include <algorithm>

#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

void read_table(Section& valve, ValveSpec& spec) {
  const std::optional<Entry> entry = valve.find("table");
  if (!entry) return;
  Reading& reading = valve.reading();
  spec.table = reading.text(*entry);
  if (!spec.table) return;
  if (!is_plain_name(*spec.table)) {
    reading.blame(*entry, "must be the plain name of a file beside the profile");
    return;
  }
  const TableText* found = reading.table(*spec.table);
  if (found == nullptr || !found->fault.empty()) {
    reading.blame(*entry, found == nullptr ? "the lift table was not handed over with the profile"
                                           : fmt::format("the lift table {}", found->fault));
    return;
  }
  if (const std::optional<LiftTable> table = read_lift_table(*found, reading)) {
    spec.rows = table->rows;
    spec.rows_at = table->at;
  }
}

}  // namespace

bool is_plain_name(std::string_view name) {
  if (name.empty() || name.front() == '.') return false;
  return std::all_of(name.begin(), name.end(), [](char c) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    return letter || c == '.' || c == '-' || c == '_' || c == ' ';
  });
}

EngineSpec read_engine(Section engine) {
  EngineSpec spec;
  spec.interference = engine.yes_no("interference");
  spec.cylinders = engine.count("cylinders");
  spec.bore_mm = engine.length("bore");
  spec.stroke_mm = engine.length("stroke");
  spec.throw_mm = engine.length("throw");
  spec.rod_mm = engine.length("rod");
  spec.pin_offset_mm = engine.length("pin_offset");
  spec.chamber_cc = engine.number("chamber_cc");
  spec.compression_ratio = engine.number("compression_ratio");
  spec.crank_pins_deg = engine.numbers("crank_pins_deg");
  spec.bores_deg = engine.numbers("bores_deg");
  spec.firing_order = engine.counts("firing_order");
  spec.timing_position_deg = engine.number("timing_position_deg");
  engine.finish();
  return spec;
}

ValveSpec read_valve(Section valve) {
  ValveSpec spec;
  spec.name = valve.text("name").value_or("");
  spec.cam = valve.text("cam");
  spec.head = valve.text("head");
  spec.cylinders = valve.counts("cylinders");
  spec.per_cylinder = valve.count("per_cylinder");
  spec.spring_n = valve.number("spring_n");
  spec.spring_rate_n_mm = valve.number("spring_rate_n_mm");
  spec.side = valve.choice<ValveSide>("side");
  spec.lift_mm = valve.length("lift");
  spec.cam_lift_mm = valve.length("cam_lift");
  spec.rocker_ratio = valve.number("rocker_ratio");
  spec.lash_mm = valve.length("lash");
  spec.opens_deg = valve.number("opens_deg");
  spec.closes_deg = valve.number("closes_deg");
  spec.lobe_centre_deg = valve.number("lobe_centre_deg");
  spec.duration_deg = valve.number("duration_deg");
  spec.timed_at_lift_mm = valve.length("timed_at_lift");
  spec.timed_at = valve.choice<LiftAtPart>("timed_at");
  spec.law = valve.choice<LiftLaw>("law");
  read_table(valve, spec);
  spec.valve_deg = valve.number("valve_deg");
  spec.crown = valve.choice<CrownShape>("crown");
  spec.room_tdc_mm = valve.length("room_tdc");
  spec.clay_mm = valve.length("clay");
  spec.head_mm = valve.length("head");
  spec.across_mm = valve.length("across");
  valve.finish();
  return spec;
}

}  // namespace twoturn::reading
