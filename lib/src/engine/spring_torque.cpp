#include "twoturn/engine/spring_torque.hpp"

#include <algorithm>

namespace twoturn {

double spring_pull_n(const ValveSprings& springs, double lift_mm) {
  if (lift_mm <= 0.0) return 0.0;
  return springs.fitted_n * std::min(1.0, lift_mm / kTakeUpMm) + springs.rate_n_mm * lift_mm;
}

double spring_torque_nmm(const Lobe& lobe, const ValveSprings& springs, Angle after_overlap) {
  const double rad = wrapped_cycle((after_overlap - lobe.placed).radians());
  const std::vector<LiftPiece>& pieces = lobe.curve.pieces();
  if (rad <= pieces.front().from_rad || rad >= pieces.back().to_rad) return 0.0;
  const LiftAt at = lobe.curve.at(rad);
  const double lift = at.lift_mm - lobe.lash_mm;
  return lift > 0.0 ? spring_pull_n(springs, lift) * at.slope_mm : 0.0;
}

}  // namespace twoturn
