#pragma once

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/unsure.hpp"
#include "twoturn/geometry/belt_run.hpp"

namespace twoturn {

/// How surely a path is refused for a reason, with what is given as well known as it is.
struct RefusalKnown {
  bool sure = true;
  Unsure unsure;  ///< of the overlap, mm; where it is no overlap the key alone
};

/// Of a reason against the path with the tensioner at q. Overlaps are held against how far off they
/// may be; what is no overlap (a pulley missed, runs that cross) is sure where it stays so with
/// each unknown number alone two standard deviations off, either way.
[[nodiscard]] RefusalKnown how_surely_refused(const Fitted& fitted, double q,
                                              const Refusal& refusal);

}  // namespace twoturn
