#pragma once

#include <array>

namespace twoturn {

/// The ways in which a belt job goes wrong. `word` gives the name by which a profile's priors and
/// documents know one.
enum class FaultKind {
  none,           ///< nothing is wrong
  eye,            ///< nothing is wrong but how the marks were read: from aside
  tooth_out,      ///< one timed shaft, whole teeth
  crank_tooth,    ///< the belt at the crank, whole teeth: all others out alike
  half_turn,      ///< a shaft half a turn of its own out
  slack_left,     ///< on the way without the tensioner, taken up by tensioning
  belt_count,     ///< a belt with another number of teeth
  over_centre,    ///< the other place of the tensioner at which the belt is as long
  tensioner_off,  ///< short of its place, or past it
  head_change,    ///< a skim (+) or a thicker gasket (-) that nobody allowed for
  other_size,     ///< a roller or untimed pulley of another size
  tooth_count,    ///< a timed pulley with another count
  seat,           ///< a pulley turned on its shaft, the belt put on by its mark
  seat_by_pins,   ///< the same, the belt put on with the shaft at its pin
  swapped,        ///< two pulleys of one size, each on the other's shaft
  other_mark,     ///< set by another mark of the same shaft
  slipped,        ///< a pulley that holds by its bolt alone slipped on its shaft
  loose_pin,      ///< wrong or worn: it lets its shaft move
  backwards,      ///< turned backwards last, while a sprung tensioner gave
  transit_pin,    ///< of a self-adjusting tensioner, left in
  not_seated,     ///< the belt rides on a pulley's teeth or edge
  outer_mark,     ///< a further mark of the crank (damper, flywheel) that has moved
  tool_in_hole    ///< something in the way of a piston
};

inline constexpr std::array kAllFaultKinds{
    FaultKind::none,        FaultKind::eye,          FaultKind::tooth_out,
    FaultKind::crank_tooth, FaultKind::half_turn,    FaultKind::slack_left,
    FaultKind::belt_count,  FaultKind::over_centre,  FaultKind::tensioner_off,
    FaultKind::head_change, FaultKind::other_size,   FaultKind::tooth_count,
    FaultKind::seat,        FaultKind::seat_by_pins, FaultKind::swapped,
    FaultKind::other_mark,  FaultKind::slipped,      FaultKind::loose_pin,
    FaultKind::backwards,   FaultKind::transit_pin,  FaultKind::not_seated,
    FaultKind::outer_mark,  FaultKind::tool_in_hole};

}  // namespace twoturn
