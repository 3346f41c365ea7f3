#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/picture/draw.hpp"

namespace twoturn {

using namespace scene;

namespace {

constexpr double kWheelMm = 15.0;      // radius of every toothed wheel here, at most
constexpr double kRollerShare = 0.75;  // of that, every smooth one's
constexpr double kRoomMm = 180.0;      // across the diagram

// A pulley of the list as the diagram has it. Sizes and places mean nothing.
struct Threaded {
  const PulleySpec* spec = nullptr;
  bool on_back = false;
  bool face_known = true;
};

// Round a circle in belt order, the crank at the foot; rollers on the back press in from outside.
class Diagram {
 public:
  explicit Diagram(const DriveSpec& spec) : spec_(spec) {
    const auto crank =
        std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                     [](const PulleySpec& pulley) { return pulley.role == Role::crankshaft; });
    const std::size_t count = spec.pulleys.size();
    const auto first =
        crank == spec.pulleys.end() ? 0U : static_cast<std::size_t>(crank - spec.pulleys.begin());
    for (std::size_t k = 0; k < count; ++k) {
      const PulleySpec& pulley = spec.pulleys[(first + k) % count];
      const bool smooth = !pulley.teeth && pulley.diameter_mm;
      list_.push_back({&pulley,
                       pulley.face.value_or(smooth ? Face::back : Face::tooth) == Face::back,
                       pulley.face.has_value() || !smooth});
    }
    place();
  }

  bool solved() const { return solved_; }
  Group parts() const;
  void name(LabelPlacer& placer, Group& group) const;
  const std::vector<Threaded>& list() const { return list_; }

 private:
  void place();

  const DriveSpec& spec_;
  std::vector<Threaded> list_;
  std::vector<Wheel> wheels_;
  TangentPath path_;
  bool solved_ = false;
};

void Diagram::place() {
  const auto count = static_cast<double>(list_.size());
  const int sense = spec_.crank_turns == Turn::anticlockwise ? 1 : -1;
  // The wheels as large as keeps neighbours apart on a ring that fits the page.
  const double ring = 0.36 * kRoomMm;
  const double wheel = std::min(kWheelMm, ring * 2.0 * std::sin(kPi / count) / 3.2);
  for (std::size_t k = 0; k < list_.size(); ++k) {
    const bool back = list_[k].on_back;
    const double radius = wheel * (list_[k].spec->teeth ? 1.0 : kRollerShare);
    const Angle at =
        Angle::degrees(-90.0) + Angle::radians(sense * kFullTurn * static_cast<double>(k) / count);
    double out = ring;
    if (back) {
      // Where the straight run between its neighbours passes, pressed in by half a radius.
      out = ring * std::cos(kFullTurn / count) + wheel + 0.5 * radius;
    }
    wheels_.push_back({out * draw::towards(at), radius, back ? -sense : sense});
  }
  solved_ = wheels_.size() > 1 && solve_path(wheels_, path_).solved();
}

Group Diagram::parts() const {
  Group group{"the order in which the belt meets the pulleys", {}, "threading", std::nullopt};
  for (std::size_t k = 0; k < wheels_.size(); ++k) {
    const Wheel& wheel = wheels_[k];
    Group pulley{list_[k].spec->name, {}, "pulley", std::nullopt};
    pulley.items.push_back({Circle{wheel.centre_mm, wheel.radius_mm, Pen::outline, Fill::paper}});
    if (list_[k].spec->teeth) {
      pulley.items.push_back(
          {Circle{wheel.centre_mm, wheel.radius_mm - 1.5, Pen::thin, Fill::none}});
    }
    group.items.push_back({std::move(pulley)});
  }
  Group belt{"belt", {}, "belt", std::nullopt};
  for (std::size_t k = 0; solved_ && k < wheels_.size(); ++k) {
    const Wheel& wheel = wheels_[k];
    belt.items.push_back(
        {Arc{wheel.centre_mm, wheel.radius_mm, entry_angle(wheel, path_, static_cast<int>(k)),
             wheel.sense * path_.wraps[k], Pen::belt, Arrow::none}});
    belt.items.push_back(
        {Line{path_.spans[k].start_mm, path_.spans[k].end_mm, Pen::belt, Arrow::none}});
  }
  group.items.push_back({std::move(belt)});
  const Wheel& crank = wheels_.front();
  constexpr double kSweepDeg = 230.0;
  const Angle half = Angle::degrees(crank.sense * kSweepDeg / 2.0);
  group.items.push_back(
      {Arc{crank.centre_mm, 0.55 * crank.radius_mm, Angle::degrees(90.0) - half, 2.0 * half,
           Pen::outline, spec_.crank_turns ? Arrow::at_end : Arrow::at_both}});
  return group;
}

void Diagram::name(LabelPlacer& placer, Group& group) const {
  for (std::size_t k = 0; k < wheels_.size(); ++k) {
    placer.circle(wheels_[k].centre_mm, wheels_[k].radius_mm);
    placer.disc(wheels_[k].centre_mm, wheels_[k].radius_mm);
    if (solved_) placer.line(path_.spans[k].start_mm, path_.spans[k].end_mm);
  }
  std::vector<Wanted> names;
  for (std::size_t k = 0; k < wheels_.size(); ++k) {
    const PulleySpec& pulley = *list_[k].spec;
    Wanted wanted;
    if (draw::numbered(pulley.name)) {
      wanted.words.lines = {{std::to_string(k + 1), Weight::bold}};
    } else {
      wanted.words.lines = {{pulley.name, Weight::bold}};
    }
    if (pulley.teeth) wanted.words.lines.push_back({counted(*pulley.teeth, "tooth", "teeth")});
    wanted.anchor_mm = wheels_[k].centre_mm;
    constexpr double kBeltMm = 2.0;
    wanted.radius_mm = wheels_[k].radius_mm + kBeltMm;
    const Vec2 out = k == 0 ? Vec2(0.0, -1.0) : Vec2(wheels_[k].centre_mm);
    wanted.rather_along = Angle::radians(std::atan2(out.y(), out.x()));
    names.push_back(std::move(wanted));
  }
  for (Item& item : placer.place(names)) group.items.push_back(std::move(item));
}

std::string order_words(const std::vector<Threaded>& list) {
  std::string words;
  for (std::size_t k = 0; k < list.size(); ++k) {
    const PulleySpec& pulley = *list[k].spec;
    words += words.empty() ? "" : ", then ";
    if (draw::numbered(pulley.name)) words += fmt::format("{} = ", k + 1);
    words += pulley.name + (list[k].on_back ? " (on the belt's back" : " (on the belt's teeth");
    words += list[k].face_known ? ")" : ", taken: its face is not given)";
  }
  return words;
}

}  // namespace

