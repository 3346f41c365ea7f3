#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn {

/// The pictures that a sheet may have. Their texts keep their size: each is drawn as large as said.
struct SheetPictures {
  std::vector<Vec2> views_mm{};  ///< sizes of the drive's picture, the largest first
  Vec2 move_mm = Vec2::Zero();   ///< of a stop's first picture; zero: none
};

/// SVG elements.
struct SheetSvgs {
  std::string view{};
  std::string move{};
};

/// The largest of those sizes that leaves room for the rest; empty where none does.
std::optional<Vec2> sheet_view_mm(const SheetAnswer& sheet, const SheetPictures& pictures);

/// How many sides of A4 the page is thought to take with those that were drawn: one, where it all
/// goes on it and there is no job card.
int sheet_sides(const SheetAnswer& sheet, const SheetPictures& pictures);

/// One A4 page of HTML that needs nothing else, black on white; on a narrow screen one column.
/// `pictures` are those that were drawn, in the sizes in which they were.
std::string sheet_html(const SheetAnswer& sheet, const SheetPictures& pictures = {},
                       const SheetSvgs& svgs = {});

/// Plain text for a phone, at most 40 columns; a number is never parted from its unit.
std::string sheet_phone(const SheetAnswer& sheet);

}  // namespace twoturn
