#pragma once

namespace twoturn {

/// How a lobe lifts, from nothing to its greatest lift over a flank.
enum class Law { cycloidal, harmonic, polynomial_345, polynomial_4567, modified_sine };

/// A rise of 1 over a length of 1, and its derivatives there.
struct RiseAt {
  double lift = 0.0;
  double slope = 0.0;
  double curvature = 0.0;
};

/// The law at x; 0 up to 0, 1 after 1. Exact. At 1 itself the curvature is the rise's own: a nose
/// without dwell has it from both sides (harmonic: -pi^2/2).
RiseAt rise(Law law, double x);
double rise_lift(Law law, double x);
double rise_slope(Law law, double x);

/// Where the law has risen to `lift` (0 to 1), to 1e-15.
double rise_place(Law law, double lift);

/// The law's greatest slope and greatest |curvature|: closed forms.
double greatest_slope(Law law);
double greatest_curvature(Law law);

}  // namespace twoturn
