#include "twoturn/engine/spring_torque.hpp"

#include <algorithm>

namespace twoturn {

double spring_pull_n(const ValveSprings& springs, double lift_mm) {
  if (lift_mm <= 0.0) return 0.0;
  return springs.fitted_n * std::min(1.0, lift_mm / kTakeUpMm) + springs.rate_n_mm * lift_mm;
}

SpringTorque spring_torque(const Lobe& lobe, const ValveSprings& springs, Angle after_overlap) {
  const double rad = wrapped_cycle((after_overlap - lobe.placed).radians());
  const std::vector<LiftPiece>& pieces = lobe.curve.pieces();
  if (rad <= pieces.front().from_rad || rad >= pieces.back().to_rad) return {};
  const LiftAt at = lobe.curve.at(rad);
  const double lift = at.lift_mm - lobe.lash_mm;
  if (lift <= 0.0) return {};
  const double pull = spring_pull_n(springs, lift);
  const double stiffness =
      springs.rate_n_mm + (lift < kTakeUpMm ? springs.fitted_n / kTakeUpMm : 0.0);
  return {pull * at.slope_mm, stiffness * at.slope_mm * at.slope_mm + pull * at.curvature_mm};
}

}  // namespace twoturn
