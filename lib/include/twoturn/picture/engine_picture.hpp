#pragma once

#include <optional>

#include "twoturn/picture/two_turns.hpp"
#include "twoturn/study/engine_curves_answer.hpp"
#include "twoturn/study/feel_answer.hpp"

namespace twoturn {

/// How the crank's mark goes round on paper.
struct CrankMark {
  Angle pins_in;  ///< where it points with pins in
  int sense = -1;
};

/// The room that valves and piston of a cylinder leave each other, and how far its valves are open;
/// empty without valves, or where the timing position is not known.
std::optional<TwoTurns> room_round(const EngineCurves& curves, const CrankMark& mark);

/// What the spanner feels, each hump named; empty where springs are not known.
std::optional<TwoTurns> torque_round(const FeelAnswer& feel, const EngineCurves& curves,
                                     const CrankMark& mark);

}  // namespace twoturn
