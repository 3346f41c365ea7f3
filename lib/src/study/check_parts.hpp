// The parts of `check_drive`: each judges from answers and stated facts alone.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/study/check.hpp"

namespace twoturn {

/// `check_drive` and `answer_fit` of drives that are built already, `spec` theirs.
CheckAnswer check_built(const DriveSpec& spec, const BothFits& both, Fit fit);
/// What is only compared with needs no look along the tensioner's travel.
enum class Depth { whole, to_compare };
FitAnswer answer_built(const DriveSpec& spec, const BothFits& both, Fit fit,
                       std::vector<Missing>& missing, Depth depth = Depth::whole);

void find_in_route(const DriveSpec& spec, const FitAnswer& answer, std::vector<Finding>& findings);
void find_in_tensioner(const DriveSpec& spec, const CheckAnswer& answer,
                       std::vector<Finding>& findings);
/// `spec` as fitted: with what [build] renews.
void find_in_rates(const DriveSpec& spec, std::vector<Finding>& findings);
void find_in_timing(const DriveSpec& spec, const TurnsAnswer& turns,
                    std::vector<Finding>& findings);
void find_in_numbers(const DriveSpec& spec, std::vector<Finding>& findings);
/// Which limits were loosened, as a sentence of a headline; empty where none was.
std::string judged_by_loosened(const std::vector<Finding>& findings);
/// Numbers that would be right in another unit, or measured another way.
void find_in_units(const DriveSpec& spec, const FitAnswer& judged, std::vector<Finding>& findings);
/// Lines that cannot both be so.
void find_contradictions(const DriveSpec& spec, std::vector<Finding>& findings);
/// What is assumed for want of a line, and could turn the verdict.
void find_unsettled(const DriveSpec& spec, Fit fit, std::vector<Finding>& findings);
bool is_unsettled(const Finding& finding);  ///< one of those
/// Measurements of centres that contradict each other.
void find_in_places(const DriveSpec& spec, std::vector<Finding>& findings);
/// No valve meets a piston by what is said, and no number says otherwise.
bool never_meet(const DriveSpec& spec, const EngineAnswers& engine);
void find_in_engine(const DriveSpec& spec, const EngineAnswers& engine,
                    std::vector<Finding>& findings);

/// What was seen, against what was judged on paper.
void find_in_seen(const CheckAnswer& answer, std::vector<Finding>& findings);
/// Slack runs, a sprung tensioner at its end, a tension that no pointer reaches.
void find_in_forces(const CheckAnswer& answer, std::vector<Finding>& findings);

/// What a profile leaves open beyond its geometry, each with the one measurement that closes it.
void add_open_questions(const DriveSpec& spec, const CheckAnswer& answer,
                        std::vector<Missing>& missing);

std::vector<std::string> whole_move(const DriveSpec& spec, const CheckAnswer& answer);

/// The usual cautions, chosen by what the drive is; the short form of the sheet's.
std::vector<std::string> cautions_for(const DriveSpec& spec);

}  // namespace twoturn
