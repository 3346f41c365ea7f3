#include "next_look.hpp"

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "look_sigmas.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

// All that a look told apart by kind may show.
std::vector<Sight> outcomes_of(const Look& look) {
  std::vector<Sight> outcomes;
  if (look.kind == LookKind::pin) {
    for (const PinFelt pin : {PinFelt::in, PinFelt::tight, PinFelt::out}) {
      Sight sight;
      sight.look = look;
      sight.pin = pin;
      outcomes.push_back(sight);
    }
    return outcomes;
  }
  for (const bool yes : {false, true}) {
    Sight sight;
    sight.look = look;
    sight.yes = yes;
    outcomes.push_back(sight);
  }
  return outcomes;
}

// Of what is measured: values from well below what either shows to well above.
std::vector<Sight> values_between(const BenchLayout& layout, const Sight& a, const Sight& b) {
  constexpr int kValues = 81;
  constexpr double kReachSigmas = 5.0;
  const double on = value_off(layout, a.look, b.value, a.value);
  const double low = a.value + std::min(0.0, on) - kReachSigmas * a.sigma;
  const double high = a.value + std::max(0.0, on) + kReachSigmas * a.sigma;
  std::vector<Sight> values;
  for (int k = 0; k < kValues; ++k) {
    Sight sight = a;
    sight.value = low + (high - low) * k / (kValues - 1);
    values.push_back(sight);
  }
  return values;
}

struct Weighed {
  const Bench* bench;
  double weight;
};

// A suspect's benches as likely as what was seen made them.
std::vector<Weighed> weighed(const Lineup& lineup, const std::vector<double>& likely) {
  double sum = 0.0;
  for (const double one : likely) sum += one;
  std::vector<Weighed> list;
  for (std::size_t i = 0; i < likely.size(); ++i) {
    constexpr double kCounts = 1e-3;
    const double share = sum > 0.0 ? likely[i] / sum : 1.0 / static_cast<double>(likely.size());
    if (share >= kCounts) list.push_back({&lineup.benches[i], share});
  }
  return list;
}

std::vector<double> shares(const BenchLayout& layout, const std::vector<Weighed>& benches,
                           const std::vector<Sight>& outcomes, int datum) {
  std::vector<double> result;
  double sum = 0.0;
  for (const Sight& outcome : outcomes) {
    double share = 0.0;
    for (const Weighed& one : benches) {
      share += one.weight * likelihood(layout, *one.bench, outcome, datum);
    }
    result.push_back(share);
    sum += share;
  }
  for (double& share : result) share /= sum;
  return result;
}

double entropy_bits(double share) { return share > 0.0 ? -share * std::log2(share) : 0.0; }

// What the outcome is expected to tell of which of two it is.
double information_bits(const std::vector<double>& first, const std::vector<double>& second,
                        double first_share) {
  double bits = 0.0;
  for (std::size_t k = 0; k < first.size(); ++k) {
    const double a = first_share * first[k];
    const double b = (1.0 - first_share) * second[k];
    bits += entropy_bits(a + b) - first_share * entropy_bits(first[k]) -
            (1.0 - first_share) * entropy_bits(second[k]);
  }
  return std::max(0.0, bits);
}

// The next in rank that other hands would have to put right.
std::optional<int> rival(const std::vector<Lineup>& lineups, const Ranking& ranking, int first) {
  const std::string key = remedy_key(lineups[at(ranking.ranked[at(first)].suspect)].suspect);
  constexpr double kWorthTelling = 1e-4;
  for (std::size_t i = 0; i < ranking.ranked.size(); ++i) {
    const Ranked& one = ranking.ranked[i];
    if (one.probability < kWorthTelling) break;
    if (remedy_key(lineups[at(one.suspect)].suspect) != key) return static_cast<int>(i);
  }
  return std::nullopt;
}

bool seen_already(const Sights& sights, const Look& look) {
  return std::any_of(sights.sights.begin(), sights.sights.end(), [&](const Sight& sight) {
    return sight.look.kind == look.kind && sight.look.part == look.part;
  });
}