Scene threading_diagram(const DriveSpec& spec, const CheckAnswer& answer) {
  const Diagram diagram(spec);
  Scene scene;
  scene.title = answer.title.empty() ? "Belt drive" : answer.title;
  scene.description = answer.headline;
  double y = -draw::kMarginMm;
  constexpr double kTitleMm = 4.2;
  constexpr double kStampMm = 6.0;
  y = draw::put_words(scene, y, scene.title, kTitleMm, Weight::bold);
  y = draw::put_words(scene, y, answer.headline, 2.8, Weight::bold);
  y -= 2.0;
  y = draw::put_words(scene, y, "NOT TO SCALE", kStampMm, Weight::bold);
  y -= 2.5;
  y = draw::put_words(
      scene, y,
      "The order in which the belt meets the pulleys, from the order of the list and the faces "
      "given. Where they stand and how large they are is not known.");
  Group parts = diagram.parts();
  const Box box = box_of(Item{parts});
  constexpr double kUpMm = 14.0;
  const double height = box.size_mm().y() + 2.0 * kUpMm;
  const Vec2 by(kA4WidthMm / 2.0 - box.middle_mm().x(), y - height / 2.0 - box.middle_mm().y());
  LabelPlacer placer(
      Box{Vec2(draw::kMarginMm, y - height) - by, Vec2(kA4WidthMm - draw::kMarginMm, y) - by});
  diagram.name(placer, parts);
  Item placed{std::move(parts)};
  shift(placed, by);
  scene.items.push_back(std::move(placed));
  y -= height;
  y = draw::put_words(scene, y,
                      "In order: " + order_words(diagram.list()) + ", and back to the first.");
  if (!diagram.solved()) {
    y = draw::put_words(scene, y, "No belt is drawn: too few pulleys are listed.");
  }
  y = draw::put_words(
      scene, y,
      "The belt may run round this list either way. The engine maker's manual shows the way: it "
      "comes before this picture, with local rules and a qualified mechanic.");
  const double foot = std::max(kA4HeightMm, draw::kMarginMm - y);
  scene.corner_mm = Vec2(0.0, -foot);
  scene.size_mm = Vec2(kA4WidthMm, foot);
  return scene;
}

}  // namespace twoturn
