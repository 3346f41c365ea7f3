#pragma once

#include <optional>

#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// The limits that findings are judged by. Defaults are common practice; `[limits]` overrides them.
struct Limits {
  double phase_crank_deg = 1.0;           ///< out of phase by more: look
  double stop_teeth = 0.5;                ///< out by as much: stop
  double pin_tight_mm = 0.1;              ///< beyond a pin's play: tight, then out
  double travel_end = 0.1;                ///< nearer to an end of the travel (0 to 1): look
  double adjustment_left_percent = 10.0;  ///< of greatest less least length
  double near_mm = 2.0;                   ///< belt to a part it does not run on
  double teeth_in_mesh = 6.0;
  double inlet_room_mm = 2.0;      ///< valve to piston, running: less is a look; touching a stop
  double exhaust_room_mm = 2.5;    ///< the same
  double valve_to_valve_mm = 1.5;  ///< heads across the chamber: from memory, 0.060 in
  std::optional<double> park_room_mm;  ///< with the crank parked; empty: that of each valve

  bool operator==(const Limits&) const = default;
};

inline Limits limits_of(const LimitSpec& spec) {
  Limits limits;
  limits.phase_crank_deg = spec.phase_crank_deg.value_or(limits.phase_crank_deg);
  limits.stop_teeth = spec.stop_teeth.value_or(limits.stop_teeth);
  limits.pin_tight_mm = spec.pin_tight_mm.value_or(limits.pin_tight_mm);
  limits.travel_end = spec.travel_end.value_or(limits.travel_end);
  limits.adjustment_left_percent =
      spec.adjustment_left_percent.value_or(limits.adjustment_left_percent);
  limits.near_mm = spec.near_mm.value_or(limits.near_mm);
  limits.teeth_in_mesh = spec.teeth_in_mesh.value_or(limits.teeth_in_mesh);
  limits.inlet_room_mm = spec.inlet_room_mm.value_or(limits.inlet_room_mm);
  limits.exhaust_room_mm = spec.exhaust_room_mm.value_or(limits.exhaust_room_mm);
  limits.valve_to_valve_mm = spec.valve_to_valve_mm.value_or(limits.valve_to_valve_mm);
  limits.park_room_mm = spec.park_room_mm;
  return limits;
}

}  // namespace twoturn
