#pragma once

#include <optional>

#include "twoturn/base/angle.hpp"

namespace twoturn {

/// One piston on its crank: throw a, rod l, pin offset e (positive to the side that the throw
/// swings to after top dead centre). Angles are crank angles after the piston's own top dead
/// centre, in the running direction; depth is mm down from there. Exact; lib/DERIVATIONS.md,
/// "Piston".
class SliderCrank {
 public:
  /// Empty unless all are finite, throw and rod above 0, and the rod longer than throw + |offset|.
  static std::optional<SliderCrank> of_throw(double throw_mm, double rod_mm, double offset_mm = 0);
  /// The throw is solved: with an offset the stroke is not twice the throw.
  static std::optional<SliderCrank> of_stroke(double stroke_mm, double rod_mm,
                                              double offset_mm = 0);

  double throw_mm() const { return throw_; }
  double rod_mm() const { return rod_; }
  double offset_mm() const { return offset_; }
  double stroke_mm() const { return stroke_; }
  /// Where bottom dead centre lies: 180 deg without offset.
  Angle bottom() const { return bottom_; }

  double depth_mm(Angle after_tdc) const;
  /// d depth / d angle, mm a radian.
  double slope_mm(Angle after_tdc) const;
  /// No |slope| of the depth is greater, mm a radian.
  double slope_bound_mm() const { return steepest_; }
  /// No |second derivative| of the depth is greater, mm a radian squared.
  double curvature_bound_mm() const { return curvature_; }

  /// The two places, going down and coming up, where the piston stands at a depth from 0 to the
  /// stroke, to 1e-13 rad or what rounding leaves near a dead centre.
  Angle going_down(double depth_mm) const;
  Angle coming_up(double depth_mm) const;

 private:
  SliderCrank(double throw_mm, double rod_mm, double offset_mm);
  Angle place(double depth_mm, Angle shallow, Angle deep) const;

  double throw_ = 0.0;
  double rod_ = 0.0;
  double offset_ = 0.0;
  double top_ = 0.0;  ///< pin above the crank's centre at top dead centre
  Angle top_at_;      ///< throw from the line of the bore at top dead centre
  Angle bottom_;
  double stroke_ = 0.0;
  double steepest_ = 0.0;
  double curvature_ = 0.0;
};

}  // namespace twoturn
