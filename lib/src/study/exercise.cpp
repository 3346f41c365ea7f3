#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "chance.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/study/why.hpp"
#include "why_parts.hpp"

namespace twoturn {
namespace {

using study::Chance;
using study::SolidStops;

double to_step(double value, double step) { return step * std::round(value / step); }

class Hider {
 public:
  Hider(const FaultBase& base, const std::vector<FaultCase>& suspects, unsigned seed)
      : base_(base), suspects_(suspects), chance_(seed) {}

  // One that shows, its size by chance.
  bool hide() {
    const std::vector<Look> looks = looks_of(base_.layout);
    const FaultyBuild right = simulate(base_, suspects_.front(), 0.0);  // nothing is wrong
    constexpr int kTries = 1000;
    for (int k = 0; k < kTries; ++k) {
      const FaultCase& suspect = pick();
      const SizeRange* range = suspect.size();
      size_ = range ? chance_.between(range->least, range->greatest) : 0.0;
      build_ = simulate(base_, suspect, size_);
      if (!build_.bench || !shows(*build_.bench, *right.bench, looks)) continue;
      suspect_ = &suspect;
      return true;
    }
    return false;
  }

  const FaultCase& suspect() const { return *suspect_; }
  double size() const { return size_; }
  const FaultyBuild& build() const { return build_; }

  SeenSpec look() {
    SeenSpec seen;
    const Bench& bench = *build_.bench;
    for (const Look& look : looks_of(base_.layout)) {
      see(bench_shows(base_.layout, bench, look, 0), seen);
    }
    return seen;
  }

 private:
  const FaultCase& pick() {
    double left = chance_.share();
    for (const FaultCase& suspect : suspects_) {
      left -= suspect.weight;
      if (left < 0.0) return suspect;
    }
    return suspects_.back();
  }

  bool shows(const Bench& bench, const Bench& right, const std::vector<Look>& looks) const {
    return std::any_of(looks.begin(), looks.end(), [&](const Look& look) {
      const Sight a = bench_shows(base_.layout, bench, look, 0);
      const Sight b = bench_shows(base_.layout, right, look, 0);
      const bool differs = a.pin != b.pin || a.yes != b.yes;
      const bool off = a.sigma > 0.0 && std::abs(a.value - b.value) > 2.0 * a.sigma;
      return differs || off;
    });
  }

  // As a person would write it down: marks to half a mm, a pointer to five degrees.
  void see(const Sight& sight, SeenSpec& seen) {
    const BenchLayout& layout = base_.layout;
    switch (sight.look.kind) {
      case LookKind::pin:
        seen.pin[layout.shafts[at(sight.look.part)].name] = sight.pin;
        break;
      case LookKind::mark:
        see_mark(layout.shafts[at(sight.look.part)].name,
                 layout.shafts[at(sight.look.part)].mark_radius_mm, sight, seen);
        break;
      case LookKind::further_mark:
        see_mark(layout.further[at(sight.look.part)].name,
                 layout.further[at(sight.look.part)].radius_mm, sight, seen);
        break;
      case LookKind::again:
        seen.again = sight.yes ? SeenAgain::wanders : SeenAgain::repeats;
        break;
      case LookKind::pointer:
        if (sight.yes) see_pointer(sight, seen);
        break;
      case LookKind::count: {
        const CountedPair& pair = layout.pairs[at(sight.look.part)];
        seen.count.push_back({pair.from, pair.to, static_cast<int>(std::lround(sight.value))});
        break;
      }
      default:
        see_sign(sight, seen);
    }
  }

  // A mark at no known radius is told by nobody.
  void see_mark(const std::string& name, const std::optional<double>& radius_mm, const Sight& sight,
                SeenSpec& seen) {
    const double value = sight.value + sight.sigma * 0.5 * chance_.normal();
    if (radius_mm) seen.mark_mm[name] = to_step(value, 0.5);
  }

  void see_pointer(const Sight& sight, SeenSpec& seen) {
    if (base_.layout.tensioner == TensionerKind::slide) {
      seen.pointer_mm = to_step(sight.value, 0.5);
    } else {
      seen.pointer_deg = in_turn(to_step(sight.value, 5.0));
    }
  }

  // Only what stands out: nobody writes down that a belt lies flat.
  static void see_sign(const Sight& sight, SeenSpec& seen) {
    switch (sight.look.kind) {
      case LookKind::seated:
        if (!sight.yes) seen.seated = false;
        break;
      case LookKind::rocks:
        if (sight.yes) seen.rocks = true;
        break;
      case LookKind::same_each_try:
        if (!sight.yes) seen.same_each_try = false;
        break;
      case LookKind::right_forwards:
        if (sight.yes) seen.right_forwards = true;
        break;
      case LookKind::moved_when_tensioned:
        if (sight.yes) seen.moved_when_tensioned = true;
        break;
      case LookKind::pointer_moves:
        if (!sight.yes) seen.pointer_moves = false;
        break;
      default:
        break;
    }
  }

  const FaultBase& base_;
  const std::vector<FaultCase>& suspects_;
  Chance chance_;
  const FaultCase* suspect_ = nullptr;
  double size_ = 0.0;
  FaultyBuild build_;
};

std::vector<std::string> lines_of(const FaultBase& base, const SeenSpec& seen) {
  std::vector<std::string> lines;
  const Direction direction = base.turns->assembly.fitted.direction;
  for (const Sight& sight : sights_of(seen, base.layout).sights) {
    lines.push_back(fmt::format(
        "{}: {}", capital(sentences::look_at(base.layout, sight.look.kind, sight.look.part)),
        sentences::sight(base.layout, sight, direction)));
  }
  return lines;
}

}  // namespace

std::optional<Exercise> exercise(const DriveSpec& spec, Fit fit, unsigned seed,
                                 std::vector<Missing>& missing) {
  DriveSpec unseen = spec;
  const std::map<std::string, double> prior = spec.seen.prior;
  unseen.seen = {};
  unseen.seen.prior = prior;
  const FaultBase base = fault_base(unseen, fit);
  if (!base.turns) {
    missing.insert(missing.end(), base.book.missing.begin(), base.book.missing.end());
    return std::nullopt;
  }
  const std::vector<FaultCase> suspects = suspects_of(base);
  Hider hider(base, suspects, seed);
  if (!hider.hide()) return std::nullopt;
  Exercise result;
  result.seed = seed;
  result.seen = hider.look();
  result.seen.prior = prior;
  result.shows = lines_of(base, result.seen);
  result.hidden =
      study::told_fault(base, hider.suspect(), hider.size(), hider.build(), SolidStops(base.spec));
  unseen.seen = result.seen;
  std::optional<WhyAnswer> working = why_answer(unseen, fit, missing);
  if (!working) return std::nullopt;
  result.working = std::move(*working);
  return result;
}

}  // namespace twoturn
