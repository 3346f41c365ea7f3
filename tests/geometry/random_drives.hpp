// Drives at random, from a seed: chains of tangents of every kind, and drives that a belt can run.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "support/paths.hpp"
#include "twoturn/geometry/segment.hpp"

namespace twoturn::test {

// Draws that depend on their order stand in braces or statements of their own: compilers differ in
// the order in which they evaluate the arguments of a call.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  /// In [low, high). Not std::uniform_real_distribution, which each library makes in its own way.
  double between(double low, double high) {
    constexpr double kScale = 1.0 / 9007199254740992.0;  // 2^-53
    return low + (high - low) * kScale * static_cast<double>(engine_() >> 11U);
  }
  int whole(int low, int high) {
    return low + static_cast<int>(between(0.0, static_cast<double>(high - low + 1)));
  }
  bool chance(double share) { return between(0.0, 1.0) < share; }
  int sense() { return chance(0.5) ? 1 : -1; }
  Vec2 direction() {
    const double t = between(0.0, kFullTurn);
    return {std::cos(t), std::sin(t)};
  }
  /// Of a length in [low, high), pointing anywhere.
  Vec2 arrow(double low, double high) {
    const double length = between(low, high);
    return length * direction();
  }

 private:
  std::mt19937_64 engine_;
};

/// Distance between the centres over the least distance that has a tangent; below 1: none.
inline double tangent_room(const Wheel& a, const Wheel& b) {
  const double needed = std::abs(b.signed_radius_mm() - a.signed_radius_mm());
  return (b.centre_mm - a.centre_mm).norm() / std::max(needed, 1e-300);
}

/// A closed chain of tangents with nothing else asked of it: circles may lie in one another's way
/// and the path may cross itself. Some neighbours stand so near that l/D falls to about 1e-6.
inline std::vector<Wheel> random_chain(Random& random, int count) {
  constexpr double kClear = 1.001;  // near ones are made on purpose, by nearness below
  const double width = random.between(100.0, 600.0);
  const double lean = random.between(0.0, kPi);
  for (;;) {
    std::vector<Wheel> wheels;
    while (static_cast<int>(wheels.size()) < count) {
      const Vec2 place{random.between(-1.0, 1.0) * width, random.between(-1.0, 1.0) * 400.0};
      Wheel next{turned_point(place, lean), random.between(5.0, 120.0), random.sense()};
      if (!wheels.empty()) {
        const Wheel& last = wheels.back();
        const double needed = std::abs(next.signed_radius_mm() - last.signed_radius_mm());
        if (random.chance(0.15) && needed > 1.0) {
          const double nearness = std::pow(10.0, random.between(-12.3, -3.0));
          next.centre_mm = last.centre_mm + needed * (1.0 + nearness) * random.direction();
        } else if (tangent_room(last, next) < kClear) {
          continue;
        }
      }
      wheels.push_back(next);
    }
    if (tangent_room(wheels.back(), wheels.front()) >= kClear) return wheels;
  }
}

/// The pitch line as a closed chain of points, no arc step longer than `step` radians.
inline std::vector<Vec2> sampled(const std::vector<Wheel>& wheels, const TangentPath& path,
                                 double step) {
  std::vector<Vec2> points;
  const std::size_t n = wheels.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 entry = path.spans[(i + n - 1) % n].end_mm - wheels[i].centre_mm;
    const double wrap = path.wraps[i].radians();
    const int parts = 1 + static_cast<int>(wrap / step);
    for (int k = 0; k < parts; ++k) {
      const double turn = wheels[i].sense * wrap * k / parts;
      points.push_back(wheels[i].centre_mm + turned_point(entry, turn));
    }
    points.push_back(path.spans[i].start_mm);
  }
  points.push_back(points.front());
  return points;
}

