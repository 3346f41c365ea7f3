// What one look may show, as shares of its outcomes; and which look tells two suspects apart.
#pragma once

#include <optional>
#include <vector>

#include "twoturn/fault/rank.hpp"

namespace twoturn {

/// How far a sight is from what a bench would show at its likeliest, as a square of sigmas.
double misfit_of(const BenchLayout& layout, const Bench& bench, const Sight& sight, int datum);

/// What was seen, and how likely each bench of each suspect made it.
struct SeenSoFar {
  const Sights& sights;
  const std::vector<std::vector<double>>& benches;
};

std::optional<NextLook> find_next_look(const BenchLayout& layout,
                                       const std::vector<Lineup>& lineups, const Ranking& ranking,
                                       const SeenSoFar& seen);

}  // namespace twoturn
