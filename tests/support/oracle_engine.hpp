// A cylinder worked out again in long double, with nothing of the library: piston, lift laws and
// least room by a dense grid and a finer grid inside its best cells.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

namespace oracle {

using Real = long double;
inline Real real(double value) { return static_cast<Real>(value); }

inline const Real kPi = std::acos(Real(-1));
inline Real radians(Real degrees) { return degrees * kPi / 180; }

/// Law of cosines for the pin's height, from the triangle crank centre, crank pin, gudgeon pin.
struct Piston {
  Real crank_throw, rod, offset;

  Real height(Real from_line) const {
    const Real aside = crank_throw * std::sin(from_line) - offset;
    return crank_throw * std::cos(from_line) + std::sqrt(rod * rod - aside * aside);
  }
  /// Top dead centre: throw and rod in one line.
  Real top_at() const { return std::asin(offset / (crank_throw + rod)); }
  Real depth(Real after_top_deg) const {
    return height(top_at()) - height(top_at() + radians(after_top_deg));
  }
};

/// s(x) of the laws, each integrated or written down from its definition as an acceleration.
inline Real cycloidal(Real x) { return x - std::sin(2 * kPi * x) / (2 * kPi); }
inline Real harmonic(Real x) {
  const Real half = std::sin(kPi * x / 2);
  return half * half;
}
inline Real polynomial_345(Real x) {
  return 10 * x * x * x - 15 * x * x * x * x + 6 * std::pow(x, Real(5));
}
inline Real polynomial_4567(Real x) {
  return 35 * std::pow(x, Real(4)) - 84 * std::pow(x, Real(5)) + 70 * std::pow(x, Real(6)) -
         20 * std::pow(x, Real(7));
}

/// Lift over crank deg after overlap, before it below 0.
struct Valve {
  std::function<Real(Real)> law;
  Real height, lash, centre_deg, opening_deg, closing_deg, drop_a_lift, room_tdc;

  Real lift(Real at_deg) const {
    Real from = std::remainder(at_deg - centre_deg, Real(720));
    const Real length = from < 0 ? opening_deg : closing_deg;
    from = std::abs(from);
    if (from >= length) return 0;
    return std::max(Real(0), height * law(1 - from / length) - lash);
  }
};

struct Least {
  Real room, at_deg;
};

inline Least least_room(const Piston& piston, const Valve& valve, Real early_deg) {
  const auto room = [&](Real at) {
    return valve.room_tdc + piston.depth(at) - valve.drop_a_lift * valve.lift(at + early_deg);
  };
  Least least{room(-360), -360};
  const auto look = [&](Real from, Real step, long count) {
    Least best = least;
    for (long k = 0; k <= count; ++k) {
      const Real at = from + step * static_cast<Real>(k);
      const Real here = room(at);
      if (here < best.room) best = {here, at};
    }
    least = best;
  };
  look(-360, Real(0.05), 14400);
  for (const Real step : {Real(1e-3), Real(1e-5), Real(1e-7)}) {
    look(least.at_deg - 100 * step, step, 200);
  }
  return least;
}

}  // namespace oracle
