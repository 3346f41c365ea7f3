#include <algorithm>
#include <array>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

// One pulley's edge near its mark, as a shaft so far out shows it.
class MarkCase {
 public:
  MarkCase(const BeltView& view, const ToothOutExample& example, const ToothOut& out)
      : view_(view), out_(out), pulley_(view.pulleys[at(example.pulley)]) {}

  static constexpr double kWidthMm = 22.0;
  static constexpr double kHeightMm = 15.0;

  Panel draw() {
    Panel panel;
    panel.box = Box{Vec2::Zero(), Vec2(kWidthMm, kHeightMm)};
    const double radius = pulley_.outside_radius_mm;
    constexpr double kHalfMm = 9.5;
    constexpr double kTopMm = 10.2;
    scale_ = std::min(1.0, kHalfMm / (radius * std::sin(kHalfAngle)));
    centre_ = Vec2(kWidthMm / 2.0, kTopMm - scale_ * radius);
    Group edge{title(), {}, "mark-case", std::nullopt};
    add_edge(edge.items);
    // Late: not yet where it belongs, so behind it in the running direction.
    const Angle mark = Angle::degrees(90.0 + pulley_.sense * out_.own_deg);
    const double depth = scale_ * tooth_height_mm(view_);
    const double tip = scale_ * radius - depth - 0.7;
    edge.items.push_back({triangle(centre_ + tip * towards(mark), mark, 3.4, Fill::ink)});
    const double above = scale_ * radius + 1.2;
    edge.items.push_back(
        {triangle(centre_ + Vec2(0.0, above), Angle::degrees(-90.0), 3.4, Fill::paper)});
    panel.items.push_back({std::move(edge)});
    Label words = text_at(Vec2(kWidthMm / 2.0, 1.0), short_title(), Across::middle);
    words.weight = Weight::bold;
    panel.add(std::move(words));
    return panel;
  }

 private:
  static constexpr double kHalfAngle = 0.42;

  std::string title() const {
    if (out_.teeth == 0.0) return "right";
    return (std::abs(out_.teeth) < 1.0 ? "half a tooth " : "one tooth ") + way();
  }

  std::string short_title() const {
    if (out_.teeth == 0.0) return "right";
    return (std::abs(out_.teeth) < 1.0 ? "half " : "one ") + way();
  }

  std::string way() const {
    return std::string(sentences::early_or_late(out_.teeth, view_.direction));
  }

  void add_edge(std::vector<Item>& items) const {
    const double pitch = kFullTurn / pulley_.teeth;
    const double outside = scale_ * pulley_.outside_radius_mm;
    const double floor = outside - scale_ * tooth_height_mm(view_);
    const Angle top = Angle::degrees(90.0);
    const Angle first = top + Angle::degrees(pulley_.sense * out_.own_deg);
    const int half = 1 + static_cast<int>(2.0 * kHalfAngle / pitch);
    std::vector<Vec2> points;
    for (int k = -half; k <= half; ++k) {
      const Angle middle = first + Angle::radians(k * pitch);
      if (std::abs((middle - top).radians()) > kHalfAngle) continue;
      add_groove(points, centre_, middle, Angle::radians(pitch), outside, floor);
    }
    items.push_back({Polyline{std::move(points), Pen::tooth, Ends::open}});
  }

  const BeltView& view_;
  const ToothOut& out_;
  const SeenPulley& pulley_;
  double scale_ = 1.0;
  Vec2 centre_ = Vec2::Zero();
};

// Half a tooth and one, late on the left and early on the right, between them a mark that is right;
// the one that is this drive is framed.
class MarkCases {
 public:
  explicit MarkCases(const BeltView& view) : view_(view), example_(*view.tooth_out) {}

  Panel draw() {
    for (std::size_t k = 0; k < example_.cases.size(); ++k) put_case(k);
    double y = 0.0;
    for (const double teeth : {0.5, 1.0}) {
      y -= kCaseMm;
      for (const ToothOut& out : example_.cases) {
        if (out.teeth == teeth) put_numbers(out, y);
      }
      y -= kNumbersMm;
    }
    put_this(y - 1.0);
    panel_.crop();
    return std::move(panel_);
  }

