#pragma once

#include <span>

#include "twoturn/face/contour_lines.hpp"
#include "twoturn/face/zone.hpp"

namespace twoturn {

[[nodiscard]] FaceContours face_contours(std::span<const Vec3> points, const Slab& slab);

}  // namespace twoturn
