// What printed pages at full size share.
#pragma once

#include "draw_parts.hpp"

namespace twoturn::draw {

/// A bar of 100 mm to measure after printing, its left end at a place; with words over it.
scene::Group check_bar(const Vec2& at);
/// The room it takes.
scene::Box check_bar_box(const Vec2& at);

/// A page of A4 with its lower left corner at a place.
scene::Scene page_at(const Vec2& corner, const std::string& title);

}  // namespace twoturn::draw
