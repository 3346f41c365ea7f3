#include "twoturn/picture/face_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/base/assert.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/face/contour_lines.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using namespace scene;

constexpr double kMapWidthMm = 150.0;
constexpr double kMapHeightMm = 190.0;
constexpr double kLeftMm = 20.0;
constexpr double kRightMm = 10.0;
constexpr double kTitleMm = 3.4;
constexpr double kTextMm = 2.5;
constexpr double kTextAt = 9.5;  // of the legend, beside its marks
constexpr double kLineMm = 5.6;  // from one line of text to the next

// How a thickness prints: enough digits to tell one contour from the next.
std::string height_text(double mm, double step) {
  const int digits = step >= 0.01 ? 2 : step >= 0.001 ? 3 : 4;
  return fixed(mm, digits);
}

double round_step(double least) {
  const double tens = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (tens * factor >= least) return tens * factor;
  }
  return 10.0 * tens;
}

class Map {
 public:
  Map(std::span<const Vec3> points, const FaceReport& report, const FaceContours& contours)
      : points_(points), report_(report), answer_(*report.heights), contours_(contours) {
    const Vec2 size = answer_.size_mm.cwiseMax(1e-6);
    scale_ = std::min(kMapWidthMm / size.x(), kMapHeightMm / size.y());
    map_size_ = scale_ * size;
  }

  Scene draw() {
    Group map;
    map.title = "The face from above: contours of height, high and low spots";
    put_regions(map);
    put_outline(map);
    put_contours(map);
    put_points(map);
    put_spots(map);
    put_contour_labels(map);
    scene_.add(std::move(map));
    put_axes();
    put_legend();
    put_title();
    scene_.title = title_;
    scene_.description = description();
    scene_.corner_mm = Vec2(-kLeftMm, legend_foot_);
    scene_.size_mm = Vec2(sheet_width(), top_ - legend_foot_);
    return std::move(scene_);
  }

 private:
  double sheet_width() const { return kLeftMm + kMapWidthMm + kRightMm; }

  Vec2 place(const Vec2& on_face) const { return scale_ * (on_face - answer_.least_mm); }
  Vec2 place(const Vec3& point) const { return place(Vec2(point.head<2>())); }

  std::vector<std::vector<Vec2>> placed(const FaceRegion& region) const {
    std::vector<std::vector<Vec2>> outlines;
    for (const std::vector<Vec2>& outline : region) {
      std::vector<Vec2> points;
      for (const Vec2& point : outline) points.push_back(place(point));
      outlines.push_back(std::move(points));
    }
    return outlines;
  }

  template <class Shape>
  static void add(Group& group, Shape shape) {
    group.items.push_back(Item{std::move(shape)});
  }

  void put_regions(Group& map) const {
    if (contours_.step_mm == 0.0) return;
    add(map, Area{placed(contours_.low), Fill::dots, std::nullopt});
    add(map, Area{placed(contours_.high), Fill::light_hatch, std::nullopt});
  }

  void put_outline(Group& map) const {
    for (std::vector<Vec2>& outline : placed(contours_.outline)) {
      add(map, Polyline{std::move(outline), Pen::outline, Ends::joined});
    }
  }

  void put_contours(Group& map) const {
    for (const ContourLine& line : contours_.lines) {
      std::vector<Vec2> points;
      for (const Vec2& point : line.points_mm) points.push_back(place(point));
      add(map, Polyline{std::move(points), main_line(line) ? Pen::main_contour : Pen::contour,
                        line.closed ? Ends::joined : Ends::open});
    }
  }

  bool main_line(const ContourLine& line) const {
    constexpr long kEvery = 5;
    return std::lround(line.height_mm / contours_.step_mm) % kEvery == 0;
  }

  void put_points(Group& map) {
    constexpr std::size_t kMostRings = 400;
    if (points_.size() > static_cast<std::size_t>(kMostContourPoints)) return;
    const bool rings = points_.size() <= kMostRings;
    for (const Vec3& point : points_) {
      add(map, Circle{place(point), rings ? 0.7 : 0.3, Pen::thin, rings ? Fill::paper : Fill::ink});
      if (rings) occupy(place(point), Vec2(0.8, 0.8));
    }
    if (room_for_heights()) put_heights(map);
  }

