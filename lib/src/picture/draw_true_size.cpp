#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "draw_print.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/picture/draw.hpp"

namespace twoturn {

using namespace scene;

namespace draw {

Group check_bar(const Vec2& at) {
  Group group{"100 mm to measure after printing", {}, "check-bar", std::nullopt};
  constexpr double kBarMm = 100.0;
  constexpr int kParts = 10;
  group.items.push_back({Line{at, at + Vec2(kBarMm, 0.0), Pen::outline, Arrow::none}});
  for (int k = 0; k <= kParts; ++k) {
    const double high = k % 5 == 0 ? 3.0 : 1.8;
    const Vec2 foot = at + Vec2(kBarMm * k / kParts, 0.0);
    group.items.push_back({Line{foot, foot + Vec2(0.0, high), Pen::thin, Arrow::none}});
  }
  Label words = text_at(at + Vec2(0.0, 4.2), "100 mm. If not: print again at 100 %");
  words.ground = Ground::cleared;
  group.items.push_back({std::move(words)});
  return group;
}

Box check_bar_box(const Vec2& at) { return {at - Vec2(1.0, 1.0), at + Vec2(101.0, 8.5)}; }

Scene page_at(const Vec2& corner, const std::string& title) {
  Scene scene;
  scene.title = title;
  scene.corner_mm = corner;
  scene.size_mm = Vec2(kA4WidthMm, kA4HeightMm);
  return scene;
}

}  // namespace draw

namespace {

constexpr double kOverlapMm = 10.0;
constexpr double kFrameWidthMm = kA4WidthMm - 2.0 * draw::kMarginMm;
constexpr double kFrameHeightMm = kA4HeightMm - 2.0 * draw::kMarginMm;
const Vec2 kStep(kFrameWidthMm - kOverlapMm, kFrameHeightMm - kOverlapMm);

// How many frames, each overlapping the next, cover a length.
int frames_for(double length_mm, double step_mm) {
  return std::max(1, static_cast<int>(std::ceil((length_mm - kOverlapMm) / step_mm)));
}

class TrueSize {
 public:
  explicit TrueSize(const BeltView& view) : view_(view) {
    const Box extent = draw::extent_mm(view);
    constexpr double kRoundMm = 12.0;  // for marks outside the belt
    const Vec2 size = extent.size_mm() + 2.0 * Vec2::Constant(kRoundMm);
    columns_ = frames_for(size.x(), kStep.x());
    rows_ = frames_for(size.y(), kStep.y());
    const Vec2 sheet(columns_ * kStep.x() + kOverlapMm, rows_ * kStep.y() + kOverlapMm);
    placing_.lean = view.lean;
    placing_.origin_mm = sheet / 2.0 - extent.middle_mm();
  }

  std::vector<Scene> pages() {
    draw_parts();
    gather_ink();
    draw_names();
    std::vector<Scene> pages;
    for (int row = 0; row < rows_; ++row) {
      for (int column = 0; column < columns_; ++column) {
        if (shows_something(frame(column, row))) printed_.emplace_back(column, row);
      }
    }
    for (const auto& [column, row] : printed_) pages.push_back(page(column, row));
    return pages;
  }

 private:
  // Rows are counted from the top, as the pages are read.
  Box frame(int column, int row) const {
    const Vec2 least(column * kStep.x(), (rows_ - 1 - row) * kStep.y());
    return {least, least + Vec2(kFrameWidthMm, kFrameHeightMm)};
  }

  bool shows_something(const Box& frame) const {
    return std::any_of(parts_.begin(), parts_.end(),
                       [&](const Item& item) {
                         const auto* group = std::get_if<Group>(&item.shape);
                         return group && group->kind == "pulley" && frame.meets(box_of(item));
                       }) ||
           std::any_of(view_.runs.begin(), view_.runs.end(), [&](const SeenRun& run) {
             const Vec2 start = placing_.point(run.start_mm);
             const Vec2 end = placing_.point(run.end_mm);
             constexpr int kLooks = 200;
             for (int k = 0; k <= kLooks; ++k) {
               if (frame.holds(Vec2(start + (end - start) * k / kLooks))) return true;
             }
             return false;
           });
  }

