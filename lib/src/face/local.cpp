#include "twoturn/face/local.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <queue>
#include <span>
#include <vector>

#include "base/at.hpp"
#include "on_a_line.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

// A point on a square's edge belongs to it, also where a sum of decimals misses it by rounding.
constexpr double kOnEdgeMm = 1e-9;
// Squares that differ by less are one as far as anyone can say.
constexpr double kSameWidthMm = 1e-12;

// Fewer lie in one plane whatever they are.
constexpr std::size_t kLeastPoints = 4;

// From pointers: spans from iterators are not everywhere.
std::span<const Vec3> held_between(std::vector<Vec3>::const_iterator first,
                                   std::vector<Vec3>::const_iterator last) {
  return {std::to_address(first), static_cast<std::size_t>(last - first)};
}

// Lower edges worth trying along one axis: those that touch a point, up to the first that reaches
// the last point; from there on squares only lose points.
std::vector<double> touching_edges(std::vector<double> values, double side_mm) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
  const double last = values.back() - side_mm - kOnEdgeMm;
  const auto enough =
      std::find_if(values.begin(), values.end(), [last](double value) { return value >= last; });
  values.erase(enough + 1, values.end());
  return values;
}

// Squares with lower left corners from one pair of edges to another, and a bound that none of them
// exceeds: the minimum zone of all points that any of them holds.
struct Batch {
  int x_from = 0, x_to = 0, y_from = 0, y_to = 0;
  double bound_mm = 0.0;
  Vec3 normal = Vec3::UnitZ();
  std::vector<int> points;

  bool single() const { return x_from == x_to && y_from == y_to; }
  bool operator<(const Batch& other) const { return bound_mm < other.bound_mm; }
};

// Branch and bound over all squares: the batch that could hold the worst one is halved, until the
// worst bound left is a single square's.
class EverySquare {
 public:
  EverySquare(std::span<const Vec3> points, double side_mm) : points_(points), side_(side_mm) {
    std::vector<double> xs, ys;
    for (const Vec3& point : points) {
      xs.push_back(point.x());
      ys.push_back(point.y());
    }
    xs_ = touching_edges(std::move(xs), side_mm);
    ys_ = touching_edges(std::move(ys), side_mm);
  }

  LocalFlatness find(const Vec3& start_normal) {
    best_.side_mm = side_;
    best_.corner_mm = Vec2(xs_.front(), ys_.front());
    Batch all;
    all.x_to = static_cast<int>(xs_.size()) - 1;
    all.y_to = static_cast<int>(ys_.size()) - 1;
    all.normal = start_normal;
    for (int i = 0; i < static_cast<int>(points_.size()); ++i) all.points.push_back(i);
    push(std::move(all));
    while (!batches_.empty()) {
      Batch batch = batches_.top();
      batches_.pop();
      if (batch.bound_mm <= best_.width_mm + kSameWidthMm) break;
      try_middle(batch);
      split(batch);
    }
    if (best_.points == 0) best_.points = points_of_a_full_square();
    return best_;
  }

 private:
  // Of any square that holds enough points to be judged, where all of them are flat; else 0. Points
  // in one row are no face, and lie in some plane whatever they are.
  int points_of_a_full_square() {
    std::vector<Vec3> strip;
    for (const double left : xs_) {
      strip.clear();
      for (const Vec3& point : points_) {
        const double off = point.x() - left;
        if (off >= -kOnEdgeMm && off <= side_ + kOnEdgeMm) strip.push_back(point);
      }
      std::sort(strip.begin(), strip.end(),
                [](const Vec3& a, const Vec3& b) { return a.y() < b.y(); });
      for (std::size_t i = 0; i + kLeastPoints <= strip.size(); ++i) {
        const double bottom = strip[i].y();
        if (strip[i + kLeastPoints - 1].y() > bottom + side_ + kOnEdgeMm) continue;
        const auto above = [&](const Vec3& point) {
          return point.y() > bottom + side_ + kOnEdgeMm;
        };
        const auto first = strip.begin() + static_cast<std::ptrdiff_t>(i);
        const auto held = held_between(first, std::find_if(first, strip.end(), above));
        if (on_a_line(held)) continue;
        best_.corner_mm = Vec2(left, bottom);
        return static_cast<int>(held.size());
      }
    }
    return 0;
  }

  // Bounds a batch and keeps it if it could hold a worse square; a single square is judged at once.
  void push(Batch batch) {
    const double enough = best_.width_mm + kSameWidthMm;
    if (batch.points.size() < kLeastPoints) return;
    gather(batch.points);
    const MinimumZone zone = minimum_zone_until(gathered_, batch.normal, enough);
    batch.bound_mm = zone.slab.width_mm();
    batch.normal = zone.slab.normal;
    if (batch.bound_mm <= enough) return;
    if (!batch.single()) {
      batches_.push(std::move(batch));
      return;
    }
    best_.width_mm = batch.bound_mm;
    best_.corner_mm = Vec2(xs_[at(batch.x_from)], ys_[at(batch.y_from)]);
    best_.points = static_cast<int>(batch.points.size());
  }

  void gather(const std::vector<int>& indices) {
    gathered_.clear();
    for (const int index : indices) gathered_.push_back(points_[at(index)]);
  }

