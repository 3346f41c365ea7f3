#include "twoturn/face/zone.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "exhaustive.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

constexpr double kEps = std::numeric_limits<double>::epsilon();

Vec3 upwards(const Vec3& normal) {
  const double last = normal.z() != 0.0 ? normal.z() : normal.y() != 0.0 ? normal.y() : normal.x();
  return last < 0.0 ? Vec3(-normal) : normal;
}

// Where the points end along a direction, from the first point.
struct Ends {
  double low = 0.0;
  double high = 0.0;
  int low_at = 0;
  int high_at = 0;

  double width() const { return high - low; }
};

// Four points and the thinnest slab that holds them, of those met by lines along the frame's third
// axis: a Chebyshev plane. It touches every point whose weight is not 0, above where `upper`.
struct Four {
  std::array<int, 4> points{};
  std::array<double, 4> weights{};  // sum 0, and square to x and y of the frame
  std::array<bool, 4> upper{};
  double gap = -1.0;  // along the frame's third axis; below 0: all on one line

  bool has(int point) const {
    return std::find(points.begin(), points.end(), point) != points.end();
  }
};

class ZoneSolver {
 public:
  ZoneSolver(std::span<const Vec3> points, double enough_mm) : points_(points), enough_(enough_mm) {
    Vec3 least = points[0];
    Vec3 most = points[0];
    for (const Vec3& point : points) {
      least = least.cwiseMin(point);
      most = most.cwiseMax(point);
    }
    reach_ = (most - points[0]).cwiseMax(points[0] - least);
  }

  MinimumZone solve(const Vec3& start) {
    best_normal_ = start;
    best_ = ends_along(start);
    if (!good_enough() && choose_first_four(start)) {
      const bool proven = exchange_in_frames() && proven_everywhere();
      if (!proven && !good_enough()) search_everywhere();
    }
    return answer();
  }

 private:
  bool good_enough() const { return best_.width() <= enough_; }

  // What rounding can do to a distance along a unit normal.
  double rounding(const Vec3& normal) const {
    constexpr double kOperations = 6.0;
    return kOperations * kEps * normal.cwiseAbs().dot(reach_);
  }

  Vec3 from_first(int index) const { return points_[at(index)] - points_[0]; }

  Ends ends_along(const Vec3& normal) {
    ++passes_;
    Ends ends;
    const Vec3 first = points_[0];
    const int count = static_cast<int>(points_.size());
    for (int i = 1; i < count; ++i) {
      const double along = normal.dot(points_[at(i)] - first);
      if (along > ends.high) {
        ends.high = along;
        ends.high_at = i;
      } else if (along < ends.low) {
        ends.low = along;
        ends.low_at = i;
      }
    }
    return ends;
  }

  void keep_if_thinner(const Vec3& normal, const Ends& ends) {
    if (ends.width() >= best_.width()) return;
    best_ = ends;
    best_normal_ = normal;
  }

  void set_frame(const Vec3& normal) {
    Eigen::Index least = 0;
    normal.cwiseAbs().minCoeff(&least);
    frame_z_ = normal;
    frame_x_ = Vec3::Unit(least).cross(normal).normalized();
    frame_y_ = normal.cross(frame_x_);
  }

  // The highest point, the one farthest from it, the one farthest from their line, and the lowest.
  bool choose_first_four(const Vec3& start) {
    set_frame(start);
    const int a = best_.high_at;
    const int b = farthest([&](const Vec3& p) { return (p - points_[at(a)]).squaredNorm(); });
    const Vec3 line = (points_[at(b)] - points_[at(a)]).normalized();
    const auto off_line = [&](const Vec3& p) {
      return (p - points_[at(a)]).cross(line).squaredNorm();
    };
    const int c = farthest(off_line);
    const double size = reach_.norm();
    if (std::sqrt(off_line(points_[at(c)])) <= 16.0 * kEps * size) return false;
    int d = best_.low_at;
    for (int i = 0; d == a || d == b || d == c; ++i) d = i;
    four_ = balanced({a, b, c, d});
    return four_.gap >= 0.0;
  }

