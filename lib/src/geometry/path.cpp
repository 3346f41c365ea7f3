#include "twoturn/geometry/path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

// Unit direction and length of the common tangent between two wheels. `stretch` is D/l: how much
// the direction amplifies rounding.
struct Tangent {
  double ux, uy;
  double length;
  double stretch;
  bool exists;
};

inline Tangent common_tangent(const Wheel& a, const Wheel& b) {
  const double dx = b.centre_mm.x() - a.centre_mm.x();
  const double dy = b.centre_mm.y() - a.centre_mm.y();
  const double k = b.signed_radius_mm() - a.signed_radius_mm();
  const double square = dx * dx + dy * dy;
  const double distance = std::sqrt(square);
  const double product = (distance - std::abs(k)) * (distance + std::abs(k));
  if (!(product > 0.0)) return {0.0, 0.0, 0.0, 0.0, false};
  const double length = std::sqrt(product);
  return {(length * dx + k * dy) / square, (length * dy - k * dx) / square, length,
          distance / length, true};
}

// Wrap in [0, 2 pi). Rounding may put a wrap of nothing a hair below zero, where it would turn into
// a whole turn; how wide a hair follows from the two tangents' own amplification.
inline double wrap_between(const Tangent& in, const Tangent& out, int sense) {
  const double cross = in.ux * out.uy - in.uy * out.ux;
  const double dot = in.ux * out.ux + in.uy * out.uy;
  const double wrap = sense * std::atan2(cross, dot);
  if (wrap >= 0.0) return wrap;
  constexpr double kRounding = 8.0 * std::numeric_limits<double>::epsilon();
  return wrap > -kRounding * (in.stretch + out.stretch) ? 0.0 : wrap + kFullTurn;
}

NoTangent describe_missing_tangent(std::span<const Wheel> wheels, std::size_t from,
                                   std::size_t to) {
  const double needed = std::abs(wheels[to].signed_radius_mm() - wheels[from].signed_radius_mm());
  const double distance = (wheels[to].centre_mm - wheels[from].centre_mm).norm();
  return {static_cast<int>(from), static_cast<int>(to), distance, needed};
}

std::size_t before(std::size_t index, std::size_t count) {
  return (index == 0 ? count : index) - 1;
}

Span span_of(const Tangent& tangent, const Wheel& from, const Wheel& to) {
  const Vec2 normal(-tangent.uy, tangent.ux);
  return {from.centre_mm - from.signed_radius_mm() * normal,
          to.centre_mm - to.signed_radius_mm() * normal, Vec2(tangent.ux, tangent.uy),
          tangent.length};
}

PathResult whole_length(std::span<const Wheel> wheels, TangentPath& path) {
  double length = 0.0;
  for (std::size_t i = 0; i < wheels.size(); ++i) {
    length += path.spans[i].length_mm + wheels[i].radius_mm * path.wraps[i].radians();
  }
  path.length_mm = length;
  return {length, {}};
}

}  // namespace

PathResult path_length(std::span<const Wheel> wheels) {
  TWOTURN_ASSERT(wheels.size() >= 2, static_cast<double>(wheels.size()));
  const std::size_t n = wheels.size();
  const Tangent closing = common_tangent(wheels[n - 1], wheels[0]);
  if (!closing.exists) return {0.0, describe_missing_tangent(wheels, n - 1, 0)};
  double length = closing.length;
  Tangent in = closing;
  for (std::size_t i = 0; i < n; ++i) {
    const bool last = i + 1 == n;
    const Tangent out = last ? closing : common_tangent(wheels[i], wheels[i + 1]);
    if (!out.exists) return {0.0, describe_missing_tangent(wheels, i, i + 1)};
    if (!last) length += out.length;
    length += wheels[i].radius_mm * wrap_between(in, out, wheels[i].sense);
    in = out;
  }
  return {length, {}};
}

PathResult solve_path(std::span<const Wheel> wheels, TangentPath& path) {
  TWOTURN_ASSERT(wheels.size() >= 2, static_cast<double>(wheels.size()));
  const std::size_t n = wheels.size();
  path.spans.resize(n);
  path.wraps.resize(n);
  const Tangent closing = common_tangent(wheels[n - 1], wheels[0]);
  if (!closing.exists) return {0.0, describe_missing_tangent(wheels, n - 1, 0)};
  Tangent in = closing;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = i + 1 == n ? 0 : i + 1;
    const Tangent out = next == 0 ? closing : common_tangent(wheels[i], wheels[next]);
    if (!out.exists) return {0.0, describe_missing_tangent(wheels, i, next)};
    path.spans[i] = span_of(out, wheels[i], wheels[next]);
    path.wraps[i] = Angle::radians(wrap_between(in, out, wheels[i].sense));
    in = out;
  }
  return whole_length(wheels, path);
}

