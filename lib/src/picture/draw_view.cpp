#include <algorithm>
#include <array>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/picture/draw.hpp"
#include "words/sentences.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

// Where words about the whole would rather not stand: over the parts.
void tell_lines(const BeltView& view, const Placing& placing, LabelPlacer& placer) {
  for (const SeenPulley& pulley : view.pulleys) {
    const Vec2 centre = placing.point(pulley.centre_mm);
    placer.circle(centre, placing.length(pulley.pitch_radius_mm));
    constexpr double kUnderTeeth = 0.85;
    placer.circle(centre, kUnderTeeth * placing.length(pulley.pitch_radius_mm));
    placer.disc(centre, placing.length(pulley.pitch_radius_mm));
  }
  for (const SeenRun& run : view.runs) {
    placer.line(placing.point(run.start_mm), placing.point(run.end_mm));
  }
  for (const CoverSpec& cover : view.covers) {
    for (std::size_t i = 1; i < cover.points_mm.size(); ++i) {
      placer.line(placing.point(cover.points_mm[i - 1]), placing.point(cover.points_mm[i]));
    }
  }
}

void keep_marks_clear(const std::vector<Item>& marks, LabelPlacer& placer) {
  for (const Item& item : marks) placer.keep_clear(box_of(item));
}

class Namer {
 public:
  Namer(const BeltView& view, const Placing& placing, LabelPlacer& placer, Group& group)
      : view_(view), placing_(placing), placer_(placer), group_(group) {}

  void put_all(Said said) {
    said_ = said;
    for (const Side side : {Side::tight, Side::slack}) put_arrow(side);
    if (said == Said::all) {
      for (const SeenMark& mark : view_.marks) put_mark(mark);
      for (const SeenCount& count : view_.counts) put_count(count);
      for (std::size_t i = 0; i < view_.covers.size(); ++i) put_cover(i);
    }
    for (std::size_t i = 0; i < view_.pulleys.size(); ++i) put_name(i);
    for (Item& item : placer_.place(wanted_)) group_.items.push_back(std::move(item));
  }

 private:
  void put(Wanted wanted) { wanted_.push_back(std::move(wanted)); }

  void put_name(std::size_t i) {
    const SeenPulley& pulley = view_.pulleys[i];
    Wanted wanted;
    if (numbered(pulley.name)) {
      wanted.words.lines = {{std::to_string(i + 1), Weight::bold}};
      wanted.words.height_mm = 3.2;
    } else {
      wanted.words.lines = {{pulley.name, Weight::bold}};
      if (said_ == Said::all) wanted.words.lines.push_back({size_words(pulley), Weight::plain});
    }
    const double radius = placing_.length(pulley.outside_radius_mm);
    wanted.anchor_mm = placing_.point(pulley.centre_mm);
    wanted.names_disc = true;
    constexpr double kBeltMm = 2.5;
    wanted.radius_mm = radius + kBeltMm;
    // Inside where there is room under the teeth, below the hub.
    const Vec2 size = wanted.words.size_mm();
    constexpr double kHubMm = 1.8;
    const double tails = 0.35 * wanted.words.height_mm;
    const double corner = std::hypot(size.x() / 2.0, kHubMm + size.y() - 2.0 * tails);
    constexpr double kUnderTeeth = 0.86;
    if (i > 0 && corner < kUnderTeeth * radius) {
      wanted.rather_at_mm = wanted.anchor_mm - Vec2(0.0, kHubMm + size.y() / 2.0 - tails);
    }
    wanted.rather_along = placing_.angle(away_from_belt(i));
    put(std::move(wanted));
  }

  // The side of a pulley on which no belt is.
  Angle away_from_belt(std::size_t i) const {
    const SeenPulley& pulley = view_.pulleys[i];
    return pulley.entry + pulley.sense * pulley.wrap / 2.0 + Angle::degrees(180.0);
  }

  void put_mark(const SeenMark& mark) {
    const bool says_name = !mark.name.empty();
    constexpr double kShownDeg = 0.05;
    const bool off = std::abs(mark.error_crank_deg) >= kShownDeg;
    if (!says_name && !off) return;
    Wanted wanted;
    if (says_name) {
      wanted.words.lines.push_back({mark.name.size() > kLongestName ? "mark" : mark.name});
    }
    if (off) {
      const SeenPulley& of = view_.pulleys[at(mark.pulley)];
      wanted.words.lines.push_back(
          {"mark of " + (numbered(of.name) ? std::to_string(mark.pulley + 1) : of.name),
           Weight::bold});
      wanted.words.lines.push_back(
          {fixed(std::abs(mark.error_crank_deg), 1) + " crank deg " +
               std::string(sentences::early_or_late(mark.error_crank_deg, view_.direction)),
           Weight::bold});
    }
    const SeenPulley& pulley = view_.pulleys[at(mark.pulley)];
    const Angle direction = placing_.angle(mark.at);
    constexpr double kBeyondMm = 4.0;
    const double radius = placing_.length(std::max(pulley.pitch_radius_mm, mark.radius_mm));
    wanted.anchor_mm = placing_.point(pulley.centre_mm) + (radius + kBeyondMm) * towards(direction);
    wanted.radius_mm = 2.0;
    wanted.rather_along = direction;
    put(std::move(wanted));
  }

