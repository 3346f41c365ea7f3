#pragma once

#include <optional>

#include "twoturn/study/belt_view.hpp"

namespace twoturn {

/// The view at a crank angle, from the answers of `check`; empty where there is no drive to see.
/// Without a belt on (none fits, or its teeth are not known) the crank stands with pins in.
[[nodiscard]] std::optional<BeltView> view_of(const DriveSpec& spec, const CheckAnswer& answer,
                                              double crank_deg);

}  // namespace twoturn
