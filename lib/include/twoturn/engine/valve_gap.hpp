#pragma once

#include "twoturn/engine/lobe.hpp"

namespace twoturn {

/// A valve's head across the chamber, seen square to both stems, which are taken to lie in one
/// plane with the bore: the rim of the head as a straight edge.
struct ValveHead {
  double across_mm =
      0.0;               ///< from the bore's line to the middle of the head when shut; + inlet side
  double head_mm = 0.0;  ///< diameter
  double valve_deg = 0.0;  ///< the stem from the bore's line; its top leans out, to the head's own
                           ///< side, so that the valve opens towards the bore's line
};

/// How far two heads are apart, with so much lift each; 0 where they meet. Both seats at one
/// height.
double head_gap_mm(const ValveHead& first, double first_lift_mm, const ValveHead& second,
                   double second_lift_mm);

/// How deep the two rims lie across each other: the least way that would part them. 0 where they
/// are apart. With `head_gap_mm` less this the gap goes on below 0 without a step.
double head_overlap_mm(const ValveHead& first, double first_lift_mm, const ValveHead& second,
                       double second_lift_mm);

struct GapAt {
  double gap_mm = 0.0;
  Angle at;  ///< after overlap, crank, from -360 up to 360 deg
};

/// The least gap over two turns, each cam so much early: of steps of 0.5 crank deg those that may
/// hold it, by how far both heads travel in them, closed in on by golden section. The first place
/// where it is a plain 0 or as small as anywhere.
[[nodiscard]] GapAt least_gap(const ValveHead& first, const Lobe& first_lobe, Angle first_advance,
                              const ValveHead& second, const Lobe& second_lobe,
                              Angle second_advance);

/// The deepest overlap over two turns, of steps of 0.5 crank deg; `gap_mm` is less than 0 by it.
[[nodiscard]] GapAt deepest_overlap(const ValveHead& first, const Lobe& first_lobe,
                                    Angle first_advance, const ValveHead& second,
                                    const Lobe& second_lobe, Angle second_advance);

}  // namespace twoturn
