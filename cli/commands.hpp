// One function a command: adds it to the program and, once it is chosen, sets the job.
#pragma once

#include "common.hpp"

namespace twoturn::cli {

void add_check(Program& program, Job& job);
void add_marks(Program& program, Job& job);
void add_route(Program& program, Job& job);
void add_teeth(Program& program, Job& job);
void add_tensioner(Program& program, Job& job);
void add_place(Program& program, Job& job);
void add_spread(Program& program, Job& job);
void add_turns(Program& program, Job& job);
void add_draw(Program& program, Job& job);
void add_report(Program& program, Job& job);
void add_valves(Program& program, Job& job);
void add_park(Program& program, Job& job);
void add_feel(Program& program, Job& job);
void add_tension(Program& program, Job& job);
void add_bolts(Program& program, Job& job);
void add_face(Program& program, Job& job);
void add_sections(Program& program, Job& job);
void add_starter(Program& program, Job& job);
void add_sheet(Program& program, Job& job);
void add_why(Program& program, Job& job);
void add_exercise(Program& program, Job& job);
/// Last: it tells of all that were added before it.
void add_list(Program& program, Job& job);

}  // namespace twoturn::cli
