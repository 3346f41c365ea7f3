#pragma once

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

/// A lobe as the cam carries it: lift at the valve over cam deg from full lift, against the
/// running direction, so that it can be drawn round the cam.
struct LobeCurve {
  std::string name;
  ValveSide side = ValveSide::inlet;
  double nose_deg = 0.0;  ///< cam deg that the nose has gone past its follower at the timing
                          ///< position; empty of meaning where that is not known
  std::vector<double> cam_deg;
  std::vector<double> lift_mm;
};

/// Piston depth, valve lift and room of one cylinder, k * step from its firing top dead centre.
struct EngineCurves {
  int cylinder = 0;
  std::vector<double> crank_deg;  ///< after that dead centre, 0 to 720
  std::vector<double> depth_mm;
  std::vector<ValveCurve> valves;
  std::vector<LobeCurve> lobes;
};

}  // namespace twoturn