  // The points of `from` that squares from one pair of edges to another hold.
  Batch part(const Batch& from, int x_from, int x_to, int y_from, int y_to) const {
    Batch batch;
    batch.x_from = x_from;
    batch.x_to = x_to;
    batch.y_from = y_from;
    batch.y_to = y_to;
    batch.normal = from.normal;
    const double left = xs_[at(x_from)] - kOnEdgeMm;
    const double right = xs_[at(x_to)] + side_ + kOnEdgeMm;
    const double bottom = ys_[at(y_from)] - kOnEdgeMm;
    const double top = ys_[at(y_to)] + side_ + kOnEdgeMm;
    for (const int index : from.points) {
      const Vec3& point = points_[at(index)];
      const bool inside =
          point.x() >= left && point.x() <= right && point.y() >= bottom && point.y() <= top;
      if (inside) batch.points.push_back(index);
    }
    return batch;
  }

  // A square that is judged early raises the mark that others must exceed.
  void try_middle(const Batch& batch) {
    const int x = (batch.x_from + batch.x_to) / 2;
    const int y = (batch.y_from + batch.y_to) / 2;
    push(part(batch, x, x, y, y));
  }

  void split(const Batch& batch) {
    const double wide = xs_[at(batch.x_to)] - xs_[at(batch.x_from)];
    const double high = ys_[at(batch.y_to)] - ys_[at(batch.y_from)];
    const bool across = batch.x_to > batch.x_from && (wide >= high || batch.y_to == batch.y_from);
    if (across) {
      const int middle = (batch.x_from + batch.x_to) / 2;
      push(part(batch, batch.x_from, middle, batch.y_from, batch.y_to));
      push(part(batch, middle + 1, batch.x_to, batch.y_from, batch.y_to));
    } else {
      const int middle = (batch.y_from + batch.y_to) / 2;
      push(part(batch, batch.x_from, batch.x_to, batch.y_from, middle));
      push(part(batch, batch.x_from, batch.x_to, middle + 1, batch.y_to));
    }
  }

  std::span<const Vec3> points_;
  double side_;
  std::vector<double> xs_, ys_;
  std::priority_queue<Batch> batches_;
  std::vector<Vec3> gathered_;
  LocalFlatness best_;
};

// Edges a tenth of the side apart, the last one reaching the face's end.
std::vector<double> stepped_edges(double least, double most, double side_mm) {
  const double step = side_mm / kStepsASide;
  std::vector<double> edges{least};
  for (int k = 1; least + k * step + side_mm < most; ++k) edges.push_back(least + k * step);
  if (least + side_mm < most) edges.push_back(most - side_mm);
  return edges;
}

LocalFlatness in_steps(std::span<const Vec3> points, double side_mm, const Vec3& start_normal) {
  std::vector<Vec3> by_x(points.begin(), points.end());
  const auto less_x = [](const Vec3& a, const Vec3& b) { return a.x() < b.x(); };
  const auto less_y = [](const Vec3& a, const Vec3& b) { return a.y() < b.y(); };
  std::sort(by_x.begin(), by_x.end(), less_x);
  const auto [low_y, high_y] = std::minmax_element(points.begin(), points.end(), less_y);
  LocalFlatness best;
  best.side_mm = side_mm;
  best.exact = false;
  best.step_mm = side_mm / kStepsASide;
  best.corner_mm = Vec2(by_x.front().x(), low_y->y());
  const std::vector<double> bottoms = stepped_edges(low_y->y(), high_y->y(), side_mm);
  std::vector<Vec3> strip;
  for (const double left : stepped_edges(by_x.front().x(), by_x.back().x(), side_mm)) {
    const auto from =
        std::lower_bound(by_x.begin(), by_x.end(), Vec3(left - kOnEdgeMm, 0, 0), less_x);
    const auto to =
        std::upper_bound(from, by_x.end(), Vec3(left + side_mm + kOnEdgeMm, 0, 0), less_x);
    strip.assign(from, to);
    std::sort(strip.begin(), strip.end(), less_y);
    for (const double bottom : bottoms) {
      const auto first =
          std::lower_bound(strip.begin(), strip.end(), Vec3(0, bottom - kOnEdgeMm, 0), less_y);
      const auto last =
          std::upper_bound(first, strip.end(), Vec3(0, bottom + side_mm + kOnEdgeMm, 0), less_y);
      if (last - first < static_cast<std::ptrdiff_t>(kLeastPoints)) continue;
      if (best.points == 0 && on_a_line(held_between(first, last))) continue;
      const double width =
          minimum_zone_until(held_between(first, last), start_normal, best.width_mm)
              .slab.width_mm();
      if (best.points > 0 && width <= best.width_mm) continue;
      best.width_mm = width;
      best.corner_mm = Vec2(left, bottom);
      best.points = static_cast<int>(last - first);
    }
  }
  return best;
}

}  // namespace

double least_local_side_mm(std::span<const Vec3> points) {
  Vec3 least = points[0];
  Vec3 most = points[0];
  for (const Vec3& point : points) {
    least = least.cwiseMin(point);
    most = most.cwiseMax(point);
  }
  constexpr double kMostSquaresAlong = 200.0;
  return (most - least).head<2>().maxCoeff() / kMostSquaresAlong;
}

LocalFlatness local_flatness(std::span<const Vec3> points, double side_mm,
                             const Vec3& start_normal) {
  TWOTURN_ASSERT(!points.empty() && side_mm > 0.0, side_mm);
  if (points.size() > kMostPointsForEverySquare) return in_steps(points, side_mm, start_normal);
  return EverySquare(points, side_mm).find(start_normal);
}

}  // namespace twoturn