 private:
  static constexpr double kCaseMm = MarkCase::kHeightMm;
  static constexpr double kNumbersMm = 10.0;
  static constexpr double kLineMm = 4.3;

  Vec2 corner(const ToothOut& out) const {
    const double column = out.teeth < 0.0 ? 0.0 : out.teeth > 0.0 ? 2.0 : 1.0;
    const double row = std::abs(out.teeth) < 1.0 ? 0.0 : 1.0;
    return {column * MarkCase::kWidthMm, -kCaseMm - row * (kCaseMm + kNumbersMm)};
  }

  void put_case(std::size_t k) {
    const ToothOut& out = example_.cases[k];
    Panel one = MarkCase(view_, example_, out).draw();
    const Vec2 at = corner(out);
    one.move(at);
    for (Item& item : one.items) panel_.items.push_back(std::move(item));
    if (example_.this_case != static_cast<int>(k)) return;
    const Vec2 far = at + Vec2(MarkCase::kWidthMm, MarkCase::kHeightMm);
    Group frame{"this drive", {}, "this-drive", std::nullopt};
    frame.items.push_back({Polyline{
        {at, Vec2(far.x(), at.y()), far, Vec2(at.x(), far.y())}, Pen::heavy, Ends::joined}});
    panel_.items.push_back({std::move(frame)});
  }

  void put_line(const std::string& words, double y, Weight weight = Weight::plain) {
    Label label = text_at(Vec2(1.5 * MarkCase::kWidthMm, y), words, Across::middle);
    label.weight = weight;
    panel_.add(std::move(label));
  }

  void put_numbers(const ToothOut& out, double y) {
    put_line(fixed(out.crank_deg, 2) + " crank deg, " + fixed(out.edge_mm, 1) + " mm at the mark",
             y - kLineMm + 0.6);
    put_line(fixed(out.own_deg, 2) + " deg of its own", y - 2.0 * kLineMm + 0.6);
  }

  void put_this(double y) {
    const std::string off = sentences::error(example_.this_crank_deg, view_.direction);
    const bool framed = example_.this_case.has_value();
    const std::string words =
        (framed ? "the nearest is framed; this drive: " : "this drive: ") + off;
    for (const std::string& line :
         lines_within(words, 3.0 * MarkCase::kWidthMm, kLeastTextMm, Weight::bold)) {
      y -= kLineMm;
      put_line(line, y, Weight::bold);
    }
  }

  const BeltView& view_;
  const ToothOutExample& example_;
  Panel panel_;
};

// By the book and as fitted, the difference drawn larger than it is.
class MovedCloseUp {
 public:
  explicit MovedCloseUp(const BeltView& view) : view_(view), moved_(*view.moved) {
    const Box extent = extent_mm(view);
    placing_.lean = view.lean;
    placing_.scale = std::min(kWidthMm / extent.size_mm().x(), kHeightMm / extent.size_mm().y());
    const double wanted = kShownMm / placing_.scale / moved_.greatest_move_mm;
    times_ = std::max(1.0, rounded(wanted));
    placing_.origin_mm = Vec2(kWidthMm / 2.0 - placing_.scale * extent.middle_mm().x(),
                              -placing_.scale * extent.least_mm.y());
  }

