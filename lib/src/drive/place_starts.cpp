// Where each centre is about: one after the other from those that are known already.
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "place_rows.hpp"

namespace twoturn::placing {
namespace {

using Places = std::vector<std::optional<Vec2>>;

// A measurement of one centre from another that is known.
struct Link {
  Vec2 from;
  int other = 0;
  Seen seen;  // of points 0 (the known one) and 1
  bool distance = false;
};

std::vector<Link> links_of(int point, const Places& known, const std::vector<Seen>& seen) {
  std::vector<Link> links;
  for (const Seen& one : seen) {
    const Ends ends = ends_of(one);
    if (ends.from == ends.to || (ends.from != point && ends.to != point)) continue;
    const int other = ends.from == point ? ends.to : ends.from;
    if (!known[at(other)]) continue;
    Link link{*known[at(other)], other, one, false};
    if (auto* distance = std::get_if<DistanceSeen>(&link.seen)) {
      distance->from = 0;
      distance->to = 1;
      link.distance = true;
    } else {
      auto& bearing = std::get<BearingSeen>(link.seen);
      if (ends.from == point) {
        bearing.bearing = (bearing.bearing + Angle::radians(kPi)).wrapped_half();
      }
      bearing.from = 0;
      bearing.to = 1;
    }
    links.push_back(link);
  }
  return links;
}

double mm_of(const Link& link) { return std::get<DistanceSeen>(link.seen).mm; }

Vec2 way_of(const Link& link) {
  const double angle = std::get<BearingSeen>(link.seen).bearing.radians();
  return {std::cos(angle), std::sin(angle)};
}

// How far two distances miss closing a triangle over the third side; 0 where they do.
double misses(const Link& a, const Link& b) {
  const double base = (a.from - b.from).norm();
  return std::max({0.0, base - mm_of(a) - mm_of(b), std::abs(mm_of(a) - mm_of(b)) - base});
}

// Where both hold. Circles that miss each other: the place between them.
std::vector<Vec2> both_distances(const Link& a, const Link& b) {
  const Vec2 base = b.from - a.from;
  const double length = base.norm();
  if (length == 0.0) return {};
  const double along =
      (length * length + mm_of(a) * mm_of(a) - mm_of(b) * mm_of(b)) / (2.0 * length);
  const double up = std::sqrt(std::max(0.0, mm_of(a) * mm_of(a) - along * along));
  const Vec2 unit = base / length;
  const Vec2 across(-unit.y(), unit.x());
  if (up == 0.0) return {a.from + along * unit};
  return {a.from + along * unit + up * across, a.from + along * unit - up * across};
}

std::vector<Vec2> distance_and_way(const Link& distance, const Link& bearing) {
  const Vec2 way = way_of(bearing);
  const Vec2 to = distance.from - bearing.from;
  const double along = to.dot(way);
  const double across = to.x() * way.y() - to.y() * way.x();
  const double half = std::sqrt(std::max(0.0, mm_of(distance) * mm_of(distance) - across * across));
  std::vector<Vec2> places{bearing.from + (along + half) * way};
  if (half > 0.0 && along - half > 0.0) places.emplace_back(bearing.from + (along - half) * way);
  return places;
}

std::vector<Vec2> both_ways(const Link& a, const Link& b) {
  const Vec2 u = way_of(a);
  const Vec2 v = way_of(b);
  const double cross = u.x() * v.y() - u.y() * v.x();
  constexpr double kAlongEachOther = 1e-6;
  if (std::abs(cross) < kAlongEachOther) return {};
  const Vec2 to = b.from - a.from;
  return {a.from + (to.x() * v.y() - to.y() * v.x()) / cross * u};
}

std::vector<Vec2> where_both_hold(const Link& a, const Link& b) {
  if (a.distance && b.distance) return both_distances(a, b);
  if (a.distance) return distance_and_way(a, b);
  if (b.distance) return distance_and_way(b, a);
  return both_ways(a, b);
}

struct Spot {
  Vec2 place = Vec2::Zero();
  double chi_square = 0.0;
  bool held = false;  // it cannot move without a link telling
};

// The place nearest a start at which the links are met best.
Spot settled_at(const Vec2& start, const std::vector<Link>& links) {
  std::vector<SurveyPoint> points{{start, false}};
  std::vector<Seen> seen;
  for (const Link& link : links) {
    const int known = static_cast<int>(points.size());
    points.push_back({link.from, true});
    Seen one = link.seen;
    std::visit(
        [known](auto& what) {
          if constexpr (requires { what.from; }) {
            what.from = known;
            what.to = 0;
          }
        },
        one);
    seen.push_back(one);
  }
  const SurveyFound found = survey(points, seen);
  return {found.at_mm.front(), found.chi_square, found.loose.empty()};
}

// Every place that meets the links as well as can be nearby, the best first.
std::vector<Spot> spots_of(const std::vector<Link>& links) {
  constexpr double kSamePlaceMm = 0.01;
  std::vector<Spot> spots;
  for (std::size_t i = 0; i < links.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      for (const Vec2& start : where_both_hold(links[j], links[i])) {
        const Spot spot = settled_at(start, links);
        const auto same = [&](const Spot& other) {
          return (other.place - spot.place).norm() < kSamePlaceMm;
        };
        if (std::none_of(spots.begin(), spots.end(), same)) spots.push_back(spot);
      }
    }
  }
  std::sort(spots.begin(), spots.end(),
            [](const Spot& a, const Spot& b) { return a.chi_square < b.chi_square; });
  return spots;
}

class Finder {
 public:
  Finder(const Points& points, const std::vector<Seen>& seen, std::vector<PlaceFault>& faults)
      : points_(points), seen_(seen), faults_(faults), known_(points.given) {}

