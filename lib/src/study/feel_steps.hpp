#pragma once

#include <vector>

#include "feel_parts.hpp"

namespace twoturn::study {

inline constexpr double kFeelStepDeg = 0.5;
inline constexpr int kFeelSteps = 1440;  ///< two turns

/// Takes a step into the spans over which something holds: the last one goes on, or one begins.
void go_on(std::vector<FeelSpan>& spans, double deg, double step_deg);

/// Torque at the crank with a belt that does not give, N m, at each step from pins in.
std::vector<double> rigid_torques_nm(const CamLoads& loads, double drag_nmm);

/// Every so many of them as steps.
std::vector<FeelStep> steps_of(const std::vector<double>& torques_nm, int every);

/// The same steps with the belt's give; steps without a balance keep the torque they had.
FeelBelt turn_belt(const BeltModel& model, const Drive& drive, double stiffness_n,
                   std::vector<FeelStep>& steps);

}  // namespace twoturn::study
