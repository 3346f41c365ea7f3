#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/missing.hpp"
#include "twoturn/engine/compression.hpp"
#include "twoturn/engine/cylinders.hpp"
#include "twoturn/engine/slider_crank.hpp"

namespace twoturn {

/// Where one piston stands.
struct PistonPlace {
  int cylinder = 0;
  double after_top_deg = 0.0;  ///< crank deg after its own top dead centre, [0, 360)
  double depth_mm = 0.0;       ///< below its top dead centre
  double below_half_mm = 0.0;  ///< below half stroke; above it: less than 0
};

/// Where the pistons stand with the crank at one place.
struct PistonsAt {
  double crank_deg = 0.0;  ///< past the top dead centre at which cylinder 1 fires
  std::vector<PistonPlace> places;
};

struct PistonsAnswer {
  int cylinders = 0;
  double throw_mm = 0.0;
  double stroke_mm = 0.0;
  double rod_mm = 0.0;
  double pin_offset_mm = 0.0;
  double half_stroke_deg = 0.0;  ///< crank deg after top dead centre where half the stroke is made
  CylinderPhases phases;
  std::vector<int> firing_order;     ///< empty: not known
  std::optional<PistonsAt> at_pins;  ///< all pins in; empty where the timing position is not known
};

/// The volumes of a cylinder under one head, by the book and with what [build] takes off.
struct CompressionAnswer {
  std::string head;  ///< empty where the profile has none
  double bore_mm = 0.0;
  double swept_cc = 0.0;
  std::optional<double> left_cc;  ///< at top dead centre, by the book
  std::optional<double> ratio;
  double nearer_mm = 0.0;               ///< skims less gasket change
  std::optional<double> left_after_cc;  ///< empty too where nothing would be left
  std::optional<double> ratio_after;
};

}  // namespace twoturn
