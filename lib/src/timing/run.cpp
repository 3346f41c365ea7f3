#include "twoturn/timing/run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

// A tooth this near an end of an arc (in teeth) counts as in mesh, so that rounding decides
// nothing.
constexpr double kEdgeTeeth = 1e-9;

// Where groove 0 lies with pins in and where belt tooth 0 lies, in belt teeth from the crank's
// entry, counted along the shaft's reference way.
double groove_zero(const Assembly& assembly, std::size_t shaft) {
  const ShaftFit& fit = assembly.fits[shaft];
  return fit.arc_start_teeth + fit.mark_from_entry_mm / assembly.fitted.belt.pitch_mm -
         fit.groove_phase;
}

double tooth_zero(const Assembly& assembly) { return groove_zero(assembly, 0); }

double turns_in_teeth(const Assembly& assembly, Angle crank) {
  return crank.radians() / kFullTurn * assembly.crank().teeth;
}

// The crank moves the belt: a belt tooth that lies in its groove goes where the groove goes.
double belt_travel(const Assembly& assembly, const std::deque<Mesh>& crank_mesh, Angle crank) {
  const Mesh& held = crank_mesh.front();
  return turns_in_teeth(assembly, crank) + static_cast<double>(held.groove - held.tooth);
}

void move_mesh(std::deque<Mesh>& mesh, double arc_start, double arc_end, double first_tooth) {
  const auto place = [first_tooth](long tooth) { return first_tooth + static_cast<double>(tooth); };
  while (place(mesh.front().tooth - 1) >= arc_start - kEdgeTeeth) {
    mesh.push_front({mesh.front().tooth - 1, mesh.front().groove - 1});
  }
  while (place(mesh.back().tooth + 1) <= arc_end + kEdgeTeeth) {
    mesh.push_back({mesh.back().tooth + 1, mesh.back().groove + 1});
  }
  while (mesh.size() > 1 && place(mesh.back().tooth) > arc_end + kEdgeTeeth) mesh.pop_back();
  while (mesh.size() > 1 && place(mesh.front().tooth) < arc_start - kEdgeTeeth) mesh.pop_front();
}

double step_teeth(const Assembly& assembly) {
  double shortest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    if (assembly.shafts[i].pulley < 0) continue;
    shortest = std::min(shortest, assembly.fits[i].arc_teeth);
  }
  return shortest / 2.0;
}

void step(const Assembly& assembly, RunState& state, Angle crank) {
  state.crank = crank;
  const double first_tooth =
      tooth_zero(assembly) + belt_travel(assembly, state.in_mesh.front(), crank);
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    if (assembly.shafts[i].pulley < 0) continue;
    const ShaftFit& fit = assembly.fits[i];
    move_mesh(state.in_mesh[i], fit.arc_start_teeth, fit.arc_start_teeth + fit.arc_teeth,
              first_tooth);
  }
}

}  // namespace

double belt_travel_teeth(const Assembly& assembly, const RunState& state) {
  return belt_travel(assembly, state.in_mesh.front(), state.crank);
}

RunState state_at(const Assembly& assembly, Angle crank) {
  RunState state;
  state.crank = crank;
  state.in_mesh.resize(assembly.shafts.size());
  const double first_tooth = tooth_zero(assembly) + turns_in_teeth(assembly, crank);
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    if (assembly.shafts[i].pulley < 0) continue;
    const ShaftFit& fit = assembly.fits[i];
    const double start = fit.arc_start_teeth - first_tooth - kEdgeTeeth;
    const double end = fit.arc_start_teeth + fit.arc_teeth - first_tooth + kEdgeTeeth;
    const long last = std::lround(std::floor(end));
    for (long tooth = std::lround(std::ceil(start)); tooth <= last; ++tooth) {
      state.in_mesh[i].push_back({tooth, tooth - fit.hold});
    }
    TWOTURN_ASSERT(!state.in_mesh[i].empty(), fit.arc_teeth);
  }
  return state;
}

RunState start_of_run(const Assembly& assembly) { return state_at(assembly, Angle()); }

void advance(const Assembly& assembly, RunState& state, Angle crank) {
  // A step is half of the shortest arc or less: no tooth passes an arc unseen.
  const Angle from = state.crank;
  const double teeth = std::abs(turns_in_teeth(assembly, crank - from));
  const long steps = std::max(1L, std::lround(std::ceil(teeth / step_teeth(assembly))));
  for (long k = 1; k < steps; ++k) {
    const double share = static_cast<double>(k) / static_cast<double>(steps);
    step(assembly, state, from + share * (crank - from));
  }
  step(assembly, state, crank);
}

std::vector<ShaftReading> read_shafts(const Assembly& assembly, const RunState& state) {
  std::vector<ShaftReading> readings(assembly.shafts.size());
  const double first_tooth = tooth_zero(assembly) + belt_travel_teeth(assembly, state);
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    const Shaft& shaft = assembly.shafts[i];
    const ShaftFit& fit = assembly.fits[i];
    ShaftReading& reading = readings[i];
    if (shaft.pulley < 0) {
      // Its mark and its pin are both on the shaft, so that a gear turned on it shows at both.
      reading.shaft = std::abs(shaft.ratio) * readings[at(shaft.from)].shaft -
                      Angle::degrees(fit.turned_on_shaft_deg);
      reading.pulley = reading.shaft;
      continue;
    }
    const Mesh& held = state.in_mesh[i].front();
    const double tooth_at = first_tooth + static_cast<double>(held.tooth);
    const double groove_at = groove_zero(assembly, i) + static_cast<double>(held.groove);
    const double ahead_teeth = tooth_at - groove_at + fit.drawn_remainder_teeth;
    reading.pulley = Angle::radians(ahead_teeth / shaft.teeth * kFullTurn);
    reading.shaft = reading.pulley - Angle::degrees(fit.turned_on_shaft_deg);
  }
  return readings;
}

Angle own_error(const Shaft& shaft, const ShaftReading& reading, Angle crank) {
  return (reading.shaft - *shaft.turns_per_crank * crank).wrapped_half();
}

double error_crank_deg(const Shaft& shaft, const ShaftReading& reading, Angle crank) {
  const double error = own_error(shaft, reading, crank).degrees() / *shaft.turns_per_crank;
  return std::abs(error) < kNoErrorDeg ? 0.0 : error;
}

}  // namespace twoturn
