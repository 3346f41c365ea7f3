// The belt end and its close-ups, each as a scene of its own.
#include <algorithm>

#include "draw_parts.hpp"
#include "twoturn/picture/draw.hpp"

namespace twoturn {

using namespace scene;

namespace {

Scene scene_of(const draw::Panel& panel, const std::string& title, const std::string& kind) {
  Scene scene;
  scene.title = title;
  scene.corner_mm = panel.box.least_mm;
  scene.size_mm = panel.box.size_mm();
  scene.add(panel.group(kind, title));
  return scene;
}

constexpr double kListLineMm = 4.6;
constexpr double kListMm = 34.0;  // beside a view: its width

enum class ListAt { below, beside };

// Lines that tell what the numbers stand for, and what is not as it is, under a view or on its
// right.
void put_list(draw::Panel& panel, const std::vector<std::string>& words, ListAt where) {
  if (words.empty()) return;
  Group group{"what the numbers stand for", {}, "part-list", std::nullopt};
  const bool below = where == ListAt::below;
  const double left = below ? panel.box.least_mm.x() + 1.0 : panel.box.most_mm.x();
  const double width = below ? panel.box.size_mm().x() - 2.0 : kListMm;
  double y = below ? panel.box.least_mm.y() : panel.box.most_mm.y() - 4.0;
  std::vector<std::string> pieces;
  for (const std::string& one : words) {
    if (below && !pieces.empty()) {
      pieces.front() += (one.back() == '.' ? ". " : "; ") + one;
    } else {
      pieces.push_back(one);
    }
  }
  for (const std::string& piece : pieces) {
    for (const std::string& line : lines_within(piece, width, kLeastTextMm)) {
      y -= kListLineMm;
      group.items.push_back({draw::text_at(Vec2(left, y), line)});
    }
  }
  if (!below) panel.box.most_mm.x() += kListMm + 1.0;
  panel.box.least_mm.y() = std::min(panel.box.least_mm.y(), y - 1.2);
  panel.add(std::move(group));
}

// A small picture of a drive, its small pulleys drawn larger.
struct SmallView {
  double scale = 0.0;
  BeltView view;
  std::vector<std::string> words;
};

SmallView small_at(const BeltView& view, double scale, draw::Said said) {
  SmallView small{scale, draw::enlarged(view, scale), {}};
  small.words = draw::list_lines(view, draw::Naming::numbers, said);
  const bool as_it_is =
      std::equal(view.pulleys.begin(), view.pulleys.end(), small.view.pulleys.begin(),
                 [](const SeenPulley& one, const SeenPulley& other) {
                   return one.outside_radius_mm == other.outside_radius_mm;
                 });
  if (!as_it_is) small.words.emplace_back("Small pulleys drawn larger.");
  return small;
}

double list_height_mm(const SmallView& small, double width_mm, ListAt where) {
  draw::Panel trial;
  trial.box = Box{Vec2::Zero(), Vec2(width_mm, 0.0)};
  put_list(trial, small.words, where);
  return -trial.box.least_mm.y();
}

// What the list takes of a box of this width.
Vec2 list_room_mm(const SmallView& small, double width_mm, ListAt where) {
  if (where == ListAt::beside) return {kListMm + 1.0, 0.0};
  return {0.0, list_height_mm(small, width_mm, where)};
}

Vec2 size_of(const SmallView& small, ListAt where) {
  Vec2 size = draw::view_size_mm(small.view, small.scale, draw::Said::few, draw::Naming::numbers);
  size += list_room_mm(small, size.x(), where);
  if (where == ListAt::beside) {
    size.y() = std::max(size.y(), list_height_mm(small, size.x(), where));
  }
  return size;
}

// The largest that goes into a box: what is drawn larger takes room of its own.
SmallView small_within(const BeltView& view, const Vec2& size_mm, draw::Said said, ListAt where) {
  constexpr int kSteps = 12;
  constexpr double kLeastScale = 1e-3;
  SmallView small = small_at(view, 1.0, said);
  for (int step = 0; step < kSteps; ++step) {
    const Vec2 room = size_mm - list_room_mm(small, size_mm.x(), where);
    const double scale = draw::view_scale(small.view, room, said, draw::Naming::numbers);
    small = small_at(view, std::max(scale, kLeastScale), said);
  }
  return small;
}

}  // namespace

Scene view_scene(const BeltView& view, const Vec2& size_mm, Errors errors) {
  const draw::Said said = errors == Errors::told ? draw::Said::some : draw::Said::few;
  SmallView small = small_within(view, size_mm, said, ListAt::below);
  ListAt where = ListAt::below;
  SmallView other = small_within(view, size_mm, said, ListAt::beside);
  const bool holds = list_height_mm(other, size_mm.x(), ListAt::beside) <= size_mm.y() + 1e-9;
  if (holds && other.scale > small.scale) {
    small = std::move(other);
    where = ListAt::beside;
  }
  const Vec2 room = size_mm - list_room_mm(small, size_mm.x(), where);
  draw::ViewPanel drawn =
      draw::view_panel(small.view, room, small.scale, said, draw::Naming::numbers);
  put_list(drawn.panel, small.words, where);
  return scene_of(drawn.panel, "the belt end", "view");
}

std::vector<Vec2> view_sizes(const BeltView& view) {
  double smallest = view.pulleys.front().outside_radius_mm;
  for (const SeenPulley& pulley : view.pulleys) {
    if (pulley.teeth > 0) smallest = std::min(smallest, pulley.outside_radius_mm);
  }
  constexpr double kMostMm = 16.0;  // across the smallest toothed pulley, on paper
  constexpr double kLeastMm = 4.0;  // before it is drawn larger
  constexpr double kStepMm = 0.5;
  constexpr double kWidestMm = 125.0;
  std::vector<Vec2> sizes;
  const int steps = static_cast<int>((kMostMm - kLeastMm) / kStepMm);
  for (int k = 0; k <= steps; ++k) {
    const double scale = (kMostMm - k * kStepMm) / (2.0 * smallest);
    const SmallView small = small_at(view, scale, draw::Said::few);
    if (!draw::is_legible(small.view, small.scale)) continue;
    for (const ListAt where : {ListAt::below, ListAt::beside}) {
      const Vec2 size = size_of(small, where);
      if (size.x() <= kWidestMm) sizes.push_back(size);
    }
  }
  return sizes;
}

MovingView moving_view(const BeltView& view, const Vec2& most_mm) {
  MovingView moving;
  const draw::Said said = draw::Said::all;
  constexpr double kLeastMm = 110.0;
  draw::Naming naming = draw::Naming::names;
  draw::ViewPanel drawn = named_view(view, naming, [&](draw::Naming tried) {
    moving.scale = draw::view_scale(view, most_mm, said, tried);
    Vec2 size = draw::view_size_mm(view, moving.scale, said, tried);
    size.x() = std::max(size.x(), kLeastMm);
    return draw::view_panel(view, size, moving.scale, said, tried);
  });
  drawn.panel.add(draw::belt_path(view, drawn.placing));
  for (Group& dot : draw::paint(view, drawn.placing)) drawn.panel.add(std::move(dot));
  put_list(drawn.panel, draw::list_lines(view, naming, said), ListAt::below);
  moving.scene = scene_of(drawn.panel, "the belt end", "view");
  return moving;
}

namespace {

// The way to turn a pulley whose mark is out, round its middle, away from the mark.
void add_way(draw::Panel& panel, const SeenMark& mark, double radius_mm,
             const draw::Placing& placing) {
  if (!mark.belongs) return;
  const double turn = (*mark.belongs - mark.at).wrapped_half().radians();
  constexpr double kShare = 0.5;
  const Angle half = Angle::degrees(turn > 0.0 ? 70.0 : -70.0);
  const Angle middle = placing.angle(mark.at) + Angle::degrees(180.0);
  panel.add(Group{"turn it this way",
                  {{Arc{Vec2::Zero(), kShare * radius_mm, middle - half, 2.0 * half, Pen::heavy,
                        Arrow::at_end}}},
                  "turn-way",
                  std::nullopt});
}

}  // namespace

std::optional<Scene> move_scene(const BeltView& view) {
  if (!view.tooth_out || !view.is_belt) return std::nullopt;
  const ToothOutExample& example = *view.tooth_out;
  const bool near =
      example.this_case && example.cases[static_cast<std::size_t>(*example.this_case)].teeth == 0.0;
  if (near) return std::nullopt;
  constexpr double kAcrossMm = 22.0;
  draw::Panel panel;
  const SeenPulley& pulley = view.pulleys[static_cast<std::size_t>(example.pulley)];
  draw::Placing placing;
  placing.lean = view.lean;
  placing.scale = kAcrossMm / (2.0 * pulley.outside_radius_mm);
  placing.origin_mm = -placing.scale * draw::turned(pulley.centre_mm, view.lean);
  panel.add(draw::pulley(view, example.pulley, placing));
  for (const SeenMark& mark : view.marks) {
    if (mark.pulley != example.pulley || !mark.name.empty()) continue;
    panel.add(draw::mark(view, mark, placing));
    panel.add(draw::belongs(view, mark, placing));
    if (auto arrow = draw::way_back(view, mark, placing)) panel.add(std::move(*arrow));
    add_way(panel, mark, kAcrossMm / 2.0, placing);
  }
  panel.crop();
  constexpr double kWideMm = 42.0;
  for (const std::string& line : lines_within(pulley.name, kWideMm, kLeastTextMm, Weight::bold)) {
    Label label = draw::text_at(Vec2(0.0, panel.box.least_mm.y() - 3.8), line, Across::middle);
    label.weight = Weight::bold;
    panel.add(std::move(label));
    panel.crop();
  }
  return scene_of(panel, "the one thing to move: " + pulley.name, "move");
}

std::optional<Scene> eccentric_scene(const BeltView& view, double view_scale) {
  constexpr double kTimes = 3.0;
  const std::optional<draw::SizedPanel> panel = draw::eccentric_panel(view, view_scale, kTimes);
  if (!panel) return std::nullopt;
  return scene_of(panel->panel, "the eccentric", "close-up");
}

std::optional<Scene> marks_scene(const BeltView& view) {
  const std::optional<draw::Panel> panel = draw::marks_panel(view);
  if (!panel) return std::nullopt;
  return scene_of(*panel, "a mark right, half a tooth and a tooth late and early", "close-up");
}

std::optional<Scene> moved_scene(const BeltView& view) {
  const std::optional<draw::Panel> panel = draw::moved_panel(view);
  if (!panel) return std::nullopt;
  return scene_of(*panel, "by the book and as fitted, drawn larger", "close-up");
}

}  // namespace twoturn
