#include "twoturn/engine/valve_gap.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "twoturn/geometry/segment.hpp"

namespace twoturn {
namespace {

constexpr int kGapPlaces = 1440;
constexpr double kStep = kCycleRad / kGapPlaces;

double angle_of(int place) { return -kFullTurn + place * kStep; }

// The rim of a head, and where it goes as the valve opens.
struct Rim {
  Vec2 shut_mm;
  Vec2 half_mm;
  Vec2 opens;

  explicit Rim(const ValveHead& head) {
    const double side = head.across_mm < 0.0 ? -1.0 : 1.0;
    const double angle = side * head.valve_deg * kRadPerDeg;
    opens = Vec2(-std::sin(angle), -std::cos(angle));
    shut_mm = Vec2(head.across_mm, 0.0);
    half_mm = 0.5 * head.head_mm * Vec2(std::cos(angle), -std::sin(angle));
  }

  Segment at(double lift_mm) const {
    const Vec2 middle = shut_mm + lift_mm * opens;
    return {middle - half_mm, middle + half_mm};
  }
};

bool passes(double from, double to, double place) {
  return place + kCycleRad * std::ceil((from - place) / kCycleRad) <= to;
}

// A head on its way round two turns.
class Mover {
 public:
  Mover(const ValveHead& head, const Lobe& lobe, Angle advance)
      : rim_(head),
        lobe_(lobe),
        advance_(advance),
        nose_((lobe.centre() - advance).radians()),
        base_((lobe.placed + lobe.curve.falls_through(0.0) - advance).radians()) {}

  double lift_mm(double rad) const { return lobe_.lift_mm(Angle::radians(rad) + advance_); }
  Segment rim(double lift_mm) const { return rim_.at(lift_mm); }

  // No further than this between two places: from base circle to nose a lobe only rises, then only
  // falls.
  double travel_mm(double from, double to, double at_from, double at_to) const {
    const bool nose = passes(from, to, nose_);
    const bool base = at_from > 0.0 && at_to > 0.0 && passes(from, to, base_);
    const double greatest = lobe_.greatest_lift_mm();
    if (nose && base) return at_from + at_to + 2.0 * greatest;
    if (nose) return 2.0 * greatest - at_from - at_to;
    return base ? at_from + at_to : std::abs(at_to - at_from);
  }

 private:
  Rim rim_;
  const Lobe& lobe_;
  Angle advance_;
  double nose_;
  double base_;
};

// Steps of half a degree, looked at only where the least gap may be: between two places it is less
// than at them by no more than half of what both heads travel there.
class GapSteps {
 public:
  GapSteps(const Mover& first, const Mover& second)
      : first_(first), second_(second), gaps_(kGapPlaces, kUnseen) {}

  double gap(double rad) const { return gap(first_.lift_mm(rad), second_.lift_mm(rad)); }

  double at(int place) {
    double& seen = gaps_[static_cast<std::size_t>((place + kGapPlaces) % kGapPlaces)];
    if (seen == kUnseen) seen = gap(angle_of((place + kGapPlaces) % kGapPlaces));
    return seen;
  }

  // Ends of the steps that may hold it, in order.
  std::vector<int> worth_a_look() {
    constexpr int kBlock = 16;
    std::vector<Seen> ends;
    for (int place = 0; place <= kGapPlaces; place += kBlock) ends.push_back(see(place));
    for (std::size_t k = 0; k + 1 < ends.size(); ++k) narrow(ends[k], ends[k + 1]);
    return std::move(kept_);
  }

 private:
  static constexpr double kUnseen = std::numeric_limits<double>::infinity();

  struct Seen {
    int place;
    double first_mm, second_mm;  // lifts
    double gap_mm;
  };

  double gap(double first_mm, double second_mm) const {
    return nearest(first_.rim(first_mm), second_.rim(second_mm)).distance_mm;
  }

  Seen see(int place) {
    const double rad = angle_of(place);
    Seen seen{place, first_.lift_mm(rad), second_.lift_mm(rad), 0.0};
    seen.gap_mm = gap(seen.first_mm, seen.second_mm);
    if (place < kGapPlaces) gaps_[static_cast<std::size_t>(place)] = seen.gap_mm;
    least_seen_ = std::min(least_seen_, seen.gap_mm);
    return seen;
  }

