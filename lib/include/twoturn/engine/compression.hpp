#pragma once

#include <optional>

#include "twoturn/engine/slider_crank.hpp"

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

/// A cylinder's air from bottom dead centre on, valves shut: adiabatic with 1.4, from 1 atm,
/// nothing lost past valves and rings. No hand feels more.
struct AirSqueezed {
  SliderCrank crank;
  double bore_mm = 0.0;
  double left_cc = 0.0;  ///< at top dead centre

  /// Above the outside's, N/mm2, with the piston so deep.
  double pressure_n_mm2(double depth_mm) const;
  /// What it asks of the crank on the way up to a top dead centre, N mm; 0 outside that stroke.
  double torque_nmm(Angle after_top) const;
};

}  // namespace twoturn
