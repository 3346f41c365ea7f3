#include "twoturn/face/contours.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "base/at.hpp"
#include "triangles.hpp"

namespace twoturn {
namespace {

// Evenly over the face: of each cell of a grid the point nearest its middle.
std::vector<Vec3> thinned(std::span<const Vec3> points) {
  if (points.size() <= static_cast<std::size_t>(kMostContourPoints)) {
    return {points.begin(), points.end()};
  }
  Vec3 least = points[0];
  Vec3 most = points[0];
  for (const Vec3& point : points) {
    least = least.cwiseMin(point);
    most = most.cwiseMax(point);
  }
  const Vec2 size = (most - least).head<2>();
  const double cell = std::sqrt(size.x() * size.y() / kMostContourPoints);
  const int columns = std::max(1, static_cast<int>(size.x() / cell));
  const int rows =
      std::max(1, std::min(kMostContourPoints / columns, static_cast<int>(size.y() / cell)));
  std::map<int, std::pair<double, int>> kept;
  for (int i = 0; i < static_cast<int>(points.size()); ++i) {
    const double u = (points[at(i)].x() - least.x()) / size.x() * columns;
    const double v = (points[at(i)].y() - least.y()) / size.y() * rows;
    const int column = std::min(columns - 1, static_cast<int>(u));
    const int row = std::min(rows - 1, static_cast<int>(v));
    const double off = std::hypot(u - column - 0.5, v - row - 0.5);
    const auto [found, added] = kept.try_emplace(row * columns + column, off, i);
    if (!added && off < found->second.first) found->second = {off, i};
  }
  std::vector<Vec3> result;
  for (const auto& [place, nearest] : kept) result.push_back(points[at(nearest.second)]);
  return result;
}

// A step of 1, 2 or 5 by tens that draws about five to ten lines.
double step_for(double width) {
  constexpr double kMostLines = 8.0;
  const double least = width / kMostLines;
  double step = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0, 10.0}) {
    if (step * factor >= least) return step * factor;
  }
  return 10.0 * step;
}

// A corner of an outline: a measured point (second < 0), or the place on the edge between two
// points where the height is that of the cut.
using Node = std::pair<int, int>;
using Edges = std::multimap<Node, Node>;

class Cutter {
 public:
  Cutter(std::span<const Vec3> points, const Slab& slab)
      : points_(points), triangles_(engine::triangles_between(points)) {
    for (const Vec3& point : points) heights_.push_back(slab.height_mm(point));
  }

  void add_lines(double level, std::vector<ContourLine>& lines) {
    level_ = level;
    Edges cuts;
    for (const auto& triangle : triangles_) {
      const auto [from, to] = cut_through(triangle);
      if (from != to) cuts.emplace(from, to);
    }
    for (const auto& [chain, closed] : chained(std::move(cuts))) {
      ContourLine line;
      line.height_mm = level;
      line.closed = closed;
      for (const Node& node : chain) line.points_mm.push_back(place(node));
      lines.push_back(std::move(line));
    }
  }

  FaceRegion above(double level) { return region(level, 1.0); }
  FaceRegion below(double level) { return region(level, -1.0); }

 private:
  bool over(int point) const { return heights_[at(point)] >= level_; }

  static Node between(int a, int b) { return {std::min(a, b), std::max(a, b)}; }

  Vec2 place(const Node& node) const {
    const Vec3& a = points_[at(node.first)];
    if (node.second < 0) return a.head<2>();
    const Vec3& b = points_[at(node.second)];
    const double rise = heights_[at(node.second)] - heights_[at(node.first)];
    const double share = (level_ - heights_[at(node.first)]) / rise;
    return a.head<2>() + share * (b - a).head<2>();
  }

  // The cut of one triangle, with the high side on its left; both ends alike: none.
  std::pair<Node, Node> cut_through(const std::array<int, 3>& triangle) const {
    Node from, to;
    bool any = false;
    for (std::size_t i = 0; i < 3; ++i) {
      const int a = triangle[i];
      const int b = triangle[(i + 1) % 3];
      if (over(a) == over(b)) continue;
      (over(a) ? from : to) = between(a, b);
      any = true;
    }
    return any ? std::pair(from, to) : std::pair(Node(), Node());
  }

