#pragma once

#include "twoturn/study/engine_curves_answer.hpp"

namespace twoturn {

/// `step_deg` divides 720 nearly; at least 0.01. Empty lists where too little is known.
[[nodiscard]] EngineCurves engine_curves(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                                         int cylinder, double step_deg);

}  // namespace twoturn
