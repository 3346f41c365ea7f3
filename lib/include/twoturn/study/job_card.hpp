#pragma once

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/job_card_answer.hpp"

namespace twoturn {

/// What the job on this drive leaves a trace of. `check` is of the same spec.
[[nodiscard]] JobCard job_card(const DriveSpec& spec, const CheckAnswer& check);

}  // namespace twoturn
