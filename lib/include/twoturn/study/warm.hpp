#pragma once

#include <optional>

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/warm_answer.hpp"

namespace twoturn {

/// What [build.warm] makes of a drive as fitted. Empty where the profile has none, or where the
/// cold drive cannot be put together.
[[nodiscard]] std::optional<WarmAnswer> warm_drive(const DriveSpec& spec, const BothFits& both);

}  // namespace twoturn
