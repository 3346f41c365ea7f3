#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/compare_answer.hpp"
#include "twoturn/drive/place_answer.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/spread_answer.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/drive/working_answer.hpp"
#include "twoturn/study/bolts_answer.hpp"
#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/engine_report.hpp"
#include "twoturn/study/face_report.hpp"
#include "twoturn/study/feel_answer.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/study/picture_made.hpp"
#include "twoturn/study/tension_report.hpp"
#include "twoturn/study/turns_beside.hpp"
#include "twoturn/study/why_answer.hpp"
#include "twoturn/timing/marks_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// Plain text at 80 columns, the answer in the first line. Every number in it is in the document
/// of the same answer, where it may have more digits.

std::string route_text(const Heading& heading, const Drive& drive, const RouteAnswer& answer);
/// The sums of a route step by step, as on a board.
std::string working_text(const Heading& heading, const WorkingAnswer& answer);
std::string teeth_text(const Heading& heading, const Drive& drive, const TeethAnswer& answer);
/// Which belt the marks mean first, then the belts side by side.
std::string compare_text(const Heading& heading, const CompareAnswer& answer);
std::string spread_text(const Heading& heading, const SpreadAnswer& answer);
std::string tensioner_text(const Heading& heading, const TensionerAnswer& answer);
/// Centres, measurements, what contradicts, what to measure next.
std::string place_text(const Heading& heading, const MeasuredPlaces& places);
std::string tension_text(const Heading& heading, const TensionReport& report);
std::string feel_text(const Heading& heading, const FeelAnswer& answer);

/// Of the answer's turns nought and four are shown only where they stand among those `asked` for.
std::string turns_text(const Heading& heading, const TurnsAnswer& answer, const TurnsBeside& beside,
                       const std::vector<int>& asked);
std::string marks_text(const Heading& heading, const MarksAnswer& answer);
/// The verdict first, then what was found, what to see after one and two turns, what was not
/// checked, cautions.
std::string check_text(const Heading& heading, const CheckAnswer& answer);
/// What the catalogue of faults is asked for: where something was seen it is left out, but for the
/// asking.
enum class Catalogue { where_nothing_was_seen, always };
/// What was seen and what it points to; without anything seen, what each fault shows.
std::string why_text(const Heading& heading, const WhyAnswer& answer, Catalogue catalogue);
std::string exercise_text(const Heading& heading, const Exercise& exercise, Solution solution);
std::string valves_text(const Heading& heading, const ValvesReport& report);
std::string park_text(const Heading& heading, const ParkReport& report);
/// The next move first where it was asked for, else the stages; then the grid.
std::string bolts_text(const Heading& heading, const BoltsAnswer& answer);
/// "Out of flat by" first.
std::string face_text(const FaceReport& report);
/// The lines that say what was written and what to mind.
std::string draw_text(const PictureMade& made, const CheckAnswer& answer);
std::string sections_text();
std::string none_text(const Heading& heading, const NoAnswer& none);

}  // namespace twoturn
