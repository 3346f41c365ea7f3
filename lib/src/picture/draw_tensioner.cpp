#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

void cross(std::vector<Item>& items, const Vec2& centre, double arm_mm) {
  items.push_back(
      {Line{centre - Vec2(arm_mm, 0.0), centre + Vec2(arm_mm, 0.0), Pen::outline, Arrow::none}});
  items.push_back(
      {Line{centre - Vec2(0.0, arm_mm), centre + Vec2(0.0, arm_mm), Pen::outline, Arrow::none}});
}

// The way the roller's centre travels, slack end to tight end.
void add_travel(std::vector<Item>& items, const SeenTensioner& tensioner, const Placing& placing) {
  if (const Swing* swing = tensioner.path.swing()) {
    items.push_back(
        {Arc{placing.point(swing->pivot_mm), placing.length(swing->arm_mm),
             placing.angle(swing->slack), swing->sense * swing->travel, Pen::guide, Arrow::none}});
    return;
  }
  const Slide& slide = *tensioner.path.slide();
  items.push_back({Line{placing.point(slide.slack_mm), placing.point(slide.tight_mm), Pen::guide,
                        Arrow::none}});
  for (const Vec2& end : {slide.slack_mm, slide.tight_mm}) {
    items.push_back({Circle{placing.point(end), 0.8, Pen::thin, Fill::paper}});
  }
}

void add_pointer(std::vector<Item>& items, const SeenTensioner& tensioner, double reach_mm,
                 const Placing& placing) {
  const Swing* swing = tensioner.path.swing();
  if (!swing || !tensioner.setting.pointer_deg) return;
  const Angle direction = placing.angle(Angle::clock(*tensioner.setting.pointer_deg));
  const Vec2 pivot = placing.point(swing->pivot_mm);
  items.push_back(
      {Line{pivot, pivot + reach_mm * towards(direction), Pen::outline, Arrow::at_end}});
}

Group ghost(const Setting& setting, double radius_mm, const Placing& placing) {
  Group group{
      "the other setting that gives the same belt length", {}, "other-setting", std::nullopt};
  group.items.push_back({Circle{placing.point(setting.centre_mm), placing.length(radius_mm),
                                Pen::hidden, Fill::none}});
  return group;
}

// What a close-up says beside its ring, each at a direction from the pivot.
struct Spoke {
  Angle direction;
  std::vector<std::string> words;
  Pen pen = Pen::thin;
  double from_mm = 0.0;
  double to_mm = 0.0;
};

std::string travel_words(const Setting& setting) {
  return "travel " + fixed(setting.travel, 2) + " of 1";
}

class EccentricCloseUp {
 public:
  EccentricCloseUp(const BeltView& view, double scale)
      : tensioner_(*view.tensioner), swing_(*tensioner_.path.swing()) {
    placing_.lean = view.lean;
    placing_.scale = scale;
    placing_.origin_mm = -placing_.scale * turned(swing_.pivot_mm, view.lean);
    roller_mm_ = placing_.length(view.pulleys[at(tensioner_.pulley)].outside_radius_mm);
    ring_mm_ = roller_mm_ + placing_.length(swing_.arm_mm) + 2.5;
  }

  Panel draw() {
    Panel panel;
    Group parts{"the eccentric", {}, "eccentric", std::nullopt};
    add_parts(parts.items);
    panel.items.push_back({std::move(parts)});
    constexpr double kColumnMm = 66.0;
    const double half = std::max(kColumnMm / 2.0, ring_mm_ + kRoomMm);
    const Box paper{Vec2(-half, -ring_mm_ - kRoomUpMm), Vec2(half, ring_mm_ + kRoomUpMm)};
    LabelPlacer placer(paper);
    placer.circle(Vec2::Zero(), ring_mm_);
    placer.circle(placing_.point(tensioner_.setting.centre_mm), roller_mm_);
    keep_off_lines(placer);
    std::vector<Wanted> words;
    for (const Spoke& spoke : spokes()) words.push_back(put_spoke(panel, spoke));
    words.push_back(spanner_words());
    for (Item& item : placer.place(words)) panel.items.push_back(std::move(item));
    panel.crop();
    return panel;
  }

 private:
  static constexpr double kRoomMm = 5.0;
  static constexpr double kRoomUpMm = 20.0;
  static constexpr double kSpannerMm = 0.55;  // of the roller's radius

  void add_parts(std::vector<Item>& items) {
    const Setting& setting = tensioner_.setting;
    for (const Setting& other : tensioner_.others) {
      items.push_back({ghost(other, roller_mm_ / placing_.scale, placing_)});
    }
    const Vec2 centre = placing_.point(setting.centre_mm);
    items.push_back({Circle{centre, roller_mm_, Pen::outline, Fill::none}});
    constexpr double kCentreMm = 0.9;
    items.push_back({Circle{centre, kCentreMm, Pen::thin, Fill::ink}});
    cross(items, Vec2::Zero(), 2.2);
    items.push_back({Line{Vec2::Zero(), centre, Pen::outline, Arrow::none}});
    items.push_back({Arc{Vec2::Zero(), ring_mm_, placing_.angle(swing_.slack),
                         swing_.sense * swing_.travel, Pen::thin, Arrow::none}});
    add_travel(items, tensioner_, placing_);
    add_pointer(items, tensioner_, ring_mm_ + 1.5, placing_);
    add_spanner(items);
  }

