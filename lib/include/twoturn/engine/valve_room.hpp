#pragma once

#include <optional>
#include <span>
#include <vector>

#include "twoturn/engine/lobe.hpp"
#include "twoturn/engine/slider_crank.hpp"

namespace twoturn {

/// A valve over its piston. Room is measured along the bore.
struct ValveOverPiston {
  Lobe lobe;
  double drop_a_lift = 1.0;  ///< how far a mm of lift comes down the bore; `drop_a_lift` below
  double room_tdc_mm = 0.0;  ///< with the valve shut, at top dead centre

  double greatest_drop_mm() const { return drop_a_lift * lobe.greatest_lift_mm(); }
};

/// A pocket parallel to the valve is met after lift / cos, a flat crown after lift x cos.
enum class Crown { pocket, flat };
double drop_a_lift(Crown crown, double valve_deg);

/// Room at a crank angle after the cylinder's top dead centre between exhaust and inlet stroke, the
/// cam `advance` crank angle early (late below 0). Below 0 valve and piston would overlap.
double room_mm(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
               Angle after_overlap);

/// How a least room stands to its limit. The worse the later.
enum class RoomStands { clears, below_limit, touches };

struct RoomAt {
  double room_mm = 0.0;
  Angle at;  ///< after overlap, from -360 up to 360 crank deg
};

/// Angles between which valve and piston would overlap; `to` may lie beyond 360 crank deg.
struct TouchSpan {
  Angle from;
  Angle to;
};

struct LeastFound {
  RoomAt least;
  std::vector<TouchSpan> touches;  ///< in their order
};

struct RoomFound : LeastFound {
  std::vector<RoomAt> minima;  ///< every local minimum of two turns, in their order
};

/// Every local minimum over two turns. The two turns are cut where the valve opens, is fully open
/// and shuts, and where the pieces of its curve meet; in each part the places of no slope are
/// isolated by that part's own bound of the second derivative, so that none that matters by 1e-8 mm
/// is missed, and closed in on to what a double tells apart. Good to 1e-9 mm.
[[nodiscard]] RoomFound examine_room(const SliderCrank& piston, const ValveOverPiston& valve,
                                     Angle advance);

/// The least room at a valve and where it touches, as `examine_room` finds them, wherever its cam
/// stands. Where the piston is further down than the greatest drop there is more room than with the
/// valve shut at top dead centre: only what is left of the two turns is looked at.
class LeastRoom {
 public:
  LeastRoom(const SliderCrank& piston, ValveOverPiston valve);

  [[nodiscard]] LeastFound at(Angle advance) const;

 private:
  SliderCrank piston_;
  ValveOverPiston valve_;
  Angle near_from_, near_to_;  ///< round each top dead centre
};

/// Room at k * two turns / rooms.size(), k from 0, after overlap.
void sample_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
                 std::span<double> rooms_mm);

/// The room with the valve shut at top dead centre that leaves `least_mm` as the least running room
/// along the bore, with the cam in its place: what clay between them shows; and where it shows it.
RoomAt room_tdc_of_least(const SliderCrank& piston, const ValveOverPiston& valve, double least_mm);

/// Least room at one crank angle whatever the cam does: room at top dead centre and the piston's
/// depth, less the greatest drop.
double room_any_cam_mm(const SliderCrank& piston, const ValveOverPiston& valve, Angle after_tdc);

}  // namespace twoturn
