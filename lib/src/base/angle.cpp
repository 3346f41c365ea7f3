#include "twoturn/base/angle.hpp"

#include <cmath>

namespace twoturn {
namespace {

// fmod is exact, so only the final shift by a turn rounds; a tiny negative value would round up to
// a whole turn and is taken back to 0.
double wrap_to_turn(double value, double turn) {
  double wrapped = std::fmod(value, turn);
  if (wrapped < 0.0) wrapped += turn;
  return wrapped >= turn ? 0.0 : wrapped;
}

}  // namespace

double Angle::clock_deg() const { return wrap_to_turn(90.0 - degrees(), 360.0); }

Angle Angle::wrapped_turn() const { return Angle(wrap_to_turn(radians_, kFullTurn)); }

Angle Angle::wrapped_half() const {
  const double wrapped = std::remainder(radians_, kFullTurn);
  return Angle(wrapped <= -kPi ? wrapped + kFullTurn : wrapped);
}

double wrapped_deg(double deg, double cycle_deg) {
  const double wrapped = deg - cycle_deg * std::floor(deg / cycle_deg);
  return wrapped >= cycle_deg ? 0.0 : wrapped;
}

}  // namespace twoturn
