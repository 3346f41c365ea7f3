// One function a command: adds it to the program and, once it is chosen, sets the job.
#pragma once

#include "common.hpp"

namespace twoturn::cli {

void add_check(CLI::App& program, Job& job);
void add_marks(CLI::App& program, Job& job);
void add_route(CLI::App& program, Job& job);
void add_teeth(CLI::App& program, Job& job);
void add_tensioner(CLI::App& program, Job& job);
void add_turns(CLI::App& program, Job& job);
void add_draw(CLI::App& program, Job& job);
void add_report(CLI::App& program, Job& job);
void add_valves(CLI::App& program, Job& job);
void add_park(CLI::App& program, Job& job);
void add_face(CLI::App& program, Job& job);
void add_sections(CLI::App& program, Job& job);
void add_starter(CLI::App& program, Job& job);
void add_sheet(CLI::App& program, Job& job);

}  // namespace twoturn::cli
