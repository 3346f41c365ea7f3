#pragma once

#include <string>

#include "twoturn/study/job_card_answer.hpp"

namespace twoturn {

/// A record of the job (TOML) with a place for everything that the card has a box for, all of it
/// blank. `read_record` reads it back.
std::string blank_record(const JobCard& card);

}  // namespace twoturn
