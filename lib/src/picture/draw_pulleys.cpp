#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

// The outline of a toothed wheel: lands at the outside, grooves a tooth deep.
std::vector<Vec2> toothed_outline(const BeltView& view, const SeenPulley& pulley,
                                  const Placing& placing) {
  std::vector<Vec2> points;
  const double outside = placing.length(pulley.outside_radius_mm);
  const double floor = placing.length(pulley.outside_radius_mm - tooth_height_mm(view));
  const Angle pitch = Angle::radians(kFullTurn / pulley.teeth);
  for (int k = 0; k < pulley.teeth; ++k) {
    add_groove(points, placing.point(pulley.centre_mm),
               placing.angle(*pulley.groove + static_cast<double>(k) * pitch), pitch, outside,
               floor);
  }
  return points;
}

void add_hub(Group& group, const Vec2& centre) {
  constexpr double kArmMm = 1.6;
  group.items.push_back(
      {Line{centre - Vec2(kArmMm, 0.0), centre + Vec2(kArmMm, 0.0), Pen::thin, Arrow::none}});
  group.items.push_back(
      {Line{centre - Vec2(0.0, kArmMm), centre + Vec2(0.0, kArmMm), Pen::thin, Arrow::none}});
}

// How far a mark's triangle and its counterpart stand off the belt's middle, on paper.
constexpr double kMarkMm = 3.4;
constexpr double kApartMm = 0.7;

double belt_half_mm(const BeltView& view, const Placing& placing) {
  constexpr double kStroke = 0.9;
  return std::max(kStroke, placing.length(view.back_to_pitch_line_mm.value_or(kStroke)));
}

// The radius at which a mark's tip stands: under the teeth, or where the mark is if further out.
double mark_tip_mm(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(mark.pulley)];
  const double under_teeth = pulley.outside_radius_mm - tooth_height_mm(view);
  const double beyond_rim = pulley.rim_radius_mm + 1.0;
  const bool outside = mark.radius_mm > beyond_rim;
  return placing.length(outside ? mark.radius_mm : under_teeth) - (outside ? 0.0 : kApartMm);
}

}  // namespace

void add_groove(std::vector<Vec2>& outline, const Vec2& centre, Angle middle, Angle pitch,
                double outside_mm, double floor_mm) {
  const auto add = [&](double share, double radius) {
    outline.emplace_back(centre + radius * towards(middle + share * pitch));
  };
  add(-kGrooveMouth, outside_mm);
  add(-kGrooveFloor, floor_mm);
  add(kGrooveFloor, floor_mm);
  add(kGrooveMouth, outside_mm);
}

Group pulley(const BeltView& view, int index, const Placing& placing) {
  const SeenPulley& seen = view.pulleys[at(index)];
  const Vec2 centre = placing.point(seen.centre_mm);
  Group group{seen.name, {}, "pulley", centre};
  const double outside = placing.length(seen.outside_radius_mm);
  if (seen.rim_radius_mm > seen.outside_radius_mm) {
    const double rim = placing.length(seen.rim_radius_mm);
    group.items.push_back({Circle{centre, rim, Pen::thin, Fill::paper}});
  }
  if (seen.teeth > 0) {
    group.items.push_back(
        {Polyline{toothed_outline(view, seen, placing), Pen::tooth, Ends::joined}});
  } else {
    constexpr double kInnerRing = 0.78;
    group.items.push_back({Circle{centre, outside, Pen::outline, Fill::paper}});
    group.items.push_back({Circle{centre, kInnerRing * outside, Pen::thin, Fill::none}});
  }
  add_hub(group, centre);
  return group;
}

Area triangle(const Vec2& tip, Angle pointing, double height_mm, Fill fill) {
  constexpr double kSlender = 0.45;
  const Vec2 ahead = towards(pointing);
  const Vec2 beside(-ahead.y(), ahead.x());
  const Vec2 foot = tip - height_mm * ahead;
  const double half = kSlender * height_mm;
  return Area{{{tip, foot + half * beside, foot - half * beside}}, fill, Pen::thin};
}

Group mark(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(mark.pulley)];
  const Vec2 centre = placing.point(pulley.centre_mm);
  const Angle direction = placing.angle(mark.at);
  const double tip = mark_tip_mm(view, mark, placing);
  Group group{mark.name.empty() ? "mark of " + pulley.name : mark.name, {}, "mark", centre};
  group.items.push_back(
      {triangle(centre + tip * towards(direction), direction, kMarkMm, Fill::ink)});
  if (mark.radius_mm > pulley.rim_radius_mm + 1.0) {
    const double rim = placing.length(pulley.rim_radius_mm);
    group.items.push_back(
        {Line{centre + rim * towards(direction), centre + (tip - kMarkMm) * towards(direction),
              Pen::thin, Arrow::none}});
  }
  return group;
}

