// The benches of all sizes of a suspect: a few are simulated, those between them interpolated where
// that is as good as exact. Where a fault jumps (a belt put on a tooth further on), sizes are
// simulated one by one.
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "look_sigmas.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/unsure.hpp"
#include "twoturn/fault/lineup.hpp"

namespace twoturn {
namespace {

constexpr double kUnlike = std::numeric_limits<double>::infinity();

// How finely sizes have to stand, as steps of what is seen.
constexpr double kStepSigmas = 0.5;  // of a mark by eye, a count, a pointer
constexpr double kStepAtPinMm = 0.1;
constexpr int kFewestSizes = 9;
constexpr int kMostSizes = 401;

// Every look at every stop.
std::vector<Look> looks_at_all_stops(const BenchLayout& layout) {
  std::vector<Look> looks;
  for (const Look& look : looks_of(layout)) {
    if (look.kind == LookKind::stop) continue;
    const bool stops = look.kind == LookKind::pin || look.kind == LookKind::mark ||
                       look.kind == LookKind::further_mark;
    for (std::size_t k = 0; k < (stops ? kBenchStops : 1); ++k) {
      looks.push_back({look.kind, look.part, static_cast<int>(k)});
    }
  }
  return looks;
}

// The look that tells most between two benches, in steps of so many sigmas, so many mm at a pin.
double most_apart(const BenchLayout& layout, const std::vector<Look>& looks, const Bench& a,
                  const Bench& b, double pin_mm) {
  double most = std::abs(a.loose_mm - b.loose_mm);
  for (const Look& look : looks) {
    const Sight one = bench_shows(layout, a, look, 0);
    const Sight other = bench_shows(layout, b, look, 0);
    const double off = std::abs(value_off(layout, look, one.value, other.value));
    if (look.kind == LookKind::pin) {
      most = std::max(most, off / pin_mm);
    } else if (look.kind == LookKind::again) {
      continue;  // read off the marks, which are looked at themselves
    } else if (one.yes != other.yes) {
      return kUnlike;
    } else if (off > 0.0) {
      most = std::max(most, off / one.sigma);
    }
  }
  return most;
}

double between(double a, double b, double share) { return a + share * (b - a); }

double between_deg(double a, double b, double share) {
  const auto wrapped = [](double deg) { return Angle::degrees(deg).wrapped_half().degrees(); };
  return wrapped(a + share * wrapped(b - a));
}

class Interpolated {
 public:
  Interpolated(const BenchLayout& layout, const Bench& a, const Bench& b) : a_(a), b_(b) {
    turning_ = layout.tensioner == TensionerKind::swing;
  }

  Bench at(double share) const {
    Bench bench = share < 0.5 ? a_ : b_;
    for (std::size_t i = 0; i < bench.shafts.size(); ++i) {
      const BenchShaft& one = a_.shafts[i];
      const BenchShaft& other = b_.shafts[i];
      for (std::size_t k = 0; k < kBenchStops; ++k) {
        bench.shafts[i].shaft_deg[k] = between_deg(one.shaft_deg[k], other.shaft_deg[k], share);
        bench.shafts[i].mark_deg[k] = between_deg(one.mark_deg[k], other.mark_deg[k], share);
      }
      bench.shafts[i].play_mm = between(one.play_mm, other.play_mm, share);
    }
    for (std::size_t i = 0; i < bench.further_deg.size(); ++i) {
      bench.further_deg[i] = between_deg(a_.further_deg[i], b_.further_deg[i], share);
    }
    for (std::size_t i = 0; i < bench.counts.size(); ++i) {
      bench.counts[i] = between(a_.counts[i], b_.counts[i], share);
    }
    if (a_.pointer && b_.pointer) {
      bench.pointer = turning_ ? wrapped_deg(between_deg(*a_.pointer, *b_.pointer, share), kTurnDeg)
                               : between(*a_.pointer, *b_.pointer, share);
    }
    if (a_.adjustment_left_mm && b_.adjustment_left_mm) {
      bench.adjustment_left_mm = between(*a_.adjustment_left_mm, *b_.adjustment_left_mm, share);
    }
    bench.loose_mm = between(a_.loose_mm, b_.loose_mm, share);
    bench.seen_aside_mm = between(a_.seen_aside_mm, b_.seen_aside_mm, share);
    return bench;
  }

 private:
  const Bench& a_;
  const Bench& b_;
  bool turning_ = false;
};

struct Node {
  double size;
  std::optional<Bench> bench;  // empty: the belt does not go on
};

class Sizes {
 public:
  Sizes(const FaultBase& base, const FaultCase& suspect, const std::vector<Look>& looks)
      : base_(base), suspect_(suspect), looks_(looks) {}