  template <class Distance>
  int farthest(Distance distance) const {
    int best = 0;
    double most = -1.0;
    for (int i = 0; i < static_cast<int>(points_.size()); ++i) {
      const double far = distance(points_[at(i)]);
      if (far > most) {
        most = far;
        best = i;
      }
    }
    return best;
  }

  // The weights are signed areas of the triangles of the other three, seen along the frame's axis;
  // the gap follows from sum(weight x residual) = sum(weight x height).
  Four balanced(const std::array<int, 4>& points) const {
    Four four;
    four.points = points;
    std::array<double, 4> x{}, y{}, z{};
    for (std::size_t i = 0; i < 4; ++i) {
      const Vec3 p = points_[at(points[i])] - points_[at(points[0])];
      x[i] = frame_x_.dot(p);
      y[i] = frame_y_.dot(p);
      z[i] = frame_z_.dot(p);
    }
    const auto area = [&](std::size_t i, std::size_t j, std::size_t k) {
      return (x[j] - x[i]) * (y[k] - y[i]) - (x[k] - x[i]) * (y[j] - y[i]);
    };
    four.weights = {area(1, 2, 3), -area(0, 2, 3), area(0, 1, 3), -area(0, 1, 2)};
    double total = 0.0;
    double sum = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
      total += std::abs(four.weights[i]);
      sum += four.weights[i] * z[i];
    }
    if (total <= 64.0 * kEps * reach_.squaredNorm()) return four;
    for (std::size_t i = 0; i < 4; ++i) four.upper[i] = (four.weights[i] > 0.0) == (sum > 0.0);
    four.gap = 2.0 * std::abs(sum) / total;
    return four;
  }

  std::vector<int> side(bool upper) const {
    std::vector<int> points;
    for (std::size_t i = 0; i < 4; ++i) {
      if (four_.upper[i] == upper) points.push_back(four_.points[i]);
    }
    return points;
  }

  // Square to the plane of the three on one side, or to both edges of two and two.
  Vec3 normal_of_four() const {
    std::vector<int> many = side(true);
    std::vector<int> few = side(false);
    if (many.size() < few.size()) std::swap(many, few);
    Vec3 normal = frame_z_;
    if (many.size() == 3) {
      normal = (from_first(many[1]) - from_first(many[0]))
                   .cross(from_first(many[2]) - from_first(many[0]));
    } else if (many.size() == 2) {
      normal = (from_first(many[1]) - from_first(many[0]))
                   .cross(from_first(few[1]) - from_first(few[0]));
    }
    const double length = normal.norm();
    if (length <= 64.0 * kEps * reach_.squaredNorm()) return frame_z_;
    normal /= length;
    return normal.dot(frame_z_) < 0.0 ? Vec3(-normal) : normal;
  }

  // Of the four subsets of these five points that hold the new one, the one that needs most.
  Four with(int entering) const {
    Four best;
    for (std::size_t leaving = 0; leaving < 4; ++leaving) {
      std::array<int, 4> points = four_.points;
      points[leaving] = entering;
      const Four next = balanced(points);
      if (next.gap > best.gap) best = next;
    }
    return best;
  }

  // One exchange; false where no exchange needs a wider slab: done, or stuck on ties.
  bool exchange(const Ends& ends) {
    Four next;
    for (const int entering : {ends.high_at, ends.low_at}) {
      if (four_.has(entering)) continue;
      const Four tried = with(entering);
      if (tried.gap > next.gap) next = tried;
    }
    constexpr double kRises = 1.0 + 8.0 * kEps;
    if (!(next.gap > four_.gap * kRises)) return false;
    four_ = next;
    return true;
  }

  // Exchanges until the four hold all points in the frame square to their own slab. The gap only
  // rises within a frame, so that no four come twice. True when it ends there.
  bool exchange_in_frames() {
    constexpr int kMostFrames = 8;
    for (int frame = 0; frame < kMostFrames; ++frame) {
      while (true) {
        const Vec3 normal = normal_of_four();
        const Ends ends = ends_along(normal);
        keep_if_thinner(normal, ends);
        if (good_enough()) return false;
        gap_ = four_gap(normal);
        if (ends.width() - gap_ <= 2.0 * rounding(normal)) break;
        if (!exchange(ends)) return false;
      }
      const Vec3 normal = normal_of_four();
      const double turned = (normal - frame_z_).norm();
      set_frame(normal);
      four_ = balanced(four_.points);
      if (four_.gap < 0.0) return false;
      constexpr double kSameFrame = 1e-7;
      if (turned < kSameFrame && normal_of_four() == normal) return true;
    }
    return false;
  }

  double four_gap(const Vec3& normal) const {
    double low = std::numeric_limits<double>::max();
    double high = std::numeric_limits<double>::lowest();
    for (const int point : four_.points) {
      const double along = normal.dot(from_first(point));
      low = std::min(low, along);
      high = std::max(high, along);
    }
    return high - low;
  }

  // Tilting the normal by a slope r widens the slab to at least (gap + rise r) / sqrt(1 + r^2), the
  // rise being how far the contacts overlap: nowhere less than the gap if the rise is not less.
  bool proven_everywhere() const {
    decisive_.assign(four_.points.begin(), four_.points.end());
    if (gap_ <= 2.0 * rounding(frame_z_)) return true;
    std::vector<int> many = side(true);
    std::vector<int> few = side(false);
    if (many.size() < few.size()) std::swap(many, few);
    std::vector<Vec3> corners;  // of the differences upper - lower, in order round the origin
    if (many.size() == 3) {
      for (const int one : many) corners.push_back(from_first(one) - from_first(few[0]));
    } else if (many.size() == 2) {
      const Vec3 a = from_first(many[0]), b = from_first(many[1]);
      const Vec3 c = from_first(few[0]), d = from_first(few[1]);
      corners = {a - c, b - c, b - d, a - d};
    } else {
      return false;
    }
    double rise = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Vec3& p = corners[i];
      const Vec3 edge = corners[(i + 1) % corners.size()] - p;
      const double ex = frame_x_.dot(edge), ey = frame_y_.dot(edge);
      const double cross = frame_x_.dot(p) * ey - frame_y_.dot(p) * ex;
      rise = std::min(rise, std::abs(cross) / std::hypot(ex, ey));
    }
    return rise >= gap_;
  }

  // Where the quick way ends in a tie or without proof: every slab of a few points, widened by the
  // points it leaves out, until the thinnest one of those few holds them all.
  void search_everywhere() {
    std::vector<int> some(four_.points.begin(), four_.points.end());
    const auto add = [&some](int point) {
      if (std::find(some.begin(), some.end(), point) == some.end()) some.push_back(point);
    };
    add(best_.high_at);
    add(best_.low_at);
    while (true) {
      std::vector<Vec3> few;
      for (const int point : some) few.push_back(from_first(point));
      const double margin = 2.0 * rounding(best_normal_);
      const auto thinner = engine::thinnest_below(few, best_.width() - margin);
      gap_ = thinner ? thinner->width : best_.width() - margin;
      if (!thinner) break;
      const Ends ends = ends_along(thinner->normal);
      keep_if_thinner(thinner->normal, ends);
      const std::size_t before = some.size();
      add(ends.high_at);
      add(ends.low_at);
      if (some.size() == before || good_enough()) break;
    }
    decisive_ = some;
  }

  MinimumZone answer() const {
    MinimumZone zone;
    const Vec3 normal = upwards(best_normal_);
    const double base = normal.dot(points_[0]);
    const bool turned = normal.dot(best_normal_) < 0.0;
    zone.slab.normal = normal;
    zone.slab.low_mm = base + (turned ? -best_.high : best_.low);
    zone.slab.high_mm = zone.slab.low_mm + best_.width();
    zone.decisive = decisive_;
    zone.proof_gap_mm = std::max(0.0, best_.width() - gap_);
    zone.passes = passes_;
    return zone;
  }

  std::span<const Vec3> points_;
  double enough_;
  Vec3 reach_ = Vec3::Zero();
  Vec3 frame_x_ = Vec3::UnitX(), frame_y_ = Vec3::UnitY(), frame_z_ = Vec3::UnitZ();
  Four four_;
  Vec3 best_normal_ = Vec3::UnitZ();
  Ends best_;
  double gap_ = 0.0;
  mutable std::vector<int> decisive_;
  int passes_ = 0;
};

