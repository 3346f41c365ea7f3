// Which benches a card's looks do not tell apart. The same distance as `apart_sigmas`, made ready
// once for each bench: there are millions of pairs.
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "card_tree.hpp"
#include "fault/look_sigmas.hpp"

namespace twoturn::card {
namespace {

constexpr double kAlikeSigmas = 2.0;

struct Prepared {
  std::vector<double> sigmas;  // what is measured, in sigmas
  std::vector<double> roots;   // of how likely each outcome of the others is
};

class Preparing {
 public:
  explicit Preparing(const Ground& ground) : ground_(ground) {}

  Prepared of(const Bench& bench) {
    Prepared prepared;
    outcomes_.clear();
    for (const Look& look : ground_.looks) {
      const Sight right = bench_shows(ground_.layout, ground_.right, look, 0);
      if (is_measured(look.kind)) {
        const Sight shown = bench_shows(ground_.layout, bench, look, 0);
        prepared.sigmas.push_back(value_off(ground_.layout, look, shown.value, right.value) /
                                  right.sigma);
        continue;
      }
      const bool pin = look.kind == LookKind::pin;
      double sum = 0.0;
      const std::size_t from = prepared.roots.size();
      for (const PinFelt felt : {PinFelt::in, PinFelt::tight, PinFelt::out}) {
        Sight sight;
        sight.look = look;
        sight.pin = felt;
        sight.yes = felt == PinFelt::in;
        if (!pin && felt == PinFelt::out) continue;
        prepared.roots.push_back(likelihood(ground_.layout, bench, sight, 0));
        sum += prepared.roots.back();
      }
      outcomes_.push_back(pin ? 3 : 2);
      for (std::size_t i = from; i < prepared.roots.size(); ++i) {
        prepared.roots[i] = std::sqrt(prepared.roots[i] / sum);
      }
    }
    return prepared;
  }

  bool alike(const Prepared& a, const Prepared& b) const {
    constexpr double kMost = kAlikeSigmas * kAlikeSigmas;
    double squares = 0.0;
    for (std::size_t i = 0; i < a.sigmas.size(); ++i) {
      const double off = a.sigmas[i] - b.sigmas[i];
      squares += off * off;
      if (squares >= kMost) return false;
    }
    std::size_t from = 0;
    for (const std::size_t count : outcomes_) {
      double same = 0.0;
      for (std::size_t i = from; i < from + count; ++i) same += a.roots[i] * b.roots[i];
      from += count;
      squares += -8.0 * std::log(std::clamp(same, 1e-12, 1.0));
      if (squares >= kMost) return false;
    }
    return true;
  }

 private:
  const Ground& ground_;
  std::vector<std::size_t> outcomes_;
};

// As few labels as may be: the end that fits most samples first.
void label(std::vector<Sample>& samples, std::size_t ends) {
  std::vector<bool> labelled(samples.size(), false);
  std::size_t left = samples.size();
  while (left > 0) {
    std::vector<int> counts(ends, 0);
    for (std::size_t i = 0; i < samples.size(); ++i) {
      if (labelled[i]) continue;
      for (const int end : samples[i].ends) ++counts[at(end)];
    }
    const int most =
        static_cast<int>(std::max_element(counts.begin(), counts.end()) - counts.begin());
    for (std::size_t i = 0; i < samples.size(); ++i) {
      const std::vector<int>& own = samples[i].ends;
      if (labelled[i] || std::find(own.begin(), own.end(), most) == own.end()) continue;
      samples[i].label = most;
      labelled[i] = true;
      --left;
    }
  }
}

}  // namespace

void find_alike(const Ground& ground, const std::vector<Lineup>& lineups,
                const std::vector<int>& ends, std::vector<Sample>& samples) {
  Preparing preparing(ground);
  std::vector<std::vector<Prepared>> prepared(lineups.size());
  for (std::size_t i = 0; i < lineups.size(); ++i) {
    for (const Bench& bench : lineups[i].benches) prepared[i].push_back(preparing.of(bench));
  }
  const std::size_t count = at(*std::max_element(ends.begin(), ends.end())) + 1;
  for (Sample& sample : samples) {
    sample.ends.assign(1, sample.end);
    const Prepared& own = prepared[at(sample.lineup)][at(sample.bench)];
    for (std::size_t i = 0; i < lineups.size(); ++i) {
      const int end = ends[i];
      if (std::find(sample.ends.begin(), sample.ends.end(), end) != sample.ends.end()) continue;
      const bool any =
          std::any_of(prepared[i].begin(), prepared[i].end(),
                      [&](const Prepared& other) { return preparing.alike(own, other); });
      if (any) sample.ends.push_back(end);
    }
  }
  label(samples, count);
}

}  // namespace twoturn::card
