#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"
#include "twoturn/fault/bench.hpp"
#include "twoturn/fault/fault.hpp"

namespace twoturn {

/// A timed pulley of which the tooth count is known, and no place.
struct CountedShaft {
  std::string name;
  std::optional<Role> role;
  int teeth = 0;
  double turns_per_crank = 0.5;
  std::optional<double> mark_radius_mm;
};

/// A fault that tooth counts alone tell, and its bench.
struct CountedFault {
  FaultCase suspect;
  Bench bench;
};

struct CountedFaults {
  BenchLayout layout;  ///< the crank first
  std::vector<CountedFault> faults;
};

/// Whole teeth out, half a turn, a tooth more or less on a pulley, and the eye: what a full
/// simulation shows of them on a drive without [build].
[[nodiscard]] CountedFaults counted_faults(const CountedShaft& crank,
                                           const std::vector<CountedShaft>& others);

}  // namespace twoturn
