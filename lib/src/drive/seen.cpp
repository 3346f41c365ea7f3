#include "twoturn/drive/seen_spec.hpp"

namespace twoturn {

bool SeenSpec::any() const {
  SeenSpec nothing;
  nothing.prior = prior;
  nothing.give_mm = give_mm;
  nothing.after_turns = after_turns;
  return !(*this == nothing);
}

}  // namespace twoturn
