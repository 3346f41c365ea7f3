#include "twoturn/picture/plot.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "draw_parts.hpp"
#include "label_placer.hpp"
#include "twoturn/base/assert.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn {
namespace {

using namespace scene;

constexpr double kPlotLeftMm = 17.0;
constexpr double kPlotRightMm = 4.0;
constexpr double kFootMm = 13.0;
constexpr double kHeadMm = 15.0;
constexpr double kTitleLineMm = 4.6;

// A step of 1, 2 or 5 times a power of ten that cuts a length into about so many parts.
double round_step(double length, int parts) {
  const double least = length / parts;
  const double tens = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * tens >= least * (1.0 - 1e-9)) return factor * tens;
  }
  return 10.0 * tens;
}

int digits_for(double step) {
  return std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
}

struct Span1 {
  double least = 0.0;
  double most = 0.0;

  void take(double value) {
    least = std::min(least, value);
    most = std::max(most, value);
  }
  double length() const { return most - least; }
};

class Plotter {
 public:
  Plotter(const Plot& plot, const Vec2& size) : plot_(plot), size_(size) {
    TWOTURN_ASSERT(!plot.lines.empty() && plot.lines.front().points.size() >= 2, size.x());
    find_spans();
  }

  Scene draw() {
    scene_.title = plot_.title;
    scene_.description = plot_.y_words + " against " + plot_.x_words;
    scene_.size_mm = size_;
    add_axes();
    LabelPlacer placer(
        Box{Vec2(kPlotLeftMm, kFootMm), Vec2(size_.x() - 1.0, size_.y() - head_mm())});
    std::vector<Wanted> words;
    for (std::size_t i = 0; i < plot_.lines.size(); ++i) add_line(i, placer, words);
    for (const PlotRule& rule : plot_.rules) add_rule(rule, placer, words);
    for (const PlotPoint& point : plot_.points) add_point(point, words);
    if (plot_.along == Plot::Along::two_turns) add_cursor();
    Group names{"what each line is", placer.place(words), "plot-names", std::nullopt};
    scene_.add(std::move(names));
    return std::move(scene_);
  }

 private:
  void find_spans() {
    const Vec2& first = plot_.lines.front().points.front();
    x_ = {first.x(), first.x()};
    y_ = {first.y(), first.y()};
    for (const PlotLine& line : plot_.lines) {
      for (const Vec2& point : line.points) {
        x_.take(point.x());
        y_.take(point.y());
      }
    }
    for (const PlotRule& rule : plot_.rules) {
      (rule.across == PlotRule::Across::x ? x_ : y_).take(rule.value);
    }
    const double lacks = plot_.least_height - y_.length();
    if (lacks > 0.0) y_ = {y_.least - lacks / 2.0, y_.most + lacks / 2.0};
    if (!(x_.length() > 0.0)) x_.most = x_.least + 1.0;
    if (!(y_.length() > 0.0)) y_ = {y_.least - 0.5, y_.most + 0.5};
    constexpr int kParts = 5;
    y_step_ = round_step(y_.length(), kParts);
    y_.least = y_step_ * std::floor(y_.least / y_step_ + 1e-9);
    y_.most = y_step_ * std::ceil(y_.most / y_step_ - 1e-9);
    constexpr double kFigureMm = 16.0;
    const int most = std::max(2, static_cast<int>((size_.x() - kPlotLeftMm) / kFigureMm));
    x_step_ = plot_.x_step > 0.0 ? plot_.x_step : round_step(x_.length(), most);
  }

  Vec2 place(const Vec2& value) const {
    const Vec2 room = size_ - Vec2(kPlotLeftMm + kPlotRightMm, kFootMm + head_mm());
    return {kPlotLeftMm + room.x() * (value.x() - x_.least) / x_.length(),
            kFootMm + room.y() * (value.y() - y_.least) / y_.length()};
  }

  void add_axes() {
    Group axes{"axes", {}, "plot-axes", std::nullopt};
    const Vec2 low = place({x_.least, y_.least});
    const Vec2 high = place({x_.most, y_.most});
    axes.items.push_back(
        {Polyline{{Vec2(low.x(), high.y()), low, Vec2(high.x(), low.y())}, Pen::thin, Ends::open}});
    const int first_x = static_cast<int>(std::ceil(x_.least / x_step_ - 1e-9));
    for (int k = first_x; k * x_step_ <= x_.most + 1e-9 * x_step_; ++k) {
      const Vec2 foot = place({k * x_step_, y_.least});
      axes.items.push_back({Line{foot, foot - Vec2(0.0, 1.2), Pen::thin, Arrow::none}});
      Label figure = draw::text_at(foot - Vec2(0.0, 4.8), fixed(k * x_step_, digits_for(x_step_)),
                                   Across::middle);
      axes.items.push_back({std::move(figure)});
    }
    const int first_y = static_cast<int>(std::lround(y_.least / y_step_));
    const int last_y = static_cast<int>(std::lround(y_.most / y_step_));
    for (int k = first_y; k <= last_y; ++k) {
      const Vec2 foot = place({x_.least, k * y_step_});
      const Vec2 end(k == 0 ? high.x() : foot.x() - 1.2, foot.y());
      axes.items.push_back({Line{foot, end, Pen::thin, Arrow::none}});
      Label figure = draw::text_at(foot - Vec2(2.0, 0.0), fixed(k * y_step_, digits_for(y_step_)),
                                   Across::right);
      figure.upwards = Upwards::middle;
      axes.items.push_back({std::move(figure)});
    }
    axes.items.push_back(
        {draw::text_at(Vec2(size_.x() / 2.0, 2.0), plot_.x_words, Across::middle)});
    add_heads(axes);
    scene_.add(std::move(axes));
  }

