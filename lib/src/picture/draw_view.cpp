#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/picture/draw.hpp"

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
  for (const SeenGasket& gasket : view.gaskets) {
    placer.line(placing.point(gasket.from_mm), placing.point(gasket.to_mm));
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

namespace {

// For words round the drive; a name with its mark's error takes three lines.
Vec2 room_round(const BeltView& view, Said said, Naming naming) {
  bool three_lines = false;
  for (int i = 0; i < static_cast<int>(view.pulleys.size()); ++i) {
    three_lines = three_lines || !off_words(view, i).empty();
  }
  if (said == Said::all) return {17.0, naming == Naming::names && three_lines ? 17.0 : 12.0};
  return naming == Naming::names ? Vec2(15.0, 8.0) : Vec2(8.0, 7.0);
}

// The parts that stand still under the signs.
void add_parts(Panel& panel, const BeltView& view, const Placing& placing) {
  for (const CoverSpec& seen : view.covers) panel.add(cover(seen, placing));
  for (const SeenGasket& seen : view.gaskets) panel.add(gasket(seen, placing));
  const int count = static_cast<int>(view.pulleys.size());
  for (int i = 0; i < count; ++i) panel.add(pulley(view, i, placing));
  for (const SeenRing& seen : view.rings) {
    panel.add(ring(seen, placing, ring_times(view, placing.scale)));
  }
  panel.add(belt_teeth(view, placing));
  panel.add(belt(view, placing, BeltLook::line));
  if (view.tensioner) panel.add(tensioner(view, placing));
}

std::vector<Item> signs(const BeltView& view, const Placing& placing) {
  std::vector<Item> items;
  for (const SeenMark& seen : view.marks) {
    items.push_back({mark(view, seen, placing)});
    if (seen.belongs) items.push_back({belongs(view, seen, placing)});
    if (auto arrow = way_back(view, seen, placing)) items.push_back({std::move(*arrow)});
  }
  for (const SeenPin& seen : view.pins) items.push_back({pin(seen, view, placing)});
  return items;
}

}  // namespace

double view_scale(const BeltView& view, const Vec2& size_mm, Said said, Naming naming) {
  const Box extent = extent_mm(view);
  const Vec2 room = size_mm - 2.0 * room_round(view, said, naming);
  return std::min({1.0, room.x() / extent.size_mm().x(), room.y() / extent.size_mm().y()});
}

Vec2 view_size_mm(const BeltView& view, double scale, Said said, Naming naming) {
  return scale * extent_mm(view).size_mm() + 2.0 * room_round(view, said, naming);
}

ViewPanel view_panel(const BeltView& view, const Vec2& size_mm, double scale, Said said,
                     Naming naming) {
  ViewPanel result;
  Placing& placing = result.placing;
  placing.lean = view.lean;
  placing.scale = scale;
  const Box extent = extent_mm(view);
  placing.origin_mm = size_mm / 2.0 - placing.scale * extent.middle_mm();
  Panel& panel = result.panel;
  panel.box = Box{Vec2::Zero(), size_mm};
  add_parts(panel, view, placing);
  LabelPlacer placer(panel.box);
  tell_lines(view, placing, placer);
  std::vector<Item> marks = signs(view, placing);
  keep_marks_clear(marks, placer);
  for (Item& item : marks) panel.items.push_back(std::move(item));
  panel.add(rotation(view, placing));
  if (view.crank_deg != 0.0) {
    for (Group& dot : paint(view, placing)) {
      placer.keep_clear(box_of(dot.items.back()));
      panel.add(std::move(dot));
    }
  }
  Labels labels = labels_of(view, placing, placer, said, naming);
  result.all_named = labels.all_named;
  panel.add(std::move(labels.group));
  return result;
}

}  // namespace twoturn::draw