  std::string page_words() const {
    std::string words = view_.title.empty() ? "Full size" : view_.title + ", full size";
    words += view_.fit == Fit::by_the_book ? ", by the book" : ", as fitted";
    return words + ". The engine maker's manual comes first. Lay cross on cross.";
  }

  std::vector<Box> frames() const {
    std::vector<Box> all;
    for (int row = 0; row < rows_; ++row) {
      for (int column = 0; column < columns_; ++column) {
        Box inside = frame(column, row);
        inside.least_mm += Vec2(1.0, 1.0);
        inside.most_mm -= Vec2(1.0, 1.0);
        all.push_back(inside);
      }
    }
    return all;
  }

  Vec2 bar_at(const Box& frame) const {
    constexpr double kClearMm = 1.0;
    const Box bar = draw::check_bar_box(Vec2::Zero());
    return clear_place(frame, bar.size_mm(), Box{}) - bar.least_mm + Vec2::Constant(kClearMm);
  }
  Box map_box(const Box& frame) const {
    const Vec2 size(47.0, 31.0);
    const Vec2 at = clear_place(frame, size, draw::check_bar_box(bar_at(frame)));
    return {at, at + size};
  }

  // Where a box of this size covers least of the parts, from the foot up; off the crosses.
  Vec2 clear_place(const Box& frame, const Vec2& size, const Box& taken) const {
    constexpr double kEdgeMm = 11.0;
    constexpr double kHeadMm = 14.0;  // the title's
    constexpr double kStepMm = 4.0;
    Vec2 best = frame.least_mm + Vec2::Constant(kEdgeMm);
    std::ptrdiff_t least = std::numeric_limits<std::ptrdiff_t>::max();
    const Vec2 most = frame.most_mm - size - Vec2(kEdgeMm, kHeadMm);
    for (double y = frame.least_mm.y() + kEdgeMm; y <= most.y(); y += kStepMm) {
      for (double x = frame.least_mm.x() + kEdgeMm; x <= most.x(); x += kStepMm) {
        const Box box{Vec2(x, y), Vec2(x, y) + size};
        if (box.meets(taken)) continue;
        const auto covered = std::count_if(ink_.begin(), ink_.end(),
                                           [&](const Vec2& point) { return box.holds(point); });
        if (covered >= least) continue;
        least = covered;
        best = box.least_mm;
        if (least == 0) return best;
      }
    }
    return best;
  }

  // Where the parts have their lines, every two mm or so.
  void gather_ink() {
    constexpr double kEveryMm = 2.0;
    for (const SeenPulley& pulley : view_.pulleys) {
      const Vec2 at = placing_.point(pulley.centre_mm);
      ink_.push_back(at);
      const double belt = pulley.pitch_radius_mm + view_.back_to_pitch_line_mm.value_or(1.0);
      for (const double radius :
           {0.5 * pulley.outside_radius_mm, pulley.outside_radius_mm, belt, belt + 5.0}) {
        const int points = 8 + static_cast<int>(kFullTurn * radius / kEveryMm);
        for (int k = 0; k < points; ++k) {
          ink_.emplace_back(at + radius * draw::towards(Angle::radians(kFullTurn * k / points)));
        }
      }
    }
    const auto gather_line = [&](const Vec2& from, const Vec2& to) {
      const Vec2 start = placing_.point(from);
      const Vec2 way = placing_.point(to) - start;
      const int points = 2 + static_cast<int>(way.norm() / kEveryMm);
      for (int k = 0; k <= points; ++k) ink_.emplace_back(start + way * k / points);
    };
    for (const SeenRun& run : view_.runs) gather_line(run.start_mm, run.end_mm);
    for (const CoverSpec& cover : view_.covers) {
      const std::vector<Vec2>& points = cover.points_mm;
      for (std::size_t i = 1; i < points.size(); ++i) gather_line(points[i - 1], points[i]);
      if (cover.kind == Outline::closed) gather_line(points.back(), points.front());
    }
    for (const Item& part : parts_) {
      const auto* group = std::get_if<Group>(&part.shape);
      const bool sign =
          group && (group->kind == "mark" || group->kind == "belongs" || group->kind == "pin");
      if (!sign) continue;
      const Box box = box_of(part);
      ink_.insert(ink_.end(), {box.least_mm, box.most_mm, box.middle_mm()});
    }
  }

