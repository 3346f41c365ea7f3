#pragma once

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/job_card_answer.hpp"

namespace twoturn {

/// What `check_drive` found of the same spec as fitted, and the record of the job held against it:
/// the verdict is the worse of both, and never "agrees" while anything that the job asks for is
/// open or not as it should be.
[[nodiscard]] CheckAnswer with_record(const DriveSpec& spec, CheckAnswer paper, const JobCard& card,
                                      const Record& record);

/// For each bolt of a group, in order, how many stages it has been through by the record: up to the
/// first that it is not ticked in.
[[nodiscard]] std::vector<int> reached_by(const Record& record, const BoltGroup& group);

}  // namespace twoturn
