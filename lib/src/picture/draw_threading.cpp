#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/picture/draw.hpp"

namespace twoturn {

using namespace scene;

namespace {

constexpr double kWheelMm = 18.0;      // radius of the largest wheel, at most
constexpr double kLeastMm = 6.5;       // of the smallest: for a number in it
constexpr double kPageRoomMm = 180.0;  // across the diagram on a page of its own

// A pulley of the list as the diagram has it. Sizes follow the teeth; places mean nothing.
struct Threaded {
  const PulleySpec* spec = nullptr;
  bool on_back = false;
  bool face_known = true;
  double size = 1.0;  ///< its teeth, or as many as would go round it; no unit
  int number = 0;     ///< its place in the list
};

// Teeth, or the diameter over the pitch where both are known; else of a middling roller.
double size_of(const PulleySpec& pulley, const DriveSpec& spec) {
  constexpr double kMiddling = 22.0;
  if (pulley.teeth) return *pulley.teeth;
  if (!pulley.diameter_mm || !spec.belt.pitch_mm) return kMiddling;
  return kPi * *pulley.diameter_mm / *spec.belt.pitch_mm;
}

// Round a circle in belt order, the crank at the foot; rollers on the back press in from outside.
class Diagram {
 public:
  Diagram(const DriveSpec& spec, double room_mm) : spec_(spec), room_mm_(room_mm) {
    const auto crank =
        std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                     [](const PulleySpec& pulley) { return pulley.role == Role::crankshaft; });
    const std::size_t count = spec.pulleys.size();
    const auto first =
        crank == spec.pulleys.end() ? 0U : static_cast<std::size_t>(crank - spec.pulleys.begin());
    for (std::size_t k = 0; k < count; ++k) {
      const PulleySpec& pulley = spec.pulleys[(first + k) % count];
      const bool smooth = !pulley.teeth && pulley.diameter_mm;
      list_.push_back(
          {&pulley, pulley.face.value_or(smooth ? Face::back : Face::tooth) == Face::back,
           pulley.face.has_value() || !smooth, size_of(pulley, spec), static_cast<int>(k) + 1});
    }
    place();
  }

  bool solved() const { return solved_; }
  Group parts() const;
  /// Whether all are named so that no one takes a name for another's.
  bool name(LabelPlacer& placer, draw::Naming naming, Group& group) const;
  const std::vector<Threaded>& list() const { return list_; }

 private:
  void place();

  const DriveSpec& spec_;
  double room_mm_;
  std::vector<Threaded> list_;
  std::vector<Wheel> wheels_;
  TangentPath path_;
  bool solved_ = false;
};

void Diagram::place() {
  const auto count = static_cast<double>(list_.size());
  const int sense = spec_.crank_turns == Turn::anticlockwise ? 1 : -1;
  // The wheels as large as keeps neighbours apart on a ring that fits the page.
  const double ring = 0.36 * room_mm_;
  const double wheel = std::min(kWheelMm, ring * 2.0 * std::sin(kPi / count) / 3.2);
  double largest = 1.0;
  for (const Threaded& one : list_) largest = std::max(largest, one.size);
  for (std::size_t k = 0; k < list_.size(); ++k) {
    const bool back = list_[k].on_back;
    const double radius = std::max(std::min(kLeastMm, wheel), wheel * list_[k].size / largest);
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
    Group pulley{list_[k].spec->name, {}, "pulley", wheel.centre_mm};
    pulley.items.push_back({Circle{wheel.centre_mm, wheel.radius_mm, Pen::outline, Fill::paper}});
    if (list_[k].spec->teeth) {
      pulley.items.push_back(
          {Circle{wheel.centre_mm, wheel.radius_mm - 1.5, Pen::thin, Fill::none}});
    }
    group.items.push_back({std::move(pulley)});
  }
  Group belt{"belt", {}, "belt", std::nullopt};
  std::vector<Item> inside;
  for (std::size_t k = 0; solved_ && k < wheels_.size(); ++k) {
    const Wheel& wheel = wheels_[k];
    belt.items.push_back(
        {Arc{wheel.centre_mm, wheel.radius_mm, entry_angle(wheel, path_, static_cast<int>(k)),
             wheel.sense * path_.wraps[k], Pen::belt, Arrow::none}});
    belt.items.push_back(
        {Line{path_.spans[k].start_mm, path_.spans[k].end_mm, Pen::belt, Arrow::none}});
    inside.push_back(
        {Arc{wheel.centre_mm, wheel.radius_mm, entry_angle(wheel, path_, static_cast<int>(k)),
             wheel.sense * path_.wraps[k], Pen::inside, Arrow::none}});
    inside.push_back(
        {Line{path_.spans[k].start_mm, path_.spans[k].end_mm, Pen::inside, Arrow::none}});
  }
  for (Item& item : inside) belt.items.push_back(std::move(item));
  group.items.push_back({std::move(belt)});
  const Wheel& crank = wheels_.front();
  constexpr double kSweepDeg = 230.0;
  const Angle half = Angle::degrees(crank.sense * kSweepDeg / 2.0);
  group.items.push_back(
      {Arc{crank.centre_mm, 0.55 * crank.radius_mm, Angle::degrees(90.0) - half, 2.0 * half,
           Pen::outline, spec_.crank_turns ? Arrow::at_end : Arrow::at_both}});
  return group;
}

bool Diagram::name(LabelPlacer& placer, draw::Naming naming, Group& group) const {
  constexpr double kBeltMm = 2.0;
  for (std::size_t k = 0; k < wheels_.size(); ++k) {
    placer.circle(wheels_[k].centre_mm, wheels_[k].radius_mm);
    placer.disc(wheels_[k].centre_mm, wheels_[k].radius_mm);
    if (solved_) placer.line(path_.spans[k].start_mm, path_.spans[k].end_mm);
  }
  Group labels{"numbers and names", {}, "labels", std::nullopt};
  std::vector<Wanted> names;
  for (std::size_t k = 0; k < wheels_.size(); ++k) {
    const PulleySpec& pulley = *list_[k].spec;
    Wanted wanted;
    wanted.anchor_mm = wheels_[k].centre_mm;
    wanted.radius_mm = wheels_[k].radius_mm + kBeltMm;
    wanted.names_disc = true;
    const Vec2 out = k == 0 ? Vec2(0.0, -1.0) : Vec2(wheels_[k].centre_mm);
    wanted.rather_along = Angle::radians(std::atan2(out.y(), out.x()));
    Wanted number = wanted;
    number.words.lines = {{std::to_string(list_[k].number), Weight::bold}};
    number.words.ringed = true;
    number.rather_at_mm = {wanted.anchor_mm};
    names.push_back(std::move(number));
    if (naming == draw::Naming::numbers) continue;
    wanted.words.lines = {{pulley.name, Weight::bold}};
    if (pulley.teeth) wanted.words.lines.push_back({counted(*pulley.teeth, "tooth", "teeth")});
    names.push_back(std::move(wanted));
  }
  for (Item& item : placer.place(names)) labels.items.push_back(std::move(item));
  group.items.push_back({std::move(labels)});
  return placer.all_named(names);
}

std::string order_words(const std::vector<Threaded>& list) {
  std::string words;
  for (std::size_t k = 0; k < list.size(); ++k) {
    const PulleySpec& pulley = *list[k].spec;
    words += words.empty() ? "" : ", then ";
    words += fmt::format("{} {}", list[k].number, pulley.name) +
             (list[k].on_back ? " (on the belt's back" : " (on the belt's teeth");
    words += list[k].face_known ? ")" : ", taken: its face is not given)";
  }
  return words;
}

// The diagram with names, or with numbers alone where not all find room, about the diagram's
// middle.
Group named_parts(const Diagram& diagram, const Vec2& least_mm, double round_mm) {
  Group parts = diagram.parts();
  const Box box = box_of(Item{parts});
  const Vec2 size = (box.size_mm() + 2.0 * Vec2::Constant(round_mm)).cwiseMax(least_mm);
  const Box paper{box.middle_mm() - size / 2.0, box.middle_mm() + size / 2.0};
  for (const draw::Naming naming : {draw::Naming::names, draw::Naming::numbers}) {
    LabelPlacer placer(paper);
    Group tried = parts;
    const bool named = diagram.name(placer, naming, tried);
    if (named || naming == draw::Naming::numbers) return tried;
  }
  return parts;
}

}  // namespace

