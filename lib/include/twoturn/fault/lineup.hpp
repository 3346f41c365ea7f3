#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/fault/rank.hpp"
#include "twoturn/timing/mishap.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// A drive that faults are tried on: as [build] has it but for teeth out, which are a fault
/// themselves.
struct FaultBase {
  DriveSpec spec;
  FittedResult book;
  FittedResult fitted;
  std::optional<TurnsAnswer> turns;  ///< without any fault
  BenchLayout layout;
};
/// Of a spec that `validate` passed; `fit` by the book leaves all of [build] out.
[[nodiscard]] FaultBase fault_base(const DriveSpec& spec, Fit fit);

/// Everything that may have gone wrong on it, with its priors.
[[nodiscard]] std::vector<FaultCase> suspects_of(const FaultBase& base);

/// One faulty build, simulated. `turns` and `none` tell what became of it.
struct FaultyBuild {
  DriveSpec spec;
  Mishap mishap;
  std::optional<TurnsAnswer> turns;
  std::optional<NoAssembly> none;  ///< the belt does not go on so
  std::optional<Fitted> fitted;
  std::optional<double> reading;  ///< of the tensioner, where it then stands
  std::optional<Bench> bench;
};
[[nodiscard]] FaultyBuild simulate(const FaultBase& base, const FaultCase& suspect, double size);

/// The suspects with the benches of all their sizes, at the midpoints of even parts of the range:
/// so fine that neighbours are half a sigma of an eye or 0.1 mm at a pin apart, within 9 to 401.
/// Benches between simulated ones are interpolated to a twentieth of a sigma. Suspects with which
/// the belt does not go on are left out; one with which it goes on at some sizes keeps that share
/// of its weight. Weights together are 1.
[[nodiscard]] std::vector<Lineup> lineups_of(const FaultBase& base,
                                             const std::vector<FaultCase>& suspects);

}  // namespace twoturn