  Panel draw() {
    Panel panel;
    Group before{"by the book", {}, "before", std::nullopt};
    Group after{"as fitted, the change drawn larger", {}, "after", std::nullopt};
    for (std::size_t i = 0; i < view_.pulleys.size(); ++i) {
      const double radius = placing_.length(view_.pulleys[i].pitch_radius_mm);
      const Vec2& book = moved_.book_centres_mm[i];
      before.items.push_back({Circle{placing_.point(book), radius, Pen::hidden, Fill::none}});
      after.items.push_back({Circle{larger(static_cast<int>(i), book, view_.pulleys[i].centre_mm),
                                    radius, Pen::outline, Fill::none}});
      const SeenRun& was = moved_.book_runs[i];
      const SeenRun& is = view_.runs[i];
      before.items.push_back(
          {Line{placing_.point(was.start_mm), placing_.point(was.end_mm), Pen::hidden}});
      after.items.push_back({Line{larger(is.from, was.start_mm, is.start_mm),
                                  larger(is.to, was.end_mm, is.end_mm), Pen::outline}});
    }
    panel.items.push_back({std::move(before)});
    panel.items.push_back({std::move(after)});
    panel.items.push_back({error_marks()});
    panel.crop();
    put_words(panel);
    panel.crop();
    return panel;
  }

 private:
  static constexpr double kWidthMm = 48.0;
  static constexpr double kHeightMm = 38.0;
  static constexpr double kShownMm = 6.0;

  static double rounded(double times) {
    const double tens = std::pow(10.0, std::floor(std::log10(times)));
    for (const double factor : {5.0, 2.0, 1.0}) {
      if (factor * tens <= times) return factor * tens;
    }
    return tens;
  }

  // The tensioner takes up what all the others give: it is drawn where it really stands.
  Vec2 larger(int pulley, const Vec2& book, const Vec2& fitted) const {
    const bool tensioner = view_.tensioner && view_.tensioner->pulley == pulley;
    return placing_.point(book + (tensioner ? 1.0 : times_) * (fitted - book));
  }

  // The mark of each shaft, its error as many times larger.
  Group error_marks() const {
    Group group{"marks, their error drawn larger", {}, "error-marks", std::nullopt};
    for (const SeenMark& mark : view_.marks) {
      if (!mark.belongs || !mark.name.empty()) continue;
      const SeenPulley& pulley = view_.pulleys[at(mark.pulley)];
      const Vec2 centre =
          larger(mark.pulley, moved_.book_centres_mm[at(mark.pulley)], pulley.centre_mm);
      const double radius = placing_.length(pulley.pitch_radius_mm);
      const Angle belongs = placing_.angle(*mark.belongs);
      constexpr double kMostDeg = 150.0;
      const double off = (mark.at - *mark.belongs).wrapped_half().degrees() * times_;
      const Angle drawn = belongs + Angle::degrees(std::clamp(off, -kMostDeg, kMostDeg));
      group.items.push_back(
          {triangle(centre + (radius - 0.5) * towards(drawn), drawn, 2.6, Fill::ink)});
      group.items.push_back({triangle(centre + (radius + 0.9) * towards(belongs),
                                      belongs + Angle::degrees(180.0), 2.6, Fill::paper)});
    }
    return group;
  }

  void put_words(Panel& panel) const {
    std::string words;
    for (const std::string& said : moved_.said) words += (words.empty() ? "" : "; ") + said;
    std::vector<std::string> lines = lines_within(words, kWidthMm + 4.0, kLeastTextMm);
    lines.push_back("drawn " + shortest(times_, 0) + " times larger,");
    lines.emplace_back("the tensioner as it is");
    if (!view_.tensioner) {
      lines.pop_back();
      lines.back().pop_back();
    }
    constexpr double kLineMm = 4.3;
    double y = panel.box.least_mm.y() - kLineMm;
    for (const std::string& line : lines) {
      panel.add(text_at(Vec2(kWidthMm / 2.0, y), line, Across::middle));
      y -= kLineMm;
    }
  }

  const BeltView& view_;
  const SeenMove& moved_;
  Placing placing_;
  double times_ = 1.0;
};

}  // namespace

std::optional<Panel> marks_panel(const BeltView& view) {
  if (!view.tooth_out || view.pulleys[at(view.tooth_out->pulley)].teeth == 0) return std::nullopt;
  return MarkCases(view).draw();
}

std::optional<Panel> moved_panel(const BeltView& view) {
  if (!view.moved || view.moved->book_runs.size() != view.runs.size()) return std::nullopt;
  return MovedCloseUp(view).draw();
}

}  // namespace twoturn::draw