Group belongs(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(mark.pulley)];
  const Vec2 centre = placing.point(pulley.centre_mm);
  Group group{"where the mark of " + pulley.name + " belongs", {}, "belongs", std::nullopt};
  const Angle direction = placing.angle(mark.belongs.value_or(mark.at));
  const double belt = placing.length(pulley.pitch_radius_mm) + belt_half_mm(view, placing);
  const double rim = placing.length(pulley.rim_radius_mm);
  const double tip = std::max({belt, rim, mark_tip_mm(view, mark, placing)}) + kApartMm;
  group.items.push_back({triangle(centre + tip * towards(direction),
                                  direction + Angle::degrees(180.0), kMarkMm, Fill::paper)});
  return group;
}

Group pin(const SeenPin& pin, const BeltView& view, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(pin.pulley)];
  const Vec2 centre = placing.point(pulley.centre_mm);
  const Vec2 hole = centre + placing.length(pin.radius_mm) * towards(placing.angle(pin.at));
  Group group{(pin.bar ? "bar of " : "pin of ") + pulley.name, {}, "pin", centre};
  constexpr double kHoleMm = 1.3;
  const bool in = pin.state == PinState::in;
  group.items.push_back({Circle{hole, kHoleMm, Pen::thin, in ? Fill::ink : Fill::paper}});
  if (pin.state == PinState::out || pin.state == PinState::tight) {
    const Vec2 arm = kHoleMm * Vec2(1.0, 1.0);
    const Vec2 other(arm.x(), -arm.y());
    group.items.push_back({Line{hole - arm, hole + arm, Pen::thin, Arrow::none}});
    if (pin.state == PinState::out) {
      group.items.push_back({Line{hole - other, hole + other, Pen::thin, Arrow::none}});
    }
  }
  return group;
}

Group rotation(const BeltView& view, const Placing& placing) {
  const SeenPulley& crank = view.pulleys.front();
  const Vec2 centre = placing.point(crank.centre_mm);
  Group group{"the way the crank turns", {}, "rotation", std::nullopt};
  // Round its middle, clear of its mark.
  Angle middle = placing.angle(crank.entry + crank.sense * crank.wrap / 2.0);
  for (const SeenMark& mark : view.marks) {
    if (mark.pulley == 0 && mark.name.empty()) middle = placing.angle(mark.at);
  }
  middle = middle + Angle::degrees(180.0);
  constexpr double kSweepDeg = 230.0;
  constexpr double kShare = 0.52;
  const double radius = kShare * placing.length(crank.outside_radius_mm);
  const Angle half = Angle::degrees(crank.sense * kSweepDeg / 2.0);
  group.items.push_back({Arc{centre, radius, middle - half, 2.0 * half, Pen::outline,
                             view.direction == Direction::given ? Arrow::at_end : Arrow::at_both}});
  return group;
}

double ring_times(const BeltView& view, double scale) {
  constexpr double kMostOnPaperMm = 7.0;
  double longest = 0.0;
  for (const SeenRing& seen : view.rings) longest = std::max(longest, seen.ellipse.longer_mm);
  for (const double times : {20.0, 10.0, 5.0, 2.0}) {
    if (times * scale * longest <= kMostOnPaperMm) return times;
  }
  return 1.0;
}

Group ring(const SeenRing& seen, const Placing& placing, double times) {
  constexpr int kPoints = 48;
  const Vec2 longer = seen.ellipse.longer_mm * towards(seen.ellipse.longer_way);
  const Vec2 shorter =
      seen.ellipse.shorter_mm * towards(seen.ellipse.longer_way + Angle::degrees(90.0));
  std::vector<Vec2> points;
  for (int k = 0; k < kPoints; ++k) {
    const double turned = kFullTurn * k / kPoints;
    points.push_back(placing.point(
        seen.centre_mm + times * (std::cos(turned) * longer + std::sin(turned) * shorter)));
  }
  Group group{seen.name + ", where its centre lies", {}, "ring", {}};
  group.items.push_back({Polyline{std::move(points), Pen::thin, Ends::joined}});
  return group;
}

}  // namespace twoturn::draw
