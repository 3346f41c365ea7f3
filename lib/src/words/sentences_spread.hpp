// How many drives by chance are told, in the text and on the report.
#pragma once

#include <string>

#include "twoturn/drive/spread_answer.hpp"

namespace twoturn::sentences {

/// "normal", "uniform", "limits".
std::string word(SpreadLaw law);

/// "12.34": so many of them in a hundred.
std::string in_hundred(long long count, long long of);

/// A reading of the drives, "clock 346.1" (which goes on past 12 o'clock) or "7.38 mm".
std::string place(const SpreadAnswer& answer, double reading);

/// Where 95 in 100 drives have the tensioner, or what their belt is too long, and how many cannot
/// be put together.
std::string spread_first_line(const SpreadAnswer& answer);

/// "4096 drives, seed 1, thrown evenly within each number's give-or-take."
std::string spread_thrown(const SpreadAnswer& answer);

/// The timing error of one shaft: as given, and between what 95 in 100 lie.
std::string spread_error(const SpreadAnswer& answer, const SpreadError& error);

}  // namespace twoturn::sentences
