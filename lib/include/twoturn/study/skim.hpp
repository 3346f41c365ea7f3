#pragma once

#include "twoturn/study/skim_answer.hpp"

namespace twoturn {

/// The spec with the skim added. `head` names one of its heads.
DriveSpec skimmed(const DriveSpec& spec, const SkimQuestion& question);

/// The spec with the skim has passed `validate`; the head is one of its own, or it has none.
[[nodiscard]] SkimAnswer skim_consequences(const DriveSpec& spec, const SkimQuestion& question);

}  // namespace twoturn