  void draw_parts() {
    for (const CoverSpec& cover : view_.covers) add(draw::cover(cover, placing_));
    for (int i = 0; i < static_cast<int>(view_.pulleys.size()); ++i) {
      add(draw::pulley(view_, i, placing_));
      add(centre(view_.pulleys[static_cast<std::size_t>(i)]));
    }
    add(draw::belt_teeth(view_, placing_));
    add(draw::belt(view_, placing_, draw::BeltLook::body));
    if (view_.tensioner) add(draw::tensioner(view_, placing_));
    for (const SeenMark& mark : view_.marks) {
      add(draw::mark(view_, mark, placing_));
      if (mark.belongs) add(draw::belongs(view_, mark, placing_));
    }
    for (const SeenPin& pin : view_.pins) add(draw::pin(pin, view_, placing_));
    add(draw::rotation(view_, placing_));
  }

  void add(Group group) { parts_.push_back({std::move(group)}); }

  // A cross to lay over the end of the shaft.
  Group centre(const SeenPulley& pulley) const {
    constexpr double kArmMm = 8.0;
    const Vec2 at = placing_.point(pulley.centre_mm);
    Group group{"centre of " + pulley.name, {}, "centre", std::nullopt};
    for (const Vec2& arm : {Vec2(kArmMm, 0.0), Vec2(0.0, kArmMm)}) {
      group.items.push_back({Line{at - arm, at + arm, Pen::thin, Arrow::none}});
    }
    return group;
  }

  void draw_names() {
    LabelPlacer placer(frames());
    for (int row = 0; row < rows_; ++row) {
      for (int column = 0; column < columns_; ++column) {
        placer.keep_clear(draw::check_bar_box(bar_at(frame(column, row))));
        placer.keep_clear(map_box(frame(column, row)));
        for (const Label& line : title_lines(frame(column, row))) placer.keep_clear(box_of(line));
      }
    }
    for (const SeenPulley& pulley : view_.pulleys) {
      const Vec2 at = placing_.point(pulley.centre_mm);
      placer.circle(at, pulley.pitch_radius_mm);
      placer.circle(at, 3.0);
      placer.disc(at, pulley.outside_radius_mm);
    }
    for (const SeenRun& run : view_.runs) {
      placer.line(placing_.point(run.start_mm), placing_.point(run.end_mm));
    }
    std::vector<Wanted> names;
    for (const SeenPulley& pulley : view_.pulleys) {
      Wanted wanted;
      constexpr double kNameMm = 70.0;
      for (std::string& line : lines_within(pulley.name, kNameMm, kLeastTextMm, Weight::bold)) {
        wanted.words.lines.push_back({std::move(line), Weight::bold});
      }
      wanted.words.lines.push_back({draw::size_words(pulley)});
      wanted.anchor_mm = placing_.point(pulley.centre_mm);
      wanted.radius_mm = 1.0;
      wanted.names_disc = true;
      wanted.rather_along = Angle::degrees(-90.0);
      names.push_back(std::move(wanted));
    }
    names_ = placer.place(names);
  }

  Scene page(int column, int row) const {
    const Box frame = this->frame(column, row);
    const auto place = std::find(printed_.begin(), printed_.end(), std::pair(column, row));
    const int number = static_cast<int>(place - printed_.begin()) + 1;
    const int count = static_cast<int>(printed_.size());
    Scene scene = draw::page_at(frame.least_mm - Vec2::Constant(draw::kMarginMm),
                                fmt::format("full size, page {} of {}", number, count));
    scene.description = "The belt end at full size, to lay against the engine";
    const Box paper{scene.corner_mm, scene.corner_mm + scene.size_mm};
    for (const Item& item : parts_) put_what_meets(item, paper, scene);
    for (const Item& item : names_) {
      const bool words = std::holds_alternative<Label>(item.shape);
      if (words ? frame.holds(box_of(item)) : frame.meets(box_of(item)))
        scene.items.push_back(item);
    }
    scene.add(crosses(frame));
    scene.add(draw::check_bar(bar_at(frame)));
    scene.add(map(column, row, frame, fmt::format("page {} of {}", number, count)));
    for (Label& line : title_lines(frame)) scene.add(std::move(line));
    return scene;
  }