Vec3 mean_of(std::span<const Vec3> points) {
  Vec3 sum = Vec3::Zero();
  for (const Vec3& point : points) sum += point - points[0];
  return points[0] + sum / static_cast<double>(points.size());
}

Vec3 least_squares_normal(std::span<const Vec3> points) {
  const Vec3 mean = mean_of(points);
  Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
  for (const Vec3& point : points) {
    const Vec3 off = point - mean;
    spread.noalias() += off * off.transpose();
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(spread);
  return upwards(axes.eigenvectors().col(0).normalized());
}

}  // namespace

Slab slab_along(std::span<const Vec3> points, const Vec3& normal) {
  TWOTURN_ASSERT(!points.empty(), 0.0);
  Slab slab;
  slab.normal = normal;
  double low = 0.0;
  double high = 0.0;
  for (const Vec3& point : points) {
    const double along = normal.dot(point - points[0]);
    low = std::min(low, along);
    high = std::max(high, along);
  }
  const double base = normal.dot(points[0]);
  slab.low_mm = base + low;
  slab.high_mm = slab.low_mm + (high - low);
  return slab;
}

MinimumZone minimum_zone_until(std::span<const Vec3> points, const Vec3& start, double enough_mm) {
  if (points.size() < 4) {
    MinimumZone zone;
    if (!points.empty()) {
      const Vec3 normal = points.size() == 3 ? least_squares_normal(points) : start;
      zone.slab = slab_along(points, normal);
      if (points.size() == 3) zone.slab.high_mm = zone.slab.low_mm;
    }
    return zone;
  }
  return ZoneSolver(points, enough_mm).solve(start);
}