  Starts all() {
    if (can_turn()) {
      faults_.push_back({PlaceTrouble::unturned, farthest_from_crank(), {}});
      return {known_};
    }
    while (one_more()) {
    }
    // A hint stands in where only the whole of the measurements can tell.
    bool hinted = false;
    for (std::size_t k = 0; k < known_.size(); ++k) {
      if (known_[k] || !points_.near[k]) continue;
      known_[k] = points_.near[k];
      hinted = true;
    }
    while (hinted && one_more()) {
    }
    blame_the_rest();
    return {known_, hinted};
  }

 private:
  static constexpr double kClear = 9.0;  // three standard deviations, squared

  // Whether nothing says which way up the whole lies.
  bool can_turn() const {
    const auto bearing = [](const Seen& one) { return std::holds_alternative<BearingSeen>(one); };
    const auto given = std::count_if(points_.given.begin(), points_.given.end(),
                                     [](const auto& place) { return place.has_value(); });
    const bool open = std::any_of(known_.begin(), known_.end(),
                                  [](const auto& place) { return !place.has_value(); });
    return open && given < 2 && std::none_of(seen_.begin(), seen_.end(), bearing);
  }

  // One centre, where it would be placed now.
  struct Candidate {
    int point = -1;
    std::vector<Link> links{};
    Vec2 place = Vec2::Zero();
    std::optional<Vec2> mirrored{};  // as good a place, which nothing tells apart
    bool met = true;                 // of two distances alone: that they close a triangle
    bool clear() const { return met && !mirrored; }
  };

  // Places the centre that most is known of, one that leaves a choice only where all do: what is
  // placed meanwhile may tell. False where there is none.
  bool one_more() {
    Candidate best;
    for (std::size_t k = 0; k < known_.size(); ++k) {
      if (known_[k]) continue;
      std::vector<Link> links = links_of(static_cast<int>(k), known_, seen_);
      if (links.size() < 2) continue;
      Candidate one = candidate(static_cast<int>(k), std::move(links));
      const bool better = best.point < 0 || (one.clear() && !best.clear()) ||
                          (one.clear() == best.clear() && one.links.size() > best.links.size());
      if (better) best = std::move(one);
    }
    if (best.point < 0) return false;
    known_[at(best.point)] = best.place;
    if (!best.met) blame_triangle(best);
    if (best.mirrored) {
      PlaceFault fault{PlaceTrouble::mirrored, points_.list[at(best.point)].name,
                       names_of(best.links)};
      fault.at_mm = best.place;
      fault.other_mm = *best.mirrored;
      faults_.push_back(fault);
    }
    return true;
  }

