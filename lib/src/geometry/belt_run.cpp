#include "twoturn/geometry/belt_run.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "base/at.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

// A foot right at the join of two pieces must not fall between them: both may claim it, to this
// much of an angle.
constexpr double kJoin = 1e-9;

constexpr int kAll = -2;  // no wheel alone has moved: everything is looked at

// What is wanted: the nearest approach to everything, only what touches, or whether anything does.
enum class Seek { nearest, touching, any_refusal };

// An upright box round a segment or a point.
struct Box {
  Vec2 low;
  Vec2 high;

  explicit Box(const Vec2& point) : low(point), high(point) {}
  explicit Box(const Segment& segment)
      : low(segment.start_mm.cwiseMin(segment.end_mm)),
        high(segment.start_mm.cwiseMax(segment.end_mm)) {}
};

// Whether nothing in one box is within a distance of anything in the other, for certain.
bool apart(const Box& one, const Box& other, double distance_mm) {
  constexpr double kRoundingMm = 1e-6;
  const double far = std::max(0.0, distance_mm) + kRoundingMm;
  const double x = std::max(one.low.x() - other.high.x(), other.low.x() - one.high.x());
  const double y = std::max(one.low.y() - other.high.y(), other.low.y() - one.high.y());
  if (x > far || y > far) return true;
  return x > 0.0 && y > 0.0 && x * x + y * y > far * far;
}

// The pitch line is smooth and closed: wherever it comes nearest to anything, the shortest way
// stands square to it. So approaches are sought as feet, within a span or within an arc. An end of
// a piece that is no foot is none of them: there the belt still draws nearer, on the next piece, or
// already draws off from a wheel that it has just left.
class Judge {
 public:
  Judge(std::span<const Wheel> wheels, const TangentPath& path, const Surroundings& around,
        Seek seek, int moved = kAll)
      : wheels_(wheels),
        path_(path),
        around_(around),
        count_(static_cast<int>(wheels.size())),
        seek_(seek),
        moved_(moved),
        unsought_mm_(seek == Seek::nearest ? std::numeric_limits<double>::infinity()
                                           : std::numeric_limits<double>::denorm_min()) {
    TWOTURN_ASSERT(around.rims_mm.size() == wheels.size(),
                   static_cast<double>(around.rims_mm.size()));
    all_.resize(wheels.size());
    std::iota(all_.begin(), all_.end(), 0);
    moved_spans_ = moved_arcs_ = all_;
    if (moved != kAll) {
      const int before = moved == 0 ? count_ - 1 : moved - 1;
      beside_ = {before, moved, next(moved)};
      moved_spans_ = std::span(beside_).first(2);
      moved_arcs_ = beside_;
    }
    if (seek != Seek::nearest) return;
    result_.approaches.reserve(wheels.size() + around.obstacles.size() + 1);
    result_.rims.reserve(wheels.size() * around.obstacles.size());
  }

  BeltRun run() {
    whole_turn();
    if (settled()) return std::move(result_);
    crossings();
    if (settled()) return std::move(result_);
    for (int i = 0; i < count_; ++i) around_pulley(i);
    for (int k = 0; k < static_cast<int>(around_.obstacles.size()); ++k) {
      around_obstacle(k);
      if (moved_ != kAll) rim_to_obstacle(moved_, k);
      for (int i = 0; moved_ == kAll && i < count_; ++i) rim_to_obstacle(i, k);
    }
    own_runs();
    return std::move(result_);
  }

 private:
  bool settled() const { return seek_ == Seek::any_refusal && !result_.refused.empty(); }
  std::span<const int> all() const { return all_; }
  int next(int i) const { return i + 1 == count_ ? 0 : i + 1; }
  const Wheel& wheel(int i) const { return wheels_[at(i)]; }
  Segment segment(int i) const { return {path_.spans[at(i)].start_mm, path_.spans[at(i)].end_mm}; }
  // What stands where it stood before wheel `moved` moved has been looked at.
  bool rim_moved(int i) const { return moved_ == kAll || i == moved_; }
  bool span_moved(int i) const { return rim_moved(i) || next(i) == moved_; }
  bool arc_moved(int i) const { return span_moved(i) || i == next(moved_); }
  bool runs_on(int span, int pulley) const { return span == pulley || next(span) == pulley; }

  void refuse(Refused reason, int first, int second, double value, double limit) {
    result_.refused.push_back({reason, first, second, value, limit});
  }

