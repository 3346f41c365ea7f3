#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "twoturn/base/angle.hpp"
#include "twoturn/engine/lift_law.hpp"

namespace twoturn {

/// One row of a measured lift table: crank angle from the table's own zero, and the lift at the
/// valve before lash is taken off.
struct LiftPoint {
  double crank_deg = 0.0;
  double lift_mm = 0.0;

  bool operator==(const LiftPoint&) const = default;
};

struct LiftAt {
  double lift_mm = 0.0;
  double slope_mm = 0.0;      ///< mm a crank radian
  double curvature_mm = 0.0;  ///< mm a crank radian squared
};

/// A lobe by a law: two flanks that meet at the greatest lift, at angle 0.
struct LawFlanks {
  Law law = Law::cycloidal;
  double height_mm = 0.0;
  double opening_rad = 0.0;  ///< length of each flank, > 0
  double closing_rad = 0.0;
};

/// A measured lobe: piecewise cubic between its points with slopes that overshoot nowhere
/// (Fritsch and Butland), flat at both ends.
struct MeasuredLobe {
  std::vector<double> rad;
  std::vector<double> lift_mm;
  std::vector<double> slope_mm;
};

/// A stretch over which a lift curve is smooth.
struct LiftPiece {
  double from_rad = 0.0;
  double to_rad = 0.0;
  double curvature_mm = 0.0;  ///< no |second derivative| in it is greater, mm a radian squared
};

/// What a follower does over the crank angle, at the valve, before lash. Nothing outside its ends.
class LiftCurve {
 public:
  /// Height and flanks above 0.
  static LiftCurve of_law(const LawFlanks& flanks);
  /// At least 5 points, angles rising, lift 0 at both ends, first only rising, then only falling:
  /// else empty. The angles stay the table's.
  static std::optional<LiftCurve> of_table(const std::vector<LiftPoint>& points);

  double lift_mm(double rad) const;
  LiftAt at(double rad) const;
  double greatest_mm() const { return greatest_mm_; }
  Angle greatest_at() const { return Angle::radians(greatest_rad_); }
  /// In order, from the first of it to the last, without gaps.
  const std::vector<LiftPiece>& pieces() const { return pieces_; }
  /// Where it rises, and falls again, through a lift from 0 up to the greatest; the outermost
  /// places.
  Angle rises_through(double lift_mm) const;
  Angle falls_through(double lift_mm) const;

 private:
  using Shape = std::variant<LawFlanks, MeasuredLobe>;
  explicit LiftCurve(Shape shape) : shape_(std::move(shape)) {}

  Shape shape_;
  double greatest_mm_ = 0.0;
  double greatest_rad_ = 0.0;
  double first_rad_ = 0.0;
  double last_rad_ = 0.0;
  std::vector<LiftPiece> pieces_;
};

/// A valve as its cam moves it: angles are crank angles after the top dead centre between exhaust
/// and inlet stroke of its own cylinder, with the period of two turns.
struct Lobe {
  LiftCurve curve;
  Angle placed;  ///< where the curve's angle 0 lies
  double lash_mm = 0.0;

  double lift_mm(Angle after_overlap) const;  ///< of the valve, lash taken off
  double greatest_lift_mm() const { return curve.greatest_mm() - lash_mm; }
  Angle opens() const { return placed + curve.rises_through(lash_mm); }
  Angle closes() const { return placed + curve.falls_through(lash_mm); }
  Angle centre() const { return placed + curve.greatest_at(); }
};

/// What is known of a lobe. Two of opening and closing, or centre and duration, or opening, closing
/// and centre; all at `at_lift_mm` before lash.
struct LobeQuestion {
  std::variant<Law, std::vector<LiftPoint>> shape;
  double height_mm = 0.0;  ///< greatest lift before lash; of a table: its own
  double lash_mm = 0.0;
  double at_lift_mm = 0.0;  ///< before lash
  std::optional<Angle> opens;
  std::optional<Angle> closes;
  std::optional<Angle> centre;
  std::optional<Angle> duration;
};

/// The law's flanks are solved so that the stated places are met exactly; a table is only shifted:
/// to its centre (midway between its two places at the stated lift) or to the middle of opening and
/// closing. Empty where that cannot be: too little said, a lift not reached, nothing left of a
/// flank.
[[nodiscard]] std::optional<Lobe> solve_lobe(const LobeQuestion& question);

/// The period of the valves: two crank turns.
inline constexpr double kCycleRad = 2.0 * kFullTurn;

/// The same angle from -360 up to 360 crank deg.
double wrapped_cycle(double rad);

}  // namespace twoturn
