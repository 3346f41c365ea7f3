#include "twoturn/fault/fault.hpp"

namespace twoturn {

const SizeRange* Suspect::size() const {
  for (const Fault& fault : faults) {
    if (fault.size) return &*fault.size;
  }
  return nullptr;
}

}  // namespace twoturn
