#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"

namespace twoturn {

struct CheckAnswer;

/// A number that was given and, as things stand, decides nothing in any answer.
struct UnusedKey {
  std::string key;  ///< as in `GivenValue`, a place or list of places as one; of how far a number
                    ///< may be off, origin.KEY.give_or_take
  std::string why;

  bool operator==(const UnusedKey&) const = default;
};

/// The numbers of a spec that no answer hangs on, in the order of the file, because what would use
/// them is missing, is not asked, or is not there yet. Limits that findings are judged by count as
/// used. `answer` is the check of the same spec, complete but for its own `unused`.
std::vector<UnusedKey> unused_keys(const DriveSpec& spec, const CheckAnswer& answer);

}  // namespace twoturn
