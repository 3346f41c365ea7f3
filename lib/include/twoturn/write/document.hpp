#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "twoturn/base/problem.hpp"
#include "twoturn/drive/compare_answer.hpp"
#include "twoturn/drive/place_answer.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/spread_answer.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/drive/working_answer.hpp"
#include "twoturn/study/bolts_answer.hpp"
#include "twoturn/study/card_answer.hpp"
#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/engine_report.hpp"
#include "twoturn/study/face_report.hpp"
#include "twoturn/study/feel_answer.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/study/picture_made.hpp"
#include "twoturn/study/report_answer.hpp"
#include "twoturn/study/sheet_answer.hpp"
#include "twoturn/study/tension_report.hpp"
#include "twoturn/study/turns_beside.hpp"
#include "twoturn/study/why_answer.hpp"
#include "twoturn/timing/marks_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// JSON documents: every number of an answer under a key that carries its unit. Numbers round-trip,
/// -0 is 0, and what is not known is null. Clock angles are degrees clockwise from 12 o'clock.
/// Each ends with a newline.

std::string route_document(const Heading& heading, const Drive& drive, const RouteAnswer& answer);
std::string working_document(const Heading& heading, const WorkingAnswer& answer);
std::string teeth_document(const Heading& heading, const Drive& drive, const TeethAnswer& answer);
std::string compare_document(const Heading& heading, const CompareAnswer& answer);
std::string spread_document(const Heading& heading, const SpreadAnswer& answer);
std::string tensioner_document(const Heading& heading, const Drive& drive,
                               const TensionerAnswer& answer);
std::string place_document(const Heading& heading, const MeasuredPlaces& places);
std::string tension_document(const Heading& heading, const TensionReport& report);
std::string feel_document(const Heading& heading, const FeelAnswer& answer);
std::string turns_document(const Heading& heading, const TurnsAnswer& answer,
                           const TurnsBeside& beside);
std::string marks_document(const Heading& heading, const MarksAnswer& answer);
/// Every answer behind the verdict inside it.
std::string check_document(const Heading& heading, const CheckAnswer& answer);
/// The catalogue always, the ranking where something was seen.
std::string why_document(const Heading& heading, const WhyAnswer& answer);
std::string exercise_document(const Heading& heading, const Exercise& exercise, Solution solution);
std::string valves_document(const Heading& heading, const ValvesReport& report);
std::string park_document(const Heading& heading, const ParkReport& report);
std::string bolts_document(const Heading& heading, const BoltsAnswer& answer);
std::string face_document(const FaceReport& report);
std::string draw_document(const Heading& heading, const PictureMade& made,
                          const CheckAnswer& answer);
std::string report_document(const ReportAnswer& report, const std::string& path, std::size_t bytes);
std::string sheet_document(const SheetAnswer& sheet, const SheetFile& file);
std::string card_document(const CardAnswer& card, const SheetFile& file);
std::string sections_document();
std::string none_document(const Heading& heading, const NoAnswer& none);

/// Why a command came to nothing: an unusable input, wrong usage, output that cannot be written, a
/// fault of the program.
struct Failure {
  std::string kind;  ///< "input", "usage", "output", "fault"
  std::string text;
  int exit_code = 0;
  std::vector<Problem> problems;
};
std::string error_document(const Failure& failure);

}  // namespace twoturn
