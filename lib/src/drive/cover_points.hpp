#pragma once

#include <vector>

#include "twoturn/drive/route_answer.hpp"

namespace twoturn {

/// The gap from the belt's body to every point of every cover.
std::vector<CoverPoint> cover_points(const Drive& drive, const std::vector<Wheel>& wheels,
                                     const TangentPath& path);

}  // namespace twoturn
