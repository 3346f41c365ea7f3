#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw_print.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/picture/draw.hpp"

namespace twoturn {

using namespace scene;

namespace {

Label centred(const Vec2& at, const std::string& words, double height_mm, Weight weight) {
  Label label = draw::text_at(at, words, Across::middle);
  label.height_mm = height_mm;
  label.weight = weight;
  return label;
}

void put_lines(Scene& scene, double top_mm, const std::vector<std::string>& texts) {
  for (const std::string& text : texts) top_mm = draw::put_words(scene, top_mm, text);
}

class Wheel360 {
 public:
  explicit Wheel360(int sense) : sense_(sense) {}

  Group draw() const {
    Group group{"degree wheel", {}, "degree-wheel", kMiddle};
    group.items.push_back({Circle{kMiddle, kRimMm, Pen::outline, Fill::none}});
    for (const double hole : {5.0, 10.0, 15.0, 20.0}) {
      group.items.push_back({Circle{kMiddle, hole, Pen::hidden, Fill::none}});
    }
    for (const Vec2& arm : {Vec2(24.0, 0.0), Vec2(0.0, 24.0)}) {
      group.items.push_back({Line{kMiddle - arm, kMiddle + arm, Pen::thin, Arrow::none}});
    }
    constexpr int kDegrees = 360;
    for (int deg = 0; deg < kDegrees; ++deg) add_degree(group, deg);
    return group;
  }

  static const Vec2 kMiddle;

 private:
  static constexpr double kRimMm = 88.0;

  // A fixed pointer counts up as the crank turns: the figures run against its turning.
  Angle place(int deg) const { return Angle::degrees(90.0 - sense_ * deg); }

  void add_degree(Group& group, int deg) const {
    const double long_mm = deg % 10 == 0 ? 8.0 : deg % 5 == 0 ? 5.5 : 3.5;
    const Vec2 out = draw::towards(place(deg));
    group.items.push_back({Line{kMiddle + (kRimMm - long_mm) * out, kMiddle + kRimMm * out,
                                deg % 10 == 0 ? Pen::tooth : Pen::thin, Arrow::none}});
    if (deg % 10 != 0) return;
    Label label = centred(kMiddle + (kRimMm - 12.5) * out, std::to_string(deg), kLeastTextMm,
                          deg % 90 == 0 ? Weight::bold : Weight::plain);
    label.upwards = Upwards::middle;
    label.turned = place(deg) - Angle::degrees(90.0);
    group.items.push_back({std::move(label)});
  }

  int sense_;
};

const Vec2 Wheel360::kMiddle(105.0, 150.0);

// A mark of the drive along the belt, in teeth from the crank's.
struct StripMark {
  double teeth = 0.0;
  std::string name;
};

std::vector<StripMark> marks_along(const BeltView& view) {
  std::vector<StripMark> marks;
  const auto name = [&](int pulley) { return view.pulleys[static_cast<std::size_t>(pulley)].name; };
  double along = view.crank_mark_teeth;
  if (!view.counts.empty()) marks.push_back({along, name(0)});
  for (const SeenCount& count : view.counts) {
    along += count.teeth;
    if (count.to == 0) continue;
    const double teeth = *view.belt_teeth;
    marks.push_back({along - teeth * std::floor(along / teeth), name(count.to)});
  }
  return marks;
}

class Strips {
 public:
  explicit Strips(const BeltView& view)
      : view_(view),
        pitch_(view.pitch_mm),
        per_strip_(std::max(1, static_cast<int>(kLongMm / view.pitch_mm))),
        marks_(marks_along(view)) {}

  std::vector<Scene> pages() const {
    std::vector<Scene> pages;
    const int strips = (*view_.belt_teeth + per_strip_ - 1) / per_strip_;
    for (int strip = 0; strip < strips; ++strip) {
      if (strip % kAPage == 0) pages.push_back(new_page(strips, strip / kAPage));
      const double top = kA4HeightMm - 48.0 - kHighMm * (strip % kAPage);
      pages.back().add(draw(strip, Vec2(draw::kMarginMm + 3.0, top)));
    }
    return pages;
  }

 private:
  static constexpr double kLongMm = 180.0;
  static constexpr double kHighMm = 30.0;
  static constexpr int kAPage = 7;

  Scene new_page(int strips, int page) const {
    const int pages = (strips + kAPage - 1) / kAPage;
    Scene scene =
        draw::page_at(Vec2::Zero(), fmt::format("belt strip, page {} of {}", page + 1, pages));
    scene.add(draw::check_bar(Vec2(98.0, kA4HeightMm - 18.0)));
    Label head =
        draw::text_at(Vec2(draw::kMarginMm, kA4HeightMm - 16.0),
                      fmt::format("{} teeth of {} mm", *view_.belt_teeth, shortest(pitch_, 3)));
    head.weight = Weight::bold;
    scene.add(std::move(head));
    std::vector<std::string> lines;
    if (!view_.title.empty()) lines.push_back(view_.title);
    lines.push_back(
        fmt::format("Numbered along the belt's travel, from the crank on. Cut out and glue {0} "
                    "on {0} and so on; the last 0 is the first again.",
                    per_strip_));
    put_lines(scene, kA4HeightMm - 19.5, lines);
    return scene;
  }

