#include "twoturn/timing/shafts.hpp"

#include <cmath>

#include "twoturn/base/angle.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/rates.hpp"

namespace twoturn {
namespace {

std::optional<Pin> pin_from(const std::optional<PinSpec>& spec) {
  if (!spec) return std::nullopt;
  if (spec->bar_mm && spec->slot_mm && spec->length_mm) {
    return pin_of_bar(*spec->bar_mm, *spec->slot_mm, *spec->length_mm);
  }
  if (!spec->radius_mm || !spec->play_mm) return std::nullopt;
  const double half_chord = std::min(1.0, *spec->play_mm / (2.0 * *spec->radius_mm));
  return Pin{*spec->radius_mm,
             Angle::radians(2.0 * std::asin(half_chord)).degrees(),
             *spec->play_mm,
             false,
             {}};
}

// The numbers a pin is given by that may be off, and what a sigma of each makes of it.
void add_gives(const DriveSpec& spec, const std::string& start, const PinSpec& said, Pin& pin) {
  struct Number {
    const char* field;
    std::optional<double> PinSpec::*value;
  };
  static constexpr Number kNumbers[] = {{"radius_mm", &PinSpec::radius_mm},
                                        {"play_mm", &PinSpec::play_mm},
                                        {"bar_mm", &PinSpec::bar_mm},
                                        {"slot_mm", &PinSpec::slot_mm},
                                        {"length_mm", &PinSpec::length_mm}};
  constexpr double kStep = 1e-3;  // of a sigma: what the third derivative adds is a millionth
  for (const Number& number : kNumbers) {
    if (!(said.*number.value)) continue;
    const std::string key = start + number.field;
    const GivenValue* given = find_given(spec, key);
    const double sigma = given == nullptr ? 0.0 : sigma_of(give_or_take(*given).value);
    if (sigma == 0.0) continue;
    PinSpec more = said;
    PinSpec less = said;
    *(more.*number.value) += kStep * sigma;
    *(less.*number.value) -= kStep * sigma;
    const std::optional<Pin> up = pin_from(more);
    const std::optional<Pin> down = pin_from(less);
    const Pin::Give give{key, (up->radius_mm - down->radius_mm) / (2.0 * kStep),
                         (up->play_mm - down->play_mm) / (2.0 * kStep)};
    if (give.radius_mm != 0.0 || give.play_mm != 0.0) pin.gives.push_back(give);
  }
}

Shaft shaft_of(const PulleySpec& spec, const Pulley& pulley, int index, int crank_teeth) {
  Shaft shaft;
  shaft.name = pulley.name;
  shaft.role = pulley.role;
  shaft.pulley = index;
  shaft.teeth = pulley.teeth;
  shaft.pitch_radius_mm = pulley.wheel.radius_mm;
  shaft.turns_per_crank = turns_per_crank(spec);
  shaft.turns_made = static_cast<double>(crank_teeth) / pulley.teeth;
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

Shaft shaft_of(const GearedSpec& spec, double ratio, const std::vector<Shaft>& before) {
  Shaft shaft;
  shaft.name = spec.name;
  shaft.role = spec.role;
  for (std::size_t i = 0; i < before.size(); ++i) {
    if (before[i].name == spec.from) shaft.from = static_cast<int>(i);
  }
  shaft.ratio = ratio;
  shaft.turns_per_crank = turns_per_crank(spec);
  shaft.fixing = Fixing::keyed;
  if (spec.mark_deg) shaft.marks.push_back({"", *spec.mark_deg, spec.mark_radius_mm});
  shaft.pin = pin_from(spec.pin);
  if (shaft.from < 0) return shaft;
  const Shaft& driving = before[static_cast<std::size_t>(shaft.from)];
  shaft.sense = shaft.ratio < 0.0 ? -driving.sense : driving.sense;
  shaft.turns_made = driving.turns_made * std::abs(shaft.ratio);
  return shaft;
}

}  // namespace

bool Shaft::wrong_ratio() const { return timed() && !same_rate(turns_made, *turns_per_crank); }

double Pin::between_holes_mm(Angle out) const {
  return 2.0 * radius_mm * std::abs(std::sin(out.radians() / 2.0));
}

// The bar's diagonal spans the slot when length sin t + bar cos t = slot.
Pin pin_of_bar(double bar_mm, double slot_mm, double length_mm) {
  const double play =
      std::asin(slot_mm / std::hypot(bar_mm, length_mm)) - std::atan2(bar_mm, length_mm);
  Pin pin;
  pin.radius_mm = length_mm / 2.0;
  pin.play_deg = Angle::radians(play).degrees();
  pin.play_mm = pin.between_holes_mm(Angle::radians(play));
  pin.bar = true;
  return pin;
}

std::vector<Shaft> list_shafts(const DriveSpec& spec, const Drive& drive) {
  std::vector<Shaft> shafts;
  for (std::size_t i = 0; i < drive.pulleys.size(); ++i) {
    const Pulley& pulley = drive.pulleys[i];
    if (!pulley.toothed()) continue;
    const PulleySpec& from = spec.pulleys[static_cast<std::size_t>(pulley.listed)];
    shafts.push_back(shaft_of(from, pulley, static_cast<int>(i), drive.pulleys.front().teeth));
    Shaft& shaft = shafts.back();
    if (shaft.pin) add_gives(spec, "pulley." + shaft.name + ".pin.", *from.pin, *shaft.pin);
  }
  for (const GearedSpec& geared : spec.geared) {
    const std::optional<GearRatio> ratio = gear_ratio(spec, geared);
    if (!ratio) continue;
    Shaft shaft = shaft_of(geared, ratio->own_turns, shafts);
    if (shaft.pin) add_gives(spec, "geared." + shaft.name + ".pin.", *geared.pin, *shaft.pin);
    if (shaft.from >= 0) shafts.push_back(shaft);
  }
  return shafts;
}

double tooth_own_deg(const std::vector<Shaft>& shafts, int index) {
  const Shaft& shaft = shafts[static_cast<std::size_t>(index)];
  if (shaft.pulley >= 0) return kTurnDeg / shaft.teeth;
  return tooth_own_deg(shafts, shaft.from) * std::abs(shaft.ratio);
}

int belt_shaft_of(const std::vector<Shaft>& shafts, int index) {
  while (shafts[static_cast<std::size_t>(index)].pulley < 0) {
    index = shafts[static_cast<std::size_t>(index)].from;
  }
  return index;
}

}  // namespace twoturn
