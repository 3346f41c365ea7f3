// How the job sheet is laid out so that it prints on one side of A4.
#pragma once

#include <cstddef>
#include <optional>

#include "twoturn/page/sheet.hpp"

namespace twoturn::sheet {

enum class Density {
  plain,
  dense,
  tight  ///< nothing is said under the table of marks
};

enum class Sides {
  one,
  faults_over,       ///< the fault card on the other side, before the job card
  small_print_over,  ///< faults and cautions on the other side
  marks_over         ///< and the table of marks
};

struct Layout {
  Density density = Density::plain;
  Sides sides = Sides::one;
  std::size_t faults = 0;  ///< rows of the fault card, from its head; the rest stays off paper
  /// Beside a picture: the line with which the order of work goes on under it.
  struct Place {
    std::size_t step = 0;
    std::size_t line = 0;  ///< of that step
  };
  std::optional<Place> cut;
  Vec2 view_mm = Vec2::Zero();  ///< the picture; zero: there is no room for one
  double second_mm = 0.0;       ///< its column is as wide as this, or as the picture
  Vec2 move_mm = Vec2::Zero();  ///< what a stop shows first, in the verdict's frame
};

/// How wide the column is in which the picture stands.
double second_column_mm(const Layout& layout);

/// How high the sheet prints, or the higher of its sides, from the widths of its letters; the
/// browser tests print it.
double printed_height_mm(const SheetAnswer& sheet, const Layout& layout);

/// The sheet with long names cut short, where that leaves them all different; else as it is.
SheetAnswer with_short_names(const SheetAnswer& sheet);

/// Whether the layout is thought to print on one page.
bool fits(const SheetAnswer& sheet, const Layout& layout);

/// Gives up space in this order: size of the small print, the fault card's last rows, the picture's
/// size, all but the card's head, the words under the table, the one side. Only where even then
/// there is no room is there no picture. Never the size of what is read on the bench.
Layout lay_out(const SheetAnswer& sheet, const SheetPictures& pictures);

}  // namespace twoturn::sheet
