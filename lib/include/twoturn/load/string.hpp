#pragma once

namespace twoturn {

/// A straight run of belt between two tangent points, taken as an ideal string: it has a mass, and
/// no stiffness of its own against bending. Sources: any text on vibrating strings; the small give
/// of a string pushed at its middle, statics.
struct BeltString {
  double length_mm = 0.0;    ///< tangent point to tangent point, above 0
  double mass_kg_per_m = 0;  ///< above 0 where a note is asked for
};

/// The tension at which the run sounds its first note at so many Hz, N: 4 m l^2 f^2.
double tension_of_note_n(const BeltString& run, double note_hz);

/// The first note at a tension of 0 or more, Hz.
double note_hz(const BeltString& run, double tension_n);

/// How far the middle gives when pushed square to the run, small beside its length, mm: F l/(4 T);
/// tension above 0.
double give_mm(const BeltString& run, double tension_n, double push_n);

/// The tension at which it gives so far, N; give above 0.
double tension_of_give_n(const BeltString& run, double give_mm, double push_n);

}  // namespace twoturn
