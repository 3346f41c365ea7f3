#pragma once

#include <optional>
#include <vector>

#include "twoturn/fault/fault.hpp"
#include "twoturn/fault/look.hpp"

namespace twoturn {

/// A suspect with the benches of its sizes, evenly likely; one where it has no size.
struct Lineup {
  FaultCase suspect;
  std::vector<double> sizes;
  std::vector<Bench> benches;
};

/// How one suspect stands after what was seen.
struct Ranked {
  int suspect = 0;  ///< in the lineups
  double probability = 0.0;
  double size = 0.0;         ///< that explains it best
  int at = 0;                ///< its bench
  std::vector<double> bits;  ///< a sight each: for it above 0, against it below, against all
                             ///< suspects as they were likely before
};

/// Suspects that what was seen does not tell apart: their likeliest benches would be seen alike
/// within two sigma.
struct RankedGroup {
  double probability = 0.0;
  std::vector<int> members;  ///< in `Ranking::ranked`, the likeliest first
  int unnamed = 0;           ///< further ones that are too unlikely to be named
};

/// A look not yet taken, and what it would tell.
struct NextLook {
  Look look;
  double bits = 0.0;  ///< expected information on which of the two it is, at most 1
  int first = 0;      ///< suspects
  int second = 0;
  Sight if_first;  ///< what it shows if it is that one, at its likeliest size
  Sight if_second;
};

struct Ranking {
  std::vector<Ranked> ranked;  ///< likeliest first
  std::vector<RankedGroup> groups;
  bool explained = true;  ///< false: even the likeliest is less likely than 1 in 100 to be seen so
  double worst_sigmas = 0.0;  ///< of the likeliest, together
  std::optional<NextLook> next;
};

/// Bayes' rule over suspects and their sizes, then groups, then the look that best tells apart the
/// likeliest suspect and the next with another remedy. `lineups` is not empty.
[[nodiscard]] Ranking rank(const BenchLayout& layout, const std::vector<Lineup>& lineups,
                           const Sights& sights);

/// How far two benches are apart over some sights, sigmas.
double apart_sigmas(const BenchLayout& layout, const Bench& a, const Bench& b,
                    const Sights& sights);

}  // namespace twoturn