MinimumZone minimum_zone(std::span<const Vec3> points) {
  TWOTURN_ASSERT(!points.empty(), 0.0);
  constexpr double kNeverEnough = -1.0;
  return minimum_zone_until(points, least_squares_normal(points), kNeverEnough);
}

Slab least_squares_slab(std::span<const Vec3> points) {
  TWOTURN_ASSERT(!points.empty(), 0.0);
  return slab_along(points, least_squares_normal(points));
}

std::optional<double> least_squares_vertical_mm(std::span<const Vec3> points) {
  TWOTURN_ASSERT(!points.empty(), 0.0);
  const Vec3 mean = mean_of(points);
  double xx = 0.0, xy = 0.0, yy = 0.0, xz = 0.0, yz = 0.0;
  for (const Vec3& point : points) {
    const Vec3 off = point - mean;
    xx += off.x() * off.x();
    xy += off.x() * off.y();
    yy += off.y() * off.y();
    xz += off.x() * off.z();
    yz += off.y() * off.z();
  }
  const double determinant = xx * yy - xy * xy;
  constexpr double kOneLine = 1e-12;
  if (determinant <= kOneLine * (xx + yy) * (xx + yy)) return std::nullopt;
  const double slope_x = (xz * yy - yz * xy) / determinant;
  const double slope_y = (yz * xx - xz * xy) / determinant;
  double low = std::numeric_limits<double>::max();
  double high = std::numeric_limits<double>::lowest();
  for (const Vec3& point : points) {
    const Vec3 off = point - mean;
    const double rest = off.z() - slope_x * off.x() - slope_y * off.y();
    low = std::min(low, rest);
    high = std::max(high, rest);
  }
  return high - low;
}

}  // namespace twoturn
