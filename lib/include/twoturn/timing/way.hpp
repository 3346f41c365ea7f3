#pragma once

#include <optional>
#include <span>

#include "twoturn/drive/drive.hpp"
#include "twoturn/geometry/placed_path.hpp"

namespace twoturn {

/// The way from one pulley to another: along the belt's travel, or against it.
enum class Way { with_travel, against_travel };

/// Where a point at a polar angle of a wheel lies on its arc of contact: pitch-line mm from the
/// arc's entry, along travel, on the branch nearest the middle of the arc. Outside [0, arc] the
/// point is not in mesh.
struct OnArc {
  double from_entry_mm = 0.0;
  double arc_mm = 0.0;

  bool in_mesh() const { return from_entry_mm >= 0.0 && from_entry_mm <= arc_mm; }
};
OnArc on_arc(const PlacedPath& placed, int pulley, Angle at);

/// Pitch-line mm from the entry of `from` along travel to the entry of `to`; 0 when they are one.
double entry_to_entry_mm(const PlacedPath& placed, int from, int to);

/// The way between the crank and a pulley that does not hold the tensioner; the tight side where
/// there is none, or where the tensioner's own pulley is asked for. From the crank: with travel is
/// the slack side, against travel the tight side.
Way reference_way(const Drive& drive, int pulley);

/// Signed pitch-line distance from the crank's mark to a pulley's mark along a way, positive with
/// travel: kappa_i - kappa_crank of lib/DERIVATIONS.md, "Phasing". Nothing on the other way enters.
double crank_to_mark_mm(const PlacedPath& placed, int pulley, Way way, double crank_from_entry_mm,
                        double mark_from_entry_mm);

/// What `crank_to_mark_mm` gains, to first order, as one wheel moves and grows, both marks at their
/// angles; the radius of the crank and of the pulley itself left out, for their pitch is the
/// belt's.
double way_gain_mm(const PlacedPath& placed, int pulley, Way way, int moved, const Vec2& by_mm,
                   double radius_mm);

/// Belt teeth between two marks as they stand with pins in.
struct TeethBetween {
  int from = 0;  ///< pulleys in travel order
  int to = 0;
  Way way = Way::with_travel;
  double teeth = 0.0;  ///< from mark to mark, or from the last tooth in mesh where a mark is out
  bool from_in_mesh = true;
  bool to_in_mesh = true;
  std::optional<double> other_way;  ///< the belt's count less `teeth`; both marks in mesh only

  /// Whole only where a person can count: both marks in mesh, a twentieth of a tooth off at most.
  bool countable() const;
};
TeethBetween teeth_between(const Drive& drive, const PlacedPath& placed, int from, Angle from_at,
                           int to, Angle to_at);

}  // namespace twoturn