  // Reach of the belt's body from its pitch line, on the side of a span where `point` lies.
  double reach_towards(int span, const Vec2& on_span, const Vec2& point) const {
    const double side = cross(path_.spans[at(span)].direction, point - on_span);
    return side >= 0.0 ? around_.body.left_mm : around_.body.right_mm;
  }

  double greater_reach() const { return std::max(around_.body.left_mm, around_.body.right_mm); }

  double outer_radius_of_belt(int i) const {
    const double reach = wheel(i).sense > 0 ? around_.body.right_mm : around_.body.left_mm;
    return wheel(i).radius_mm + reach;
  }

  double inner_radius_of_belt(int i) const {
    const double reach = wheel(i).sense > 0 ? around_.body.left_mm : around_.body.right_mm;
    return wheel(i).radius_mm - reach;
  }

  // Whether `on_span` is the foot of `point`, not merely the end that is nearest to it.
  bool is_foot(int span, const Vec2& on_span, const Vec2& point) const {
    const Vec2 away = point - on_span;
    return std::abs(path_.spans[at(span)].direction.dot(away)) <= kJoin * (1.0 + away.norm());
  }

  // Whether the foot of `point` on the line of a span lies off the span for certain: a cheap look
  // before `is_foot`.
  bool foot_is_off(int span, const Vec2& point) const {
    const Span& run = path_.spans[at(span)];
    const Vec2 arm = point - run.start_mm;
    const double along = run.direction.dot(arm);
    const double off = std::max(-along, along - run.length_mm);
    return off > 10.0 * kJoin * (1.0 + arm.cwiseAbs().sum() + run.length_mm);
  }

  // Whether `point` lies in the sector of an arc, its ends included within kJoin radians. Cross
  // products stand in for angles: this is asked some n squared times a path.
  bool arc_faces(int i, const Vec2& point) const {
    const Vec2 arm = point - wheel(i).centre_mm;
    const Vec2 start = path_.spans[at(i == 0 ? count_ - 1 : i - 1)].end_mm - wheel(i).centre_mm;
    const Vec2 end = path_.spans[at(i)].start_mm - wheel(i).centre_mm;
    const double join = kJoin * arm.norm() * wheel(i).radius_mm;
    const int sense = wheel(i).sense;
    const bool on_bisector_side = arm.dot(start + end) >= -join;
    if (path_.wraps[at(i)].radians() <= kPi) {
      return on_bisector_side && sense * cross(start, arm) >= -join &&
             sense * cross(arm, end) >= -join;
    }
    // More than half round: outside the sector that is left over.
    return !(on_bisector_side && sense * cross(end, arm) > join &&
             sense * cross(arm, start) > join);
  }

  // Where the ray from the wheel's centre towards `point` meets the pitch line.
  Vec2 on_arc(int i, const Vec2& point) const {
    return wheel(i).centre_mm + wheel(i).radius_mm * (point - wheel(i).centre_mm).normalized();
  }

  void whole_turn() {
    double turns = signed_turn(wheels_, path_).radians() / kFullTurn;
    if (around_.loop == Loop::clockwise) turns = -turns;
    const double seen = around_.loop == Loop::either ? std::abs(turns) : turns;
    constexpr double kFarFromWhole = 1e-6;  // sums are whole up to rounding; seams add whole turns
    if (std::abs(seen - 1.0) > kFarFromWhole) refuse(Refused::not_one_turn, -1, -1, turns, 1.0);
  }

  void crossings() {
    for (int i = 0; i < count_; ++i) {
      for (const int j : span_moved(i) ? all() : moved_spans_) {
        if (j <= i) continue;
        if (apart(Box(segment(i)), Box(segment(j)), 0.0)) continue;
        if (!cross_inside(segment(i), segment(j))) continue;
        const bool beside_one = count_ > 2 && (next(i) == j || next(j) == i);
        if (beside_one) {
          const int missed = next(i) == j ? j : i;
          refuse(Refused::pulley_missed, missed, -1, path_.wraps[at(missed)].degrees(), 180.0);
        } else {
          refuse(Refused::spans_cross, i, j, 0.0, 0.0);
        }
      }
    }
  }

  void keep_nearer(Approach& best, const Approach& candidate) {
    if (candidate.gap_mm < best.gap_mm) best = candidate;
  }

  Approach none(Neighbour kind, int other) const {
    Approach approach;
    approach.kind = kind;
    approach.other = other;
    approach.gap_mm = unsought_mm_;
    return approach;
  }

