// The tables that text, CSV and the report share.
#pragma once

#include <span>

#include "answer_table.hpp"
#include "twoturn/drive/compare_answer.hpp"
#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/belt_view.hpp"
#include "twoturn/study/check_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// A row a pulley, with the run of belt that leaves it.
AnswerTable pulleys_table(const RouteAnswer& answer);
/// A row a run of belt; its side as the view has it, on a page.
AnswerTable runs_table(const RouteAnswer& answer, std::span<const SeenRun> seen = {});
/// A row a place of the tensioner, from slack to tight. Where no belt runs, what hangs on one is
/// not known.
AnswerTable travel_table(const TensionerAnswer& answer);
/// A row a tooth count and place of the tensioner at which it is at its own length; the counts that
/// miss are in CSV.
AnswerTable counts_table(const Drive& drive, const TeethAnswer& answer);
/// A row a tooth count that is compared.
AnswerTable compare_table(const CompareAnswer& answer);
/// A row a place of the tensioner at which the profile's own belt is at its own length.
AnswerTable settings_table(const TensionerAnswer& answer);
/// A row a step of two turns.
AnswerTable steps_table(const TurnsAnswer& answer);
/// A row a belt section.
AnswerTable sections_table();
/// A row a valve and whole teeth out, for programs; people read it valve by valve.
AnswerTable rooms_table(const ValvesAnswer& answer);
/// "1.23 clears"; below nought the valve would go into the piston by so much.
std::string room_cell(const ValveRoom& room);

}  // namespace twoturn
