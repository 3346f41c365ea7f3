// A referee for nearest approaches: the two edges of the belt's body sampled finely along the path
// that oracle_path.hpp solves, and distances taken from the samples. Shares nothing with the
// library.
#pragma once

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/linestring.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <limits>

#include "support/oracle_path.hpp"

namespace oracle {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Line = bg::model::linestring<Point>;

inline double distance(const Point& a, const Point& b) {
  return std::hypot(a.x() - b.x(), a.y() - b.y());
}

// Arc i, span i, arc i + 1 and so on, each with the place along the path where it starts.
struct Piece {
  Circle circle;
  Point start;  // of a span
  double entry = 0.0;
  double ux = 0.0, uy = 0.0;
  double from = 0.0;
  double length = 0.0;
  bool arc = false;
};

class Ribbon {
 public:
  explicit Ribbon(const std::vector<Circle>& circles) {
    const Path path = closed_path(circles);
    const std::size_t n = circles.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Contact& in = path.contacts[(i + n - 1) % n];
      const Contact& out = path.contacts[i];
      Piece arc;
      arc.arc = true;
      arc.circle = circles[i];
      arc.entry =
          static_cast<double>(Real(atan2(in.end_y - circles[i].y, in.end_x - circles[i].x)));
      arc.length = static_cast<double>(path.wraps[i]) * circles[i].radius;
      add(arc);
      Piece span;
      span.start = Point(static_cast<double>(out.start_x), static_cast<double>(out.start_y));
      span.ux = static_cast<double>(Real((out.end_x - out.start_x) / path.spans[i]));
      span.uy = static_cast<double>(Real((out.end_y - out.start_y) / path.spans[i]));
      span.length = static_cast<double>(path.spans[i]);
      add(span);
    }
  }

  double length() const { return length_; }
  const Piece& arc(std::size_t i) const { return pieces_[2 * i]; }
  const Piece& span(std::size_t i) const { return pieces_[2 * i + 1]; }

  /// The point at `s` along the path, `offset` to the left of it.
  Point at(double s, double offset) const {
    s -= length_ * std::floor(s / length_);
    std::size_t low = 0;
    while (low + 1 < pieces_.size() && pieces_[low + 1].from <= s) ++low;
    const Piece& p = pieces_[low];
    const double t = s - p.from;
    if (!p.arc) {
      return {p.start.x() + t * p.ux - offset * p.uy, p.start.y() + t * p.uy + offset * p.ux};
    }
    const double angle = p.entry + p.circle.sense * t / p.circle.radius;
    const double radius = p.circle.radius - p.circle.sense * offset;
    return {p.circle.x + radius * std::cos(angle), p.circle.y + radius * std::sin(angle)};
  }

  /// The whole edge as a closed line whose chords leave the arcs by no more than `sagitta`.
  Line edge(double offset, double sagitta) const {
    Line line;
    for (const Piece& p : pieces_) {
      const double radius = p.circle.radius + std::abs(offset);
      const double step = std::sqrt(8.0 * sagitta / radius) * p.circle.radius;
      const int parts = p.arc ? 1 + static_cast<int>(p.length / step) : 1;
      for (int k = 0; k < parts; ++k) line.push_back(at(p.from + p.length * k / parts, offset));
    }
    line.push_back(line.front());
    return line;
  }

 private:
  void add(Piece piece) {
    piece.from = length_;
    length_ += piece.length;
    pieces_.push_back(piece);
  }

  std::vector<Piece> pieces_;
  double length_ = 0.0;
};

inline constexpr double kNone = std::numeric_limits<double>::infinity();
inline constexpr double kSampleMm = 1.5;

/// Distance from the body to a line of points; 0 where they overlap. Wrong by up to `sagitta`.
inline double gap_to_line(const Ribbon& ribbon, double left, double right, const Line& line,
                          double sagitta) {
  const Line edges[] = {ribbon.edge(left, sagitta), ribbon.edge(-right, sagitta)};
  bg::model::polygon<Point> areas[2];
  double gap = kNone;
  for (std::size_t side = 0; side < 2; ++side) {
    gap = std::min(gap, static_cast<double>(bg::distance(edges[side], line)));
    bg::append(areas[side].outer(), edges[side]);
    bg::correct(areas[side]);
  }
  for (const Point& p : line) {
    if (bg::within(p, areas[0]) != bg::within(p, areas[1])) return 0.0;
  }
  return gap;
}

// Where `off` stops falling and rises again between two places that its slope proves it does.
template <typename Function>
double least_between(Function off, double low, double high) {
  for (int step = 0; step < 200; ++step) {
    const double third = (high - low) / 3.0;
    const bool further = off(low + third) > off(high - third);
    low += further ? third : 0.0;
    high -= further ? 0.0 : third;
  }
  return off(0.5 * (low + high));
}

/// Least distance from a wheel's centre to the body's edges where the belt comes nearer and draws
/// off again, on the belt beyond spans i - 1 and i: nothing of arc i counts, where the belt
/// belongs.
inline double approach_to_centre(const Ribbon& ribbon, double left, double right, std::size_t i,
                                 std::size_t count) {
  const Point centre(ribbon.arc(i).circle.x, ribbon.arc(i).circle.y);
  // Joins of pieces, and places on each piece: between two of them at most one least distance.
  std::vector<double> places;
  for (std::size_t step = 1; step < count; ++step) {
    const std::size_t k = (i + step) % count;
    const double turn = k <= i ? ribbon.length() : 0.0;
    const Piece* pieces[] = {&ribbon.arc(k), &ribbon.span(k)};
    for (int which = 0; which < (step + 1 < count ? 2 : 1); ++which) {
      constexpr int kParts = 8;
      for (int part = 0; part <= kParts; ++part) {
        places.push_back(turn + pieces[which]->from + pieces[which]->length * part / kParts);
      }
    }
  }
  double least = kNone;
  for (const double offset : {left, -right}) {
    const auto off = [&](double s) { return distance(ribbon.at(s, offset), centre); };
    const auto slope = [&](double s) { return off(s + 1e-6) - off(s - 1e-6); };
    for (std::size_t k = 1; k < places.size(); ++k) {
      if (places[k] <= places[k - 1]) continue;
      if (slope(places[k - 1]) >= 0.0 || slope(places[k]) < 0.0) continue;
      least = std::min(least, least_between(off, places[k - 1], places[k]));
    }
  }
  return least;
}

}  // namespace oracle
