#pragma once

#include <vector>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// A solved path with its wheels: what every count along the belt needs.
struct PlacedPath {
  std::vector<Wheel> wheels;
  TangentPath path;
};

}  // namespace twoturn
