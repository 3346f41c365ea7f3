#pragma once

#include <string>

#include "twoturn/picture/scene.hpp"

namespace twoturn {

/// The scene as one SVG element, true to size in print (width and height in mm, viewBox in mm).
/// Black on white; the same scene gives the same bytes. Alone here y is turned to point down and
/// text is escaped. `prefix` keeps the names of hatches apart where one page holds several.
std::string svg_of(const scene::Scene& scene, const std::string& prefix = "");

}  // namespace twoturn
