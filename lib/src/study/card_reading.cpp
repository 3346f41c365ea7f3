// Simulated benches as a person reads them.
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "card_tree.hpp"
#include "chance.hpp"
#include "fault/look_sigmas.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn::card {
namespace {

// The answer that nobody would call a sign.
bool usual(LookKind kind) {
  return kind == LookKind::seated || kind == LookKind::pointer_moves ||
         kind == LookKind::same_each_try;
}

double sigma_of_look(const Ground& ground, const Look& look) {
  return bench_shows(ground.layout, ground.right, look, 0).sigma;
}

Reading read_by(const Ground& ground, const Reading& clean, const Bench& bench,
                study::Chance& eye) {
  Reading read = clean;
  for (const Look& look : ground.looks) {
    const auto part = at(std::max(look.part, 0));
    switch (look.kind) {
      case LookKind::pin: {
        const Sight shown = bench_shows(ground.layout, bench, look, 0);
        read.pin_out[part] = shown.value + kPinSigmaMm * eye.normal() > 0.0;
        break;
      }
      case LookKind::mark:
        read.marks[part] += sigma_of_look(ground, look) * eye.normal();
        break;
      case LookKind::further_mark:
        read.further[part] += sigma_of_look(ground, look) * eye.normal();
        break;
      case LookKind::pointer:
        read.pointer += sigma_of_look(ground, look) * eye.normal();
        break;
      case LookKind::count:
        read.counts[part] = std::round(read.counts[part] + kCountSigma * eye.normal());
        break;
      case LookKind::again: {
        Sight wanders;
        wanders.look = look;
        wanders.yes = true;
        read.again = eye.share() < likelihood(ground.layout, bench, wanders, 0);
        break;
      }
      default:
        break;
    }
  }
  return read;
}

template <class Off>
int which(const Ground& ground, LookKind kind, const Off& off) {
  int count = 0;
  int out = 0;
  int last = -1;
  for (const Look& look : ground.looks) {
    if (look.kind != kind) continue;
    ++count;
    if (!off(look.part)) continue;
    ++out;
    last = look.part;
  }
  if (out == 0) return kNone;
  if (out == count && count > 1) return kAll;
  return out == 1 ? kOnly + last : kSeveral;
}

int interval(const std::vector<double>& cuts, double value) {
  return static_cast<int>(std::lower_bound(cuts.begin(), cuts.end(), value) - cuts.begin());
}

}  // namespace

Reading reading_of(const Ground& ground, const Bench& bench) {
  Reading reading;
  reading.pin_out.assign(ground.layout.shafts.size(), false);
  reading.marks.assign(ground.layout.shafts.size(), 0.0);
  reading.further.assign(ground.layout.further.size(), 0.0);
  reading.counts.assign(ground.layout.pairs.size(), 0.0);
  for (const Look& look : ground.looks) {
    const Sight shown = bench_shows(ground.layout, bench, look, 0);
    const auto part = at(std::max(look.part, 0));
    switch (look.kind) {
      case LookKind::pin:
        reading.pin_out[part] = shown.pin != PinFelt::in;
        break;
      case LookKind::mark:
        reading.marks[part] = shown.value;
        break;
      case LookKind::further_mark:
        reading.further[part] = shown.value;
        break;
      case LookKind::pointer:
        if (bench.pointer && ground.right.pointer) {
          reading.pointer = value_off(ground.layout, look, shown.value, *ground.right.pointer);
        }
        break;
      case LookKind::count:
        reading.counts[part] = shown.value;
        break;
      case LookKind::again:
        reading.again = shown.yes;
        break;
      default:
        if (shown.yes == usual(look.kind)) break;
        if (!reading.sign || look.kind != LookKind::stop) reading.sign = look.kind;
        break;
    }
  }
  return reading;
}

std::vector<Sample> samples_of(const Ground& ground, const std::vector<Lineup>& lineups,
                               const std::vector<int>& ends) {
  constexpr int kOfEach = 80;
  study::Chance eye(1);
  std::vector<Sample> samples;
  for (std::size_t i = 0; i < lineups.size(); ++i) {
    const std::vector<Bench>& benches = lineups[i].benches;
    const double count = static_cast<double>(benches.size());
    for (int k = 0; k < kOfEach; ++k) {
      Sample sample;
      sample.lineup = static_cast<int>(i);
      sample.bench = static_cast<int>((k + 0.5) / kOfEach * count);
      sample.end = ends[i];
      sample.clean = reading_of(ground, benches[at(sample.bench)]);
      sample.read = read_by(ground, sample.clean, benches[at(sample.bench)], eye);
      samples.push_back(std::move(sample));
    }
  }
  return samples;
}

int answer_of(const Ground& ground, const Question& question, const Reading& reading) {
  const auto part = at(std::max(question.part, 0));
  switch (question.ask) {
    case CardAsk::pins:
      return which(ground, LookKind::pin, [&](int i) { return reading.pin_out[at(i)]; });
    case CardAsk::marks:
      return which(ground, LookKind::mark,
                   [&](int i) { return std::abs(reading.marks[at(i)]) > question.more_than_mm; });
    case CardAsk::mark:
      return interval(question.cuts, reading.marks[part]);
    case CardAsk::further_mark:
      return interval(question.cuts, reading.further[part]);
    case CardAsk::again:
      return reading.again ? 1 : 0;
    case CardAsk::pointer:
      return interval(question.cuts, reading.pointer);
    case CardAsk::count:
      return interval(question.cuts, reading.counts[part]);
    case CardAsk::signs:
      return reading.sign ? 1 + static_cast<int>(*reading.sign) : 0;
  }
  return 0;
}

}  // namespace twoturn::card
