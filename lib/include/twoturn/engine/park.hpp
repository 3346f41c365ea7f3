#pragma once

#include <optional>
#include <vector>

#include "twoturn/engine/slider_crank.hpp"

namespace twoturn {

/// Crank positions with the cams loose. Crank deg after the top dead centre of cylinder 1, period
/// 360; an interval is open, and `to` may lie beyond 360.
struct ParkInterval {
  double from_deg = 0.0;
  double to_deg = 0.0;
};

/// One piston of the crank, and how far it must be down so that no valve of its cylinder can reach
/// it wherever the cams stand.
struct ParkPiston {
  double top_deg = 0.0;  ///< its top dead centre
  double need_mm =
      0.0;  ///< depth wanted: greatest drop less room at top dead centre, and the margin
};

struct ParkFound {
  std::vector<ParkInterval>
      clear;                   ///< where every piston is down far enough, in order; none: empty
  double best_deg = 0.0;       ///< where the piston that has least to spare has most
  double best_spare_mm = 0.0;  ///< depth less need there; not above 0 where none is clear
  int best_piston = 0;         ///< that piston, from 0
};

/// At least one piston. The ends of intervals to 1e-10 deg, the best to 1e-7 deg; of places within
/// 1e-7 mm of the best the first is told.
[[nodiscard]] ParkFound find_park(const SliderCrank& crank, const std::vector<ParkPiston>& pistons);

/// A way from one crank position to another with the cams standing still.
struct CrankWay {
  double turn_deg = 0.0;  ///< how far, above 0
  double least_mm = 0.0;  ///< least room on the way, both ends included
  int piston = 0;         ///< where it is, from 0
  double at_deg = 0.0;    ///< and the crank there, [0, 360)
  bool clear() const { return least_mm > 0.0; }
};

enum class TurnWay { forwards, backwards };

/// The way from `from_deg` to `to_deg`. `need_mm` of each piston: the depth at which it would meet
/// the valves as they stand.
[[nodiscard]] CrankWay crank_way(const SliderCrank& crank, const std::vector<ParkPiston>& pistons,
                                 double from_deg, double to_deg, TurnWay way);

/// From dead centres alone: the positions farthest from any, each half way across a widest gap.
struct CountedPark {
  std::vector<double> best_deg;
  double from_top_deg = 0.0;  ///< to the nearest top dead centre on either side
  double stroke_share = 0.0;  ///< how far down the stroke a piston is there, at least: endless rod
};
[[nodiscard]] CountedPark park_from_tops(const std::vector<double>& top_deg);

/// A valve that opens by an eighth of the stroke is taken where nothing of the engine is known: our
/// own figure, and said to be. A crank that leaves a piston higher is not called parked.
inline constexpr double kTakenLiftShare = 0.125;

}  // namespace twoturn