Scene threading_scene(const DriveSpec& spec, const Vec2& most_mm) {
  constexpr double kRoundMm = 9.0;
  constexpr double kLineMm = 4.6;
  double room = most_mm.x() - 2.0 * kRoundMm;
  Scene scene;
  scene.title = "the order in which the belt meets the pulleys, not to scale";
  std::string words = "NOT TO SCALE. ";
  const auto lines = [&] { return lines_within(words, most_mm.x() - 2.0, kLeastTextMm); };
  words += order_words(Diagram(spec, room).list());
  const double list = kLineMm * static_cast<double>(lines().size()) + 1.2;
  room = std::min(room, most_mm.y() - list - 2.0 * kRoundMm);
  Group parts = named_parts(Diagram(spec, room), Vec2(most_mm.x(), 0.0), kRoundMm);
  const Box box = box_of(Item{parts});
  scene.size_mm = Vec2(most_mm.x(), box.size_mm().y() + list);
  Item placed{std::move(parts)};
  shift(placed, Vec2(most_mm.x() / 2.0 - box.middle_mm().x(), list - box.least_mm.y()));
  scene.items.push_back(std::move(placed));
  double y = list;
  Group words_group{"in order", {}, "part-list", std::nullopt};
  for (const std::string& line : lines()) {
    y -= kLineMm;
    words_group.items.push_back({draw::text_at(Vec2(1.0, y), line)});
  }
  scene.add(std::move(words_group));
  return scene;
}

std::vector<Vec2> threading_sizes(const DriveSpec& spec) {
  std::vector<Vec2> sizes;
  if (spec.pulleys.empty()) return sizes;
  for (const double wide : {92.0, 86.0, 80.0, 74.0, 68.0, 62.0}) {
    sizes.push_back(threading_scene(spec, Vec2(wide, 1e3)).size_mm);
  }
  return sizes;
}

Scene threading_diagram(const DriveSpec& spec, const CheckAnswer& answer) {
  const Diagram diagram(spec, kPageRoomMm);
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
      "given. Larger ones have more teeth; where they stand is not known.");
  constexpr double kUpMm = 14.0;
  const double wide = kA4WidthMm - 2.0 * draw::kMarginMm;
  Group parts = named_parts(diagram, Vec2(wide, 0.0), kUpMm);
  const Box box = box_of(Item{diagram.parts()});
  const double height = box.size_mm().y() + 2.0 * kUpMm;
  const Vec2 by(kA4WidthMm / 2.0 - box.middle_mm().x(), y - height / 2.0 - box.middle_mm().y());
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
