// The referee of oracle_gap.hpp for the belt's own runs: places where two of them come nearer and
// draw off again.
#pragma once

#include "support/oracle_gap.hpp"

namespace oracle {

// Whether the belt's edge at `s` looks towards its edge at `t`.
inline bool faces(const Ribbon& ribbon, double offset, double s, double t) {
  const Point pitch = ribbon.at(s, 0.0);
  const Point edge = ribbon.at(s, offset);
  const Point other = ribbon.at(t, offset);
  return (edge.x() - pitch.x()) * (other.x() - edge.x()) +
             (edge.y() - pitch.y()) * (other.y() - edge.y()) >
         0.0;
}

// Walks from a pair of places to the least distance nearby.
inline double settled_pair(const Ribbon& ribbon, double offset, double s, double t, double reach) {
  double least = distance(ribbon.at(s, offset), ribbon.at(t, offset));
  for (double before = kNone; reach > 1e-7; reach *= least < before ? 1.0 : 0.6) {
    before = least;
    const double around_s = s;
    const double around_t = t;
    for (int a = -2; a <= 2; ++a) {
      for (int b = -2; b <= 2; ++b) {
        const double at_s = around_s + 0.5 * a * reach;
        const double at_t = around_t + 0.5 * b * reach;
        const double d = distance(ribbon.at(at_s, offset), ribbon.at(at_t, offset));
        if (d >= least) continue;
        least = d;
        s = at_s;
        t = at_t;
      }
    }
  }
  // Two places that have run together are one place of the belt, not two runs.
  if (std::abs(std::remainder(s - t, ribbon.length())) < kSampleMm) return kNone;
  // Edges that do not face each other have another run of the belt between them.
  constexpr double kMeeting = 1e-3;
  if (least < kMeeting) return least;
  return faces(ribbon, offset, s, t) && faces(ribbon, offset, t, s) ? least : kNone;
}

/// Least distance of the body from itself where two runs come nearer and draw off again: on each
/// edge, since runs that face each other do so with one side of the belt.
inline double approach_to_self(const Ribbon& ribbon, double left, double right) {
  const int n = 8 + static_cast<int>(ribbon.length() / kSampleMm);
  const double step = ribbon.length() / n;
  double least = kNone;
  for (const double offset : {left, -right}) {
    std::vector<Point> points;
    for (int k = 0; k < n; ++k) points.push_back(ribbon.at(k * step, offset));
    const auto between = [&](int i, int j) {
      return distance(points[static_cast<std::size_t>((i + n) % n)],
                      points[static_cast<std::size_t>((j + n) % n)]);
    };
    for (int i = 0; i < n; ++i) {
      for (int j = i + 2; j < n; ++j) {
        const double d = between(i, j);
        if (d > least + 4.0 * step) continue;
        if (d > between(i - 1, j) || d > between(i + 1, j)) continue;
        if (d > between(i, j - 1) || d > between(i, j + 1)) continue;
        if (d > between(i - 1, j - 1) || d > between(i + 1, j + 1)) continue;
        if (d > between(i - 1, j + 1) || d > between(i + 1, j - 1)) continue;
        least = std::min(least, settled_pair(ribbon, offset, i * step, j * step, step));
      }
    }
  }
  return least;
}

// The place on a piece that is nearest to a point.
inline double nearest_place(const Ribbon& ribbon, double from, double length, const Point& point) {
  const auto off = [&](double s) { return distance(ribbon.at(s, 0.0), point); };
  constexpr int kLooks = 1000;
  double best = from;
  double low = from;
  double high = from + length;
  while (high - low > 1e-9) {
    const double step = (high - low) / kLooks;
    for (int k = 0; k <= kLooks; ++k) {
      if (off(low + k * step) < off(best)) best = low + k * step;
    }
    low = std::max(from, best - step);
    high = std::min(from + length, best + step);
  }
  return best;
}

/// The same from one place, on a span or an arc, to arc i: for a hollow so shallow that the samples
/// of approach_to_self step over it. None where the walk from there leaves the hollow.
inline double approach_near(const Ribbon& ribbon, double left, double right, const Piece& piece,
                            const Point& place, std::size_t i) {
  const Piece& arc = ribbon.arc(i);
  const double s = nearest_place(ribbon, piece.from, piece.length, place);
  // The way from there to the arc goes through the arc's centre.
  const Point foot(arc.circle.x + 1e-3 * (place.x() - arc.circle.x),
                   arc.circle.y + 1e-3 * (place.y() - arc.circle.y));
  const double t = nearest_place(ribbon, arc.from, arc.length, foot);
  double least = kNone;
  for (const double offset : {left, -right}) {
    const double start = distance(ribbon.at(s, offset), ribbon.at(t, offset));
    constexpr double kReach = 1e-3;
    const double settled = settled_pair(ribbon, offset, s, t, kReach);
    if (settled > start - kReach) least = std::min(least, settled);
  }
  return least;
}

}  // namespace oracle
