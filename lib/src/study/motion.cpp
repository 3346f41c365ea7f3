#include "twoturn/study/motion.hpp"

#include <cmath>

#include "base/at.hpp"
#include "view_belt.hpp"

namespace twoturn {
namespace {

// The shaft that each pulley is, -1 for smooth ones.
std::vector<int> shafts_of(const Assembly& assembly) {
  std::vector<int> shafts(assembly.fitted.pulleys.size(), -1);
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    const int pulley = assembly.shafts[i].pulley;
    if (pulley >= 0) shafts[at(pulley)] = static_cast<int>(i);
  }
  return shafts;
}

void add_step(const Assembly& assembly, const std::vector<int>& shafts,
              const std::vector<ShaftReading>& start, const RunState& state, Motion& motion) {
  const std::vector<ShaftReading> readings = read_shafts(assembly, state);
  const double travel = belt_travel_teeth(assembly, state);
  motion.crank_deg.push_back(state.crank.degrees());
  motion.belt_teeth.push_back(travel);
  for (std::size_t i = 0; i < shafts.size(); ++i) {
    const Wheel& wheel = assembly.fitted_path.wheels[i];
    if (shafts[i] < 0) {
      const double rolled = travel * assembly.fitted.belt.pitch_mm / wheel.radius_mm;
      motion.pulley_deg[i].push_back(wheel.sense * Angle::radians(rolled).degrees());
      continue;
    }
    const Shaft& shaft = assembly.shafts[at(shafts[i])];
    const ShaftReading& reading = readings[at(shafts[i])];
    const double since_start = reading.pulley.degrees() - start[at(shafts[i])].pulley.degrees();
    motion.pulley_deg[i].push_back(shaft.sense * since_start);
    if (!shaft.timed()) continue;
    motion.pulley_errors[i].push_back(error_crank_deg(shaft, reading, state.crank));
  }
}

}  // namespace

std::optional<Motion> motion_of(const FitAnswer& answer, int turns, double step_deg) {
  if (!answer.turns) return std::nullopt;
  const Assembly& assembly = answer.turns->assembly;
  const std::vector<int> shafts = shafts_of(assembly);
  Motion motion;
  motion.pulley_deg.resize(shafts.size());
  motion.pulley_errors.resize(shafts.size());
  motion.belt_count = assembly.belt_teeth;
  RunState state = start_of_run(assembly);
  motion.first_tooth = first_belt_tooth(assembly, state);
  const std::vector<ShaftReading> start = read_shafts(assembly, state);
  const int steps = static_cast<int>(std::lround(360.0 * turns / step_deg));
  for (int k = 0; k <= steps; ++k) {
    advance(assembly, state, Angle::degrees(k * step_deg));
    add_step(assembly, shafts, start, state, motion);
  }
  return motion;
}

}  // namespace twoturn