  Group draw(int strip, const Vec2& at) const {
    const int first = strip * per_strip_;
    const int last = std::min(first + per_strip_, *view_.belt_teeth);
    Group group{fmt::format("teeth {} to {}", first, last), {}, "strip", std::nullopt};
    const double end = (last - first) * pitch_;
    const double back = view_.back_to_pitch_line_mm.value_or(1.5);
    const double land = view_.land_to_pitch_line_mm.value_or(0.0);
    for (const double y : {back, -land}) {
      group.items.push_back(
          {Line{at + Vec2(-pitch_ / 2.0, y), at + Vec2(end + pitch_ / 2.0, y), Pen::thin}});
    }
    for (int tooth = first; tooth <= last; ++tooth) {
      const Vec2 here = at + Vec2((tooth - first) * pitch_, 0.0);
      add_tooth(group, here, land);
      if (tooth % number_every() == 0) {
        group.items.push_back(
            {centred(here + Vec2(0.0, back + 1.2), std::to_string(tooth % *view_.belt_teeth),
                     kLeastTextMm, Weight::plain)});
      }
    }
    std::vector<Box> words;
    for (const StripMark& mark : marks_) {
      if (mark.teeth < first || mark.teeth >= last) continue;
      add_mark(group,
               at + Vec2((mark.teeth - first) * pitch_, -land - draw::tooth_height_mm(view_)), mark,
               words);
    }
    return group;
  }

  int number_every() const {
    constexpr double kWidestMm = 7.4;  // three figures and a gap
    return pitch_ >= kWidestMm ? 1 : pitch_ >= kWidestMm / 2.0 ? 2 : 5;
  }

  void add_tooth(Group& group, const Vec2& at, double land) const {
    const double tip = -land - draw::tooth_height_mm(view_);
    const double base = draw::kToothFoot * pitch_;
    const double end = draw::kToothTip * pitch_;
    group.items.push_back({Area{{{at + Vec2(-base, -land), at + Vec2(-end, tip),
                                  at + Vec2(end, tip), at + Vec2(base, -land)}},
                                Fill::paper,
                                Pen::thin}});
  }

  // Words that would meet those of another mark of the strip go under them.
  static void add_mark(Group& group, const Vec2& at, const StripMark& mark,
                       std::vector<Box>& words) {
    group.items.push_back(
        {draw::triangle(at - Vec2(0.0, 0.5), Angle::degrees(90.0), 3.2, Fill::ink)});
    constexpr double kMiddleMm = 105.0;
    constexpr double kHalfMm = 95.0;
    Label label = centred(at - Vec2(0.0, 8.0), "mark of " + mark.name, kLeastTextMm, Weight::bold);
    // Kept on the page, whichever end the mark is at.
    const double half = text_width_mm(label) / 2.0;
    label.at_mm.x() = std::clamp(label.at_mm.x(), kMiddleMm - std::max(0.0, kHalfMm - half),
                                 kMiddleMm + std::max(0.0, kHalfMm - half));
    const auto met = [&](const Box& other) { return other.meets(box_of(label)); };
    constexpr double kRowMm = 4.6;
    while (std::any_of(words.begin(), words.end(), met)) label.at_mm.y() -= kRowMm;
    words.push_back(box_of(label));
    group.items.push_back({std::move(label)});
  }

  const BeltView& view_;
  double pitch_;
  int per_strip_;
  std::vector<StripMark> marks_;
};

}  // namespace

Scene degree_wheel(const DriveSpec& spec) {
  Scene scene = draw::page_at(Vec2::Zero(), "degree wheel");
  const Turn turn = spec.crank_turns.value_or(Turn::clockwise);
  const int against = turn == Turn::clockwise ? -1 : 1;
  scene.add(Wheel360(against).draw());
  scene.add(centred(Vec2(kA4WidthMm / 2.0, kA4HeightMm - 20.0),
                    fmt::format("Degree wheel for a crank that turns {}", word(turn)), 4.0,
                    Weight::bold));
  std::vector<std::string> lines;
  if (!spec.title.empty()) lines.push_back(spec.title + ".");
  if (!spec.crank_turns) {
    lines.emplace_back("Which way this crank turns is not known: clockwise is taken.");
  }
  lines.emplace_back(
      "Fix it to the crank's nose, bend a wire to a pointer on the block, and set 0 to the pointer "
      "at the timing position or at top dead centre.");
  lines.emplace_back(
      "The pointer then counts up as the crank turns in its running direction, seen from the belt "
      "end. By eye it reads to about half a degree.");
  put_lines(scene, kA4HeightMm - 23.5, lines);
  scene.add(draw::check_bar(Vec2(55.0, 16.0)));
  return scene;
}

std::vector<Scene> belt_strip(const BeltView& view) {
  if (!view.belt_teeth || !(view.pitch_mm > 0.0)) return {};
  return Strips(view).pages();
}

}  // namespace twoturn
