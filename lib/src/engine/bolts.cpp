#include "twoturn/engine/bolts.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace twoturn {
namespace {

// One bolt seen from the middle of them all.
struct PlacedBolt {
  int index = 0;
  double distance_mm = 0.0;
  double angle = 0.0;  // clockwise from 12 o'clock, [0, 2 pi)
};

Vec2 middle_of(const std::vector<Vec2>& places_mm) {
  const Vec2 sum = std::accumulate(places_mm.begin(), places_mm.end(), Vec2(0.0, 0.0));
  return sum / static_cast<double>(places_mm.size());
}

double clockwise_from(double angle, double from) {
  constexpr double kTurn = 2.0 * std::numbers::pi;
  constexpr double kSame = 1e-9;
  const double ahead = std::fmod(angle - from + 2.0 * kTurn, kTurn);
  return ahead > kTurn - kSame ? 0.0 : ahead;
}

std::vector<PlacedBolt> from_the_middle(const std::vector<Vec2>& places_mm) {
  const Vec2 middle = middle_of(places_mm);
  std::vector<PlacedBolt> bolts;
  for (std::size_t i = 0; i < places_mm.size(); ++i) {
    const Vec2 off = places_mm[i] - middle;
    bolts.push_back(
        {static_cast<int>(i), off.norm(), clockwise_from(std::atan2(off.x(), off.y()), 0.0)});
  }
  std::stable_sort(bolts.begin(), bolts.end(), [](const PlacedBolt& a, const PlacedBolt& b) {
    return a.distance_mm < b.distance_mm;
  });
  return bolts;
}

// On one circle: each next about opposite the last.
std::vector<int> crosswise(std::vector<PlacedBolt> bolts) {
  std::sort(bolts.begin(), bolts.end(),
            [](const PlacedBolt& a, const PlacedBolt& b) { return a.angle < b.angle; });
  const std::size_t count = bolts.size();
  const std::size_t half = count / 2;
  std::vector<int> order;
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t at = count % 2 == 1 ? k * half % count : k / 2 + (k % 2) * half;
    order.push_back(bolts[at].index);
  }
  return order;
}

}  // namespace

double round_area_mm2(double diameter_mm) {
  constexpr double kQuarter = 0.25;
  return kQuarter * std::numbers::pi * diameter_mm * diameter_mm;
}

BoltedJoint bolted_joint(double advance_mm, double bolt_n_per_mm, double joint_n_per_mm) {
  BoltedJoint joint;
  joint.load_n = advance_mm / (1.0 / bolt_n_per_mm + 1.0 / joint_n_per_mm);
  joint.stretch_mm = joint.load_n / bolt_n_per_mm;
  joint.squeeze_mm = joint.load_n / joint_n_per_mm;
  return joint;
}

std::vector<int> usual_bolt_order(const std::vector<Vec2>& places_mm) {
  if (places_mm.empty()) return {};
  std::vector<PlacedBolt> bolts = from_the_middle(places_mm);
  constexpr double kOneRound = 0.1;
  const double apart = kOneRound * bolts.back().distance_mm;
  const bool circle =
      bolts.size() > 2 && bolts.back().distance_mm - bolts.front().distance_mm < apart;
  if (circle) return crosswise(std::move(bolts));
  std::vector<int> order;
  double from = 0.0;
  for (auto first = bolts.begin(); first != bolts.end();) {
    const auto last = std::find_if(first + 1, bolts.end(), [&](const PlacedBolt& bolt) {
      return bolt.distance_mm - first->distance_mm >= apart;
    });
    std::sort(first, last, [from](const PlacedBolt& a, const PlacedBolt& b) {
      return clockwise_from(a.angle, from) < clockwise_from(b.angle, from);
    });
    for (; first != last; ++first) {
      order.push_back(first->index);
      from = first->angle;
    }
  }
  return order;
}

}  // namespace twoturn
