// Parts of the engine's text that several commands print.
#pragma once

#include <string>

#include "twoturn/study/engine_report.hpp"

namespace twoturn::text_engine {

/// Where the pistons stand, as a table under a heading line.
std::string pistons_table(const PistonsAt& at, const std::string& what);

/// A line a head: compression ratio before and after; empty where none is known.
std::string compression(const std::vector<CompressionAnswer>& answers);
std::string compression(const CompressionAnswer& answer);

/// What a check says of the engine: a line a valve, pistons at the pins, where to park.
std::string in_check(const EngineAnswers& engine);

/// "Park the crank at ...": the answer of park in a sentence.
std::string park_line(const ParkAnswer& park);
/// Both ways from there to the timing position, and which of them not to take; empty where there is
/// nothing to turn, or no way is known.
std::string park_ways(const ParkAnswer& park);

}  // namespace twoturn::text_engine
