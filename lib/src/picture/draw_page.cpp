#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>
#include <utility>

#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/picture/draw.hpp"
#include "words/sentences.hpp"

namespace twoturn {

using namespace scene;

namespace {

using draw::kMarginMm;

constexpr double kTitleMm = 4.2;
constexpr double kHeadlineMm = 2.8;
constexpr double kLineMm = 4.6;  // from one line of text to the next
constexpr double kInnerMm = kA4WidthMm - 2.0 * kMarginMm;
constexpr double kTitleWidthMm = 48.0;  // that a close-up's title may take at least
constexpr double kGapMm = 3.0;

// A page that is filled from the top down; y of its scene runs down from 0.
class Page {
 public:
  double y() const { return y_; }
  void down(double mm) { y_ -= mm; }

  template <class Shape>
  void add(Shape shape) {
    scene_.add(std::move(shape));
  }

  void add_item(Item item) { scene_.items.push_back(std::move(item)); }

  void text(const std::string& words, double height_mm, Weight weight = Weight::plain) {
    y_ = draw::put_words(scene_, y_, words, height_mm, weight);
  }

  Scene finish(const std::string& title, const std::string& description) {
    scene_.title = title;
    scene_.description = description;
    const double height = std::max(kA4HeightMm, kMarginMm - y_);
    scene_.corner_mm = Vec2(0.0, -height);
    scene_.size_mm = Vec2(kA4WidthMm, height);
    return std::move(scene_);
  }

