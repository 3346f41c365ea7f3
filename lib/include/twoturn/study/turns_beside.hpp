#pragma once

#include <optional>

#include "twoturn/study/build_shares_answer.hpp"
#include "twoturn/study/warm_answer.hpp"

namespace twoturn {

/// What is told beside two turns of a drive as fitted.
struct TurnsBeside {
  BuildShares shares;
  std::optional<WarmAnswer> warm;
};

}  // namespace twoturn