  void around_pulley(int i) {
    Approach best = none(Neighbour::pulley, i);
    for (const int j : rim_moved(i) ? all() : moved_arcs_) {
      const bool near = rim_moved(i) || span_moved(j);
      if (near && !runs_on(j, i)) span_to_pulley(best, j, i);
      if (j == i) continue;
      const double distance = (wheel(i).centre_mm - wheel(j).centre_mm).norm();
      const double rims = around_.rims_mm[at(i)] + around_.rims_mm[at(j)];
      if (j > i && distance < rims && (rim_moved(i) || rim_moved(j))) {
        refuse(Refused::pulleys_overlap, i, j, distance - rims, 0.0);
      }
      const Vec2& centre = wheel(i).centre_mm;
      const double gap = distance - around_.rims_mm[at(i)] - outer_radius_of_belt(j);
      if (gap >= best.gap_mm || !arc_faces(j, centre)) continue;
      keep_nearer(best, {Neighbour::pulley, i, -1, j, gap, on_arc(j, centre)});
    }
    finish(best, Refused::rubs_pulley);
  }

  void span_to_pulley(Approach& best, int span, int pulley) {
    const Vec2& centre = wheel(pulley).centre_mm;
    if (foot_is_off(span, centre)) return;
    const Vec2 point = nearest_on(segment(span), centre);
    if (!is_foot(span, point, centre)) return;
    const double reach = reach_towards(span, point, centre);
    const double gap = (point - centre).norm() - around_.rims_mm[at(pulley)] - reach;
    keep_nearer(best, {Neighbour::pulley, pulley, span, -1, gap, point});
  }

  template <class Look>
  void each_edge(int obstacle, const Look& look) const {
    const std::vector<Vec2>& points = around_.obstacles[at(obstacle)].points_mm;
    const std::size_t count = points.size();
    const bool all_round = around_.obstacles[at(obstacle)].kind == Outline::closed || count == 1;
    const std::size_t edges = all_round || count == 0 ? count : count - 1;
    for (std::size_t e = 0; e < edges; ++e) look(Segment{points[e], points[(e + 1) % count]});
  }

  void around_obstacle(int k) {
    Approach best = none(Neighbour::obstacle, k);
    each_edge(k, [&](const Segment& edge) {
      for (const int i : moved_arcs_) {
        if (span_moved(i)) span_to_edge(best, i, edge);
        arc_to_edge(best, i, edge);
      }
    });
    finish(best, Refused::rubs_obstacle);
  }

  // A rim is a disc: nothing of a line may lie in it, and a line that closes round it may.
  void rim_to_obstacle(int i, int k) {
    RimGap best{i, k, unsought_mm_, Vec2::Zero()};
    const Vec2& centre = wheel(i).centre_mm;
    const double rim = around_.rims_mm[at(i)];
    each_edge(k, [&](const Segment& edge) {
      if (apart(Box(edge), Box(centre), best.gap_mm + rim)) return;
      const Vec2 foot = nearest_on(edge, centre);
      const double gap = (foot - centre).norm() - rim;
      if (gap < best.gap_mm) best = {i, k, gap, foot};
    });
    if (best.gap_mm == unsought_mm_) return;
    result_.rims.push_back(best);
    if (best.gap_mm <= 0.0) refuse(Refused::pulley_meets_obstacle, i, k, best.gap_mm, 0.0);
  }

  void span_to_edge(Approach& best, int i, const Segment& edge) {
    if (apart(Box(segment(i)), Box(edge), best.gap_mm + greater_reach())) return;
    const Nearest near = nearest(segment(i), edge);
    const bool meet = near.distance_mm == 0.0;
    if (!meet && !is_foot(i, near.on_first, near.on_second)) return;
    const double reach = meet ? greater_reach() : reach_towards(i, near.on_first, near.on_second);
    const double gap = near.distance_mm - reach;
    keep_nearer(best, {Neighbour::obstacle, best.other, i, -1, gap, near.on_second});
  }

