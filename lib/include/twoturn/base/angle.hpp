#pragma once

#include <compare>

namespace twoturn {

inline constexpr double kPi = 3.14159265358979323846;
inline constexpr double kFullTurn = 2.0 * kPi;
inline constexpr double kRadPerDeg = kPi / 180.0;

/// A plane angle, held in radians, anticlockwise from +x.
///
/// A travelled angle keeps its turns: nothing here wraps unless asked to. People read *clock
/// angles*, degrees clockwise from 12 o'clock; they exist only at the edges of the library, through
/// `clock` and `clock_deg`.
class Angle {
 public:
  constexpr Angle() = default;
  static constexpr Angle radians(double value) { return Angle(value); }
  static constexpr Angle degrees(double value) { return Angle(value * kRadPerDeg); }
  /// From degrees clockwise from 12 o'clock.
  static constexpr Angle clock(double degrees) { return Angle((90.0 - degrees) * kRadPerDeg); }

  constexpr double radians() const { return radians_; }
  constexpr double degrees() const { return radians_ / kRadPerDeg; }
  /// Degrees clockwise from 12 o'clock, in [0, 360).
  double clock_deg() const;

  /// The same direction in [0, 2 pi). A value within 1e-15 below a full turn gives 0.
  Angle wrapped_turn() const;
  /// The same direction in (-pi, pi].
  Angle wrapped_half() const;

  friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.radians_ + b.radians_); }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.radians_ - b.radians_); }
  friend constexpr Angle operator-(Angle a) { return Angle(-a.radians_); }
  friend constexpr Angle operator*(double k, Angle a) { return Angle(k * a.radians_); }
  friend constexpr Angle operator*(Angle a, double k) { return Angle(k * a.radians_); }
  friend constexpr Angle operator/(Angle a, double k) { return Angle(a.radians_ / k); }
  friend constexpr auto operator<=>(Angle, Angle) = default;

 private:
  explicit constexpr Angle(double radians) : radians_(radians) {}
  double radians_ = 0.0;
};

/// The same place of a cycle, in [0, cycle): crank deg of one turn (360) or of two (720).
double wrapped_deg(double deg, double cycle_deg);

inline constexpr double kTurnDeg = 360.0;
inline constexpr double kTwoTurnsDeg = 720.0;

/// The same place of one turn, in [0, 360).
inline double in_turn(double deg) { return wrapped_deg(deg, kTurnDeg); }

}  // namespace twoturn
