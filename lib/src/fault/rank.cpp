#include "twoturn/fault/rank.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/at.hpp"
#include "next_look.hpp"
#include "twoturn/drive/unsure.hpp"

namespace twoturn {
namespace {

bool holds(const FaultCase& suspect, FaultKind kind) {
  return std::any_of(suspect.faults.begin(), suspect.faults.end(),
                     [&](const Fault& fault) { return fault.kind == kind; });
}

// What is in the way of a piston stops the crank before two turns are made.
double round_likelihood(const FaultCase& suspect, const Sights& sights) {
  constexpr double kMistaken = 0.01;
  return sights.went_round && holds(suspect, FaultKind::tool_in_hole) ? kMistaken : 1.0;
}

// Nobody turns an engine backwards without a reason; and who did knows it.
double turned_likelihood(const FaultCase& suspect, const std::optional<LastTurned>& turned) {
  if (!turned) return 1.0;
  constexpr double kBackwards = 0.1;
  constexpr double kMistaken = 0.01;
  const bool back = *turned == LastTurned::backwards;
  const bool it_was = holds(suspect, FaultKind::backwards);
  if (it_was) return back ? 1.0 : kMistaken;
  return back ? kBackwards : 1.0 - kBackwards;
}

// The likelihoods of all sights on all benches of one suspect.
struct Explained {
  std::vector<double> benches;  // of all sights together
  std::vector<double> sights;   // each alone, over all its sizes
  double together = 0.0;        // mean over sizes
  int best = 0;
};

Explained explain(const BenchLayout& layout, const Lineup& lineup, const Sights& sights) {
  Explained result;
  result.sights.assign(sights.sights.size(), 0.0);
  const double share = 1.0 / static_cast<double>(lineup.benches.size());
  const double turned =
      turned_likelihood(lineup.suspect, sights.turned) * round_likelihood(lineup.suspect, sights);
  for (const Bench& bench : lineup.benches) {
    double together = turned;
    for (std::size_t k = 0; k < sights.sights.size(); ++k) {
      const double alone = likelihood(layout, bench, sights.sights[k], sights.datum);
      result.sights[k] += share * alone;
      together *= alone;
    }
    if (result.benches.empty() || together > result.benches[at(result.best)]) {
      result.best = static_cast<int>(result.benches.size());
    }
    result.benches.push_back(together);
    result.together += share * together;
  }
  return result;
}

std::vector<RankedGroup> group(const BenchLayout& layout, const std::vector<Lineup>& lineups,
                               const std::vector<Ranked>& ranked, const Sights& sights) {
  constexpr double kAlikeSigmas = 2.0;
  constexpr double kWorthNaming = 0.005;
  constexpr double kWorthCounting = 0.0005;
  std::vector<RankedGroup> groups;
  for (std::size_t i = 0; i < ranked.size(); ++i) {
    const Bench& bench = lineups[at(ranked[i].suspect)].benches[at(ranked[i].at)];
    const auto alike = std::find_if(groups.begin(), groups.end(), [&](const RankedGroup& other) {
      const Ranked& leader = ranked[at(other.members.front())];
      const Bench& its = lineups[at(leader.suspect)].benches[at(leader.at)];
      return apart_sigmas(layout, bench, its, sights) < kAlikeSigmas;
    });
    if (alike != groups.end()) {
      alike->probability += ranked[i].probability;
      if (ranked[i].probability >= kWorthNaming) {
        alike->members.push_back(static_cast<int>(i));
      } else if (ranked[i].probability >= kWorthCounting) {
        ++alike->unnamed;
      }
    } else if (ranked[i].probability >= kWorthNaming || groups.empty()) {
      groups.push_back({ranked[i].probability, {static_cast<int>(i)}});
    }
  }
  std::stable_sort(groups.begin(), groups.end(), [](const RankedGroup& a, const RankedGroup& b) {
    return a.probability > b.probability;
  });
  return groups;
}

// How unlikely so much misfit is by chance: chi-squared by Wilson and Hilferty's cube root.
double chance_sigmas(double chi_squared, double count) {
  if (count == 0.0) return 0.0;
  const double spread = 2.0 / (9.0 * count);
  return (std::cbrt(chi_squared / count) - (1.0 - spread)) / std::sqrt(spread);
}

}  // namespace

Ranking rank(const BenchLayout& layout, const std::vector<Lineup>& lineups, const Sights& sights) {
  std::vector<Explained> explained;
  double sum = 0.0;
  std::vector<double> usual(sights.sights.size(), 0.0);  // of each sight, before anything was seen
  for (const Lineup& lineup : lineups) {
    explained.push_back(explain(layout, lineup, sights));
    const double weight = lineup.suspect.weight;
    sum += weight * explained.back().together;
    for (std::size_t k = 0; k < usual.size(); ++k) {
      usual[k] += weight * explained.back().sights[k];
    }
  }
  Ranking ranking;
  for (std::size_t i = 0; i < lineups.size(); ++i) {
    Ranked one;
    one.suspect = static_cast<int>(i);
    one.probability = lineups[i].suspect.weight * explained[i].together / sum;
    one.at = explained[i].best;
    one.size = lineups[i].sizes.empty() ? 0.0 : lineups[i].sizes[at(one.at)];
    const Bench& bench = lineups[i].benches[at(one.at)];
    for (std::size_t k = 0; k < usual.size(); ++k) {
      const double here = likelihood(layout, bench, sights.sights[k], sights.datum);
      one.bits.push_back(std::log2(here / usual[k]));
    }
    ranking.ranked.push_back(std::move(one));
  }
  std::stable_sort(ranking.ranked.begin(), ranking.ranked.end(),
                   [](const Ranked& a, const Ranked& b) { return a.probability > b.probability; });
  ranking.groups = group(layout, lineups, ranking.ranked, sights);
  const Ranked& first = ranking.ranked[at(ranking.groups.front().members.front())];
  const Bench& likeliest = lineups[at(first.suspect)].benches[at(first.at)];
  double misfit = 0.0;
  for (const Sight& sight : sights.sights)
    misfit += misfit_of(layout, likeliest, sight, sights.datum);
  ranking.worst_sigmas = chance_sigmas(misfit, static_cast<double>(sights.sights.size()));
  constexpr double kOneInAHundred = 2.326347874040841;  // sigmas, one-sided
  ranking.explained = ranking.worst_sigmas <= kOneInAHundred;
  std::vector<std::vector<double>> within;
  for (const Explained& one : explained) within.push_back(one.benches);
  ranking.next = find_next_look(layout, lineups, ranking, {sights, within});
  return ranking;
}

}  // namespace twoturn
