#include "twoturn/fault/lineup.hpp"

namespace twoturn {

std::vector<Lineup> lineups_of(const FaultBase& base, const std::vector<FaultCase>& suspects) {
  constexpr int kSizes = 33;
  std::vector<Lineup> lineups;
  for (const FaultCase& suspect : suspects) {
    Lineup lineup;
    lineup.suspect = suspect;
    const SizeRange* range = suspect.size();
    const int count = range ? kSizes : 1;
    for (int k = 0; k < count; ++k) {
      const double size =
          range ? range->least + (range->greatest - range->least) * (k + 0.5) / count : 0.0;
      FaultyBuild build = simulate(base, suspect, size);
      if (!build.bench) continue;
      if (range) lineup.sizes.push_back(size);
      lineup.benches.push_back(std::move(*build.bench));
    }
    if (!lineup.benches.empty()) lineups.push_back(std::move(lineup));
  }
  return lineups;
}

}  // namespace twoturn