  std::vector<std::string> title_lines() const {
    return lines_within(plot_.title, size_.x() - 4.0, kLeastTextMm, Weight::bold);
  }

  double head_mm() const {
    return kHeadMm + kTitleLineMm * (static_cast<double>(title_lines().size()) - 1.0);
  }

  void add_heads(Group& axes) const {
    double y = size_.y() - 4.5 + kTitleLineMm;
    for (const std::string& line : title_lines()) {
      y -= kTitleLineMm;
      Label title = draw::text_at(Vec2(2.0, y), line);
      title.weight = Weight::bold;
      axes.items.push_back({std::move(title)});
    }
    axes.items.push_back({draw::text_at(Vec2(2.0, y - 5.0), plot_.y_words)});
  }

  void add_line(std::size_t index, LabelPlacer& placer, std::vector<Wanted>& words) {
    constexpr std::array kPens{Pen::outline, Pen::hidden, Pen::heavy,
                               Pen::guide,   Pen::tooth,  Pen::contour};
    const PlotLine& line = plot_.lines[index];
    Polyline drawn;
    drawn.pen = kPens[index % kPens.size()];
    for (const Vec2& point : line.points) drawn.points_mm.push_back(place(point));
    for (std::size_t i = 1; i < drawn.points_mm.size(); ++i) {
      placer.line(drawn.points_mm[i - 1], drawn.points_mm[i]);
    }
    if (!line.name.empty()) {
      const std::size_t place_at = where_alone(index);
      want(drawn.points_mm[place_at], line.name, words);
    }
    scene_.add(Group{line.name, {{std::move(drawn)}}, "plot-line", std::nullopt});
  }

  // The place of a line that is furthest from all others; where they lie together each next name
  // a little further along.
  std::size_t where_alone(std::size_t index) const {
    const std::vector<Vec2>& points = plot_.lines[index].points;
    const double share =
        (static_cast<double>(index) + 0.5) / static_cast<double>(plot_.lines.size());
    auto best = static_cast<std::size_t>(share * static_cast<double>(points.size() - 1));
    double most = 0.02 * y_.length();
    for (std::size_t k = 0; k < points.size(); ++k) {
      double least = y_.length();
      for (std::size_t other = 0; other < plot_.lines.size(); ++other) {
        const std::vector<Vec2>& theirs = plot_.lines[other].points;
        if (other == index || k >= theirs.size()) continue;
        least = std::min(least, std::abs(theirs[k].y() - points[k].y()));
      }
      if (plot_.lines.size() > 1 && least > most) {
        most = least;
        best = k;
      }
    }
    return best;
  }

  void add_rule(const PlotRule& rule, LabelPlacer& placer, std::vector<Wanted>& words) {
    const bool level = rule.across == PlotRule::Across::y;
    const Vec2 from = place(level ? Vec2(x_.least, rule.value) : Vec2(rule.value, y_.least));
    const Vec2 to = place(level ? Vec2(x_.most, rule.value) : Vec2(rule.value, y_.most));
    placer.line(from, to);
    constexpr double kNamed = 0.85;
    want(from + kNamed * (to - from), rule.words, words);
    scene_.add(
        Group{rule.words, {{Line{from, to, Pen::guide, Arrow::none}}}, "plot-rule", std::nullopt});
  }

  void add_point(const PlotPoint& point, std::vector<Wanted>& words) {
    constexpr double kRingMm = 1.3;
    const Vec2 at = place(point.at);
    want(at, point.words, words);
    scene_.add(Group{point.words,
                     {{Circle{at, kRingMm, Pen::outline, Fill::paper}}},
                     "plot-point",
                     std::nullopt});
  }

  void add_cursor() {
    const Vec2 foot = place({x_.least, y_.least});
    const Vec2 head = place({x_.least, y_.most});
    Group cursor{"where the crank stands", {}, "cursor", foot};
    cursor.items.push_back({Line{foot, head, Pen::outline, Arrow::none}});
    cursor.items.push_back({draw::triangle(head, Angle::degrees(-90.0), 2.6, Fill::ink)});
    scene_.add(std::move(cursor));
    scene_.add(Group{"", {}, "cursor-end", place({x_.most, y_.least})});
  }

  static void want(const Vec2& at, const std::string& words, std::vector<Wanted>& list) {
    Wanted wanted;
    constexpr double kWidthMm = 60.0;
    for (std::string& line : lines_within(words, kWidthMm, kLeastTextMm)) {
      wanted.words.lines.push_back({std::move(line)});
    }
    wanted.anchor_mm = at;
    wanted.radius_mm = 1.8;
    wanted.rather_along = Angle::degrees(90.0);
    list.push_back(std::move(wanted));
  }

  const Plot& plot_;
  Vec2 size_;
  Span1 x_;
  Span1 y_;
  double x_step_ = 1.0;
  double y_step_ = 1.0;
  Scene scene_;
};

}  // namespace

Scene plot_scene(const Plot& plot, const Vec2& size_mm) { return Plotter(plot, size_mm).draw(); }

}  // namespace twoturn
