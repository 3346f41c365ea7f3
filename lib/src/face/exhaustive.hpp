// The thinnest slab of a few points by looking at every one that could be it.
#pragma once

#include <optional>
#include <span>

#include "twoturn/face/zone.hpp"

namespace twoturn::engine {

struct Thinnest {
  Vec3 normal = Vec3::UnitZ();
  double width = 0.0;
};

/// The thinnest slab of the points if it is thinner than `bound`. The thinnest slab lies against
/// three points on one side, or against two on each, so those directions are all that count.
std::optional<Thinnest> thinnest_below(std::span<const Vec3> points, double bound);

}  // namespace twoturn::engine
