// What the parts of fault finding share.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine_model.hpp"
#include "twoturn/engine/cylinders.hpp"
#include "twoturn/fault/lineup.hpp"
#include "twoturn/study/why_answer.hpp"
#include "words/fault_words.hpp"

namespace twoturn::study {

/// Where valves that meet their pistons would stop the crank, for any place of the cams.
class SolidStops {
 public:
  /// Empty, and asked nothing, where the engine is not known well enough.
  explicit SolidStops(const DriveSpec& spec);

  bool known() const { return !valves_.empty(); }
  /// Crank deg turned on from pins in, rising, up to two turns.
  std::vector<double> of(const BenchLayout& layout, const Bench& bench) const;
  /// About where a piston meets what stands in its plug hole.
  std::vector<double> near_top(int cylinder) const;

 private:
  struct Valve {
    std::string cam;
    std::vector<int> cylinders;
    LeastRoom room;
    mutable std::map<long, std::vector<double>> touches;  // by error, a thousandth of a degree
  };

  std::vector<Valve> valves_;
  CylinderPhases phases_;
  double start_deg_ = 0.0;
};

/// Puts what is known of solid stops on a bench.
void add_stops(const SolidStops& stops, const BenchLayout& layout, const FaultCase& suspect,
               Bench& bench);

/// How well a stop in front of something in a plug hole is known, one sigma.
inline constexpr double kInTheWaySigmaDeg = 12.0;

/// All that one faulty build shows.
WhyFault told_fault(const FaultBase& base, const FaultCase& suspect, double size,
                    const FaultyBuild& build, const SolidStops& stops);

/// Its marks and pins alone.
std::vector<WhyShaft> told_shafts(const BenchLayout& layout, const Bench& bench);

WhySeen judge_seen(const FaultBase& base, std::vector<Lineup> lineups, const SolidStops& stops);

sentences::FaultGround ground_of(const FaultBase& base);

}  // namespace twoturn::study
