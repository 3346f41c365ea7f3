#include "twoturn/engine/valve_gap.hpp"

#include <cmath>
#include <vector>

#include "twoturn/geometry/segment.hpp"

namespace twoturn {
namespace {

Segment rim(const ValveHead& head, double lift_mm) {
  const double side = head.across_mm < 0.0 ? -1.0 : 1.0;
  const double angle = side * head.valve_deg * kRadPerDeg;
  const Vec2 opens(-std::sin(angle), -std::cos(angle));
  const Vec2 along(std::cos(angle), -std::sin(angle));
  const Vec2 middle = Vec2(head.across_mm, 0.0) + lift_mm * opens;
  const Vec2 half = 0.5 * head.head_mm * along;
  return {middle - half, middle + half};
}

}  // namespace

double head_gap_mm(const ValveHead& first, double first_lift_mm, const ValveHead& second,
                   double second_lift_mm) {
  return nearest(rim(first, first_lift_mm), rim(second, second_lift_mm)).distance_mm;
}

GapAt least_gap(const ValveHead& first, const Lobe& first_lobe, Angle first_advance,
                const ValveHead& second, const Lobe& second_lobe, Angle second_advance) {
  const auto gap = [&](double rad) {
    const Angle at = Angle::radians(rad);
    return head_gap_mm(first, first_lobe.lift_mm(at + first_advance), second,
                       second_lobe.lift_mm(at + second_advance));
  };
  constexpr int kPlaces = 1440;
  constexpr double kStep = kCycleRad / kPlaces;
  constexpr int kGolden = 60;
  constexpr double kShare = 0.6180339887498949;
  std::vector<double> gaps;
  for (int k = 0; k < kPlaces; ++k) gaps.push_back(gap(-kFullTurn + k * kStep));
  GapAt least{gaps.front(), Angle::radians(-kFullTurn)};
  for (int k = 0; k < kPlaces; ++k) {
    const auto at = [&](int place) {
      return gaps[static_cast<std::size_t>((place + kPlaces) % kPlaces)];
    };
    if (at(k) > at(k - 1) || at(k) > at(k + 1)) continue;
    double low = -kFullTurn + (k - 1) * kStep;
    double high = low + 2.0 * kStep;
    for (int i = 0; i < kGolden; ++i) {
      const double near_low = high - kShare * (high - low);
      const double near_high = low + kShare * (high - low);
      const bool lower = gap(near_low) <= gap(near_high);
      (lower ? high : low) = lower ? near_high : near_low;
    }
    const double found = 0.5 * (low + high);
    if (gap(found) < least.gap_mm) least = {gap(found), Angle::radians(wrapped_cycle(found))};
  }
  return least;
}

}  // namespace twoturn
