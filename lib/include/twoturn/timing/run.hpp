#pragma once

#include <deque>
#include <vector>

#include "twoturn/timing/assembly_answer.hpp"

namespace twoturn {

/// A belt tooth and the groove it lies in. Both count on without wrapping: tooth t is the belt's
/// tooth t mod N, groove g the pulley's groove g mod n.
struct Mesh {
  long tooth = 0;
  long groove = 0;

  bool operator==(const Mesh&) const = default;
};

/// The whole drive at one moment: how far the crank has been turned, and for every toothed pulley
/// the belt teeth in mesh, from the one that entered last to the one that leaves next.
struct RunState {
  Angle crank;  ///< travelled in the running direction from pins in, never wrapped
  std::vector<std::deque<Mesh>> in_mesh;  ///< one a shaft; empty for geared shafts

  bool operator==(const RunState&) const = default;
};

/// How far each shaft has travelled in its own running direction, read from the teeth in mesh.
struct ShaftReading {
  Angle pulley;  ///< the pulley (or geared shaft) itself
  Angle shaft;   ///< the shaft in it
};

/// The state with pins in and the belt just fitted.
RunState start_of_run(const Assembly& assembly);

/// Turns the crank on (or back) to `crank`, tooth by tooth: a tooth that enters falls into the
/// groove next to the one before it; a tooth that leaves is forgotten. Nothing else moves a shaft.
void advance(const Assembly& assembly, RunState& state, Angle crank);

/// The same state without the run: a pure function of the crank angle.
RunState state_at(const Assembly& assembly, Angle crank);

/// Reads every shaft from the teeth in mesh.
std::vector<ShaftReading> read_shafts(const Assembly& assembly, const RunState& state);

/// How far a timed shaft stands ahead of where it belongs at a moment of the run, + early: up to
/// half a turn, for a whole turn of a shaft is none.
Angle own_error(const Shaft& shaft, const ShaftReading& reading, Angle crank);

/// The same in crank deg; 0 where it is no more than rounding.
double error_crank_deg(const Shaft& shaft, const ShaftReading& reading, Angle crank);

/// A mark or shaft error this small, deg, is rounding.
inline constexpr double kNoErrorDeg = 1e-9;

/// How far the belt has moved, in teeth, read at the crank.
double belt_travel_teeth(const Assembly& assembly, const RunState& state);

}  // namespace twoturn
