#include "twoturn/geometry/belt_run.hpp"

#include <cmath>
#include <limits>

#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

// Walks every pair of belt pieces and foreign bodies once. Arcs answer only where the nearest point
// lies inside the arc: an arc's ends are ends of spans, which answer for themselves.
class Judge {
 public:
  Judge(std::span<const Wheel> wheels, const TangentPath& path, const Surroundings& around)
      : wheels_(wheels), path_(path), around_(around), count_(static_cast<int>(wheels.size())) {
    TWOTURN_ASSERT(around.rims_mm.size() == wheels.size(),
                   static_cast<double>(around.rims_mm.size()));
  }

  BeltRun run() {
    whole_turn();
    crossings();
    for (int i = 0; i < count_; ++i) around_pulley(i);
    for (int k = 0; k < static_cast<int>(around_.obstacles.size()); ++k) around_obstacle(k);
    own_runs();
    return std::move(result_);
  }

 private:
  int next(int i) const { return i + 1 == count_ ? 0 : i + 1; }
  int previous(int i) const { return i == 0 ? count_ - 1 : i - 1; }
  const Wheel& wheel(int i) const { return wheels_[at(i)]; }
  Segment segment(int i) const { return {path_.spans[at(i)].start_mm, path_.spans[at(i)].end_mm}; }
  bool runs_on(int span, int pulley) const { return span == pulley || next(span) == pulley; }

  void refuse(Refused reason, int first, int second, double value, double limit) {
    result_.refused.push_back({reason, first, second, value, limit});
  }

  // Reach of the belt's body from its pitch line, on the side of a span where `point` lies.
  double reach_towards(int span, const Vec2& on_span, const Vec2& point) const {
    const double side = cross(path_.spans[at(span)].direction, point - on_span);
    return side >= 0.0 ? around_.body.left_mm : around_.body.right_mm;
  }

  double outer_radius_of_belt(int i) const {
    const double reach = wheel(i).sense > 0 ? around_.body.right_mm : around_.body.left_mm;
    return wheel(i).radius_mm + reach;
  }

  bool belt_lies_towards(int i, const Vec2& point) const {
    const Vec2 arm = point - wheel(i).centre_mm;
    const Angle towards = Angle::radians(std::atan2(arm.y(), arm.x()));
    return in_arc(towards, entry_angle(wheel(i), path_, i), path_.wraps[at(i)], wheel(i).sense);
  }

  void whole_turn() {
    const double turns = signed_turn(wheels_, path_).radians() / kFullTurn;
    constexpr double kFarFromWhole = 1e-6;  // sums are whole up to rounding; seams add whole turns
    if (std::abs(std::abs(turns) - 1.0) > kFarFromWhole) {
      refuse(Refused::not_one_turn, -1, -1, turns, 1.0);
    }
  }