 private:
  Scene scene_;
  double y_ = -kMarginMm;
};

std::string moment_words(const BeltView& view) {
  std::string words = view.fit == Fit::by_the_book ? "By the book" : "As fitted";
  if (view.crank_deg == 0.0) {
    words += ", at the timing position";
  } else {
    words +=
        fmt::format(", crank turned {} deg {} from there", shortest(std::abs(view.crank_deg), 2),
                    view.crank_deg > 0.0 ? "in its running direction" : "backwards");
  }
  return words + ". Seen looking at the belt end.";
}

std::string scale_words(const BeltView& view, double scale) {
  std::string words = fmt::format("1 mm drawn is {} mm on the engine.", fixed(1.0 / scale, 2));
  if (view.lean.radians() != 0.0) {
    words += fmt::format(" Turned {} deg clockwise, as the engine leans; clock positions too.",
                         shortest(-view.lean.degrees(), 1));
  }
  if (view.direction == Direction::assumed)
    words += " Which way the crank turns is not known: drawn clockwise.";
  if (!view.phase_known)
    words += " Where the teeth stand is not known: they are drawn at true pitch only.";
  if (!view.tooth_height_mm) words += " The height of the teeth is not known: drawn, not measured.";
  return words;
}

std::string ring_words(const BeltView& view, double scale) {
  if (view.rings.empty()) return "";
  const double times = draw::ring_times(view, scale);
  return fmt::format(" Rings round measured centres: where each lies 95 times in 100{}.",
                     times > 1.0 ? fmt::format(", {} times as large", shortest(times, 0)) : "");
}

std::vector<std::string> count_lines(const BeltView& view) {
  std::vector<std::string> lines;
  for (const SeenCount& count : view.counts) {
    const auto name = [&](int pulley) {
      return view.pulleys[static_cast<std::size_t>(pulley)].name;
    };
    std::string line = fmt::format("{} to {}: {}", name(count.from), name(count.to),
                                   draw::teeth_words(count, count.teeth));
    if (count.other_way) line += fmt::format(" ({})", draw::teeth_words(count, *count.other_way));
    lines.push_back(std::move(line));
    constexpr std::size_t kOnePair = 2;  // both ways of the same two marks
    if (view.counts.size() == kOnePair && count.other_way) break;
  }
  if (lines.empty()) lines.emplace_back("no two marks are given");
  return lines;
}

std::vector<std::string> tensioner_lines(const BeltView& view) {
  if (!view.tensioner) return {"none: fixed centres"};
  const SeenTensioner& seen = *view.tensioner;
  const bool swings = seen.path.swing() != nullptr;
  const auto place = [&](const Setting& setting) {
    return swings ? sentences::clock(view.clock_deg(Angle::clock(setting.reading.value)))
                  : sentences::reading(setting.reading);
  };
  std::vector<std::string> lines;
  if (seen.setting.pointer_deg) {
    lines.push_back("pointer at " +
                    sentences::clock(view.clock_deg(Angle::clock(*seen.setting.pointer_deg))));
  }
  lines.push_back((swings ? "roller's centre at " : "roller at ") + place(seen.setting));
  lines.push_back(fmt::format("travel {} of 1, {} mm of belt left to take up",
                              fixed(seen.setting.travel, 2),
                              fixed(seen.setting.adjustment_left_mm, 2)));
  if (seen.tightens) {
    lines.push_back(fmt::format("spanner {} tightens", word(*seen.tightens)));
  }
  return lines;
}

// A close-up under its title, its top left corner at the origin.
draw::Panel titled(draw::Panel inner, const std::string& title) {
  draw::Panel panel;
  const Vec2 size = inner.box.size_mm();
  double y = 0.0;
  double width = size.x();
  const double title_mm = std::max(size.x(), kTitleWidthMm);
  for (const std::string& line : lines_within(title, title_mm, kLeastTextMm, Weight::bold)) {
    y -= kLineMm;
    Label head = draw::text_at(Vec2(0.0, y), line);
    head.weight = Weight::bold;
    width = std::max(width, text_width_mm(head));
    panel.add(std::move(head));
  }
  y -= 1.5;
  inner.move(Vec2((width - size.x()) / 2.0, y - size.y()) - inner.box.least_mm);
  panel.add(inner.group("close-up", title));
  constexpr double kBelowMm = 3.0;
  panel.box = Box{Vec2(0.0, y - size.y() - kBelowMm), Vec2(width, 0.0)};
  return panel;
}

void put_signs(Page& page, const BeltView& view) {
  constexpr double kRowMm = 6.0;
  constexpr double kSignMm = 6.0;
  constexpr double kBetweenMm = 5.0;
  Group group{"signs", {}, "signs", std::nullopt};
  double x = 0.0;
  page.down(kRowMm);
  for (const draw::Sign& sign : draw::signs_of(view)) {
    Label words = draw::text_at(Vec2::Zero(), std::string(sign.words));
    const double width = 2.0 * kSignMm + text_width_mm(words);
    if (x > 0.0 && x + width > kInnerMm) {
      x = 0.0;
      page.down(kRowMm);
    }
    const Vec2 at(kMarginMm + x + kSignMm, page.y());
    for (Item part : sign.items) {
      shift(part, at + Vec2(0.0, kLeastTextMm / 2.0));
      group.items.push_back(std::move(part));
    }
    words.at_mm = at + Vec2(kSignMm, 0.0);
    group.items.push_back({std::move(words)});
    x += width + kBetweenMm;
  }
  page.add(std::move(group));
  page.down(2.0);
}

// What stands beside or under the view, in order of use at the engine. Only the eccentric goes with
// the scale, and is drawn once for each.
class CloseUps {
 public:
  explicit CloseUps(const BeltView& view) : view_(view) {
    if (auto panel = draw::marks_panel(view)) {
      const std::string& name = view.pulleys[static_cast<std::size_t>(view.tooth_out->pulley)].name;
      others_.push_back(titled(std::move(*panel), "What the mark of the " + name + " shows"));
    }
    if (auto panel = draw::moved_panel(view)) {
      others_.push_back(titled(std::move(*panel), "Dashed by the book, full as fitted"));
    }
  }

  std::vector<draw::Panel> panels(double view_scale, double times) {
    std::vector<draw::Panel> list;
    if (const auto& drawn = eccentric(view_scale, times)) list.push_back(*drawn);
    list.insert(list.end(), others_.begin(), others_.end());
    return list;
  }

  std::vector<Vec2> sizes_mm(double view_scale, double times) {
    std::vector<Vec2> list;
    if (const auto& drawn = eccentric(view_scale, times)) list.push_back(drawn->box.size_mm());
    for (const draw::Panel& panel : others_) list.push_back(panel.box.size_mm());
    return list;
  }

 private:
  const std::optional<draw::Panel>& eccentric(double view_scale, double times) {
    const auto [place, anew] = eccentrics_.try_emplace({view_scale, times});
    if (!anew) return place->second;
    if (auto drawn = draw::eccentric_panel(view_, view_scale, times)) {
      place->second = titled(std::move(drawn->panel), fmt::format("Eccentric, {} times the view",
                                                                  shortest(drawn->times, 1)));
    }
    return place->second;
  }