  Candidate candidate(int point, std::vector<Link> links) const {
    Candidate one{point, std::move(links)};
    const std::optional<Vec2>& near = points_.near[at(point)];
    std::vector<Spot> spots = spots_of(one.links);
    if (spots.empty()) {  // all along one line: a hint, or nothing
      one.place = near.value_or(one.links.front().from);
      return one;
    }
    one.place = spots.front().place;
    one.met = meets(one);
    const auto worse = [&](const Spot& spot) {
      return spot.chi_square > spots.front().chi_square + kClear;
    };
    spots.erase(std::find_if(spots.begin(), spots.end(), worse), spots.end());
    if (near) {
      const auto off = [&](const Spot& spot) { return (spot.place - *near).norm(); };
      std::sort(spots.begin(), spots.end(),
                [&](const Spot& a, const Spot& b) { return off(a) < off(b); });
      one.place = spots.front().place;
      // Said to the nearest cm, as hints are.
      constexpr double kHintMm = 10.0;
      if (spots.size() < 2 || off(spots[1]) >= std::max(kHintMm, 2.0 * off(spots[0]))) return one;
    }
    if (spots.size() > 1) one.mirrored = spots[1].place;
    return one;
  }

  // Of two distances alone, nothing else could tell that they close no triangle.
  bool meets(const Candidate& one) const {
    const std::vector<Link>& links = one.links;
    if (links.size() != 2 || !links[0].distance || !links[1].distance) return true;
    const auto touches = [&](const Seen& seen) {
      const Ends ends = ends_of(seen);
      return ends.from == one.point || ends.to == one.point;
    };
    if (std::count_if(seen_.begin(), seen_.end(), touches) > 2) return true;
    const double sigma = std::hypot(std::get<DistanceSeen>(links[0].seen).sigma_mm,
                                    std::get<DistanceSeen>(links[1].seen).sigma_mm,
                                    base_sigma_mm(links[0].other, links[1].other));
    return misses(links[0], links[1]) <= std::sqrt(kClear) * sigma;
  }

  // How well the distance between two known centres is known: as it was measured; else no better
  // than the worst distance measured to either that was not given.
  double base_sigma_mm(int a, int b) const {
    double worst = 0.0;
    for (const Seen& seen : seen_) {
      const auto* distance = std::get_if<DistanceSeen>(&seen);
      if (!distance) continue;
      const Ends ends = ends_of(seen);
      if (std::minmax(ends.from, ends.to) == std::minmax(a, b)) return distance->sigma_mm;
      for (const int end : {a, b}) {
        const bool touches = ends.from == end || ends.to == end;
        if (touches && !points_.given[at(end)]) worst = std::max(worst, distance->sigma_mm);
      }
    }
    return worst;
  }

  void blame_triangle(const Candidate& one) {
    PlaceFault fault{PlaceTrouble::no_triangle, points_.list[at(one.point)].name,
                     names_of(one.links)};
    fault.short_mm = misses(one.links[0], one.links[1]);
    faults_.push_back(fault);
  }

  std::vector<std::string> names_of(const std::vector<Link>& links) const {
    std::vector<std::string> names;
    for (const Link& link : links) {
      const std::string& name = points_.list[at(link.other)].name;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
  }

  void blame_the_rest() {
    for (std::size_t k = 0; k < known_.size(); ++k) {
      if (known_[k]) continue;
      faults_.push_back({PlaceTrouble::too_few, points_.list[k].name,
                         names_of(links_of(static_cast<int>(k), known_, seen_))});
    }
  }

  // The centre whose direction, taken by eye, turns the whole least wrongly: the one with the
  // greatest distance measured from what is known.
  std::string farthest_from_crank() const {
    std::string name;
    double most = -1.0;
    for (std::size_t k = 0; k < known_.size(); ++k) {
      if (known_[k]) continue;
      for (const Link& link : links_of(static_cast<int>(k), known_, seen_)) {
        if (!link.distance || mm_of(link) <= most) continue;
        most = mm_of(link);
        name = points_.list[k].name;
      }
      if (name.empty()) name = points_.list[k].name;
    }
    return name;
  }

  const Points& points_;
  const std::vector<Seen>& seen_;
  std::vector<PlaceFault>& faults_;
  Places known_;
};

}  // namespace

Starts starts_of(const Points& points, const std::vector<Seen>& seen,
                 std::vector<PlaceFault>& faults) {
  return Finder(points, seen, faults).all();
}

}  // namespace twoturn::placing
