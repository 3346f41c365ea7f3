#include "twoturn/engine/park.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace twoturn {
namespace {

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

// Without those that never have less to spare than another: the same top dead centre, no more need.
std::vector<ParkPiston> that_count(const std::vector<ParkPiston>& pistons) {
  std::vector<ParkPiston> counting;
  for (const ParkPiston& piston : pistons) {
    const auto same = std::find_if(counting.begin(), counting.end(), [&](const ParkPiston& other) {
      return in_turn(other.top_deg) == in_turn(piston.top_deg);
    });
    if (same == counting.end()) {
      counting.push_back(piston);
    } else {
      same->need_mm = std::max(same->need_mm, piston.need_mm);
    }
  }
  return counting;
}

constexpr int kParkPlaces = 720;
constexpr double kStepDeg = kTurnDeg / kParkPlaces;

// The pistons that may have least to spare somewhere in `low_deg` to `high_deg`.
std::vector<ParkPiston> lowest_within(const SliderCrank& crank,
                                      const std::vector<ParkPiston>& pistons, double low_deg,
                                      double high_deg) {
  const double middle = 0.5 * (low_deg + high_deg);
  const double moves = crank.slope_bound_mm() * 0.5 * (high_deg - low_deg) * kRadPerDeg;
  const double least = spare_at(crank, pistons, middle).mm;
  std::vector<ParkPiston> lowest;
  for (const ParkPiston& piston : pistons) {
    const double spare = depth_at(crank, piston, middle) - piston.need_mm;
    if (spare <= least + 2.0 * moves) lowest.push_back(piston);
  }
  return lowest;
}

double golden(const SliderCrank& crank, const std::vector<ParkPiston>& pistons, double low,
              double high) {
  constexpr int kSteps = 60;  // a degree shrinks below what a double tells of it
  constexpr double kShare = 0.6180339887498949;
  const std::vector<ParkPiston> lowest = lowest_within(crank, pistons, low, high);
  const auto spare = [&](double deg) { return spare_at(crank, lowest, deg).mm; };
  double near_low = high - kShare * (high - low);
  double near_high = low + kShare * (high - low);
  double at_low = spare(near_low);
  double at_high = spare(near_high);
  // The golden section leaves one of the two places where the next pair wants it.
  for (int i = 0; i < kSteps; ++i) {
    if (at_low > at_high) {
      high = near_high;
      near_high = near_low;
      at_high = at_low;
      near_low = high - kShare * (high - low);
      at_low = spare(near_low);
    } else {
      low = near_low;
      near_low = near_high;
      at_low = at_high;
      near_high = low + kShare * (high - low);
      at_high = spare(near_high);
    }
  }
  return 0.5 * (low + high);
}

// Steps of half a degree, looked at only where most may be to spare: between two places it is more
// than at them by no more than half of how far a piston moves there.
class SpareSteps {
 public:
  SpareSteps(const SliderCrank& crank, const std::vector<ParkPiston>& pistons)
      : crank_(crank), pistons_(pistons) {}

  double at(int place) const {
    return spare_at(crank_, pistons_, (place + kParkPlaces) % kParkPlaces * kStepDeg).mm;
  }

  // Ends of the steps that may have it, in order, below `kParkPlaces`.
  std::vector<int> worth_a_look() {
    constexpr int kBlock = 16;
    std::vector<double> ends;
    for (int place = 0; place <= kParkPlaces; place += kBlock) ends.push_back(see(place));
    for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
      const int place = static_cast<int>(k) * kBlock;
      narrow(place, ends[k], place + kBlock, ends[k + 1]);
    }
    if (!kept_.empty() && kept_.back() == kParkPlaces) {
      kept_.pop_back();
      if (kept_.empty() || kept_.front() != 0) kept_.insert(kept_.begin(), 0);
    }
    return kept_;
  }

 private:
  double see(int place) {
    const double spare = at(place);
    most_seen_ = std::max(most_seen_, spare);
    return spare;
  }

  void narrow(int low, double at_low, int high, double at_high) {
    constexpr double kMissableMm = 1e-6;
    const double moves = crank_.slope_bound_mm() * (high - low) * kStepDeg * kRadPerDeg;
    if (0.5 * (at_low + at_high + moves) < most_seen_ - kMissableMm) return;
    if (high - low == 1) {
      if (kept_.empty() || kept_.back() != low) kept_.push_back(low);
      kept_.push_back(high);
      return;
    }
    const int middle = (low + high) / 2;
    const double at_middle = see(middle);
    narrow(low, at_low, middle, at_middle);
    narrow(middle, at_middle, high, at_high);
  }

  const SliderCrank& crank_;
  const std::vector<ParkPiston>& pistons_;
  std::vector<int> kept_;
  double most_seen_ = -std::numeric_limits<double>::infinity();
};

}  // namespace

ParkFound find_park(const SliderCrank& crank, const std::vector<ParkPiston>& pistons) {
  ParkFound found;
  found.clear = gaps_between(forbidden(crank, pistons));
  const std::vector<ParkPiston> counting = that_count(pistons);
  SpareSteps steps(crank, counting);
  // Around every place that is no lower than its neighbours; of equal ones the first counts.
  constexpr double kBetterMm = 1e-7;
  bool any = false;
  for (const int k : steps.worth_a_look()) {
    const double here = steps.at(k);
    if (here < steps.at(k - 1) || here < steps.at(k + 1)) continue;
    const double best = golden(crank, counting, (k - 1) * kStepDeg, (k + 1) * kStepDeg);
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
