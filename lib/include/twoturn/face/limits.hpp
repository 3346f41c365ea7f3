#pragma once

#include <optional>

namespace twoturn {

/// What a face is judged by. The limits in circulation contradict one another: a strict and a loose
/// one are common practice; the engine's own are inputs.
struct FaceLimits {
  std::optional<double> strict_mm;  ///< out of flat by no more: within every usual limit
  std::optional<double> loose_mm;   ///< by more: refused
  std::optional<double> gap_mm;     ///< a gap this wide under the straight edge: refused
  std::optional<double> local_mm;   ///< out of flat within one square; no usual limit

  bool operator==(const FaceLimits&) const = default;
};

inline constexpr double kStrictFlatMm = 0.05;
inline constexpr double kLooseFlatMm = 0.10;
inline constexpr double kFarTooWideGapMm = 0.2;

}  // namespace twoturn
