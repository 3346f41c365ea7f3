#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/timing/assembly_answer.hpp"

namespace twoturn {

/// When a bench is looked at: after so many turns of the crank.
inline constexpr int kBenchTurns[] = {0, 1, 2, 4};
inline constexpr std::size_t kBenchStops = 4;

/// One timed shaft. Errors are own deg, + early, a whole turn none, the crank standing at its pin
/// or, without one, at its mark.
struct BenchShaft {
  double shaft_deg[kBenchStops]{};  ///< of the shaft itself: its pin, its lobes
  double mark_deg[kBenchStops]{};   ///< of the pulley, which carries the mark
  double play_mm = 0.0;             ///< of its pin as it is
};

/// What shows under one suspect at one size. Parts stand in the order of `BenchLayout`.
struct Bench {
  std::vector<BenchShaft> shafts;
  std::vector<double> further_deg;  ///< further marks, own deg of their shaft
  std::vector<double> counts;       ///< belt teeth between neighbouring marks
  std::optional<double> pointer;    ///< clock deg or mm
  std::optional<double> adjustment_left_mm;
  double loose_mm = 0.0;       ///< belt more than the path takes; below 0: stretched over it
  double seen_aside_mm = 0.0;  ///< by which every mark is misread
  std::optional<std::vector<double>> stops_deg;  ///< crank deg on from pins in; empty: not known
  double stop_give_deg = 3.0;                    ///< how well that is known, one sigma
  bool moved_when_tensioned = false;
  bool right_forwards = false;
  bool rocks = false;
  bool seated = true;
  bool pointer_moves = true;
  bool same_each_try = true;
};

/// A timed shaft as a bench shows it.
struct BenchPart {
  std::string name;
  std::optional<Role> role;
  double turns_per_crank = 1.0;
  double tooth_deg = 0.0;                ///< a belt tooth, own deg; of a geared one at its driver
  std::optional<double> mark_radius_mm;  ///< empty: no mark, or at no known radius
  bool has_mark = false;
  std::optional<double> mark_at_deg;  ///< clock angle with pins in
  int sense = 1;
  std::optional<double> pin_radius_mm;  ///< empty: no pin
  double pin_play_mm = 0.0;
  bool bar = false;
};

struct FurtherMark {
  std::string name;
  int shaft = 0;  ///< in BenchLayout::shafts
  std::optional<double> radius_mm;
};

struct CountedPair {
  std::string from;
  std::string to;
  double nominal = 0.0;
  bool countable = false;
};

/// What there is to look at on a drive.
struct BenchLayout {
  std::vector<BenchPart> shafts;  ///< timed ones, the crank first
  std::vector<FurtherMark> further;
  std::vector<CountedPair> pairs;
  std::optional<TensionerKind> tensioner;  ///< kind of its pointer
  std::string tensioner_name;
  double pin_tight_mm = 0.1;
  bool has_engine = false;  ///< solid stops are known
};

}  // namespace twoturn