  void narrow(const Seen& low, const Seen& high) {
    constexpr double kRoundingMm = 1e-9;
    const double from = angle_of(low.place);
    const double to = angle_of(high.place);
    const double travel = first_.travel_mm(from, to, low.first_mm, high.first_mm) +
                          second_.travel_mm(from, to, low.second_mm, high.second_mm);
    if (travel == 0.0) return;
    if (0.5 * (low.gap_mm + high.gap_mm - travel) > least_seen_ + kRoundingMm) return;
    if (high.place - low.place == 1) {
      if (kept_.empty() || kept_.back() != low.place) kept_.push_back(low.place);
      kept_.push_back(high.place);
      return;
    }
    const Seen middle = see((low.place + high.place) / 2);
    narrow(low, middle);
    narrow(middle, high);
  }

  const Mover& first_;
  const Mover& second_;
  std::vector<double> gaps_;
  std::vector<int> kept_;
  double least_seen_ = kUnseen;
};

}  // namespace

double head_gap_mm(const ValveHead& first, double first_lift_mm, const ValveHead& second,
                   double second_lift_mm) {
  return nearest(Rim(first).at(first_lift_mm), Rim(second).at(second_lift_mm)).distance_mm;
}

// Two crossed edges span a parallelogram that holds their difference: the nearest of its sides is
// an end of the one against the line of the other.
double head_overlap_mm(const ValveHead& first, double first_lift_mm, const ValveHead& second,
                       double second_lift_mm) {
  const Segment one = Rim(first).at(first_lift_mm);
  const Segment other = Rim(second).at(second_lift_mm);
  if (nearest(one, other).distance_mm > 0.0) return 0.0;
  const auto from_line = [](const Segment& line, const Vec2& point) {
    return std::abs(cross(line.along().normalized(), point - line.start_mm));
  };
  return std::min(std::min(from_line(one, other.start_mm), from_line(one, other.end_mm)),
                  std::min(from_line(other, one.start_mm), from_line(other, one.end_mm)));
}

GapAt deepest_overlap(const ValveHead& first, const Lobe& first_lobe, Angle first_advance,
                      const ValveHead& second, const Lobe& second_lobe, Angle second_advance) {
  GapAt deepest;
  for (int place = 0; place < kGapPlaces; ++place) {
    const Angle at = Angle::radians(angle_of(place));
    const double first_mm = first_lobe.lift_mm(at + first_advance);
    const double second_mm = second_lobe.lift_mm(at + second_advance);
    const double gap = -head_overlap_mm(first, first_mm, second, second_mm);
    if (gap < deepest.gap_mm) deepest = {gap, at};
  }
  return deepest;
}

GapAt least_gap(const ValveHead& first, const Lobe& first_lobe, Angle first_advance,
                const ValveHead& second, const Lobe& second_lobe, Angle second_advance) {
  constexpr int kGolden = 60;
  constexpr double kShare = 0.6180339887498949;
  constexpr double kAlikeMm = 1e-12;  // of a dwell, rounding would choose the place
  const Mover one(first, first_lobe, first_advance);
  const Mover other(second, second_lobe, second_advance);
  GapSteps steps(one, other);
  const std::vector<int> places = steps.worth_a_look();
  GapAt least{steps.at(0), Angle::radians(-kFullTurn)};
  for (const int place : places) {
    if (least.gap_mm <= 0.0) break;
    const double here = steps.at(place);
    if (here > steps.at(place - 1) || here > steps.at(place + 1)) continue;
    double low = angle_of(place - 1);
    double high = low + 2.0 * kStep;
    for (int i = 0; i < kGolden; ++i) {
      const double near_low = high - kShare * (high - low);
      const double near_high = low + kShare * (high - low);
      const bool lower = steps.gap(near_low) <= steps.gap(near_high);
      (lower ? high : low) = lower ? near_high : near_low;
    }
    const double found = 0.5 * (low + high);
    const double gap = steps.gap(found);
    if (gap < least.gap_mm - kAlikeMm) least = {gap, Angle::radians(wrapped_cycle(found))};
  }
  return least;
}

}  // namespace twoturn
