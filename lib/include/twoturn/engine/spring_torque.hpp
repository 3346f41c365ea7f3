#pragma once

#include "twoturn/engine/lobe.hpp"

namespace twoturn {

/// Springs of one valve.
struct ValveSprings {
  double fitted_n = 0.0;   ///< their pull with the valve shut, 0 or more
  double rate_n_mm = 0.0;  ///< by which it grows with the lift, 0 or more
};

/// Over so little lift the cam takes the springs' fitted pull off the seat: what rocker, valve and
/// seat give. Without it the torque would jump where lash is taken up.
inline constexpr double kTakeUpMm = 0.02;

/// Pull on the follower at a lift; shut, 0: the seat holds it.
double spring_pull_n(const ValveSprings& springs, double lift_mm);

/// N mm of torque at the crank, and how that changes as it turns.
struct SpringTorque {
  double nmm = 0.0;
  double rate_nmm_per_rad = 0.0;
};

/// What a valve on its lobe asks of the crank: pull times d lift / d crank angle, by virtual work
/// whatever rocker there is. Below 0 the springs push it on. Without friction.
SpringTorque spring_torque(const Lobe& lobe, const ValveSprings& springs, Angle after_overlap);

}  // namespace twoturn
