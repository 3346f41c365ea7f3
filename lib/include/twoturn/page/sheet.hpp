#pragma once

#include <optional>
#include <string>

#include "twoturn/study/sheet_answer.hpp"

namespace twoturn {

/// One A4 page of HTML that needs nothing else, black on white; on a narrow screen one column.
/// `view_svg` is an SVG element of the belt end; without it the text takes its place.
/// Draw it at the size that `sheet_view_mm` gives, so that its texts keep theirs.
std::string sheet_html(const SheetAnswer& sheet, const std::optional<std::string>& view_svg = {});

/// The room that a picture has on this sheet, 85 x 110 mm or less; empty where there is none.
std::optional<Vec2> sheet_view_mm(const SheetAnswer& sheet);

/// Plain text for a phone, at most 40 columns; a number is never parted from its unit.
std::string sheet_phone(const SheetAnswer& sheet);

}  // namespace twoturn