  // Edges of all cut triangles; those that two of them share cancel, the outline is left.
  FaceRegion region(double level, double sign) {
    level_ = level;
    Edges edges;
    const auto inside = [&](int point) { return sign > 0.0 ? over(point) : !over(point); };
    for (const auto& triangle : triangles_) {
      std::vector<Node> ring;
      for (std::size_t i = 0; i < 3; ++i) {
        const int a = triangle[i];
        const int b = triangle[(i + 1) % 3];
        if (inside(a)) ring.emplace_back(a, -1);
        if (inside(a) != inside(b)) ring.push_back(between(a, b));
      }
      for (std::size_t i = 0; i < ring.size(); ++i) {
        add_or_cancel(ring[i], ring[(i + 1) % ring.size()], edges);
      }
    }
    FaceRegion outlines;
    for (const auto& [chain, closed] : chained(std::move(edges))) {
      std::vector<Vec2> ring;
      for (const Node& node : chain) ring.push_back(place(node));
      if (ring.size() >= 3) outlines.push_back(std::move(ring));
    }
    return outlines;
  }

  static void add_or_cancel(const Node& from, const Node& to, Edges& edges) {
    const auto [first, last] = edges.equal_range(to);
    const auto opposite =
        std::find_if(first, last, [&from](const auto& edge) { return edge.second == from; });
    if (opposite != last) {
      edges.erase(opposite);
    } else {
      edges.emplace(from, to);
    }
  }

  // Edges end to end, each chain with whether it comes round.
  static std::vector<std::pair<std::vector<Node>, bool>> chained(Edges edges) {
    std::map<Node, int> arriving;
    for (const auto& [from, to] : edges) ++arriving[to];
    std::vector<std::pair<std::vector<Node>, bool>> chains;
    const auto follow = [&](Node node) {
      std::vector<Node> chain{node};
      const Node start = node;
      while (true) {
        const auto next = edges.find(node);
        if (next == edges.end()) return std::pair(chain, false);
        node = next->second;
        edges.erase(next);
        if (node == start) return std::pair(chain, true);
        chain.push_back(node);
      }
    };
    std::vector<Node> open;
    for (const auto& [from, to] : edges) {
      if (arriving.count(from) == 0) open.push_back(from);
    }
    for (const Node& start : open) chains.push_back(follow(start));
    while (!edges.empty()) chains.push_back(follow(edges.begin()->first));
    return chains;
  }

  std::span<const Vec3> points_;
  std::vector<std::array<int, 3>> triangles_;
  std::vector<double> heights_;
  double level_ = 0.0;
};

}  // namespace

FaceContours face_contours(std::span<const Vec3> points, const Slab& slab) {
  const std::vector<Vec3> used = thinned(points);
  Cutter cutter(used, slab);
  FaceContours contours;
  contours.points_used = static_cast<int>(used.size());
  contours.outline = cutter.above(std::numeric_limits<double>::lowest());
  const double width = slab.width_mm();
  constexpr double kTooFlatMm = 1e-6;
  if (width < kTooFlatMm) return contours;
  contours.step_mm = step_for(width);
  const int lines = static_cast<int>(std::ceil(width / contours.step_mm)) - 1;
  for (int k = 1; k <= lines; ++k) cutter.add_lines(k * contours.step_mm, contours.lines);
  // The lowest and the highest quarter, to the next line outwards.
  const int low = std::max(1, static_cast<int>(std::floor(width / 4.0 / contours.step_mm)));
  const int high =
      std::max(low, std::min(lines, static_cast<int>(std::ceil(width * 0.75 / contours.step_mm))));
  contours.low_below_mm = low * contours.step_mm;
  contours.high_above_mm = high * contours.step_mm;
  contours.low = cutter.below(contours.low_below_mm);
  contours.high = cutter.above(contours.high_above_mm);
  return contours;
}

}  // namespace twoturn
