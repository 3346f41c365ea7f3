#include "twoturn/geometry/moved_wheel.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/at.hpp"

namespace twoturn {
namespace {

double least_gap_mm(const BeltRun& run) {
  double least = std::numeric_limits<double>::infinity();
  for (const Approach& approach : run.approaches) least = std::min(least, approach.gap_mm);
  for (const RimGap& rim : run.rims) least = std::min(least, rim.gap_mm);
  return least;
}

}  // namespace

MovedWheel::MovedWheel(std::vector<Wheel> wheels, int moved, const Surroundings& around)
    : wheels_(std::move(wheels)), moved_(moved), around_(around) {}

PathResult MovedWheel::put(const Vec2& centre_mm) {
  wheels_[at(moved_)].centre_mm = centre_mm;
  const PathResult result =
      solved_ ? solve_path_moved(wheels_, path_, moved_) : solve_path(wheels_, path_);
  solved_ = solved_ || result.solved();
  return result;
}

BeltRun MovedWheel::run() {
  if (seen_) return judge_moved(wheels_, path_, around_, moved_);
  BeltRun whole = judge_run(wheels_, path_, around_);
  seen_ = true;
  still_mm_ = least_gap_mm(whole);
  clear_ = clear_ || whole.refused.empty();
  return whole;
}

std::vector<Refusal> MovedWheel::reasons_against() {
  if (clear_) return reasons_against_moved(wheels_, path_, around_, moved_);
  std::vector<Refusal> reasons = twoturn::reasons_against(wheels_, path_, around_);
  clear_ = reasons.empty();
  return reasons;
}

double MovedWheel::least_clear_mm(const BeltRun& run) const {
  double clear = std::min(still_mm_, least_gap_mm(run));
  for (int other = 0; other < static_cast<int>(wheels_.size()); ++other) {
    if (other == moved_) continue;
    const double apart = (wheels_[at(moved_)].centre_mm - wheels_[at(other)].centre_mm).norm();
    clear = std::min(clear, apart - around_.rims_mm[at(moved_)] - around_.rims_mm[at(other)]);
  }
  return clear;
}

// While it goes less than half of what its centres' distance is above the least for a tangent, a
// run's direction turns by twice the way over the run's length at most.
double MovedWheel::way_of_wraps_mm() const {
  const auto count = static_cast<int>(wheels_.size());
  const Wheel& own = wheels_[at(moved_)];
  const int before = moved_ == 0 ? count - 1 : moved_ - 1;
  const int after = moved_ + 1 == count ? 0 : moved_ + 1;
  double way = std::numeric_limits<double>::infinity();
  double turns = 0.0;  // a mm of way, of the two runs together
  for (const auto& [span, other] : {std::pair{before, before}, std::pair{moved_, after}}) {
    const double needed = std::abs(wheels_[at(other)].signed_radius_mm() - own.signed_radius_mm());
    const double apart = (wheels_[at(other)].centre_mm - own.centre_mm).norm();
    way = std::min(way, (apart - needed) / 2.0);
    turns += 2.0 / path_.spans[at(span)].length_mm;
  }
  for (const int wheel : {before, moved_, after}) {
    const double wrap = path_.wraps[at(wheel)].radians();
    way = std::min(way, std::min(wrap, kFullTurn - wrap) / turns);
  }
  return way;
}

double MovedWheel::free_way_mm() {
  const BeltRun here = run();
  if (!here.refused.empty()) return 0.0;
  return std::max(0.0, std::min(least_clear_mm(here) / 2.0, way_of_wraps_mm()));
}

}  // namespace twoturn