  // Round the pivot, the way that tightens.
  void add_spanner(std::vector<Item>& items) {
    const double sense = tensioner_.tightens == Turn::anticlockwise ? 1.0 : -1.0;
    constexpr double kSweepDeg = 100.0;
    spanner_middle_ = placing_.angle(
        Angle::radians(std::atan2(-(tensioner_.setting.centre_mm - swing_.pivot_mm).y(),
                                  -(tensioner_.setting.centre_mm - swing_.pivot_mm).x())));
    const Angle half = Angle::degrees(sense * kSweepDeg / 2.0);
    items.push_back({Arc{Vec2::Zero(), kSpannerMm * roller_mm_, spanner_middle_ - half, 2.0 * half,
                         Pen::heavy, Arrow::at_end}});
  }

  void keep_off_lines(LabelPlacer& placer) const {
    placer.circle(Vec2::Zero(), kSpannerMm * roller_mm_);
    placer.line(Vec2::Zero(), placing_.point(tensioner_.setting.centre_mm));
    for (const Setting& other : tensioner_.others) {
      placer.circle(placing_.point(other.centre_mm), roller_mm_);
    }
    for (const Spoke& spoke : spokes()) {
      const Vec2 out = towards(spoke.direction);
      placer.line(spoke.from_mm * out, spoke.to_mm * out);
    }
  }

  std::vector<Spoke> spokes() const {
    std::vector<Spoke> list;
    const double out = ring_mm_ + 1.5;
    const Setting& setting = tensioner_.setting;
    list.push_back({placing_.angle(Angle::clock(setting.reading.value)),
                    {"roller: set here", travel_words(setting)},
                    Pen::outline,
                    ring_mm_ - 1.5,
                    out});
    if (setting.pointer_deg) {
      list.push_back({placing_.angle(Angle::clock(*setting.pointer_deg)),
                      {"pointer"},
                      Pen::thin,
                      ring_mm_,
                      ring_mm_ + 1.5});
    }
    const Angle tight = swing_.slack + swing_.sense * swing_.travel;
    list.push_back({placing_.angle(swing_.slack), {"slack end"}, Pen::thin, ring_mm_ - 1.5, out});
    list.push_back({placing_.angle(tight), {"tight end"}, Pen::thin, ring_mm_ - 1.5, out});
    for (const Setting& other : tensioner_.others) {
      const std::string why = other.in_travel ? "past over centre" : "out of its travel";
      list.push_back({placing_.angle(Angle::clock(other.reading.value)),
                      {"not here:", why},
                      Pen::hidden,
                      0.0,
                      out});
    }
    return list;
  }

  static Wanted put_spoke(Panel& panel, const Spoke& spoke) {
    const Vec2 out = towards(spoke.direction);
    panel.add(Line{spoke.from_mm * out, spoke.to_mm * out, spoke.pen, Arrow::none});
    Wanted wanted;
    for (const std::string& words : spoke.words)
      wanted.words.lines.push_back({words, Weight::plain});
    if (spoke.pen == Pen::outline) wanted.words.lines.front().weight = Weight::bold;
    wanted.anchor_mm = spoke.to_mm * out;
    wanted.radius_mm = 0.8;
    wanted.rather_along = spoke.direction;
    return wanted;
  }

  Wanted spanner_words() const {
    Wanted wanted;
    wanted.words.lines = {{"spanner", Weight::bold}, {"this way", Weight::bold}};
    const double radius = kSpannerMm * roller_mm_;
    wanted.anchor_mm = radius * towards(spanner_middle_);
    // Inside the arrow where that leaves it to be seen.
    constexpr double kRoomInsideMm = 10.5;
    if (radius > kRoomInsideMm) {
      wanted.rather_at_mm = {0.1 * radius * towards(spanner_middle_) + Vec2(0.0, -0.2 * radius)};
    }
    wanted.radius_mm = 1.0;
    return wanted;
  }

  const SeenTensioner& tensioner_;
  const Swing& swing_;
  Placing placing_;
  double roller_mm_ = 0.0;
  double ring_mm_ = 0.0;
  Angle spanner_middle_;
};

}  // namespace

Group tensioner(const BeltView& view, const Placing& placing) {
  const SeenTensioner& seen = *view.tensioner;
  const SeenPulley& roller = view.pulleys[at(seen.pulley)];
  Group group{"tensioner, where it stands", {}, "tensioner", std::nullopt};
  for (const Setting& other : seen.others) {
    group.items.push_back({ghost(other, roller.outside_radius_mm, placing)});
  }
  add_travel(group.items, seen, placing);
  if (const Swing* swing = seen.path.swing()) {
    const Vec2 pivot = placing.point(swing->pivot_mm);
    group.items.push_back(
        {Line{pivot, placing.point(seen.setting.centre_mm), Pen::outline, Arrow::none}});
    constexpr double kPivotMm = 0.9;
    group.items.push_back({Circle{pivot, kPivotMm, Pen::thin, Fill::ink}});
    constexpr double kBeyondMm = 5.0;
    add_pointer(group.items, seen, placing.length(roller.outside_radius_mm) + kBeyondMm, placing);
  }
  return group;
}

std::optional<SizedPanel> eccentric_panel(const BeltView& view, double view_scale,
                                          double most_times) {
  if (!view.tensioner || !view.tensioner->path.swing()) return std::nullopt;
  const Swing& swing = *view.tensioner->path.swing();
  const SeenPulley& roller = view.pulleys[at(view.tensioner->pulley)];
  constexpr double kMostRadiusMm = 32.0;
  const double radius = view_scale * (roller.outside_radius_mm + swing.arm_mm);
  const double times = std::min(most_times, kMostRadiusMm / radius);
  return SizedPanel{EccentricCloseUp(view, times * view_scale).draw(), times};
}

}  // namespace twoturn::draw
