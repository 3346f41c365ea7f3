#include "twoturn/timing/shafts.hpp"

#include <cmath>

namespace twoturn {
namespace {

std::optional<Pin> pin_from(const std::optional<PinSpec>& spec) {
  if (!spec) return std::nullopt;
  if (spec->bar_mm && spec->slot_mm && spec->length_mm) {
    return pin_of_bar(*spec->bar_mm, *spec->slot_mm, *spec->length_mm);
  }
  if (!spec->radius_mm || !spec->play_mm) return std::nullopt;
  const double play_deg = Angle::radians(*spec->play_mm / *spec->radius_mm).degrees();
  return Pin{*spec->radius_mm, play_deg, *spec->play_mm, false};
}

Shaft shaft_of(const PulleySpec& spec, const Pulley& pulley, int index) {
  Shaft shaft;
  shaft.name = pulley.name;
  shaft.role = pulley.role;
  shaft.pulley = index;
  shaft.teeth = pulley.teeth;
  shaft.pitch_radius_mm = pulley.wheel.radius_mm;
  shaft.turns_per_crank = turns_per_crank(spec);
  shaft.fixing = pulley.role == Role::crankshaft ? Fixing::keyed : spec.fixing;
  shaft.range_deg = spec.range_deg;
  shaft.key_radius_mm = spec.key_radius_mm;
  shaft.mark_on = spec.mark_on.value_or(MarkOn::as_made);
  const double edge_mm = spec.mark_radius_mm.value_or(pulley.wheel.radius_mm);
  if (spec.mark_deg) shaft.marks.push_back({"", *spec.mark_deg, edge_mm});
  for (const MarkSpec& mark : spec.marks) {
    if (mark.at_deg)
      shaft.marks.push_back({mark.name, *mark.at_deg, mark.radius_mm.value_or(edge_mm)});
  }
  shaft.pin = pin_from(spec.pin);
  shaft.sense = pulley.wheel.sense;
  return shaft;
}

Shaft shaft_of(const GearedSpec& spec, const std::vector<Shaft>& before) {
  Shaft shaft;
  shaft.name = spec.name;
  shaft.role = spec.role;
  for (std::size_t i = 0; i < before.size(); ++i) {
    if (before[i].name == spec.from) shaft.from = static_cast<int>(i);
  }
  shaft.ratio = *spec.ratio;
  shaft.turns_per_crank = turns_per_crank(spec);
  shaft.fixing = Fixing::keyed;
  if (spec.mark_deg) shaft.marks.push_back({"", *spec.mark_deg, spec.mark_radius_mm});
  shaft.pin = pin_from(spec.pin);
  const int driving = shaft.from < 0 ? 1 : before[static_cast<std::size_t>(shaft.from)].sense;
  shaft.sense = shaft.ratio < 0.0 ? -driving : driving;
  return shaft;
}

}  // namespace

// The bar's diagonal spans the slot when length sin t + bar cos t = slot.
Pin pin_of_bar(double bar_mm, double slot_mm, double length_mm) {
  const double play =
      std::asin(slot_mm / std::hypot(bar_mm, length_mm)) - std::atan2(bar_mm, length_mm);
  Pin pin;
  pin.radius_mm = length_mm / 2.0;
  pin.play_deg = Angle::radians(play).degrees();
  pin.play_mm = play * pin.radius_mm;
  pin.bar = true;
  return pin;
}

std::vector<Shaft> list_shafts(const DriveSpec& spec, const Drive& drive) {
  std::vector<Shaft> shafts;
  for (std::size_t i = 0; i < drive.pulleys.size(); ++i) {
    const Pulley& pulley = drive.pulleys[i];
    if (!pulley.toothed()) continue;
    const PulleySpec& from = spec.pulleys[static_cast<std::size_t>(pulley.listed)];
    shafts.push_back(shaft_of(from, pulley, static_cast<int>(i)));
  }
  for (const GearedSpec& geared : spec.geared) {
    if (!geared.ratio) continue;
    Shaft shaft = shaft_of(geared, shafts);
    if (shaft.from >= 0) shafts.push_back(shaft);
  }
  return shafts;
}

int belt_shaft_of(const std::vector<Shaft>& shafts, int index) {
  while (shafts[static_cast<std::size_t>(index)].pulley < 0) {
    index = shafts[static_cast<std::size_t>(index)].from;
  }
  return index;
}

}  // namespace twoturn
