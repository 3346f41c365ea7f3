#pragma once

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/build_shares_answer.hpp"

namespace twoturn {

/// Each part of a profile's [build] on its own, against the drive by the book. Nothing under
/// [build], or by the book no drive that can be put together: no parts.
[[nodiscard]] BuildShares build_shares(const DriveSpec& spec, const FittedResult& book);

}  // namespace twoturn
