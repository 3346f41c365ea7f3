// How the job sheet is laid out so that it prints on one side of A4.
#pragma once

#include <cstddef>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn::sheet {

enum class Picture { none, there };
enum class Density { plain, dense };

struct Layout {
  Density density = Density::plain;
  std::size_t faults = 0;       ///< rows of the fault card, from its head; the rest stays off paper
  std::size_t first_steps = 0;  ///< beside a picture: how many steps stand on its left
  double view_scale = 1.0;      ///< of 85 x 110 mm; 0: there is no room for the picture
};

inline constexpr double kViewWideMm = 85.0;
inline constexpr double kViewHighMm = 110.0;

/// Roughly how high the sheet prints, from the lengths of its texts; the browser tests print it.
double printed_height_mm(const SheetAnswer& sheet, const Layout& layout);

/// The sheet with long names cut short, where that leaves them all different; else as it is.
SheetAnswer with_short_names(const SheetAnswer& sheet);

/// Whether the layout is thought to print on one page.
bool fits(const SheetAnswer& sheet, const Layout& layout);

/// Gives up space in this order: size of the small print, the picture's size, the fault card's last
/// rows, the picture. Never the size of what is read on the bench.
Layout lay_out(const SheetAnswer& sheet, Picture picture);

}  // namespace twoturn::sheet