  void put_count(const SeenCount& count) {
    Wanted wanted;
    wanted.words.lines = {{teeth_words(count, count.teeth), Weight::bold}, {"teeth"}};
    wanted.anchor_mm = placing_.point(count.at_mm);
    constexpr double kOffMm = 2.0;
    wanted.radius_mm = kOffMm;
    wanted.rather_along = outwards(count.at_mm);
    put(std::move(wanted));
  }

  // Away from the middle of the drive.
  Angle outwards(const Vec2& engine_mm) const {
    Vec2 middle = Vec2::Zero();
    for (const SeenPulley& pulley : view_.pulleys) middle += pulley.centre_mm;
    const Vec2 out = engine_mm - middle / static_cast<double>(view_.pulleys.size());
    return placing_.angle(Angle::radians(std::atan2(out.y(), out.x())));
  }

  // An arrow along the longest run of each side; what it is follows once the names have room.
  void put_arrow(Side side) {
    const SeenRun* longest = nullptr;
    for (const SeenRun& run : view_.runs) {
      if (run.side != side) continue;
      if (!longest || length(run) > length(*longest)) longest = &run;
    }
    if (!longest) return;
    const Vec2 start = placing_.point(longest->start_mm);
    const Vec2 along = (placing_.point(longest->end_mm) - start).normalized();
    const double to_back = view_.teeth_on_left ? -1.0 : 1.0;
    constexpr double kOffMm = 3.4;
    constexpr double kArrowMm = 12.0;
    constexpr double kWhere = 0.33;
    const Vec2 beside = to_back * kOffMm * Vec2(-along.y(), along.x());
    const double run_mm = placing_.length(length(*longest));
    const double arrow = std::min(kArrowMm, 0.6 * run_mm);
    const Vec2 middle = start + kWhere * run_mm * along + beside;
    const Vec2 from = middle - arrow / 2.0 * along;
    group_.items.push_back({Line{from, from + arrow * along, Pen::thin, Arrow::at_end}});
    constexpr int kPieces = 8;
    for (int k = 0; k <= kPieces; ++k) {
      const Vec2 here = from + arrow * k / kPieces * along;
      placer_.keep_clear({here - Vec2::Constant(0.6), here + Vec2::Constant(0.6)});
    }
    if (said_ != Said::all) return;
    Wanted wanted;
    wanted.words.lines = {{side == Side::tight ? "tight side" : "slack side"}};
    wanted.most_away_mm = 4.0;
    wanted.anchor_mm = middle;
    wanted.radius_mm = 1.5;
    wanted.rather_along = Angle::radians(std::atan2(beside.y(), beside.x()));
    put(std::move(wanted));
  }

  static double length(const SeenRun& run) { return (run.end_mm - run.start_mm).norm(); }

  void put_cover(std::size_t i) {
    const CoverSpec& cover = view_.covers[i];
    if (cover.points_mm.empty()) return;
    Wanted wanted;
    const std::string letter(1, static_cast<char>('A' + i % 26));
    wanted.words.lines = {{numbered(cover.name) ? letter : cover.name}};
    wanted.anchor_mm = placing_.point(cover.points_mm[cover.points_mm.size() / 2]);
    wanted.radius_mm = 1.5;
    wanted.rather_along = outwards(cover.points_mm[cover.points_mm.size() / 2]);
    put(std::move(wanted));
  }

  const BeltView& view_;
  const Placing& placing_;
  LabelPlacer& placer_;
  Group& group_;
  std::vector<Wanted> wanted_;
  Said said_ = Said::all;
};

}  // namespace

Vec2 turned(const Vec2& point, Angle by) {
  const double c = std::cos(by.radians());
  const double s = std::sin(by.radians());
  return {c * point.x() - s * point.y(), s * point.x() + c * point.y()};
}

Vec2 towards(Angle angle) { return {std::cos(angle.radians()), std::sin(angle.radians())}; }

Vec2 Placing::point(const Vec2& engine_mm) const {
  return origin_mm + scale * turned(engine_mm, lean);
}

bool numbered(const std::string& name) { return name.size() > kLongestName; }

std::string size_words(const SeenPulley& pulley) {
  if (pulley.teeth > 0) return counted(pulley.teeth, "tooth", "teeth");
  return "smooth, " + shortest(2.0 * pulley.outside_radius_mm, 1) + " mm";
}

std::string teeth_words(const SeenCount& count, double teeth) {
  return fixed(teeth, count.countable ? 0 : 1);
}

