// How well a person sees what is looked at, one sigma. Common practice, USERS.md's "What they can
// measure".
#pragma once

#include "twoturn/fault/look.hpp"

namespace twoturn {

inline constexpr double kPinSigmaMm = 0.05;  ///< holes and pins are no better than that
inline constexpr double kCountSigma = 0.25;  ///< teeth; a person counts whole ones
inline constexpr double kPointerSigmaDeg = 4.0;
inline constexpr double kPointerSigmaMm = 0.5;
inline constexpr double kMarkSigmaDeg = 1.0;  ///< own deg, of a mark at no known radius
inline constexpr double kStopSigmaDeg = 5.0;  ///< of where a stop was felt, read off the crank
inline constexpr double kSlip = 0.01;         ///< share of looks that are plainly mistaken

/// How far one value of a look is from another, the short way round where it is a direction: half a
/// turn early is half a turn late.
double value_off(const BenchLayout& layout, const Look& look, double a, double b);

}  // namespace twoturn
