#include "fault_words.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {

std::string_view heading(FaultKind kind) {
  switch (kind) {
    case FaultKind::none:
      return "Nothing wrong";
    case FaultKind::eye:
      return "Nothing wrong but the eye";
    case FaultKind::tooth_out:
      return "A shaft whole teeth out";
    case FaultKind::crank_tooth:
      return "The belt whole teeth out at the crank";
    case FaultKind::half_turn:
      return "A shaft half a turn out";
    case FaultKind::slack_left:
      return "Slack left where the tensioner does not take it up";
    case FaultKind::belt_count:
      return "A belt with a tooth more or less";
    case FaultKind::over_centre:
      return "The tensioner at its other place for this belt";
    case FaultKind::tensioner_off:
      return "The tensioner short of its place, or past it";
    case FaultKind::head_change:
      return "A skim or a thicker gasket that was not allowed for";
    case FaultKind::other_size:
      return "A roller or an untimed pulley of another size";
    case FaultKind::tooth_count:
      return "A timed pulley with a tooth more or less";
    case FaultKind::seat:
      return "A pulley turned on its shaft, the belt put on by its mark";
    case FaultKind::seat_by_pins:
      return "A pulley turned on its shaft, the belt put on with the pin in";
    case FaultKind::swapped:
      return "Two pulleys, each on the other's shaft";
    case FaultKind::other_mark:
      return "Set by another mark of the same pulley";
    case FaultKind::slipped:
      return "A pulley that slipped on its shaft";
    case FaultKind::loose_pin:
      return "A wrong or worn pin";
    case FaultKind::backwards:
      return "Turned backwards last";
    case FaultKind::transit_pin:
      return "The tensioner's transit pin left in";
    case FaultKind::not_seated:
      return "The belt not seated";
    case FaultKind::outer_mark:
      return "An outer mark that has moved";
    case FaultKind::tool_in_hole:
      return "Something left in a cylinder";
  }
  return "";
}

std::string in_hundred(double probability) {
  constexpr double kLeast = 0.005;
  constexpr double kHundred = 100.0;
  if (probability < kLeast) return "fewer than 1 in 100";
  if (probability > 1.0 - kLeast) return "more than 99 in 100";
  return fixed(kHundred * probability, 0) + " in 100";
}

}  // namespace twoturn::sentences
