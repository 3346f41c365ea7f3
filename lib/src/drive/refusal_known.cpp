#include "twoturn/drive/refusal_known.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/at.hpp"
#include "twoturn/drive/uncertainty.hpp"

namespace twoturn {
namespace {

std::optional<double> approach_gap(const BeltRun& run, Neighbour kind, int other) {
  for (const Approach& approach : run.approaches) {
    const bool same =
        approach.kind == kind && (kind == Neighbour::own_run || approach.other == other);
    if (same) return approach.gap_mm;
  }
  return std::nullopt;
}

std::optional<Neighbour> neighbour_of(Refused reason) {
  switch (reason) {
    case Refused::rubs_pulley:
      return Neighbour::pulley;
    case Refused::rubs_obstacle:
      return Neighbour::obstacle;
    case Refused::rubs_itself:
      return Neighbour::own_run;
    default:
      return std::nullopt;
  }
}

// What a refusal's parts lack to be clear of each other: below nought they overlap.
std::optional<double> gap_of(const Drive& drive, const std::vector<Wheel>& wheels,
                             const Refusal& refusal) {
  const auto apart = [&] {
    return (wheels[at(refusal.first)].centre_mm - wheels[at(refusal.second)].centre_mm).norm();
  };
  if (refusal.reason == Refused::pulleys_overlap) {
    const std::vector<double>& rims = drive.around.rims_mm;
    return apart() - rims[at(refusal.first)] - rims[at(refusal.second)];
  }
  if (refusal.reason == Refused::no_tangent) {
    const double needed = wheels[at(refusal.first)].signed_radius_mm() -
                          wheels[at(refusal.second)].signed_radius_mm();
    return apart() - std::abs(needed);
  }
  TangentPath path;
  if (!solve_path(wheels, path).solved()) return std::nullopt;
  const BeltRun run = judge_run(wheels, path, drive.around);
  if (refusal.reason == Refused::pulley_meets_obstacle) {
    for (const RimGap& rim : run.rims) {
      if (rim.wheel == refusal.first && rim.obstacle == refusal.second) return rim.gap_mm;
    }
    return std::nullopt;
  }
  const std::optional<Neighbour> kind = neighbour_of(refusal.reason);
  return kind ? approach_gap(run, *kind, refusal.second) : std::nullopt;
}

// What one sigma of each unknown adds to a gap: half the difference between one up and one down.
template <class Gap>
Unsure unsure_of(const Fitted& fitted, double q, const Gap& gap) {
  const Uncertainty& known = fitted.uncertainty();
  std::vector<double> effects;
  std::vector<Wheel> wheels;
  for (const Unknown& unknown : known.unknowns()) {
    known.place_wheels_off(fitted.drive(), q, unknown, 1.0, wheels);
    const std::optional<double> up = gap(wheels);
    known.place_wheels_off(fitted.drive(), q, unknown, -1.0, wheels);
    const std::optional<double> down = gap(wheels);
    effects.push_back(up && down ? (*up - *down) / 2.0 : 0.0);
  }
  return known.sum(effects);
}

bool refused_alike(const Drive& drive, const std::vector<Wheel>& wheels, const Refusal& refusal) {
  TangentPath path;
  if (!solve_path(wheels, path).solved()) return true;
  const std::vector<Refusal> reasons = reasons_against(wheels, path, drive.around);
  return std::any_of(reasons.begin(), reasons.end(), [&](const Refusal& other) {
    return other.reason == refusal.reason && other.first == refusal.first;
  });
}

}  // namespace

RefusalKnown how_surely_refused(const Fitted& fitted, double q, const Refusal& refusal) {
  const Drive& drive = fitted.drive();
  const Uncertainty& uncertainty = fitted.uncertainty();
  RefusalKnown known;
  if (uncertainty.exact()) return known;
  const auto gap = [&](const std::vector<Wheel>& wheels) { return gap_of(drive, wheels, refusal); };
  if (const std::optional<double> here = gap(placed_wheels(drive, q))) {
    known.unsure = unsure_of(fitted, q, gap);
    known.sure = certainly_beyond(-*here, known.unsure) || known.unsure.give_or_take == 0.0;
    return known;
  }
  constexpr double kTwoSigmas = 2.0;
  std::vector<Wheel> wheels;
  for (const Unknown& unknown : uncertainty.unknowns()) {
    for (const double sigmas : {kTwoSigmas, -kTwoSigmas}) {
      uncertainty.place_wheels_off(drive, q, unknown, sigmas, wheels);
      if (refused_alike(drive, wheels, refusal)) continue;
      known.sure = false;
      known.unsure.most = unknown.key;
    }
  }
  return known;
}

}  // namespace twoturn