  const BeltView& view_;
  std::vector<draw::Panel> others_;
  std::map<std::pair<double, double>, std::optional<draw::Panel>> eccentrics_;
};

// The first so many, and the others.
template <class Part>
std::pair<std::vector<Part>, std::vector<Part>> parted(const std::vector<Part>& parts,
                                                       std::size_t first) {
  const auto cut = parts.begin() + static_cast<std::ptrdiff_t>(std::min(first, parts.size()));
  return {{parts.begin(), cut}, {cut, parts.end()}};
}

// Parts under each other.
Vec2 column_mm(const std::vector<Vec2>& sizes_mm) {
  Vec2 column = Vec2::Zero();
  for (const Vec2& size : sizes_mm) {
    column = {std::max(column.x(), size.x()), column.y() + size.y()};
  }
  return column;
}

// The panels under each other, each in the middle of the column.
void put_below_each_other(std::vector<draw::Panel> panels, const Vec2& top_left, double width_mm,
                          Page& page) {
  double y = top_left.y();
  for (draw::Panel& panel : panels) {
    const Vec2 size = panel.box.size_mm();
    panel.move(Vec2(top_left.x() + (width_mm - size.x()) / 2.0, y));
    y -= size.y();
    for (Item& item : panel.items) page.add_item(std::move(item));
  }
}

// Parts beside each other, in as many rows as it takes.
struct Rows {
  std::vector<Vec2> corners_mm;  ///< upper left, from that of the first
  double height_mm = 0.0;
};

Rows in_rows(const std::vector<Vec2>& sizes_mm) {
  Rows rows;
  double x = 0.0;
  double y = 0.0;
  double row = 0.0;
  for (const Vec2& size : sizes_mm) {
    if (x > 0.0 && x + size.x() > kInnerMm) {
      y -= row;
      x = 0.0;
      row = 0.0;
    }
    rows.corners_mm.emplace_back(x, y);
    x += size.x() + kGapMm;
    row = std::max(row, size.y());
  }
  rows.height_mm = row - y;
  return rows;
}

// How high that comes.
double put_in_rows(std::vector<draw::Panel> panels, double top_mm, Page& page) {
  std::vector<Vec2> sizes;
  for (const draw::Panel& panel : panels) sizes.push_back(panel.box.size_mm());
  const Rows rows = in_rows(sizes);
  for (std::size_t k = 0; k < panels.size(); ++k) {
    panels[k].move(Vec2(kMarginMm, top_mm) + rows.corners_mm[k]);
    for (Item& item : panels[k].items) page.add_item(std::move(item));
  }
  return rows.height_mm;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  return text;
}

void put_foot(Page& page, const BeltView& view, double view_scale, draw::Naming naming) {
  page.text(moment_words(view) + " " + scale_words(view, view_scale) + ring_words(view, view_scale),
            kLeastTextMm);
  const std::vector<std::string> list = draw::list_lines(view, naming, draw::Said::all);
  if (!list.empty()) page.text("In the picture: " + joined(list) + ".", kLeastTextMm);
  if (!view.not_drawn.empty()) {
    page.text("Not on the belt, so not drawn: " + joined(view.not_drawn) + ".", kLeastTextMm);
  }
  page.text("Belt teeth from mark to mark with pins in (in brackets the other way): " +
                joined(count_lines(view)) + ".",
            kLeastTextMm);
  page.text("Tensioner: " + joined(tensioner_lines(view)) + ".", kLeastTextMm);
  page.down(1.0);
  put_signs(page, view);
  page.text(
      "The engine maker's manual, local rules and a qualified mechanic come before this "
      "picture. It shows a drive on paper; the fitting itself has not been seen.",
      kLeastTextMm);
}

double foot_height(const BeltView& view, double view_scale, draw::Naming naming) {
  Page trial;
  const double begun = trial.y();
  put_foot(trial, view, view_scale, naming);
  return begun - trial.y();
}

// The view with so many of its close-ups in a column beside it, the others in rows under it.
struct Layout {
  Vec2 view_mm = Vec2::Zero();
  double scale = 0.0;
  double column_mm = 0.0;
  double height_mm = 0.0;  ///< with the foot
  bool fits = false;       ///< in the page's width
  std::size_t beside = 0;
  double times = 3.0;  ///< the size of the view: the eccentric
};

// What is beside the view, and the size of the eccentric.
struct Choice {
  std::size_t beside = 0;
  double times = 3.0;
};

// Tries layouts of one view.
class LayOut {
 public:
  LayOut(const BeltView& view, double room_mm, draw::Naming naming, CloseUps& close_ups)
      : view_(view), room_mm_(room_mm), naming_(naming), close_ups_(close_ups) {}

