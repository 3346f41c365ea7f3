#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/unsure.hpp"
#include "twoturn/engine/park.hpp"
#include "twoturn/study/pistons_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// How deep one piston must stand so that no valve over it can reach it, cams anywhere.
struct ParkNeed {
  int cylinder = 0;
  std::string valve;  ///< the one that comes down farthest
  double greatest_drop_mm = 0.0;
  double room_tdc_mm = 0.0;  ///< as fitted
  double margin_mm = 0.0;
  double need_mm = 0.0;  ///< drop and margin less room; below 0: wherever it stands
};

/// The way from the best position to the timing position, belt off, cams at their pins.
struct ParkWay {
  TurnWay way = TurnWay::forwards;
  double turn_deg = 0.0;
  double least_mm = 0.0;  ///< least room on it
  int cylinder = 0;       ///< there
  double at_deg = 0.0;    ///< the crank there, past top dead centre of cylinder 1, [0, 360)
  bool clear = false;
};

/// From the number of cylinders and their layout alone.
struct CountedParkAnswer {
  int cylinders = 0;
  CylinderPhases phases;
  CountedPark park;
  bool enough = false;  ///< pistons stand deeper there than usual valves reach
};

/// Where the crank can stand so that cams may be turned at will. Crank deg past top dead centre of
/// cylinder 1, period 360.
struct ParkAnswer {
  Fit fit = Fit::as_fitted;
  std::vector<ParkNeed> needs;  ///< one a cylinder
  std::vector<ParkInterval> clear;
  double best_deg = 0.0;
  double best_spare_mm = 0.0;  ///< beyond the margin
  Unsure best_unsure{};        ///< of that, the crank standing right there
  int best_cylinder = 0;       ///< that has least to spare there
  PistonsAt at_best;
  bool best_is_clear = false;
  std::optional<double> timing_position_deg;  ///< in one turn, [0, 360)
  std::optional<double> timing_spare_mm;      ///< what the timing position itself leaves
  Unsure timing_unsure{};
  bool best_is_timing = false;  ///< the two are one, within 0.01 deg
  std::vector<ParkWay> ways;  ///< forwards, then backwards; empty: timing position or firing order
                              ///< not known, nothing to turn, or nothing is clear
};

/// The shorter of the clear ways; nullptr where neither is, or there is nothing to turn.
const ParkWay* way_to_take(const ParkAnswer& answer);

[[nodiscard]] CountedParkAnswer counted_park(const CylinderLayout& layout);

/// Every cylinder needs an inlet and an exhaust valve that enough is known of; else empty, and
/// `missing` says what would supply it. `margin_mm` over the limits of the profile.
[[nodiscard]] std::optional<ParkAnswer> park_answer(const DriveSpec& spec, Fit fit,
                                                    std::optional<double> margin_mm,
                                                    std::vector<Missing>& missing);

}  // namespace twoturn
