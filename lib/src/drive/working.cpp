#include "twoturn/drive/working.hpp"

#include <cmath>

#include "base/at.hpp"

namespace twoturn {
namespace {

WorkingRadius radius_of(const Drive& drive, const RoutePulley& placed) {
  const Pulley& pulley = drive.pulleys[at(placed.index)];
  WorkingRadius radius;
  radius.name = pulley.name;
  radius.teeth = pulley.teeth;
  radius.pitch_mm = drive.belt.pitch_mm;
  radius.diameter_mm = pulley.outside_mm;
  radius.to_pitch_line_mm = pulley.wheel.radius_mm - pulley.outside_mm / 2.0;
  radius.pitch_radius_mm = pulley.wheel.radius_mm;
  radius.sense = pulley.wheel.sense;
  radius.centre_mm = placed.centre_mm;
  return radius;
}

WorkingRun work_run(const WorkingRadius& from, const WorkingRadius& to) {
  WorkingRun run;
  run.from = from;
  run.to = to;
  run.across_mm = to.centre_mm - from.centre_mm;
  run.distance_mm = run.across_mm.norm();
  run.k_mm = to.sense * to.pitch_radius_mm - from.sense * from.pitch_radius_mm;
  run.length_mm =
      std::sqrt((run.distance_mm - std::abs(run.k_mm)) * (run.distance_mm + std::abs(run.k_mm)));
  const Vec2 turned(run.across_mm.y(), -run.across_mm.x());
  run.direction =
      (run.length_mm * run.across_mm + run.k_mm * turned) / (run.distance_mm * run.distance_mm);
  const Vec2 left(-run.direction.y(), run.direction.x());
  run.leaves_mm = from.centre_mm - from.sense * from.pitch_radius_mm * left;
  run.meets_mm = to.centre_mm - to.sense * to.pitch_radius_mm * left;
  return run;
}

bool chosen(const WorkingRun& run, const std::string& from, const std::string& to) {
  const auto is = [](const std::string& name, const std::string& asked) {
    return asked.empty() || name == asked;
  };
  return (is(run.from.name, from) && is(run.to.name, to)) ||
         (is(run.from.name, to) && is(run.to.name, from));
}

}  // namespace

std::optional<WorkingAnswer> work_route(const Drive& drive, const RouteAnswer& route,
                                        const std::string& from, const std::string& to) {
  if (route.pulleys.empty()) return std::nullopt;
  WorkingAnswer answer;
  answer.pitch_mm = drive.belt.tooth_mm();
  for (std::size_t i = 0; i < route.pulleys.size(); ++i) {
    const RoutePulley& here = route.pulleys[i];
    const RoutePulley& next = route.pulleys[(i + 1) % route.pulleys.size()];
    const WorkingRun run = work_run(radius_of(drive, here), radius_of(drive, next));
    answer.runs_mm += run.length_mm;
    if (chosen(run, from, to)) answer.runs.push_back(run);
    const double arc = here.pitch_radius_mm * Angle::degrees(here.wrap_deg).radians();
    answer.arcs.push_back({here.name, here.pitch_radius_mm, here.wrap_deg, arc});
    answer.arcs_mm += arc;
  }
  answer.length_mm = answer.runs_mm + answer.arcs_mm;
  answer.teeth_exact = answer.length_mm / answer.pitch_mm;
  return answer;
}

}  // namespace twoturn
