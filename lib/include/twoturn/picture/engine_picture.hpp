#pragma once

#include <optional>

#include "twoturn/drive/spec.hpp"
#include "twoturn/picture/plot.hpp"
#include "twoturn/study/engine_curves_answer.hpp"
#include "twoturn/study/pistons_answer.hpp"

namespace twoturn {

/// Room between each valve of a cylinder and its piston over two turns, up to where it does not
/// matter any more; empty without valves.
std::optional<Plot> room_plot(const EngineCurves& curves);

/// How deep the piston stands and how far each valve is open, over two turns.
std::optional<Plot> motion_plot(const EngineCurves& curves);

/// The lobes of cylinder 1 as they stand at the timing position, and the pistons then; empty where
/// neither is known.
std::optional<scene::Scene> timing_position_scene(const EngineCurves& first,
                                                  const std::optional<PistonsAnswer>& pistons,
                                                  std::optional<Turn> crank_turns);

}  // namespace twoturn