  // The one with the largest view.
  Layout best() {
    constexpr std::size_t kPanels = 3;
    constexpr double kClearlyMore = 1.08;  // of a smaller close-up
    Layout best = largest({kPanels, 3.0});
    for (const double times : {3.0, 2.5, 2.0}) {
      const Layout before = best;
      for (std::size_t beside = 0; beside <= kPanels; ++beside) {
        const Layout tried = largest({beside, times});
        const bool larger =
            tried.scale > (times < before.times ? kClearlyMore : 1.0) * before.scale;
        if (worth(tried) > worth(best) && (larger || worth(before) < 1.0)) best = tried;
      }
    }
    return best;
  }

 private:
  bool good(const Layout& one) const { return one.fits && one.height_mm <= room_mm_; }
  double worth(const Layout& one) const { return (good(one) ? 1.0 : 0.0) + one.scale; }

  // What a layout takes at a scale of the view.
  Layout at(double scale, const Choice& choice) {
    Layout layout;
    layout.beside = choice.beside;
    layout.times = choice.times;
    layout.scale = scale;
    const auto [column, rows] = parted(close_ups_.sizes_mm(scale, choice.times), choice.beside);
    const Vec2 drawn = draw::view_size_mm(view_, scale, draw::Said::all, naming_);
    const Vec2 beside = column_mm(column);
    layout.column_mm = beside.x();
    const double taken = column.empty() ? 0.0 : layout.column_mm + kGapMm;
    layout.view_mm = Vec2(kInnerMm - taken, std::max(drawn.y(), beside.y()));
    layout.height_mm = layout.view_mm.y() + in_rows(rows).height_mm + foot_mm(scale);
    layout.fits = drawn.x() <= layout.view_mm.x();
    return layout;
  }

  // The largest scale at which the page holds view, close-ups and foot.
  Layout largest(const Choice& choice) {
    constexpr double kLeastScale = 0.06;
    constexpr double kStep = 0.96;
    Layout best;
    double scale = draw::view_scale(view_, Vec2(kInnerMm, room_mm_), draw::Said::all, naming_);
    for (; scale > kLeastScale && !good(best); scale *= kStep) best = at(scale, choice);
    if (best.scale == 0.0) best = at(kLeastScale, choice);
    best.view_mm.y() += std::max(0.0, room_mm_ - best.height_mm);
    return best;
  }

  double foot_mm(double scale) {
    const auto [place, anew] = feet_mm_.try_emplace(scale);
    if (anew) place->second = foot_height(view_, scale, naming_);
    return place->second;
  }

  const BeltView& view_;
  double room_mm_;
  draw::Naming naming_;
  CloseUps& close_ups_;
  std::map<double, double> feet_mm_;
};

}  // namespace

Scene drawing_of(const BeltView& view, const CheckAnswer& answer) {
  Page page;
  page.text(answer.title.empty() ? "Belt drive" : answer.title, kTitleMm, Weight::bold);
  page.text(answer.headline, kHeadlineMm, Weight::bold);
  for (const std::string& refusal : view.refused) page.text("Not a belt: " + refusal, kHeadlineMm);
  page.down(2.0);
  const double room = kA4HeightMm - kMarginMm + page.y();
  Layout layout;
  CloseUps close_ups(view);
  draw::Naming naming = draw::Naming::names;
  draw::ViewPanel drawn = draw::named_view(view, naming, [&](draw::Naming tried) {
    layout = LayOut(view, room, tried, close_ups).best();
    return draw::view_panel(view, layout.view_mm, layout.scale, draw::Said::all, tried);
  });
  drawn.panel.move(Vec2(kMarginMm, page.y() - layout.view_mm.y()));
  page.add(drawn.panel.group("view", "the belt end"));
  const auto [column, rows] = parted(close_ups.panels(layout.scale, layout.times), layout.beside);
  put_below_each_other(column, Vec2(kMarginMm + layout.view_mm.x() + kGapMm, page.y()),
                       layout.column_mm, page);
  page.down(layout.view_mm.y());
  page.down(put_in_rows(rows, page.y(), page));
  put_foot(page, view, layout.scale, naming);
  return page.finish(answer.title.empty() ? "Belt drive" : answer.title, answer.headline);
}

}  // namespace twoturn
