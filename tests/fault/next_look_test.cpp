// What the next look is expected to tell against what it tells on average of drawn outcomes.
#include <cmath>
#include <numeric>

#include "fault/drawn.hpp"
#include "support/catch.hpp"

namespace {

using namespace drawn;

// Of one suspect after what was seen: which of its sizes, and what each would show.
struct Posterior {
  const Lineup* lineup;
  std::vector<double> weights;

  Posterior(const BenchLayout& layout, const Lineup& of, const Sights& sights) : lineup(&of) {
    for (const Bench& bench : of.benches) {
      double likely = 1.0;
      for (const Sight& sight : sights.sights) {
        likely *= likelihood(layout, bench, sight, sights.datum);
      }
      weights.push_back(likely);
    }
    const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
    for (double& weight : weights) weight /= sum;
  }

  const Bench& draw(Random& random) const {
    std::discrete_distribution<std::size_t> pick(weights.begin(), weights.end());
    return lineup->benches[pick(random)];
  }
  double share(const BenchLayout& layout, const Sight& outcome, int datum) const {
    double share = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
      if (weights[i] < 1e-9) continue;
      share += weights[i] * likelihood(layout, lineup->benches[i], outcome, datum);
    }
    return share;
  }
};

// Draws an outcome of a look at a bench as `likelihood` weighs it.
Sight outcome_of(const BenchLayout& layout, const Bench& bench, const Look& look, int datum,
                 Random& random) {
  Sight sight = bench_shows(layout, bench, look, datum);
  std::uniform_real_distribution<double> share;
  if (look.kind == LookKind::pin) {
    double left = share(random);
    for (const PinFelt felt : {PinFelt::in, PinFelt::tight, PinFelt::out}) {
      sight.pin = felt;
      left -= likelihood(layout, bench, sight, datum);
      if (left < 0.0) break;
    }
  } else if (sight.sigma > 0.0) {
    const bool slip = share(random) < 0.01;
    const double off = std::normal_distribution<double>()(random) * sight.sigma;
    sight.value += slip ? (share(random) - 0.5) * 200.0 : off;
  } else {
    sight.yes = true;
    sight.yes = share(random) < likelihood(layout, bench, sight, datum);
  }
  return sight;
}

double entropy(double share) {
  double bits = 0.0;
  for (const double p : {share, 1.0 - share}) bits -= p > 0.0 ? p * std::log2(p) : 0.0;
  return bits;
}

}  // namespace

TEST_CASE("the next look tells what it is expected to tell") {
  constexpr int kDraws = so_many(3000);
  int compared = 0;
  for (const char* name : {"harbour-launch", "night-bakery-van", "orchard-sprayer"}) {
    const Bed bed = drive_of(name, demos::spec_of(name)).value();
    const BenchLayout& layout = bed.base.layout;
    Random random(11);
    for (std::size_t suspect = 0; suspect < bed.suspects.size(); suspect += 4) {
      const std::optional<Truth> truth = truth_of(bed, static_cast<int>(suspect), random);
      if (!truth) continue;
      SeenSpec seen = Eye(layout, Noise{}, random).at(truth->bench, Extent::pins_and_marks);
      if (suspect % 3 == 0) seen.pin.clear();  // so that other looks are worth taking
      if (suspect % 5 == 0) seen.pointer_deg.reset();
      const Sights sights = sights_of(seen, layout);
      const Ranking ranking = rank(layout, bed.lineups, sights);
      if (!ranking.next) continue;
      const NextLook& next = *ranking.next;
      CAPTURE(name, suspect, static_cast<int>(next.look.kind), next.look.part);
      CHECK(next.bits >= 0.0);
      CHECK(next.bits <= 1.0);
      const Posterior first(layout, bed.lineups[static_cast<std::size_t>(next.first)], sights);
      const Posterior second(layout, bed.lineups[static_cast<std::size_t>(next.second)], sights);
      double a = 0.0;
      double b = 0.0;
      for (const Ranked& one : ranking.ranked) {
        if (one.suspect == next.first) a = one.probability;
        if (one.suspect == next.second) b = one.probability;
      }
      const double before = a / (a + b);
      double sum = 0.0;
      double squares = 0.0;
      std::uniform_real_distribution<double> share;
      for (int k = 0; k < kDraws; ++k) {
        const Bench& bench = (share(random) < before ? first : second).draw(random);
        const Sight outcome = outcome_of(layout, bench, next.look, sights.datum, random);
        const double of_first = before * first.share(layout, outcome, sights.datum);
        const double of_second = (1.0 - before) * second.share(layout, outcome, sights.datum);
        const double told = entropy(before) - entropy(of_first / (of_first + of_second));
        sum += told;
        squares += told * told;
      }
      const double mean = sum / kDraws;
      const double sigma = std::sqrt((squares / kDraws - mean * mean) / kDraws);
      // Beside chance (4 sigma): a look in a hundred is a slip and tells nothing, and sizes less
      // likely than one in a thousand are left out.
      if (kAllDraws) CHECK_THAT(next.bits, WithinAbs(mean, 4.0 * sigma + 0.02));
      ++compared;
    }
  }
  CHECK(compared >= 10);
}
