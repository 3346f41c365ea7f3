// Every number of an engine, its valves, pins and [build], by its key, to be moved or thrown.
#pragma once

#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "twoturn/drive/known.hpp"
#include "twoturn/drive/spec.hpp"

namespace engine_numbers {

struct Number {
  std::string key;
  double* value;
};

inline void add(std::vector<Number>& numbers, std::string key, std::optional<double>& value) {
  if (value) numbers.push_back({std::move(key), &*value});
}

inline void add_valve(std::vector<Number>& numbers, twoturn::ValveSpec& valve) {
  const std::string start = "valve." + valve.name + ".";
  add(numbers, start + "lift_mm", valve.lift_mm);
  add(numbers, start + "cam_lift_mm", valve.cam_lift_mm);
  add(numbers, start + "rocker_ratio", valve.rocker_ratio);
  add(numbers, start + "lash_mm", valve.lash_mm);
  add(numbers, start + "opens_deg", valve.opens_deg);
  add(numbers, start + "closes_deg", valve.closes_deg);
  add(numbers, start + "lobe_centre_deg", valve.lobe_centre_deg);
  add(numbers, start + "duration_deg", valve.duration_deg);
  add(numbers, start + "timed_at_lift_mm", valve.timed_at_lift_mm);
  add(numbers, start + "valve_deg", valve.valve_deg);
  add(numbers, start + "room_tdc_mm", valve.room_tdc_mm);
  add(numbers, start + "clay_mm", valve.clay_mm);
  add(numbers, start + "head_mm", valve.head_mm);
  add(numbers, start + "across_mm", valve.across_mm);
}

inline std::vector<Number> of(twoturn::DriveSpec& spec) {
  std::vector<Number> numbers;
  add(numbers, "engine.stroke_mm", spec.engine.stroke_mm);
  add(numbers, "engine.throw_mm", spec.engine.throw_mm);
  add(numbers, "engine.rod_mm", spec.engine.rod_mm);
  add(numbers, "engine.pin_offset_mm", spec.engine.pin_offset_mm);
  add(numbers, "engine.timing_position_deg", spec.engine.timing_position_deg);
  for (twoturn::ValveSpec& valve : spec.valves) add_valve(numbers, valve);
  for (twoturn::PulleySpec& pulley : spec.pulleys) {
    if (!pulley.pin) continue;
    add(numbers, "pulley." + pulley.name + ".pin.radius_mm", pulley.pin->radius_mm);
    add(numbers, "pulley." + pulley.name + ".pin.play_mm", pulley.pin->play_mm);
  }
  const auto add_build = [&](auto& list, const std::string& field) {
    for (auto& [name, value] : list) numbers.push_back({"build." + field + "." + name, &value});
  };
  add_build(spec.build.skim_mm, "skim_mm");
  add_build(spec.build.block_skim_mm, "block_skim_mm");
  add_build(spec.build.gasket_change_mm, "gasket_change_mm");
  add_build(spec.build.adjusted_deg, "adjusted_deg");
  add(numbers, "build.stretch_percent", spec.build.stretch_percent);
  return numbers;
}

inline double& number(twoturn::DriveSpec& spec, const std::string& key) {
  for (const Number& one : of(spec)) {
    if (one.key == key) return *one.value;
  }
  throw std::out_of_range("no number " + key);
}

/// The same with each of these numbers off by chance, by what is said of it in `given`.
template <class Random>
twoturn::DriveSpec thrown(twoturn::DriveSpec spec, Random& random) {
  std::normal_distribution<double> normal;
  for (const Number& one : of(spec)) {
    const twoturn::GivenValue* given = twoturn::find_given(spec, one.key);
    if (given == nullptr) continue;
    *one.value += twoturn::sigma_of(twoturn::give_or_take(*given).value) * normal(random);
  }
  return spec;
}

}  // namespace engine_numbers
