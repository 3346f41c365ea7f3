#pragma once

#include <string>

#include "twoturn/read/profile.hpp"
#include "twoturn/study/job_card_answer.hpp"
#include "twoturn/study/record_answer.hpp"

namespace twoturn {

/// Reads the record of a job (TOML, as `blank_record` writes it) for what it holds: "" and absent
/// are blank. `card` is what the job on this very profile asks for: a record of another profile, by
/// its fingerprint, is refused, and so is a name that the profile has not. Throws InputError with
/// every problem at once.
Record read_record(const std::string& name, const std::string& text, const JobCard& card);

}  // namespace twoturn
