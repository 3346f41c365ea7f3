#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/timing/marks.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// Plain text at 80 columns, the answer in the first line. Every number in it is in the document
/// of the same answer, where it may have more digits.

std::string route_text(const Heading& heading, const Drive& drive, const RouteAnswer& answer);
std::string teeth_text(const Heading& heading, const Drive& drive, const TeethAnswer& answer);
std::string tensioner_text(const Heading& heading, const Drive& drive,
                           const TensionerAnswer& answer);
/// Of the answer's turns nought and four are shown only where they stand among those `asked` for.
std::string turns_text(const Heading& heading, const TurnsAnswer& answer,
                       const std::vector<int>& asked);
std::string marks_text(const Heading& heading, const MarksAnswer& answer);
std::string sections_text();
std::string none_text(const Heading& heading, const NoAnswer& none);

}  // namespace twoturn
