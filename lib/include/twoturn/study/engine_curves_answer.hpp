#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// One valve of a cylinder over two turns, for a plot: one value a place of `EngineCurves`.
struct ValveCurve {
  std::string name;
  ValveSide side = ValveSide::inlet;
  std::vector<double> lift_mm;       ///< as fitted
  std::vector<double> room_mm;       ///< along the bore, as fitted
  std::vector<double> book_room_mm;  ///< heights and timing by the book
};

/// When a piston comes to its top dead centre: in every turn, crank deg from pins in, [0, 360).
struct CylinderTop {
  int cylinder = 0;
  double crank_deg = 0.0;
};

/// Valve lift and room of one cylinder over two turns, k * step from its firing top dead centre.
struct EngineCurves {
  int cylinder = 0;
  std::vector<double> crank_deg;  ///< after that dead centre, 0 to 720
  std::vector<ValveCurve> valves;
  /// Where the crank stands with pins in, past that dead centre, [0, 720); empty: not known.
  std::optional<double> at_pins_deg{};
  std::vector<CylinderTop> tops;  ///< of all cylinders; empty where the last is
};

}  // namespace twoturn
