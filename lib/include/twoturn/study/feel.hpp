#pragma once

#include <optional>

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/feel_answer.hpp"
#include "twoturn/study/valves.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// How closely the belt with its give is looked at: every half crank deg, or every sixth deg where
/// only slack and extremes are wanted, and no snap is told (a check). Humps are the same in both.
enum class FeelLook { closely, coarsely };

/// What the hand at the crank feels over two turns, plugs out. `turns` says how far each cam is
/// out, `valves` which valves meet their pistons; without `fitted` the belt is taken not to give.
/// What is missing for more is added to `missing`. Empty where no valve's lobe is known, or on
/// which cam it runs.
[[nodiscard]] std::optional<FeelAnswer> feel_answer(const DriveSpec& spec, const Fitted* fitted,
                                                    Fit fit, const TurnsAnswer* turns,
                                                    const ValvesAnswer* valves,
                                                    std::vector<Missing>& missing,
                                                    FeelLook look = FeelLook::closely);

}  // namespace twoturn
