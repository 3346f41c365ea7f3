#include "twoturn/fault/fault.hpp"

#include <algorithm>
#include <vector>

namespace twoturn {

const SizeRange* FaultCase::size() const {
  for (const Fault& fault : faults) {
    if (fault.size) return &*fault.size;
  }
  return nullptr;
}

Remedy remedy_of(const Fault& fault) {
  switch (fault.kind) {
    case FaultKind::none:
    case FaultKind::eye:
      return Remedy::look_square;
    case FaultKind::tooth_out:
    case FaultKind::crank_tooth:
    case FaultKind::half_turn:
      return Remedy::move_belt;
    case FaultKind::slack_left:
      return Remedy::take_up_slack;
    case FaultKind::belt_count:
      return Remedy::right_belt;
    case FaultKind::over_centre:
    case FaultKind::tensioner_off:
      return Remedy::reset_tensioner;
    case FaultKind::head_change:
      return Remedy::allow_for_head;
    case FaultKind::other_size:
    case FaultKind::tooth_count:
      return Remedy::right_part;
    case FaultKind::seat:
    case FaultKind::seat_by_pins:
    case FaultKind::swapped:
    case FaultKind::slipped:
      return Remedy::reseat_pulley;
    case FaultKind::other_mark:
      return Remedy::right_mark;
    case FaultKind::loose_pin:
      return Remedy::right_pin;
    case FaultKind::backwards:
      return Remedy::come_forwards;
    case FaultKind::transit_pin:
      return Remedy::release_tensioner;
    case FaultKind::not_seated:
      return Remedy::seat_belt;
    case FaultKind::outer_mark:
      return Remedy::inner_mark;
    case FaultKind::tool_in_hole:
      return Remedy::clear_the_way;
  }
  return Remedy::look_square;
}

std::string remedy_key(const FaultCase& suspect) {
  std::vector<std::string> parts;
  for (const Fault& fault : suspect.faults) {
    const Remedy remedy = remedy_of(fault);
    std::string part = std::to_string(static_cast<int>(remedy));
    const bool anywhere = remedy == Remedy::look_square || remedy == Remedy::take_up_slack ||
                          remedy == Remedy::reset_tensioner || remedy == Remedy::clear_the_way;
    if (!anywhere) part += ' ' + fault.about;
    if (remedy == Remedy::move_belt) part += ' ' + std::to_string(fault.teeth);
    parts.push_back(std::move(part));
  }
  std::sort(parts.begin(), parts.end());
  std::string key;
  for (const std::string& part : parts) key += part + ';';
  return key;
}

}  // namespace twoturn
