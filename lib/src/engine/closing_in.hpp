// Where something passes through 0 between two places.
#pragma once

#include <algorithm>
#include <cmath>

namespace twoturn {

/// Where a continuous value is 0, between two places at which it is not on the same side of 0, to
/// what a double tells apart. Halving, or inverse quadratic interpolation where the last three
/// looks lie nearly on one curve: T. R. Chandrupatla, "A new hybrid quadratic/bisection algorithm
/// for finding the zero of a nonlinear function", Advances in Engineering Software 28 (1997).
template <class Value>
double place_of_zero(const Value& value, double low, double high, double at_low, double at_high) {
  const double same = 4e-16 * std::max(std::abs(low), std::abs(high));
  if (at_low == 0.0) return low;
  if (at_high == 0.0) return high;
  // The newest look, the nearest beyond 0, and the one before.
  double place = high, across = low, before = low;
  double at_place = at_high, at_across = at_low, at_before = at_low;
  double share = 0.5;
  while (true) {
    const double look = place + share * (across - place);
    const double at_look = value(look);
    if (at_look == 0.0) return look;
    if ((at_look < 0.0) == (at_place < 0.0)) {
      before = place;
      at_before = at_place;
    } else {
      before = across;
      at_before = at_across;
      across = place;
      at_across = at_place;
    }
    place = look;
    at_place = at_look;
    const double least_share = same / std::abs(across - place);
    if (!(least_share < 0.5)) return std::abs(at_across) < std::abs(at_place) ? across : place;
    const double part = (place - across) / (before - across);
    const double rise = (at_place - at_across) / (at_before - at_across);
    share = 0.5;
    if (rise * rise < part && (1.0 - rise) * (1.0 - rise) < 1.0 - part) {
      share = at_place / (at_across - at_place) * at_before / (at_across - at_before) +
              (before - place) / (across - place) * at_place / (at_before - at_place) * at_across /
                  (at_before - at_across);
    }
    share = std::clamp(share, least_share, 1.0 - least_share);
  }
}

}  // namespace twoturn