Box extent_mm(const BeltView& view) {
  Box box{Vec2::Constant(1e9), Vec2::Constant(-1e9)};
  const auto grow = [&](const Vec2& point, double by) {
    const Vec2 here = turned(point, view.lean);
    box.least_mm = box.least_mm.cwiseMin(here - Vec2::Constant(by));
    box.most_mm = box.most_mm.cwiseMax(here + Vec2::Constant(by));
  };
  for (const SeenPulley& pulley : view.pulleys) {
    const double belt = pulley.pitch_radius_mm + view.back_to_pitch_line_mm.value_or(1.0);
    grow(pulley.centre_mm, std::max(belt, pulley.rim_radius_mm));
  }
  for (const SeenMark& mark : view.marks) {
    grow(view.pulleys[at(mark.pulley)].centre_mm, mark.radius_mm);
  }
  for (const SeenPin& pin : view.pins) {
    grow(view.pulleys[at(pin.pulley)].centre_mm + pin.radius_mm * towards(pin.at), 0.0);
  }
  for (const CoverSpec& cover : view.covers) {
    for (const Vec2& point : cover.points_mm) grow(point, 0.0);
  }
  return box;
}

void Panel::move(const Vec2& by_mm) {
  for (Item& item : items) shift(item, by_mm);
  box.least_mm += by_mm;
  box.most_mm += by_mm;
}

void Panel::crop() {
  if (items.empty()) return;
  box = box_of(items.front());
  for (const Item& item : items) {
    const Box here = box_of(item);
    box.least_mm = box.least_mm.cwiseMin(here.least_mm);
    box.most_mm = box.most_mm.cwiseMax(here.most_mm);
  }
}

Group Panel::group(const std::string& kind, const std::string& title) const {
  return Group{title, items, kind, std::nullopt};
}

double put_words(Scene& scene, double top_mm, const std::string& words, double height_mm,
                 Weight weight) {
  constexpr double kLeading = 1.9;
  double y = top_mm;
  for (const std::string& line :
       lines_within(words, kA4WidthMm - 2.0 * kMarginMm, height_mm, weight)) {
    y -= kLeading * height_mm;
    Label label = text_at(Vec2(kMarginMm, y), line);
    label.height_mm = height_mm;
    label.weight = weight;
    scene.add(std::move(label));
  }
  return y;
}

Label text_at(const Vec2& at, const std::string& text, Across across) {
  Label label;
  label.at_mm = at;
  label.text = text;
  label.across = across;
  return label;
}

Group labels(const BeltView& view, const Placing& placing, LabelPlacer& placer, Said said) {
  Group group{"names, teeth to count, sides of the belt", {}, "labels", std::nullopt};
  Namer(view, placing, placer, group).put_all(said);
  return group;
}

namespace {

constexpr double kSideMm = 17.0;  // for words round the drive
constexpr double kUpMm = 12.0;

}  // namespace

double view_scale(const BeltView& view, const Vec2& size_mm) {
  const Box extent = extent_mm(view);
  const Vec2 room = size_mm - 2.0 * Vec2(kSideMm, kUpMm);
  return std::min({1.0, room.x() / extent.size_mm().x(), room.y() / extent.size_mm().y()});
}

Vec2 view_size_mm(const BeltView& view, double scale) {
  return scale * extent_mm(view).size_mm() + 2.0 * Vec2(kSideMm, kUpMm);
}

ViewPanel view_panel(const BeltView& view, const Vec2& size_mm, double scale, Said said) {
  ViewPanel result;
  Placing& placing = result.placing;
  placing.lean = view.lean;
  placing.scale = scale;
  const Box extent = extent_mm(view);
  placing.origin_mm = size_mm / 2.0 - placing.scale * extent.middle_mm();
  Panel& panel = result.panel;
  panel.box = Box{Vec2::Zero(), size_mm};
  std::vector<Item> marks;
  for (const CoverSpec& seen : view.covers) panel.add(cover(seen, placing));
  const int count = static_cast<int>(view.pulleys.size());
  for (int i = 0; i < count; ++i) panel.add(pulley(view, i, placing));
  for (const SeenRing& seen : view.rings) {
    panel.add(ring(seen, placing, ring_times(view, placing.scale)));
  }
  panel.add(belt_teeth(view, placing));
  panel.add(belt(view, placing, BeltLook::line));
  if (view.tensioner) panel.add(tensioner(view, placing));
  for (const SeenMark& seen : view.marks) {
    marks.push_back({mark(view, seen, placing)});
    if (seen.belongs) marks.push_back({belongs(view, seen, placing)});
  }
  for (const SeenPin& seen : view.pins) marks.push_back({pin(seen, view, placing)});
  LabelPlacer placer(panel.box);
  tell_lines(view, placing, placer);
  keep_marks_clear(marks, placer);
  for (Item& item : marks) panel.items.push_back(std::move(item));
  panel.add(rotation(view, placing));
  if (view.crank_deg != 0.0) {
    for (Group& dot : paint(view, placing)) {
      placer.keep_clear(box_of(dot.items.back()));
      panel.add(std::move(dot));
    }
  }
  panel.add(labels(view, placing, placer, said));
  return result;
}

}  // namespace twoturn::draw
