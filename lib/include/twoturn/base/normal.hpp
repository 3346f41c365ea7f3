#pragma once

namespace twoturn {

/// Below what so much of a normal law of deviation 1 about 0 lies; `share` within (0, 1), outside
/// taken at some eight deviations. Relative accuracy 1e-15. Wichura, Algorithm AS 241 (PPND16),
/// Applied Statistics 37 (1988).
double normal_quantile(double share);

}  // namespace twoturn
