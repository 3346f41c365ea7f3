// How the way from the crank's mark to a shaft's changes from the book to a fit, marks at fixed
// angles: lib/DERIVATIONS.md, "Phasing".
#pragma once

#include <optional>

#include "twoturn/timing/way.hpp"

namespace twoturn {

/// The paths by the book and as fitted, on which a pulley's place may differ.
struct BookAndFitted {
  const PlacedPath& book;
  const PlacedPath& fitted;
};

/// A timed pulley on both, and the angle of its mark with pins in.
struct MarkedPulley {
  int book = 0;
  int fitted = 0;
  std::optional<Angle> mark;  ///< none: followed at the middle of its arc by the book
};

OnArc book_mark(const PlacedPath& book, const MarkedPulley& pulley);

/// The mark as fitted, on the branch that it has by the book, so that a change is a change.
double fitted_mark_from_entry_mm(const BookAndFitted& paths, const MarkedPulley& pulley);

}  // namespace twoturn