  // Each height beside its point, where they stand far enough apart to be read.
  bool room_for_heights() const {
    constexpr std::size_t kMost = 60;
    constexpr double kWideMm = 15.0;
    constexpr double kHighMm = 9.0;
    if (points_.size() > kMost) return false;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      for (std::size_t k = i + 1; k < points_.size(); ++k) {
        const Vec2 apart = (place(points_[i]) - place(points_[k])).cwiseAbs();
        if (apart.x() < kWideMm && apart.y() < kHighMm) return false;
      }
    }
    return true;
  }

  void put_heights(Group& map) {
    for (const Vec3& point : points_) {
      Label label;
      label.text = fixed(std::max(0.0, answer_.zone.slab.height_mm(point)), 3);
      label.height_mm = kTextMm;
      label.ground = Ground::cleared;
      label.upwards = Upwards::middle;
      const Vec2 at = place(point);
      // Over the point, but inside the frame at its upper edge; clear of marks of high and low.
      const double up = at.y() + 4.6 > map_size_.y() ? -4.4 : 4.4;
      label.across = at.x() < 6.0                   ? Across::left
                     : at.x() > map_size_.x() - 6.0 ? Across::right
                                                    : Across::middle;
      label.at_mm = at + Vec2(at.x() < 6.0 ? 1.2 : at.x() > map_size_.x() - 6.0 ? -1.2 : 0.0, up);
      occupy_label(label);
      add(map, std::move(label));
    }
    heights_shown_ = true;
  }

  void put_spots(Group& map) {
    for (const FaceSpot& spot : answer_.low) put_mark(map, place(spot.at_mm), -1.0);
    for (const FaceSpot& spot : answer_.high) put_mark(map, place(spot.at_mm), 1.0);
  }

  // A full triangle pointing up, or an empty one pointing down.
  void put_mark(Group& map, const Vec2& at, double up) {
    constexpr double kHalfMm = 1.9;
    const std::vector<Vec2> corners{at + Vec2(-kHalfMm, -up * 1.3), at + Vec2(kHalfMm, -up * 1.3),
                                    at + Vec2(0.0, up * 2.1)};
    add(map, Area{{corners}, up > 0.0 ? Fill::ink : Fill::paper, Pen::tooth});
    occupy(at, Vec2(2.2, 2.2));
  }

  void occupy(const Vec2& middle, const Vec2& half) {
    taken_.push_back({middle - half, middle + half});
  }

  Box box_of(const Label& label) const {
    const double width = text_width_mm(label);
    const double left = label.across == Across::left     ? 0.0
                        : label.across == Across::middle ? width / 2.0
                                                         : width;
    const Vec2 least = label.at_mm - Vec2(left + 0.4, kTextMm / 2.0 + 0.5);
    return {least, least + Vec2(width + 0.8, kTextMm + 1.0)};
  }

  void occupy_label(const Label& label) { taken_.push_back(box_of(label)); }

  bool is_free(const Box& box) const {
    if (box.least_mm.minCoeff() < 0.3 || box.most_mm.x() > map_size_.x() - 0.3 ||
        box.most_mm.y() > map_size_.y() - 0.3) {
      return false;
    }
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) {
      return box.least_mm.x() < other.most_mm.x() && other.least_mm.x() < box.most_mm.x() &&
             box.least_mm.y() < other.most_mm.y() && other.least_mm.y() < box.most_mm.y();
    });
  }

  static double length_of(const std::vector<Vec2>& line) {
    double length = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) length += (line[i] - line[i - 1]).norm();
    return length;
  }

  static Vec2 along(const std::vector<Vec2>& line, double distance) {
    for (std::size_t i = 1; i < line.size(); ++i) {
      const double piece = (line[i] - line[i - 1]).norm();
      if (distance <= piece && piece > 0.0) {
        return line[i - 1] + distance / piece * (line[i] - line[i - 1]);
      }
      distance -= piece;
    }
    return line.back();
  }

  // One number a line, at the free place nearest its middle.
  void put_contour_labels(Group& map) {
    constexpr double kLeastLineMm = 12.0;
    for (const ContourLine& contour : contours_.lines) {
      std::vector<Vec2> line;
      for (const Vec2& point : contour.points_mm) line.push_back(place(point));
      if (line.size() < 2) continue;
      const double length = length_of(line);
      if (length < kLeastLineMm) continue;
      Label label;
      label.text = height_text(contour.height_mm, contours_.step_mm);
      label.height_mm = kTextMm;
      label.across = Across::middle;
      label.upwards = Upwards::middle;
      label.ground = Ground::cleared;
      for (const double share : {0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9}) {
        label.at_mm = along(line, share * length);
        if (!is_free(box_of(label))) continue;
        occupy_label(label);
        add(map, label);
        break;
      }
    }
  }

  void put_axes() {
    Group axes;
    axes.title = "Scales, mm";
    for (const bool across : {true, false}) {
      const double size = across ? answer_.size_mm.x() : answer_.size_mm.y();
      const double start = across ? answer_.least_mm.x() : answer_.least_mm.y();
      constexpr double kApartMm = 16.0;
      const double step = round_step(kApartMm / scale_);
      const double slack = 1e-9 * step;
      for (long k = std::lround(std::ceil((start - slack) / step));
           static_cast<double>(k) * step <= start + size + slack; ++k) {
        const double value = static_cast<double>(k) * step;
        const double at = scale_ * (value - start);
        const Vec2 foot = across ? Vec2(at, -2.0) : Vec2(-2.0, at);
        const Vec2 tip = foot + (across ? Vec2(0, -1.5) : Vec2(-1.5, 0));
        add(axes, Line{foot, tip, Pen::thin, scene::Arrow::none});
        Label label;
        label.text = shortest(value, 3);
        label.height_mm = kTextMm;
        label.across = across ? Across::middle : Across::right;
        label.upwards = across ? Upwards::top : Upwards::middle;
        label.at_mm = tip + (across ? Vec2(0, -1.0) : Vec2(-1.0, 0));
        add(axes, std::move(label));
      }
    }
    put_axis_names(axes);
    scene_.add(std::move(axes));
  }

  void put_axis_names(Group& axes) const {
    Label x;
    x.text = "x mm";
    x.at_mm = Vec2(map_size_.x() + 3.0, -4.5);
    x.upwards = Upwards::top;
    if (x.at_mm.x() + text_width_mm(x) > kMapWidthMm + kRightMm) {
      x.at_mm = Vec2(map_size_.x(), -9.0);
      x.across = Across::right;
    }
    add(axes, x);
    Label y;
    y.text = "y mm";
    y.at_mm = Vec2(-4.5, map_size_.y() + 3.0);
    y.across = Across::right;
    add(axes, y);
  }

  void put_line(double x, double& y, const std::string& text) {
    Label label;
    label.text = text;
    label.at_mm = Vec2(x, y);
    label.upwards = Upwards::middle;
    scene_.add(std::move(label));
    y -= kLineMm;
  }

  void put_swatch(double y, Fill fill) {
    const std::vector<Vec2> box{{0, y - 1.7}, {7, y - 1.7}, {7, y + 1.7}, {0, y + 1.7}};
    scene_.add(Area{{box}, fill, Pen::thin});
  }

  void put_legend_of_marks(double& y) {
    Group marks;
    put_mark(marks, Vec2(3.5, y), 1.0);
    put_mark(marks, Vec2(3.5, y - kLineMm), -1.0);
    marks.title = "Marks";
    scene_.add(std::move(marks));
    put_line(kTextAt, y,
             fmt::format("high spot, {} above the low ones: the upper plane rests here",
                         mm_and_thou(answer_.flatness_mm(), 3)));
    put_line(kTextAt, y, "low spot: the lower plane touches here");
  }

  void put_legend() {
    double y = -17.0;
    if (contours_.step_mm == 0.0) {
      put_line(0.0, y, "Too flat for any spot to stand out.");
    } else {
      put_legend_of_marks(y);
      put_swatch(y, Fill::light_hatch);
      put_line(kTextAt, y,
               fmt::format("higher than {} mm",
                           height_text(contours_.high_above_mm, contours_.step_mm)));
      put_swatch(y, Fill::dots);
      put_line(
          kTextAt, y,
          fmt::format("lower than {} mm", height_text(contours_.low_below_mm, contours_.step_mm)));
      put_line(0.0, y,
               fmt::format("A line every {} mm above the lower plane; between points they are "
                           "a guess.",
                           shortest(contours_.step_mm, 6)));
    }
    if (heights_shown_) put_line(0.0, y, "Numbers at points: mm above the lower plane.");
    if (contours_.points_used < answer_.points) {
      put_line(0.0, y,
               fmt::format("Drawn from {} of {} points; measured by all of them.",
                           contours_.points_used, answer_.points));
    }
    legend_foot_ = y;
  }

  void put_title() {
    title_ = fmt::format("Out of flat by {}", mm_and_thou(answer_.flatness_mm(), 3));
    // The heart of the verdict large, what it means small.
    std::string rest = report_.verdict ? report_.verdict->headline : title_ + ".";
    rest.erase(0, std::min(title_.size() + 2, rest.size()));
    rest = capital(rest);
    Label probe;
    probe.text = "n";
    probe.height_mm = kTitleMm;
    probe.weight = Weight::bold;
    const double room = kMapWidthMm + kLeftMm - 5.0;
    std::vector<Label> lines;
    put_wrapped(title_, static_cast<std::size_t>(room / text_width_mm(probe)), kTitleMm,
                Weight::bold, lines);
    probe.height_mm = kTextMm;
    probe.weight = Weight::plain;
    const auto letters = static_cast<std::size_t>(room / text_width_mm(probe));
    if (!rest.empty()) put_wrapped(rest, letters, kTextMm, Weight::plain, lines);
    const std::string what = fmt::format(
        "{}{}, {} x {} mm, seen from above.", report_.title.empty() ? "" : report_.title + ": ",
        counted(answer_.points, "point", "points"), shortest(answer_.size_mm.x(), 1),
        shortest(answer_.size_mm.y(), 1));
    put_wrapped(what, letters, kTextMm, Weight::plain, lines);
    double y = map_size_.y() + 10.0 + kLineMm * static_cast<double>(lines.size() - 1);
    top_ = y + 8.0;
    for (Label& line : lines) {
      line.at_mm = Vec2(-kLeftMm + 5.0, y);
      y -= kLineMm;
      scene_.add(std::move(line));
    }
  }

  static void put_wrapped(const std::string& text, std::size_t letters, double height,
                          Weight weight, std::vector<Label>& lines) {
    const std::string wrapped = sentences::wrapped(text, 0, letters);
    std::size_t from = 0;
    while (from < wrapped.size()) {
      const std::size_t end = wrapped.find('\n', from);
      Label label;
      label.text = wrapped.substr(from, end - from);
      label.height_mm = height;
      label.weight = weight;
      lines.push_back(std::move(label));
      from = end + 1;
    }
  }

  std::string description() const {
    const auto list = [](const std::vector<FaceSpot>& spots) {
      std::string text;
      for (const FaceSpot& spot : spots) {
        text += fmt::format("{}x {}, y {}", text.empty() ? "" : "; ", shortest(spot.at_mm.x(), 1),
                            shortest(spot.at_mm.y(), 1));
      }
      return text;
    };
    return fmt::format("{}. High spots at {}. Low spots at {}.", title_, list(answer_.high),
                       list(answer_.low));
  }

  std::span<const Vec3> points_;
  const FaceReport& report_;
  const FaceAnswer& answer_;
  FaceContours contours_;
  double scale_ = 1.0;
  Vec2 map_size_ = Vec2::Zero();
  std::vector<Box> taken_;
  bool heights_shown_ = false;
  double legend_foot_ = 0.0;
  double top_ = 0.0;
  std::string title_;
  Scene scene_;
};

}  // namespace

scene::Scene face_scene(std::span<const Vec3> points, const FaceReport& report,
                        const FaceContours& contours) {
  TWOTURN_ASSERT(report.heights.has_value(), 0.0);
  return Map(points, report, contours).draw();
}

}  // namespace twoturn
