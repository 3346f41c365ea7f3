#pragma once

#include <optional>

namespace twoturn {

/// A cylinder's volumes, cc: swept by the piston, and left above it at top dead centre.
struct CylinderVolumes {
  double swept_cc = 0.0;
  double left_cc = 0.0;

  double ratio() const { return 1.0 + swept_cc / left_cc; }
};

double swept_cc(double bore_mm, double stroke_mm);

/// The volume left that gives a compression ratio above 1.
double left_cc_of_ratio(double swept_cc, double ratio);

/// The same cylinder with head and piston nearer by `nearer_mm` (further below 0), over the whole
/// bore. Exact for metal off the block and for the gasket; for metal off a head whose chamber is
/// narrower than the bore at its face, the most it can be. Empty where nothing would be left.
std::optional<CylinderVolumes> brought_nearer(const CylinderVolumes& volumes, double bore_mm,
                                              double nearer_mm);

}  // namespace twoturn
