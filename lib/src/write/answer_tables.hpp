// The tables that text, CSV and the report share.
#pragma once

#include <span>

#include "answer_table.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/belt_view.hpp"

namespace twoturn {

/// A row a pulley, with the run of belt that leaves it.
AnswerTable pulleys_table(const RouteAnswer& answer);
/// A row a run of belt; its side as the view has it, on a page.
AnswerTable runs_table(const RouteAnswer& answer, std::span<const SeenRun> seen = {});
/// A row a place of the tensioner, from slack to tight. Where no belt runs, what hangs on one is
/// not known.
AnswerTable travel_table(const TensionerAnswer& answer);

}  // namespace twoturn