  std::vector<Label> title_lines(const Box& frame) const {
    std::vector<Label> lines;
    double y = frame.most_mm.y() - 3.5;
    constexpr double kInsideMm = 150.0;
    for (const std::string& line : lines_within(page_words(), kInsideMm, kLeastTextMm)) {
      Label label = draw::text_at(Vec2(frame.least_mm.x() + 12.0, y), line);
      label.ground = Ground::cleared;
      lines.push_back(std::move(label));
      y -= 4.6;
    }
    return lines;
  }

  // Of a group only what lies on the page, so that pages stay small.
  static void put_what_meets(const Item& item, const Box& paper, Scene& scene) {
    if (!paper.meets(box_of(item))) return;
    const Group* whole = std::get_if<Group>(&item.shape);
    if (!whole || whole->kind != "belt-teeth") {
      scene.items.push_back(item);
      return;
    }
    Group part = *whole;
    part.items.clear();
    for (const Item& tooth : whole->items) {
      if (paper.meets(box_of(tooth))) part.items.push_back(tooth);
    }
    scene.add(std::move(part));
  }

  // At the same places on both pages of an overlap: lay cross on cross.
  static Group crosses(const Box& frame) {
    Group group{"crosses to lay page on page", {}, "crosses", std::nullopt};
    constexpr double kArmMm = 3.0;
    const double half = kOverlapMm / 2.0;
    for (const double x : {half, half + kStep.x()}) {
      for (const double y : {half, half + kStep.y() / 2.0, half + kStep.y()}) {
        const Vec2 at = frame.least_mm + Vec2(x, y);
        for (const Vec2& arm : {Vec2(kArmMm, 0.0), Vec2(0.0, kArmMm)}) {
          group.items.push_back({Line{at - arm, at + arm, Pen::outline, Arrow::none}});
        }
      }
    }
    return group;
  }

  Group map(int column, int row, const Box& frame, const std::string& words) const {
    const Box box = map_box(frame);
    Group group{"which page this is", {}, "page-map", std::nullopt};
    group.items.push_back({Area{{{box.least_mm, Vec2(box.most_mm.x(), box.least_mm.y()),
                                  box.most_mm, Vec2(box.least_mm.x(), box.most_mm.y())}},
                                Fill::paper,
                                std::nullopt}});
    const Vec2 cell(std::min(6.0, 40.0 / columns_), std::min(8.5, 20.0 / rows_));
    for (int r = 0; r < rows_; ++r) {
      for (int c = 0; c < columns_; ++c) {
        const Vec2 at = box.least_mm + Vec2(1.0 + c * cell.x(), 1.0 + (rows_ - 1 - r) * cell.y());
        const std::vector<Vec2> corners{at, at + Vec2(cell.x(), 0.0), at + cell,
                                        at + Vec2(0.0, cell.y())};
        const bool here = r == row && c == column;
        group.items.push_back({Area{{corners}, here ? Fill::ink : Fill::paper, Pen::thin}});
      }
    }
    const double y = box.least_mm.y() + 3.0 + rows_ * cell.y();
    group.items.push_back({draw::text_at(Vec2(box.least_mm.x() + 1.0, y), words)});
    return group;
  }

  const BeltView& view_;
  draw::Placing placing_;
  int columns_ = 1;
  int rows_ = 1;
  std::vector<std::pair<int, int>> printed_;  ///< column and row of each page that shows anything
  std::vector<Item> parts_;
  std::vector<Vec2> ink_;  ///< places on their lines
  std::vector<Item> names_;
};

}  // namespace

std::vector<Scene> true_size_pages(const BeltView& view) { return TrueSize(view).pages(); }

}  // namespace twoturn
