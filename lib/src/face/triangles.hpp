// Neighbouring points of a face, three by three.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "twoturn/face/zone.hpp"

namespace twoturn::engine {

/// The Delaunay triangles of the points seen from above, anticlockwise, as places in the list.
std::vector<std::array<int, 3>> triangles_between(std::span<const Vec3> points);

}  // namespace twoturn::engine