  void arc_to_edge(Approach& best, int i, const Segment& edge) {
    const Vec2& centre = wheel(i).centre_mm;
    const double radius = wheel(i).radius_mm;
    const double outer = outer_radius_of_belt(i);
    if (apart(Box(edge), Box(centre), std::max(radius, best.gap_mm + outer))) return;
    const auto consider = [&](const Vec2& point, double gap) {
      if (gap < best.gap_mm && arc_faces(i, point)) {
        best = {Neighbour::obstacle, best.other, -1, i, gap, point};
      }
    };
    const Vec2 foot = nearest_on(edge, centre);
    const double outside = (foot - centre).norm();
    if (outside >= radius) {
      consider(foot, outside - outer);
      return;
    }
    // Within the circle, whatever of the edge is nearest to the arc is an end or goes through it.
    for (const Vec2& end : {edge.start_mm, edge.end_mm}) {
      const double inside = (end - centre).norm();
      if (inside < radius) consider(end, inner_radius_of_belt(i) - inside);
    }
    const Vec2 along = edge.along();
    const Vec2 from = edge.start_mm - centre;
    const double a = along.squaredNorm();
    const double b = from.dot(along);
    const double root = b * b - a * (from.squaredNorm() - radius * radius);
    if (a == 0.0 || root < 0.0) return;
    for (const double sign : {-1.0, 1.0}) {
      const double share = (-b + sign * std::sqrt(root)) / a;
      if (share >= 0.0 && share <= 1.0) {
        consider(edge.start_mm + share * along, -greater_reach());
      }
    }
  }

  // Spans need no look at each other: two that draw together do so up to an arc that faces one of
  // them, or else they cross. Runs that face each other do so with one side of the belt: between
  // the left of one and the right of another lies a third.
  void own_runs() {
    Approach best = none(Neighbour::own_run, -1);
    for (int i = 0; i < count_; ++i) {
      for (const int j : arc_moved(i) ? all() : moved_arcs_) {
        if (j > i) two_arcs(best, i, j);
        if (!runs_on(j, i)) span_to_arc(best, j, i);
      }
    }
    finish(best, Refused::rubs_itself);
  }

  void two_arcs(Approach& best, int i, int j) {
    if (wheel(i).sense != wheel(j).sense) return;
    const double distance = (wheel(i).centre_mm - wheel(j).centre_mm).norm();
    const double gap = distance - outer_radius_of_belt(i) - outer_radius_of_belt(j);
    if (gap >= best.gap_mm) return;
    if (!arc_faces(i, wheel(j).centre_mm) || !arc_faces(j, wheel(i).centre_mm)) return;
    keep_nearer(best, {Neighbour::own_run, j, -1, i, gap, on_arc(i, wheel(j).centre_mm)});
  }

  void span_to_arc(Approach& best, int span, int i) {
    const Vec2& centre = wheel(i).centre_mm;
    if (foot_is_off(span, centre)) return;
    const Vec2 point = nearest_on(segment(span), centre);
    const double side = cross(path_.spans[at(span)].direction, centre - point);
    if (side * wheel(i).sense > 0.0) return;
    const double gap =
        (point - centre).norm() - outer_radius_of_belt(i) - reach_towards(span, point, centre);
    if (gap >= best.gap_mm) return;
    if (!is_foot(span, point, centre) || !arc_faces(i, point)) return;
    keep_nearer(best, {Neighbour::own_run, i, span, -1, gap, point});
  }

  void finish(const Approach& best, Refused reason) {
    if (best.gap_mm == unsought_mm_) return;
    result_.approaches.push_back(best);
    if (best.gap_mm > 0.0) return;
    const int piece = best.span >= 0 ? best.span : best.wheel;
    refuse(reason, piece, best.other, best.gap_mm, 0.0);
  }

  std::span<const Wheel> wheels_;
  const TangentPath& path_;
  const Surroundings& around_;
  int count_;
  Seek seek_;
  int moved_;
  // Spans and arcs that have moved; an arc does where its span does.
  std::vector<int> all_;
  std::array<int, 3> beside_{};
  std::span<const int> moved_spans_;
  std::span<const int> moved_arcs_;
  double unsought_mm_;  // a gap of this or more is of no interest
  BeltRun result_;
};

}  // namespace

BeltRun judge_run(std::span<const Wheel> wheels, const TangentPath& path,
                  const Surroundings& around) {
  return Judge(wheels, path, around, Seek::nearest).run();
}

std::vector<Refusal> reasons_against(std::span<const Wheel> wheels, const TangentPath& path,
                                     const Surroundings& around) {
  return Judge(wheels, path, around, Seek::touching).run().refused;
}

BeltRun judge_moved(std::span<const Wheel> wheels, const TangentPath& path,
                    const Surroundings& around, int moved) {
  return Judge(wheels, path, around, Seek::nearest, moved).run();
}

std::vector<Refusal> reasons_against_moved(std::span<const Wheel> wheels, const TangentPath& path,
                                           const Surroundings& around, int moved) {
  return Judge(wheels, path, around, Seek::touching, moved).run().refused;
}

bool can_run(std::span<const Wheel> wheels, const TangentPath& path, const Surroundings& around) {
  return Judge(wheels, path, around, Seek::any_refusal).run().refused.empty();
}

}  // namespace twoturn
