#include "twoturn/picture/two_turns.hpp"

#include <algorithm>
#include <cmath>

#include "draw_parts.hpp"

namespace twoturn {

using namespace scene;

namespace {

constexpr double kTurnDeg = 360.0;
constexpr double kStepDeg = 2.0;
constexpr double kHoleMm = 10.0;
constexpr double kBetweenMm = 4.0;
constexpr double kWordsMm = 13.0;  // round the outer ring

// Between neighbours, round and round.
double value_at(const std::vector<Vec2>& points, double crank_deg) {
  const auto next = std::lower_bound(points.begin(), points.end(), crank_deg,
                                     [](const Vec2& point, double deg) { return point.x() < deg; });
  const Vec2& after = next == points.end() ? points.front() : *next;
  const Vec2& before = next == points.begin() ? points.back() : *(next - 1);
  const double gap = after.x() - before.x();
  const double whole = gap <= 0.0 ? gap + 2.0 * kTurnDeg : gap;
  const double in = crank_deg - before.x();
  const double share = std::clamp((in < 0.0 ? in + 2.0 * kTurnDeg : in) / whole, 0.0, 1.0);
  return before.y() + share * (after.y() - before.y());
}

class Winder {
 public:
  explicit Winder(const TwoTurns& turns)
      : turns_(turns),
        inner_mm_(kHoleMm + turns.inwards_mm),
        ring_mm_(turns.outwards_mm + kBetweenMm + turns.inwards_mm),
        edge_mm_(inner_mm_ + ring_mm_ + turns.outwards_mm) {}

  Scene draw() {
    Scene scene;
    scene.title = turns_.title;
    constexpr double kTitleMm = 8.0;
    const double half = edge_mm_ + kWordsMm;
    scene.corner_mm = Vec2::Constant(-half);
    scene.size_mm = Vec2(2.0 * half, 2.0 * half + kTitleMm);
    LabelPlacer placer(Box{Vec2::Constant(-half), Vec2::Constant(half)});
    for (int turn = 0; turn < 2; ++turn) add_ring(scene, turn, placer);
    add_ticks(scene, placer);
    scene.add(direction());
    scene.add(hand(placer));
    std::vector<Wanted> wanted;
    for (const TwoTurns::Word& word : turns_.words) add_word(scene, word, wanted);
    scene.add(Group{"what each hump is", placer.place(wanted), "plot-names", std::nullopt});
    for (int turn = 0; turn < 2; ++turn) scene.add(hand_dot(turn));
    Label title = draw::text_at(Vec2(2.0 - half, half + 2.0), turns_.title);
    title.weight = Weight::bold;
    scene.add(std::move(title));
    return scene;
  }

 private:
  double base_mm(int turn) const { return inner_mm_ + turn * ring_mm_; }

  Angle angle(double crank_deg) const {
    return turns_.start + Angle::degrees(turns_.sense * crank_deg);
  }

  Vec2 place(double crank_deg, double radius_mm) const {
    return radius_mm * draw::towards(angle(crank_deg));
  }

  void add_ring(Scene& scene, int turn, LabelPlacer& placer) const {
    for (const TwoTurns::Track& track : turns_.tracks) {
      Group group{track.name, {}, "two-turns-track", std::nullopt};
      add_track(group, track, turn);
      scene.add(std::move(group));
    }
    const double base = base_mm(turn);
    scene.add(Circle{Vec2::Zero(), base, Pen::outline, Fill::none});
    scene.add(Circle{Vec2::Zero(), base + turns_.outwards_mm, Pen::contour, Fill::none});
    placer.circle(Vec2::Zero(), base);
  }

  double radius(const TwoTurns::Track& track, int turn, double value) const {
    return std::max(1.0, base_mm(turn) + track.mm_per_unit * value);
  }

