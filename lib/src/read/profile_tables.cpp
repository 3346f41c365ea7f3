#include <fmt/format.h>

#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

BeltSpec read_belt(Section belt) {
  BeltSpec spec;
  spec.section = belt.text("section");
  spec.teeth = belt.count("teeth");
  spec.pitch_mm = belt.length("pitch");
  spec.over_10_teeth_mm = belt.length("over_10_teeth");
  spec.tooth_height_mm = belt.length("tooth_height");
  spec.thickness_mm = belt.length("thickness");
  spec.land_to_pitch_line_mm = belt.length("land_to_pitch_line");
  spec.least_teeth = belt.count("least_teeth");
  spec.least_roller_mm = belt.length("least_roller");
  spec.double_sided = belt.yes_no("double_sided").value_or(false);
  spec.length_tolerance_mm = belt.length("length_tolerance");
  spec.reference_tension_n = belt.number("reference_tension_n");
  spec.width_mm = belt.length("width");
  spec.mass_g_per_m = belt.number("mass_g_per_m");
  spec.weighed_g = belt.number("weighed_g");
  spec.stiffness_n = belt.number("stiffness_n");
  belt.finish();
  return spec;
}

HeadSpec read_head(Section head) {
  HeadSpec spec;
  spec.name = head.text("name").value_or("");
  spec.deck_deg = head.clock("deck_deg");
  spec.deck_from_crank_mm = head.length("deck_from_crank");
  head.finish();
  return spec;
}

GearedSpec read_geared(Section geared) {
  GearedSpec spec;
  spec.name = geared.text("name").value_or("");
  spec.from = geared.text("from").value_or("");
  spec.ratio = geared.number("ratio");
  if (const auto teeth = geared.two_counts("teeth")) {
    spec.gear_teeth = GearTeeth{teeth->first, teeth->second};
  }
  spec.role = geared.choice<Role>("role");
  spec.turns_per_crank = geared.number("turns_per_crank");
  spec.mark_deg = geared.clock("mark_deg");
  spec.mark_radius_mm = geared.length("mark_radius");
  spec.pin = read_pin(geared);
  geared.finish();
  return spec;
}

MeasuredSpec read_measured(Section measured) {
  MeasuredSpec spec;
  spec.from = measured.text("from").value_or("");
  spec.to = measured.text("to").value_or("");
  spec.distance_mm = measured.length("distance");
  spec.across = measured.choice<Between>("across");
  spec.from_diameter_mm = measured.length("from_diameter");
  spec.to_diameter_mm = measured.length("to_diameter");
  spec.bearing_deg = measured.clock("bearing_deg");
  spec.give_or_take_mm = measured.length("give_or_take");
  spec.belt_teeth = measured.count("belt_teeth");
  spec.roller_deg = measured.clock("roller_deg");
  spec.pointer_deg = measured.clock("pointer_deg");
  spec.roller_mm = measured.length("roller");
  spec.give_or_take_deg = measured.number("give_or_take_deg");
  measured.finish();
  return spec;
}

CoverSpec read_cover(Section cover) {
  CoverSpec spec;
  spec.name = cover.text("name").value_or("");
  spec.points_mm = cover.positions("points");
  if (cover.yes_no("closed").value_or(false)) spec.kind = Outline::closed;
  spec.mount = cover.text("mount");
  cover.finish();
  return spec;
}

TensionSpec read_tension(Section tension) {
  TensionSpec spec;
  spec.from = tension.text("from");
  spec.to = tension.text("to");
  spec.target_n = tension.number("target_n");
  spec.target_hz = tension.number("target_hz");
  spec.give_mm = tension.length("give");
  spec.push_n = tension.number("push_n");
  spec.at_crank_deg = tension.number("at_crank_deg");
  tension.finish();
  return spec;
}

LimitSpec read_limits(Section limits) {
  LimitSpec spec;
  spec.phase_crank_deg = limits.number("phase_crank_deg");
  spec.stop_teeth = limits.number("stop_teeth");
  spec.pin_tight_mm = limits.length("pin_tight");
  spec.travel_end = limits.number("travel_end");
  spec.adjustment_left_percent = limits.number("adjustment_left_percent");
  spec.near_mm = limits.length("near");
  spec.teeth_in_mesh = limits.number("teeth_in_mesh");
  spec.inlet_room_mm = limits.length("inlet_room");
  spec.exhaust_room_mm = limits.length("exhaust_room");
  spec.valve_to_valve_mm = limits.length("valve_to_valve");
  spec.park_room_mm = limits.length("park_room");
  limits.finish();
  return spec;
}

}  // namespace

std::optional<PinSpec> read_pin(Section& owner) {
  std::optional<Section> pin = owner.table("pin");
  if (!pin) return std::nullopt;
  PinSpec spec;
  spec.radius_mm = pin->length("radius");
  spec.play_mm = pin->length("play");
  spec.bar_mm = pin->length("bar");
  spec.slot_mm = pin->length("slot");
  spec.length_mm = pin->length("length");
  spec.access_hole = pin->text("access_hole");
  pin->finish();
  return spec;
}

DriveSpec read_drive(Section& top) {
  DriveSpec spec;
  spec.title = top.text("title").value_or("");
  spec.crank_turns = top.choice<Turn>("crank_turns");
  spec.lean_deg = top.number("lean_deg").value_or(0.0);
  spec.rough_centre_mm = top.length("rough_centre");
  if (const auto belt = top.table("belt")) spec.belt = read_belt(*belt);
  for (const Section& head : top.tables("head")) spec.heads.push_back(read_head(head));
  for (const Section& pulley : top.tables("pulley")) spec.pulleys.push_back(read_pulley(pulley));
  for (const Section& geared : top.tables("geared")) spec.geared.push_back(read_geared(geared));
  for (const Section& row : top.tables("measured")) spec.measured.push_back(read_measured(row));
  for (const Section& cover : top.tables("cover")) spec.covers.push_back(read_cover(cover));
  if (const auto build = top.table("build")) spec.build = read_build(*build, spec.heads);
  if (const auto limits = top.table("limits")) spec.limits = read_limits(*limits);
  if (const auto engine = top.table("engine")) spec.engine = read_engine(*engine);
  for (const Section& valve : top.tables("valve")) spec.valves.push_back(read_valve(valve));
  if (const auto tension = top.table("tension")) spec.tension = read_tension(*tension);
  for (const Section& bolts : top.tables("bolts")) spec.bolts.push_back(read_bolts(bolts));
  for (const Section& hole : top.tables("access_hole")) {
    spec.access_holes.push_back(read_access_hole(hole));
  }
  for (const Section& tray : top.tables("tray")) spec.trays.push_back(read_tray(tray));
  if (const auto seen = top.table("seen")) spec.seen = read_seen(*seen);
  return spec;
}

}  // namespace twoturn::reading
