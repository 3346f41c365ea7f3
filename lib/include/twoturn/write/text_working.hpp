#pragma once

#include <string>

#include "twoturn/drive/working.hpp"
#include "twoturn/study/no_answer.hpp"

namespace twoturn {

/// The sums of a route step by step, as on a board.
std::string working_text(const Heading& heading, const WorkingAnswer& answer);
std::string working_document(const Heading& heading, const WorkingAnswer& answer);

}  // namespace twoturn
