#include "twoturn/timing/turns_answer.hpp"

#include <cmath>
#include <cstdlib>

namespace twoturn {

const AfterTurns* after_two(const TurnsAnswer& answer) {
  for (const AfterTurns& after : answer.after) {
    if (std::abs(after.turns) == 2) return &after;
  }
  return nullptr;
}

}  // namespace twoturn
