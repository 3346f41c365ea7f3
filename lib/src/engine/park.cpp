#include "twoturn/engine/park.hpp"

#include <algorithm>
#include <cmath>

namespace twoturn {
namespace {

constexpr double kTurnDeg = 360.0;

double in_turn(double deg) { return wrapped_deg(deg, kTurnDeg); }

double depth_at(const SliderCrank& crank, const ParkPiston& piston, double crank_deg) {
  return crank.depth_mm(Angle::degrees(in_turn(crank_deg - piston.top_deg)));
}

struct Spare {
  double mm;
  int piston;
};

// What the piston with least to spare has.
Spare spare_at(const SliderCrank& crank, const std::vector<ParkPiston>& pistons, double crank_deg) {
  Spare least{0.0, -1};
  for (std::size_t k = 0; k < pistons.size(); ++k) {
    const double spare = depth_at(crank, pistons[k], crank_deg) - pistons[k].need_mm;
    if (least.piston < 0 || spare < least.mm) least = {spare, static_cast<int>(k)};
  }
  return least;
}

bool by_start(const ParkInterval& a, const ParkInterval& b) { return a.from_deg < b.from_deg; }

// Crank positions that a piston forbids, [from, to] with from in [0, 360).
std::vector<ParkInterval> forbidden(const SliderCrank& crank,
                                    const std::vector<ParkPiston>& pistons) {
  std::vector<ParkInterval> spans;
  for (const ParkPiston& piston : pistons) {
    if (piston.need_mm < 0.0) continue;
    if (piston.need_mm >= crank.stroke_mm()) return {{0.0, kTurnDeg}};
    const double down = crank.going_down(piston.need_mm).degrees();
    const double up = kTurnDeg - crank.coming_up(piston.need_mm).degrees();
    const double from = in_turn(piston.top_deg - up);
    spans.push_back({from, from + up + down});
  }
  std::sort(spans.begin(), spans.end(),
            [](const ParkInterval& a, const ParkInterval& b) { return a.from_deg < b.from_deg; });
  return spans;
}

std::vector<ParkInterval> gaps_between(const std::vector<ParkInterval>& spans) {
  if (spans.empty()) return {{0.0, kTurnDeg}};
  std::vector<ParkInterval> gaps;
  double reached = spans.front().from_deg;
  // Once round from the first one's start; what reaches over it from behind counts there too.
  for (const ParkInterval& span : spans) {
    reached = std::max(reached, span.to_deg - kTurnDeg);
  }
  for (const ParkInterval& span : spans) {
    if (span.from_deg > reached) gaps.push_back({reached, span.from_deg});
    reached = std::max(reached, span.to_deg);
  }
  const double end = spans.front().from_deg + kTurnDeg;
  if (end > reached) gaps.push_back({in_turn(reached), in_turn(reached) + end - reached});
  std::sort(gaps.begin(), gaps.end(), by_start);
  return gaps;
}

double golden(const SliderCrank& crank, const std::vector<ParkPiston>& pistons, double low,
              double high) {
  constexpr int kSteps = 80;
  constexpr double kShare = 0.6180339887498949;
  for (int i = 0; i < kSteps; ++i) {
    const double near_low = high - kShare * (high - low);
    const double near_high = low + kShare * (high - low);
    const bool lower =
        spare_at(crank, pistons, near_low).mm > spare_at(crank, pistons, near_high).mm;
    (lower ? high : low) = lower ? near_high : near_low;
  }
  return 0.5 * (low + high);
}

}  // namespace

ParkFound find_park(const SliderCrank& crank, const std::vector<ParkPiston>& pistons) {
  ParkFound found;
  found.clear = gaps_between(forbidden(crank, pistons));
  constexpr int kPlaces = 720;
  constexpr double kStepDeg = kTurnDeg / kPlaces;
  std::vector<double> spares;
  for (int k = 0; k < kPlaces; ++k) {
    spares.push_back(spare_at(crank, pistons, k * kStepDeg).mm);
  }
  // Around every place that is no lower than its neighbours; of equal ones the first counts.
  constexpr double kBetterMm = 1e-7;
  bool any = false;
  for (int k = 0; k < kPlaces; ++k) {
    const auto at = [&](int place) {
      return spares[static_cast<std::size_t>((place + kPlaces) % kPlaces)];
    };
    if (at(k) < at(k - 1) || at(k) < at(k + 1)) continue;
    const double best = golden(crank, pistons, (k - 1) * kStepDeg, (k + 1) * kStepDeg);
    const Spare spare = spare_at(crank, pistons, best);
    if (any && spare.mm <= found.best_spare_mm + kBetterMm) continue;
    any = true;
    found.best_deg = in_turn(best);
    found.best_spare_mm = spare.mm;
    found.best_piston = spare.piston;
  }
  return found;
}

CrankWay crank_way(const SliderCrank& crank, const std::vector<ParkPiston>& pistons,
                   double from_deg, double to_deg, TurnWay way) {
  const bool forwards = way == TurnWay::forwards;
  CrankWay found;
  found.turn_deg = in_turn(forwards ? to_deg - from_deg : from_deg - to_deg);
  const double start = forwards ? from_deg : from_deg - found.turn_deg;
  bool any = false;
  const auto look = [&](std::size_t k, double crank_deg) {
    const double room = depth_at(crank, pistons[k], crank_deg) - pistons[k].need_mm;
    if (any && room >= found.least_mm) return;
    any = true;
    found.least_mm = room;
    found.piston = static_cast<int>(k);
    found.at_deg = in_turn(crank_deg);
  };
  // A piston is highest at an end of the way or at its dead centre.
  for (std::size_t k = 0; k < pistons.size(); ++k) {
    look(k, start);
    look(k, start + found.turn_deg);
    const double to_top = in_turn(pistons[k].top_deg - start);
    if (to_top <= found.turn_deg) look(k, start + to_top);
  }
  return found;
}

CountedPark park_from_tops(const std::vector<double>& top_deg) {
  constexpr double kSameDeg = 1e-6;
  std::vector<double> tops = top_deg;
  std::sort(tops.begin(), tops.end());
  CountedPark park;
  double widest = 0.0;
  for (std::size_t k = 0; k < tops.size(); ++k) {
    const double next = k + 1 < tops.size() ? tops[k + 1] : tops.front() + kTurnDeg;
    widest = std::max(widest, next - tops[k]);
  }
  for (std::size_t k = 0; k < tops.size(); ++k) {
    const double next = k + 1 < tops.size() ? tops[k + 1] : tops.front() + kTurnDeg;
    if (next - tops[k] > widest - kSameDeg) park.best_deg.push_back(in_turn((tops[k] + next) / 2));
  }
  std::sort(park.best_deg.begin(), park.best_deg.end());
  park.from_top_deg = widest / 2.0;
  park.stroke_share = 0.5 * (1.0 - std::cos(park.from_top_deg * kRadPerDeg));
  return park;
}

}  // namespace twoturn
