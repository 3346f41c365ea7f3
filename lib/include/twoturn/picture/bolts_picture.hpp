#pragma once

#include "twoturn/picture/scene.hpp"
#include "twoturn/study/bolts_answer.hpp"

namespace twoturn {

/// Bolts where they stand, looking down on their heads, each with its number in the order of
/// tightening; a dashed line goes from one to the next. `room_mm` across and high at most. The
/// group must be `placed()`.
scene::Scene bolts_scene(const BoltGroup& group, const Vec2& room_mm);

}  // namespace twoturn