  // `weight` is left as much as there are sizes with which the belt goes on.
  Lineup all() {
    Lineup lineup{suspect_, {}, {}};
    const SizeRange* range = suspect_.size();
    if (!range) {
      std::optional<Bench> bench = simulate(base_, suspect_, 0.0).bench;
      if (bench) lineup.benches.push_back(std::move(*bench));
      return lineup;
    }
    nodes_.push_back(node(range->least));
    const int parts = parts_of(*range);
    for (int k = 1; k <= parts; ++k) {
      refine(node(between(range->least, range->greatest, static_cast<double>(k) / parts)), 0);
    }
    const int count = how_many(range->greatest - range->least);
    std::size_t right = 1;
    for (int k = 0; k < count; ++k) {
      const double size = between(range->least, range->greatest, (k + 0.5) / count);
      while (right + 1 < nodes_.size() && nodes_[right].size < size) ++right;
      std::optional<Bench> bench = bench_at(size, right);
      if (!bench) continue;
      lineup.sizes.push_back(size);
      lineup.benches.push_back(std::move(*bench));
    }
    lineup.suspect.weight *= static_cast<double>(lineup.sizes.size()) / count;
    return lineup;
  }

 private:
  Node node(double size) const { return {size, simulate(base_, suspect_, size).bench}; }

  // A belt put on by the pins jumps by a tooth at every half one: parts that hold one jump at most,
  // lest a saw's teeth be met all at one height.
  int parts_of(const SizeRange& range) const {
    if (suspect_.first().kind != FaultKind::seat_by_pins) return 1;
    for (const BenchPart& part : base_.layout.shafts) {
      if (part.name != suspect_.first().about) continue;
      return static_cast<int>(std::ceil((range.greatest - range.least) / (0.7 * part.tooth_deg)));
    }
    return 1;
  }

  // From the last node on to `end`.
  void refine(Node end, int depth) {
    constexpr int kDeepest = 7;
    const Node& start = nodes_.back();
    const Node quarter = node(between(start.size, end.size, 0.3));
    Node middle = node(between(start.size, end.size, 0.6));
    if (depth == kDeepest || (straight(start, quarter, end) && straight(start, middle, end))) {
      const bool smooth = depth < kDeepest;
      for (const Node* one :
           {&quarter, static_cast<const Node*>(&middle), static_cast<const Node*>(&end)}) {
        nodes_.push_back(*one);
        smooth_.push_back(smooth);
      }
      return;
    }
    refine(std::move(middle), depth + 1);
    refine(std::move(end), depth + 1);
  }

  bool straight(const Node& a, const Node& here, const Node& b) const {
    constexpr double kTolerance = 0.05;  // of a sigma of whatever look shows it best
    if (!a.bench || !here.bench || !b.bench) return !a.bench && !here.bench && !b.bench;
    const double share = (here.size - a.size) / (b.size - a.size);
    const Bench guess = Interpolated(base_.layout, *a.bench, *b.bench).at(share);
    return most_apart(base_.layout, looks_, guess, *here.bench, kPinSigmaMm) < kTolerance;
  }

  int how_many(double range) const {
    double steepest = 0.0;
    for (std::size_t i = 1; i < nodes_.size(); ++i) {
      const Node& a = nodes_[i - 1];
      const Node& b = nodes_[i];
      if (!smooth_[i - 1] || !a.bench || !b.bench) continue;
      const double apart =
          most_apart(base_.layout, looks_, *a.bench, *b.bench, kStepAtPinMm / kStepSigmas);
      steepest = std::max(steepest, apart / (b.size - a.size));
    }
    const double wanted = std::ceil(steepest * range / kStepSigmas);
    return static_cast<int>(std::clamp<double>(wanted, kFewestSizes, kMostSizes));
  }

  std::optional<Bench> bench_at(double size, std::size_t right) const {
    if (!smooth_[right - 1]) return simulate(base_, suspect_, size).bench;
    const Node& a = nodes_[right - 1];
    const Node& b = nodes_[right];
    if (!a.bench || !b.bench) return std::nullopt;
    const double share = (size - a.size) / (b.size - a.size);
    return Interpolated(base_.layout, *a.bench, *b.bench).at(share);
  }

  const FaultBase& base_;
  const FaultCase& suspect_;
  const std::vector<Look>& looks_;
  std::vector<Node> nodes_;
  std::vector<bool> smooth_;  // between a node and the next
};

}  // namespace

std::vector<Lineup> lineups_of(const FaultBase& base, const std::vector<FaultCase>& suspects) {
  const std::vector<Look> looks = looks_at_all_stops(base.layout);
  std::vector<Lineup> lineups;
  double sum = 0.0;
  for (const FaultCase& suspect : suspects) {
    Lineup lineup = Sizes(base, suspect, looks).all();
    if (lineup.benches.empty()) continue;
    sum += lineup.suspect.weight;
    lineups.push_back(std::move(lineup));
  }
  for (Lineup& lineup : lineups) lineup.suspect.weight /= sum;
  return lineups;
}

}  // namespace twoturn
