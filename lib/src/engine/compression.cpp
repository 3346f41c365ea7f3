#include "twoturn/engine/compression.hpp"

#include <cmath>

#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

constexpr double kMm3InCc = 1000.0;

double disc_cc(double bore_mm, double height_mm) {
  return kPi / 4.0 * bore_mm * bore_mm * height_mm / kMm3InCc;
}

}  // namespace

double swept_cc(double bore_mm, double stroke_mm) { return disc_cc(bore_mm, stroke_mm); }

double left_cc_of_ratio(double swept_cc, double ratio) { return swept_cc / (ratio - 1.0); }

std::optional<CylinderVolumes> brought_nearer(const CylinderVolumes& volumes, double bore_mm,
                                              double nearer_mm) {
  CylinderVolumes after = volumes;
  after.left_cc -= disc_cc(bore_mm, nearer_mm);
  if (!(after.left_cc > 0.0)) return std::nullopt;
  return after;
}

double AirSqueezed::pressure_n_mm2(double depth_mm) const {
  constexpr double kAtmosphere = 0.101325;
  constexpr double kAdiabatic = 1.4;
  const double area = kPi / 4.0 * bore_mm * bore_mm;
  const double left = kMm3InCc * left_cc;
  const double ratio = (left + area * crank.stroke_mm()) / (left + area * depth_mm);
  return kAtmosphere * (std::pow(ratio, kAdiabatic) - 1.0);
}

double AirSqueezed::torque_nmm(Angle after_top) const {
  const bool coming_up =
      after_top.radians() < 0.0 && after_top.radians() > crank.bottom().radians() - kFullTurn;
  if (!coming_up) return 0.0;
  const double area = kPi / 4.0 * bore_mm * bore_mm;
  return -pressure_n_mm2(crank.depth_mm(after_top)) * area * crank.slope_mm(after_top);
}

}  // namespace twoturn