  // Each piece in which the value is away from its rest.
  void add_track(Group& group, const TwoTurns::Track& track, int turn) const {
    constexpr double kAwayMm = 0.05;
    const double rest = radius(track, turn, track.rest);
    const int steps = static_cast<int>(kTurnDeg / kStepDeg);
    std::vector<Vec2> out;
    std::vector<Vec2> back;
    const auto close = [&] {
      if (out.size() > 1) {
        out.insert(out.end(), back.rbegin(), back.rend());
        group.items.push_back({Area{{out}, track.fill, Pen::thin}});
      }
      out.clear();
      back.clear();
    };
    for (int k = 0; k <= steps; ++k) {
      const double deg = k * kStepDeg;
      const double here = radius(track, turn, value_at(track.points, turn * kTurnDeg + deg));
      if (std::abs(here - rest) < kAwayMm) {
        close();
        continue;
      }
      out.push_back(place(deg, here));
      back.push_back(place(deg, rest));
    }
    close();
  }

  void add_ticks(Scene& scene, LabelPlacer& placer) const {
    Group group{"in every turn", {}, "two-turns-ticks", std::nullopt};
    std::vector<Wanted> wanted;
    for (const TwoTurns::Tick& tick : turns_.ticks) {
      group.items.push_back({Line{place(tick.crank_deg, kHoleMm),
                                  place(tick.crank_deg, edge_mm_ + 2.0), Pen::guide, Arrow::none}});
      Wanted one;
      one.words.lines = {{tick.words}};
      one.anchor_mm = place(tick.crank_deg, edge_mm_ + 2.5);
      one.radius_mm = 0.8;
      one.rather_along = angle(tick.crank_deg);
      wanted.push_back(std::move(one));
    }
    placer.circle(Vec2::Zero(), edge_mm_);
    for (Item& item : placer.place(wanted)) {
      placer.keep_clear(box_of(item));
      group.items.push_back(std::move(item));
    }
    scene.add(std::move(group));
  }

  Arc direction() const {
    constexpr double kRadiusMm = 5.5;
    constexpr double kSweepDeg = 230.0;
    const Angle half = Angle::degrees(turns_.sense * kSweepDeg / 2.0);
    const Angle middle = turns_.start + Angle::degrees(180.0);
    return Arc{Vec2::Zero(), kRadiusMm, middle - half, 2.0 * half, Pen::outline, Arrow::at_end};
  }

  Group hand(LabelPlacer& placer) const {
    Group group{"where the crank's mark points", {}, "hand", Vec2::Zero()};
    const Vec2 tip = place(0.0, edge_mm_ + 4.5);
    group.items.push_back({Line{place(0.0, kHoleMm - 2.0), tip, Pen::outline, Arrow::none}});
    group.items.push_back({draw::triangle(tip, turns_.start, 3.4, Fill::ink)});
    placer.line(place(0.0, kHoleMm), tip);
    return group;
  }

  Group hand_dot(int turn) const {
    Group group{"on this ring", {}, turn == 0 ? "hand-first" : "hand-second", Vec2::Zero()};
    constexpr double kDotMm = 1.6;
    if (turn == 0) {
      group.items.push_back({Circle{place(0.0, base_mm(turn)), kDotMm, Pen::thin, Fill::ink}});
    } else {
      group.items.push_back({Circle{place(0.0, base_mm(turn)), kDotMm, Pen::outline, Fill::paper}});
    }
    return group;
  }

  void add_word(Scene& scene, const TwoTurns::Word& word, std::vector<Wanted>& wanted) const {
    const TwoTurns::Track& track = turns_.tracks[word.track];
    const int turn = word.crank_deg < kTurnDeg ? 0 : 1;
    const Vec2 at = place(word.crank_deg, radius(track, turn, word.value));
    constexpr double kRingMm = 1.1;
    scene.add(Group{word.words,
                    {{Circle{at, kRingMm, Pen::outline, Fill::paper}}},
                    "plot-point",
                    std::nullopt});
    Wanted one;
    constexpr double kWidthMm = 34.0;
    for (std::string& line : lines_within(word.words, kWidthMm, kLeastTextMm)) {
      one.words.lines.push_back({std::move(line)});
    }
    one.anchor_mm = at;
    one.radius_mm = 1.6;
    one.rather_along = angle(word.crank_deg);
    wanted.push_back(std::move(one));
  }

  const TwoTurns& turns_;
  double inner_mm_;  // of the first turn, where nothing is
  double ring_mm_;   // from one turn to the next
  double edge_mm_;
};

}  // namespace

Scene two_turns_scene(const TwoTurns& turns) { return Winder(turns).draw(); }

}  // namespace twoturn