/// Whether a belt could run so, by plain means: wheels apart by `clear_mm`, spans that far off all
/// wheels that they do not run on, one turn in all, and a pitch line that does not cross itself.
inline bool plainly_belt_like(const std::vector<Wheel>& wheels, double clear_mm) {
  const std::size_t n = wheels.size();
  TangentPath path;
  if (!solve_path(wheels, path).solved()) return false;
  constexpr double kWhole = 1e-3;  // of a turn; the sum is whole but for rounding
  if (std::abs(std::abs(signed_turn(wheels, path).radians()) / kFullTurn - 1.0) > kWhole) {
    return false;
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      const double apart = (wheels[i].centre_mm - wheels[j].centre_mm).norm();
      if (j > i && apart < wheels[i].radius_mm + wheels[j].radius_mm + clear_mm) return false;
      if (j == i || (j + 1) % n == i) continue;
      const Span& span = path.spans[j];
      const double along = (wheels[i].centre_mm - span.start_mm).dot(span.direction);
      const Vec2 near = span.start_mm + std::clamp(along, 0.0, span.length_mm) * span.direction;
      if ((wheels[i].centre_mm - near).norm() < wheels[i].radius_mm + clear_mm) return false;
    }
  }
  return is_simple(sampled(wheels, path, 0.05), Outline::open);
}

/// Turned, mirrored and reversed at random.
inline std::vector<Wheel> redrawn(std::vector<Wheel> wheels, Random& random) {
  wheels = turned(wheels, random.between(0.0, kFullTurn));
  if (random.chance(0.5)) wheels = mirrored(wheels);
  return random.chance(0.5) ? reversed(wheels) : wheels;
}

/// A drive that a belt can run, of `count` wheels: two or three to start with, then wheels pushed
/// into its spans from either side, each kept only where the drive stays belt-like. Wraps past a
/// half turn come about where idlers pinch a neck.
inline std::vector<Wheel> random_belt_drive(Random& random, int count, double clear_mm = 1.0) {
  for (;;) {
    std::vector<Wheel> wheels;
    const double reach = random.between(120.0, 400.0);
    const int start = count == 2 ? 2 : random.whole(2, 3);
    for (int i = 0; i < start; ++i) {
      const double t = kFullTurn * (i + random.between(-0.2, 0.2)) / start;
      const Vec2 centre = reach * random.between(0.6, 1.0) * Vec2(std::cos(t), std::sin(t));
      wheels.push_back({centre, random.between(15.0, 90.0), 1});
    }
    if (!plainly_belt_like(wheels, clear_mm)) continue;
    TangentPath path;
    for (int look = 0; look < 400 && static_cast<int>(wheels.size()) < count; ++look) {
      if (!solve_path(wheels, path).solved()) break;
      const int place = random.whole(0, static_cast<int>(wheels.size()) - 1);
      const Span& span = path.spans[static_cast<std::size_t>(place)];
      const Vec2 left(-span.direction.y(), span.direction.x());
      const int sense = random.chance(0.6) ? -1 : 1;
      const double radius = random.between(8.0, 60.0);
      const double push = random.between(0.5, 120.0);
      const Vec2 foot = span.start_mm + random.between(0.0, 1.0) * (span.end_mm - span.start_mm);
      std::vector<Wheel> longer = wheels;
      longer.insert(longer.begin() + place + 1,
                    {foot + sense * (radius - push) * left, radius, sense});
      if (plainly_belt_like(longer, clear_mm)) wheels = longer;
    }
    if (static_cast<int>(wheels.size()) < count) continue;
    return redrawn(wheels, random);
  }
}

/// A loop over a large top pulley, its neck pinched by two idlers on the back: the top pulley's two
/// spans draw together.
inline std::vector<Wheel> random_pinched_drive(Random& random) {
  for (;;) {
    const double neck = random.between(1.0, 30.0);
    const double right = random.between(10.0, 40.0);
    const double left = random.between(10.0, 40.0);
    const std::vector<Wheel> wheels{
        {Vec2{-220.0, 0.0}, random.between(20.0, 60.0)},
        {Vec2{220.0, random.between(-40.0, 40.0)}, random.between(20.0, 60.0)},
        {Vec2{right + 0.5 * neck, random.between(120.0, 200.0)}, right, -1},
        {Vec2{random.between(-20.0, 20.0), 360.0}, random.between(30.0, 80.0)},
        {Vec2{-left - 0.5 * neck, random.between(120.0, 200.0)}, left, -1}};
    if (plainly_belt_like(wheels, 0.5)) return redrawn(wheels, random);
  }
}

}  // namespace twoturn::test
