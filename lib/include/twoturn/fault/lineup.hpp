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

/// The suspects whose belt goes on, each simulated over its sizes.
[[nodiscard]] std::vector<Lineup> lineups_of(const FaultBase& base,
                                             const std::vector<FaultCase>& suspects);

}  // namespace twoturn