  void crossings() {
    for (int i = 0; i < count_; ++i) {
      for (int j = i + 1; j < count_; ++j) {
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
    approach.gap_mm = std::numeric_limits<double>::infinity();
    return approach;
  }

  void around_pulley(int i) {
    Approach best = none(Neighbour::pulley, i);
    for (int j = 0; j < count_; ++j) {
      if (!runs_on(j, i)) keep_nearer(best, span_to_pulley(j, i));
    }
    for (int j = 0; j < count_; ++j) {
      if (j == i) continue;
      const double distance = (wheel(i).centre_mm - wheel(j).centre_mm).norm();
      const double rims = around_.rims_mm[at(i)] + around_.rims_mm[at(j)];
      if (j > i && distance < rims) {
        refuse(Refused::pulleys_overlap, i, j, distance - rims, 0.0);
      }
      if (!belt_lies_towards(j, wheel(i).centre_mm)) continue;
      const double gap = distance - around_.rims_mm[at(i)] - outer_radius_of_belt(j);
      keep_nearer(best, {Neighbour::pulley, i, -1, j, gap, wheel(i).centre_mm});
    }
    finish(best, Refused::rubs_pulley);
  }

  Approach span_to_pulley(int span, int pulley) const {
    const Vec2& centre = wheel(pulley).centre_mm;
    const Vec2 point = nearest_on(segment(span), centre);
    const double reach = reach_towards(span, point, centre);
    const double gap = (point - centre).norm() - around_.rims_mm[at(pulley)] - reach;
    return {Neighbour::pulley, pulley, span, -1, gap, point};
  }

  void around_obstacle(int k) {
    const Obstacle& obstacle = around_.obstacles[at(k)];
    Approach best = none(Neighbour::obstacle, k);
    const std::size_t count = obstacle.points_mm.size();
    const std::size_t edges = obstacle.kind == Outline::closed ? count : count - 1;
    for (std::size_t e = 0; e < edges; ++e) {
      const Segment edge{obstacle.points_mm[e], obstacle.points_mm[(e + 1) % count]};
      for (int i = 0; i < count_; ++i) {
        const Nearest near = nearest(segment(i), edge);
        const double reach = reach_towards(i, near.on_first, near.on_second);
        keep_nearer(best,
                    {Neighbour::obstacle, k, i, -1, near.distance_mm - reach, near.on_second});
        edge_to_arc(best, edge, k, i);
      }
    }
    finish(best, Refused::rubs_obstacle);
  }

  void edge_to_arc(Approach& best, const Segment& edge, int k, int i) {
    const Vec2& centre = wheel(i).centre_mm;
    const auto consider = [&](const Vec2& point) {
      if (!belt_lies_towards(i, point)) return;
      const double gap = (point - centre).norm() - outer_radius_of_belt(i);
      keep_nearer(best, {Neighbour::obstacle, k, -1, i, gap, point});
    };
    consider(nearest_on(edge, centre));
    // An edge that pierces the arc although its own nearest point lies outside the arc's sector.
    const Vec2 along = edge.along();
    const Vec2 from = edge.start_mm - centre;
    const double a = along.squaredNorm();
    const double b = from.dot(along);
    const double c = from.squaredNorm() - wheel(i).radius_mm * wheel(i).radius_mm;
    const double root = b * b - a * c;
    if (a == 0.0 || root < 0.0) return;
    for (const double sign : {-1.0, 1.0}) {
      const double share = (-b + sign * std::sqrt(root)) / a;
      if (share >= 0.0 && share <= 1.0) consider(edge.start_mm + share * along);
    }
  }

  void own_runs() {
    Approach best = none(Neighbour::own_run, -1);
    for (int i = 0; i < count_; ++i) {
      for (int j = i + 1; j < count_; ++j) {
        if (next(i) == j || next(j) == i) {
          spans_of_one_wheel(best, i, j);
        } else {
          two_spans(best, i, j, nearest(segment(i), segment(j)));
        }
        two_arcs(best, i, j);
      }
      for (int j = 0; j < count_; ++j) {
        if (!runs_on(j, i)) span_to_arc(best, j, i);
      }
    }
    finish(best, Refused::rubs_itself);
  }

  void two_spans(Approach& best, int i, int j, const Nearest& near) {
    const double reach = reach_towards(i, near.on_first, near.on_second) +
                         reach_towards(j, near.on_second, near.on_first);
    keep_nearer(best, {Neighbour::own_run, j, i, -1, near.distance_mm - reach, near.on_first});
  }

  // The two spans of one wheel are nearest at the wheel, where they belong, unless it turns the
  // belt more than half round: then they draw together, and only their far ends can meet.
  void spans_of_one_wheel(Approach& best, int i, int j) {
    if (count_ == 2) return;
    const int shared = next(i) == j ? j : i;
    if (path_.wraps[at(shared)].radians() <= kPi) return;
    const int in = previous(shared);
    const Vec2 far_in = segment(in).start_mm;
    const Vec2 far_out = segment(shared).end_mm;
    const Vec2 beside_in = nearest_on(segment(shared), far_in);
    const Vec2 beside_out = nearest_on(segment(in), far_out);
    two_spans(best, in, shared, {far_in, beside_in, (far_in - beside_in).norm()});
    two_spans(best, in, shared, {beside_out, far_out, (far_out - beside_out).norm()});
  }

  void two_arcs(Approach& best, int i, int j) {
    if (!belt_lies_towards(i, wheel(j).centre_mm)) return;
    if (!belt_lies_towards(j, wheel(i).centre_mm)) return;
    const double distance = (wheel(i).centre_mm - wheel(j).centre_mm).norm();
    const double gap = distance - outer_radius_of_belt(i) - outer_radius_of_belt(j);
    keep_nearer(best, {Neighbour::own_run, j, -1, i, gap, wheel(i).centre_mm});
  }

  void span_to_arc(Approach& best, int span, int i) {
    const Vec2& centre = wheel(i).centre_mm;
    const Vec2 point = nearest_on(segment(span), centre);
    if (!belt_lies_towards(i, point)) return;
    const double gap =
        (point - centre).norm() - outer_radius_of_belt(i) - reach_towards(span, point, centre);
    keep_nearer(best, {Neighbour::own_run, i, span, -1, gap, point});
  }

  void finish(const Approach& best, Refused reason) {
    if (std::isinf(best.gap_mm)) return;
    result_.approaches.push_back(best);
    if (best.gap_mm > 0.0) return;
    const int piece = best.span >= 0 ? best.span : best.wheel;
    refuse(reason, piece, best.other, best.gap_mm, 0.0);
  }

  std::span<const Wheel> wheels_;
  const TangentPath& path_;
  const Surroundings& around_;
  int count_;
  BeltRun result_;
};

}  // namespace

BeltRun judge_run(std::span<const Wheel> wheels, const TangentPath& path,
                  const Surroundings& around) {
  return Judge(wheels, path, around).run();
}

bool can_run(std::span<const Wheel> wheels, const TangentPath& path, const Surroundings& around) {
  return judge_run(wheels, path, around).refused.empty();
}

}  // namespace twoturn
