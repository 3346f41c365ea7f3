#include "twoturn/engine/compression.hpp"

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

}  // namespace twoturn
