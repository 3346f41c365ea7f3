#include "twoturn/fault/look.hpp"

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "look_sigmas.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/unsure.hpp"

namespace twoturn {
namespace {

double wrapped(double own_deg) { return Angle::degrees(own_deg).wrapped_half().degrees(); }

// The error of a shaft in own deg of another, when that one is taken for the datum.
double from_datum(const BenchLayout& layout, const Bench& bench, int part, int stop, int datum,
                  double own_deg) {
  const double datum_deg = bench.shafts[at(datum)].shaft_deg[stop];
  if (datum == 0 || datum_deg == 0.0) return own_deg;
  const double crank_deg = datum_deg / layout.shafts[at(datum)].turns_per_crank;
  return wrapped(own_deg - crank_deg * layout.shafts[at(part)].turns_per_crank);
}

double at_edge(const std::optional<double>& radius_mm, double own_deg) {
  return radius_mm ? Angle::degrees(own_deg).radians() * *radius_mm : own_deg;
}

double mark_value(const BenchLayout& layout, const Bench& bench, const Look& look, int datum) {
  const BenchPart& part = layout.shafts[at(look.part)];
  const double own_deg = from_datum(layout, bench, look.part, look.stop, datum,
                                    bench.shafts[at(look.part)].mark_deg[look.stop]);
  const double aside = part.mark_radius_mm ? bench.seen_aside_mm : 0.0;
  return at_edge(part.mark_radius_mm, own_deg) + aside;
}

double further_value(const BenchLayout& layout, const Bench& bench, const Look& look, int datum) {
  const FurtherMark& mark = layout.further[at(look.part)];
  const double own_deg = from_datum(
      layout, bench, mark.shaft, look.stop, datum,
      bench.shafts[at(mark.shaft)].mark_deg[look.stop] + bench.further_deg[at(look.part)]);
  return at_edge(mark.radius_mm, wrapped(own_deg)) + (mark.radius_mm ? bench.seen_aside_mm : 0.0);
}

// How far beyond its play the pin's two holes are apart, mm.
double beyond_play(const BenchLayout& layout, const Bench& bench, const Look& look, int datum) {
  const BenchPart& part = layout.shafts[at(look.part)];
  const BenchShaft& shaft = bench.shafts[at(look.part)];
  const double own_deg =
      from_datum(layout, bench, look.part, look.stop, datum, shaft.shaft_deg[look.stop]);
  Pin pin;
  pin.radius_mm = part.pin_radius_mm.value_or(0.0);
  return pin.between_holes_mm(Angle::degrees(own_deg)) - shaft.play_mm;
}

// By how much the mark that moves most moves over two more turns, mm (own deg without a radius).
double moved_on(const BenchLayout& layout, const Bench& bench) {
  double most = 0.0;
  for (std::size_t i = 0; i < layout.shafts.size(); ++i) {
    const double moved = wrapped(bench.shafts[i].mark_deg[3] - bench.shafts[i].mark_deg[2]);
    most = std::max(most, std::abs(at_edge(layout.shafts[i].mark_radius_mm, moved)));
  }
  return most;
}

double density(double off, double sigma) {
  return std::exp(-0.5 * (off / sigma) * (off / sigma)) / (sigma * std::sqrt(kFullTurn));
}

// A density that no slip brings to nothing: one in a hundred is anywhere over so wide a range.
double robust(double off, double sigma, double range) {
  return (1.0 - kSlip) * density(off, sigma) + kSlip / range;
}

double pin_share(double beyond_mm, double tight_mm, PinFelt seen) {
  const double in = normal_share(-beyond_mm / kPinSigmaMm);
  const double out = normal_share((beyond_mm - tight_mm) / kPinSigmaMm);
  const double share = seen == PinFelt::in ? in : seen == PinFelt::out ? out : 1.0 - in - out;
  return kSlip / 3.0 + (1.0 - kSlip) * std::max(0.0, share);
}

// Of an answer by yes or no that would be given so often.
double told_share(double probability) { return kSlip / 2.0 + (1.0 - kSlip) * probability; }

double wander_share(const BenchLayout& layout, const Bench& bench) {
  if (!bench.same_each_try) return 0.5;  // it may or may not show in two turns more
  constexpr double kSeenToMoveMm = 1.0;
  constexpr double kGiveMm = 0.5;
  return normal_share((moved_on(layout, bench) - kSeenToMoveMm) / kGiveMm);
}

double yes_probability(const BenchLayout& layout, const Bench& bench, LookKind kind) {
  switch (kind) {
    case LookKind::again:
      return wander_share(layout, bench);
    case LookKind::seated:
      return bench.seated ? 1.0 : 0.0;
    case LookKind::rocks:
      return bench.rocks ? 1.0 : 0.0;
    case LookKind::same_each_try:
      return bench.same_each_try ? 1.0 : 0.0;
    case LookKind::right_forwards:
      return bench.right_forwards ? 1.0 : 0.0;
    case LookKind::moved_when_tensioned:
      return bench.moved_when_tensioned ? 1.0 : 0.0;
    case LookKind::pointer_moves:
      return bench.pointer_moves ? 1.0 : 0.0;
    default:
      return 0.0;
  }
}

// Where a solid stop is not known, anything may be.
double stop_likelihood(const Bench& bench, const Sight& sight) {
  if (!bench.stops_deg) return sight.sigma > 0.0 ? 1.0 / kTwoTurnsDeg : 0.5;
  if (!sight.yes) return told_share(bench.stops_deg->empty() ? 1.0 : 0.0);
  if (bench.stops_deg->empty()) {
    return told_share(0.0) * (sight.sigma > 0.0 ? 1.0 / kTwoTurnsDeg : 1.0);
  }
  if (sight.sigma <= 0.0) return told_share(1.0);
  const double sigma = std::hypot(sight.sigma, bench.stop_give_deg);
  double sum = 0.0;
  for (const double stop : *bench.stops_deg) {
    double off = wrapped_deg(sight.value - stop, kTwoTurnsDeg);
    if (off > kTurnDeg) off -= kTwoTurnsDeg;
    sum += density(off, sigma) / static_cast<double>(bench.stops_deg->size());
  }
  return (1.0 - kSlip) * sum + kSlip / kTwoTurnsDeg;
}

double pointer_sigma(const BenchLayout& layout) {
  return layout.tensioner == TensionerKind::swing ? kPointerSigmaDeg : kPointerSigmaMm;
}

}  // namespace

double value_off(const BenchLayout& layout, const Look& look, double a, double b) {
  const auto at_radius = [&](const std::optional<double>& radius_mm) {
    if (!radius_mm) return wrapped(a - b);
    return Angle::radians((a - b) / *radius_mm).wrapped_half().radians() * *radius_mm;
  };
  switch (look.kind) {
    case LookKind::mark:
      return at_radius(layout.shafts[at(look.part)].mark_radius_mm);
    case LookKind::further_mark:
      return at_radius(layout.further[at(look.part)].radius_mm);
    case LookKind::pointer:
      return layout.tensioner == TensionerKind::swing ? wrapped(a - b) : a - b;
    default:
      return a - b;
  }
}

std::vector<Look> looks_of(const BenchLayout& layout) {
  std::vector<Look> looks;
  const auto parts = [&](LookKind kind, std::size_t count, const auto& wanted) {
    for (std::size_t i = 0; i < count; ++i) {
      if (wanted(i)) looks.push_back({kind, static_cast<int>(i), 2});
    }
  };
  const std::vector<BenchPart>& shafts = layout.shafts;
  parts(LookKind::pin, shafts.size(),
        [&](std::size_t i) { return i > 0 && shafts[i].pin_radius_mm; });
  parts(LookKind::mark, shafts.size(), [&](std::size_t i) {
    const bool against_its_pin = i > 0 || shafts[i].pin_radius_mm;
    return against_its_pin && shafts[i].has_mark;
  });
  parts(LookKind::further_mark, layout.further.size(), [](std::size_t) { return true; });
  looks.push_back({LookKind::again});
  if (layout.tensioner) looks.push_back({LookKind::pointer});
  parts(LookKind::count, layout.pairs.size(),
        [&](std::size_t i) { return layout.pairs[i].countable; });
  for (const LookKind kind : {LookKind::seated, LookKind::rocks, LookKind::same_each_try,
                              LookKind::right_forwards, LookKind::moved_when_tensioned}) {
    looks.push_back({kind});
  }
  if (layout.tensioner) looks.push_back({LookKind::pointer_moves});
  if (layout.has_engine) looks.push_back({LookKind::stop});
  return looks;
}

double likelihood(const BenchLayout& layout, const Bench& bench, const Sight& sight, int datum) {
  constexpr double kMarkRange = 200.0;
  switch (sight.look.kind) {
    case LookKind::pin:
      return pin_share(beyond_play(layout, bench, sight.look, datum), layout.pin_tight_mm,
                       sight.pin);
    case LookKind::mark:
      return robust(
          value_off(layout, sight.look, sight.value, mark_value(layout, bench, sight.look, datum)),
          sight.sigma, kMarkRange);
    case LookKind::further_mark:
      return robust(value_off(layout, sight.look, sight.value,
                              further_value(layout, bench, sight.look, datum)),
                    sight.sigma, kMarkRange);
    case LookKind::pointer:
      if (!bench.pointer) return 1.0 / kTurnDeg;
      return robust(value_off(layout, sight.look, sight.value, *bench.pointer), sight.sigma,
                    kTurnDeg);
    case LookKind::count:
      return robust(sight.value - bench.counts[at(sight.look.part)], sight.sigma, kMarkRange);
    case LookKind::stop:
      return stop_likelihood(bench, sight);
    default: {
      const double yes = yes_probability(layout, bench, sight.look.kind);
      return told_share(sight.yes ? yes : 1.0 - yes);
    }
  }
}

Sight bench_shows(const BenchLayout& layout, const Bench& bench, const Look& look, int datum) {
  Sight sight;
  sight.look = look;
  switch (look.kind) {
    case LookKind::pin: {
      const double beyond = beyond_play(layout, bench, look, datum);
      sight.pin = beyond <= 0.0                   ? PinFelt::in
                  : beyond <= layout.pin_tight_mm ? PinFelt::tight
                                                  : PinFelt::out;
      sight.value = beyond;
      break;
    }
    case LookKind::mark: {
      const bool radius = layout.shafts[at(look.part)].mark_radius_mm.has_value();
      sight.value = mark_value(layout, bench, look, datum);
      sight.sigma = radius ? sigma_of(kEyeGiveMm) : kMarkSigmaDeg;
      break;
    }
    case LookKind::further_mark:
      sight.value = further_value(layout, bench, look, datum);
      sight.sigma = layout.further[at(look.part)].radius_mm ? sigma_of(kEyeGiveMm) : kMarkSigmaDeg;
      break;
    case LookKind::pointer:
      sight.value = bench.pointer.value_or(0.0);
      sight.sigma = pointer_sigma(layout);
      sight.yes = bench.pointer.has_value();
      break;
    case LookKind::count:
      sight.value = bench.counts[at(look.part)];
      sight.sigma = kCountSigma;
      break;
    case LookKind::stop:
      sight.yes = bench.stops_deg && !bench.stops_deg->empty();
      break;
    default:
      sight.yes = yes_probability(layout, bench, look.kind) > 0.5;
  }
  return sight;
}

}  // namespace twoturn