// Whether a person who looks would say the same of both.
bool read_alike(const BenchLayout& layout, const Sight& a, const Sight& b) {
  if (is_measured(a.look.kind)) {
    return std::abs(value_off(layout, a.look, b.value, a.value)) < a.sigma;
  }
  return a.pin == b.pin && a.yes == b.yes;
}

double coefficient(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0.0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += std::sqrt(a[k] * b[k]);
  return sum;
}

}  // namespace

double misfit_of(const BenchLayout& layout, const Bench& bench, const Sight& sight, int datum) {
  Sight at_best = bench_shows(layout, bench, sight.look, datum);
  at_best.sigma = sight.sigma;
  if (sight.look.kind == LookKind::stop && sight.yes && bench.stops_deg &&
      !bench.stops_deg->empty()) {
    at_best.value = bench.stops_deg->front();
    for (const double stop : *bench.stops_deg) {
      if (std::abs(stop - sight.value) < std::abs(at_best.value - sight.value)) {
        at_best.value = stop;
      }
    }
  }
  const double most = likelihood(layout, bench, at_best, datum);
  const double here = likelihood(layout, bench, sight, datum);
  return std::max(0.0, 2.0 * std::log(most / here));
}

// Of two normal densities of one sigma: Bhattacharyya's coefficient is exp(-d^2 / 8).
double apart_sigmas(const BenchLayout& layout, const Bench& a, const Bench& b,
                    const Sights& sights) {
  double squares = 0.0;
  for (const Sight& sight : sights.sights) {
    if (is_measured(sight.look.kind)) {
      const double off =
          value_off(layout, sight.look, bench_shows(layout, a, sight.look, sights.datum).value,
                    bench_shows(layout, b, sight.look, sights.datum).value);
      squares += off * off / (sight.sigma * sight.sigma);
      continue;
    }
    const std::vector<Sight> outcomes = outcomes_of(sight.look);
    const double alike = coefficient(shares(layout, {{&a, 1.0}}, outcomes, sights.datum),
                                     shares(layout, {{&b, 1.0}}, outcomes, sights.datum));
    squares += -8.0 * std::log(std::clamp(alike, 1e-12, 1.0));
  }
  return std::sqrt(squares);
}

std::optional<NextLook> find_next_look(const BenchLayout& layout,
                                       const std::vector<Lineup>& lineups, const Ranking& ranking,
                                       const SeenSoFar& seen) {
  const int first = ranking.groups.front().members.front();
  const std::optional<int> second = rival(lineups, ranking, first);
  if (!second) return std::nullopt;
  const Ranked& a = ranking.ranked[at(first)];
  const Ranked& b = ranking.ranked[at(*second)];
  const std::vector<Weighed> as = weighed(lineups[at(a.suspect)], seen.benches[at(a.suspect)]);
  const std::vector<Weighed> bs = weighed(lineups[at(b.suspect)], seen.benches[at(b.suspect)]);
  const Bench& a_bench = lineups[at(a.suspect)].benches[at(a.at)];
  const Bench& b_bench = lineups[at(b.suspect)].benches[at(b.at)];
  const int datum = seen.sights.datum;
  std::optional<NextLook> best;
  for (const Look& look : looks_of(layout)) {
    if (seen_already(seen.sights, look)) continue;
    if (look.kind == LookKind::stop) continue;  // nobody is sent to find out what touches
    if (look.kind == LookKind::pointer && !a_bench.pointer) continue;
    const Sight if_first = bench_shows(layout, a_bench, look, datum);
    const Sight if_second = bench_shows(layout, b_bench, look, datum);
    if (read_alike(layout, if_first, if_second)) continue;
    const std::vector<Sight> outcomes =
        is_measured(look.kind) ? values_between(layout, if_first, if_second) : outcomes_of(look);
    const double bits =
        information_bits(shares(layout, as, outcomes, datum), shares(layout, bs, outcomes, datum),
                         a.probability / (a.probability + b.probability));
    constexpr double kMore = 0.02;  // looks come easiest first: a harder one has to tell more
    if (bits > (best ? best->bits + kMore : kMore)) {
      best = NextLook{look, bits, a.suspect, b.suspect, if_first, if_second};
    }
  }
  return best;
}

}  // namespace twoturn
