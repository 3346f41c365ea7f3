#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"
#include "twoturn/study/bolts_answer.hpp"

namespace twoturn {

/// Every [[bolts]] of a profile in order, stage by stage, with what its angles come to. What is
/// missing for more is added to `missing`.
[[nodiscard]] BoltsAnswer bolts_answer(const DriveSpec& spec, std::vector<Missing>& missing);

/// The next move of a group: the lowest stage that a bolt has not been through, and of those bolts
/// the first in order. `reached` holds for each bolt, in the order of tightening, how many stages
/// it has been through; bolts beyond its end have been through none. Stages of 0 or above the last
/// are taken as none and all.
[[nodiscard]] NextBolt next_bolt(const BoltGroup& group, const std::vector<int>& reached);

/// "their count is", "what stages they have is", "their count and stages are": of a group that
/// lacks one of them.
std::string what_lacks(const BoltGroup& group);

/// Why such a list says nothing of a group; empty where it does.
std::string why_not_reached(const BoltGroup& group, const std::vector<int>& reached);

}  // namespace twoturn
