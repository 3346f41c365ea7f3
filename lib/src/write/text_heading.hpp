// The line that every text opens its details with.
#pragma once

#include <string>

#include "twoturn/study/no_answer.hpp"

namespace twoturn::sentences {

/// "Harbour launch, single-cam four. As fitted." with a line's end.
std::string heading(const Heading& heading);

}  // namespace twoturn::sentences
