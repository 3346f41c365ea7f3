#include "twoturn/engine/lift_law.hpp"

#include <cmath>

#include "closing_in.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

constexpr double kModified = 1.0 / (4.0 + kPi);  // of the modified sine

RiseAt modified_sine(double x) {
  if (x < 0.125) {
    const double phase = 4.0 * kPi * x;
    return {kModified * (kPi * x - 0.25 * std::sin(phase)),
            kModified * kPi * (1.0 - std::cos(phase)),
            kModified * 4.0 * kPi * kPi * std::sin(phase)};
  }
  const double phase = 4.0 * kPi * x / 3.0 + kPi / 3.0;
  return {kModified * (2.0 + kPi * x - 2.25 * std::sin(phase)),
          kModified * kPi * (1.0 - 3.0 * std::cos(phase)),
          kModified * 4.0 * kPi * kPi * std::sin(phase)};
}

// Up to half the rise.
RiseAt first_half(Law law, double x) {
  switch (law) {
    case Law::cycloidal: {
      const double phase = kFullTurn * x;
      return {x - std::sin(phase) / kFullTurn, 1.0 - std::cos(phase), kFullTurn * std::sin(phase)};
    }
    case Law::harmonic: {
      const double phase = kPi * x;
      return {0.5 - 0.5 * std::cos(phase), 0.5 * kPi * std::sin(phase),
              0.5 * kPi * kPi * std::cos(phase)};
    }
    case Law::polynomial_345:
      return {x * x * x * (10.0 + x * (-15.0 + 6.0 * x)), 30.0 * x * x * (1.0 + x * (-2.0 + x)),
              60.0 * x * (1.0 + x * (-3.0 + 2.0 * x))};
    case Law::polynomial_4567: {
      const double square = x * x;
      return {square * square * (35.0 + x * (-84.0 + x * (70.0 - 20.0 * x))),
              140.0 * square * x * (1.0 + x * (-3.0 + x * (3.0 - x))),
              420.0 * square * (1.0 + x * (-4.0 + x * (5.0 - 2.0 * x)))};
    }
    case Law::modified_sine:
      return modified_sine(x);
  }
  return {};
}

}  // namespace

RiseAt rise(Law law, double x) {
  if (x <= 0.0) return {};
  if (x > 1.0) return {1.0, 0.0, 0.0};
  if (x <= 0.5) return first_half(law, x);
  // The halves of each law are alike; from its own end the last of a rise loses no digits.
  const RiseAt to_end = first_half(law, 1.0 - x);
  return {1.0 - to_end.lift, to_end.slope, -to_end.curvature};
}

double rise_lift(Law law, double x) { return rise(law, x).lift; }

double rise_slope(Law law, double x) { return rise(law, x).slope; }

double rise_place(Law law, double lift) {
  if (lift <= 0.0) return 0.0;
  if (lift >= 1.0) return 1.0;
  const auto above = [&](double x) { return rise_lift(law, x) - lift; };
  return place_of_zero(above, 0.0, 1.0, -lift, 1.0 - lift);
}

double greatest_slope(Law law) {
  switch (law) {
    case Law::cycloidal:
      return 2.0;
    case Law::harmonic:
      return kPi / 2.0;
    case Law::polynomial_345:
      return 15.0 / 8.0;
    case Law::polynomial_4567:
      return 35.0 / 16.0;
    case Law::modified_sine:
      return 4.0 * kPi * kModified;
  }
  return 0.0;
}

double greatest_curvature(Law law) {
  switch (law) {
    case Law::cycloidal:
      return kFullTurn;
    case Law::harmonic:
      return kPi * kPi / 2.0;
    case Law::polynomial_345:
      return 10.0 / std::sqrt(3.0);
    case Law::polynomial_4567:
      return 84.0 * std::sqrt(5.0) / 25.0;
    case Law::modified_sine:
      return 4.0 * kPi * kPi * kModified;
  }
  return 0.0;
}

}  // namespace twoturn