PathResult solve_path_moved(std::span<const Wheel> wheels, TangentPath& path, int moved) {
  const std::size_t n = wheels.size();
  constexpr std::size_t kFewest = 5;  // below it every span and wrap is beside the wheel
  if (n < kFewest) return solve_path(wheels, path);
  TWOTURN_ASSERT(path.spans.size() == n, static_cast<double>(path.spans.size()));
  const auto onwards = [n](std::size_t index) { return index + 1 == n ? 0 : index + 1; };
  const auto own = static_cast<std::size_t>(moved);
  std::size_t i = before(own, n);
  Tangent in = common_tangent(wheels[before(i, n)], wheels[i]);
  for (int k = 0; k < 3; ++k) {
    const std::size_t next = onwards(i);
    const Tangent out = common_tangent(wheels[i], wheels[next]);
    if (!out.exists) return {0.0, describe_missing_tangent(wheels, i, next)};
    if (k < 2) path.spans[i] = span_of(out, wheels[i], wheels[next]);
    path.wraps[i] = Angle::radians(wrap_between(in, out, wheels[i].sense));
    in = out;
    i = next;
  }
  return whole_length(wheels, path);
}

Vec2 centre_gradient(const TangentPath& path, int wheel) {
  const auto i = static_cast<std::size_t>(wheel);
  return path.spans[before(i, path.spans.size())].direction - path.spans[i].direction;
}

void centre_gradient(const TangentPath& path, std::span<Vec2> out) {
  TWOTURN_ASSERT(out.size() == path.spans.size(), static_cast<double>(out.size()));
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = centre_gradient(path, static_cast<int>(i));
}

Angle entry_angle(const Wheel& wheel, const TangentPath& path, int index) {
  const auto i = static_cast<std::size_t>(index);
  const Vec2 arm = path.spans[before(i, path.spans.size())].end_mm - wheel.centre_mm;
  return Angle::radians(std::atan2(arm.y(), arm.x()));
}

Angle exit_angle(const Wheel& wheel, const TangentPath& path, int index) {
  const Vec2 arm = path.spans[static_cast<std::size_t>(index)].start_mm - wheel.centre_mm;
  return Angle::radians(std::atan2(arm.y(), arm.x()));
}

Angle signed_turn(std::span<const Wheel> wheels, const TangentPath& path) {
  Angle sum;
  for (std::size_t i = 0; i < wheels.size(); ++i) sum = sum + wheels[i].sense * path.wraps[i];
  return sum;
}

PathFaults examine_path(std::span<const Wheel> wheels, const TangentPath& path) {
  TWOTURN_ASSERT(path.spans.size() == wheels.size(), static_cast<double>(path.spans.size()));
  const std::size_t n = wheels.size();
  PathFaults worst;
  const auto raise = [](double& to, double value) { to = std::max(to, std::abs(value)); };
  double length = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const Span& span = path.spans[i];
    const Vec2 run = span.end_mm - span.start_mm;
    length += run.norm() + wheels[i].radius_mm * path.wraps[i].radians();
    const auto look_at_contact = [&](const Wheel& wheel, const Vec2& contact) {
      const Vec2 radius = contact - wheel.centre_mm;
      raise(worst.off_circle_mm, radius.norm() - wheel.radius_mm);
      raise(worst.off_square, run.dot(radius) / (run.norm() * radius.norm()));
      const double moment = radius.x() * run.y() - radius.y() * run.x();
      if (moment * wheel.sense <= 0.0) worst.wrong_way = 1.0;
    };
    look_at_contact(wheels[i], span.start_mm);
    look_at_contact(wheels[(i + 1) % n], span.end_mm);

    const Vec2 entry = path.spans[before(i, n)].end_mm - wheels[i].centre_mm;
    const double turn = wheels[i].sense * path.wraps[i].radians();
    const Vec2 turned(std::cos(turn) * entry.x() - std::sin(turn) * entry.y(),
                      std::sin(turn) * entry.x() + std::cos(turn) * entry.y());
    raise(worst.open_end_mm, (turned + wheels[i].centre_mm - span.start_mm).norm());
  }
  raise(worst.length_mm, length - path.length_mm);
  return worst;
}

}  // namespace twoturn
