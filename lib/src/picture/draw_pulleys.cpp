#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/geometry/segment.hpp"

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

// The spanner that turns the crank goes here.
Polyline hexagon(const Vec2& centre, double radius_mm) {
  constexpr int kSides = 6;
  std::vector<Vec2> corners;
  for (int k = 0; k < kSides; ++k) {
    corners.emplace_back(centre + radius_mm * towards(Angle::radians(kFullTurn * k / kSides)));
  }
  return Polyline{std::move(corners), Pen::outline, Ends::joined};
}

// Paper round a line, so that it is seen over the belt.
Area casing(const Vec2& from, const Vec2& to) {
  constexpr double kHalfMm = 0.8;
  const Vec2 along = (to - from).normalized();
  const Vec2 beside = kHalfMm * Vec2(-along.y(), along.x());
  return Area{{{from + beside, to + beside, to - beside, from - beside}}, Fill::paper, {}};
}

// Signs on paper. From the pitch line outwards: the belt, its paint, where the mark belongs;
// inwards the teeth and the mark: so none of them can lie on another.
constexpr double kMarkMm = 3.4;
constexpr double kApartMm = 0.7;
constexpr double kBeltAndPaintMm = 2.9;
constexpr double kHoleMm = 1.3;
constexpr double kRound = 0.68;  // of a triangle's height: a ring round its middle

bool beyond_rim(const BeltView& view, const SeenMark& mark) {
  return mark.radius_mm > view.pulleys[at(mark.pulley)].rim_radius_mm + 1.0;
}

// The radius at which a mark's tip stands: under the teeth, or where the mark is if further out.
double mark_tip_mm(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(mark.pulley)];
  const double under_teeth = pulley.outside_radius_mm - tooth_height_mm(view);
  const bool outside = beyond_rim(view, mark);
  return placing.length(outside ? mark.radius_mm : under_teeth) - (outside ? 0.0 : kApartMm);
}

// Smaller on a small pulley, so that its middle stays free.
double mark_height_mm(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  if (beyond_rim(view, mark)) return kMarkMm;
  constexpr double kShare = 0.6;
  constexpr double kLeast = 2.0;
  return std::clamp(kShare * mark_tip_mm(view, mark, placing), kLeast, kMarkMm);
}

double belongs_tip_mm(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(mark.pulley)];
  const double belt = placing.length(pulley.pitch_radius_mm) + kBeltAndPaintMm;
  const double rim = placing.length(pulley.rim_radius_mm);
  double tip = std::max({belt, rim, mark_tip_mm(view, mark, placing)}) + kApartMm;
  // Paint that leaves the pulley goes outwards with its run.
  const Vec2 centre = placing.point(pulley.centre_mm);
  const Vec2 out = towards(placing.angle(mark.belongs.value_or(mark.at)));
  constexpr double kStepMm = 0.5;
  constexpr double kFurthestMm = 9.0;
  const double furthest = tip + kFurthestMm;
  const auto meets_paint = [&](const SeenTooth& tooth) {
    if (!tooth.paint) return false;
    const Vec2 from = placing.point(tooth.at_mm);
    const Vec2 to = from - kPaintMm * towards(placing.angle(tooth.towards));
    const auto near = [&](double beyond_tip_mm, double half_mm) {
      const Vec2 middle = centre + (tip + beyond_tip_mm) * out;
      return (nearest_on({from, to}, middle) - middle).norm() < half_mm + kPaintDotMm;
    };
    constexpr double kHairMm = 0.1;
    return near(0.0, kHairMm) || near(0.25 * kMarkMm, 0.15 * kMarkMm) ||
           near(0.7 * kMarkMm, 0.55 * kMarkMm);
  };
  while (tip < furthest && std::any_of(view.teeth.begin(), view.teeth.end(), meets_paint)) {
    tip += kStepMm;
  }
  return tip;
}

// A sign as a pin has to keep off it: about so large round its middle.
struct Kept {
  Vec2 at_mm;
  double radius_mm;
};

std::vector<Kept> kept_clear(const BeltView& view, const Placing& placing) {
  std::vector<Kept> signs;
  for (const SeenMark& mark : view.marks) {
    const Vec2 centre = placing.point(view.pulleys[at(mark.pulley)].centre_mm);
    const double high = mark_height_mm(view, mark, placing);
    const double middle = mark_tip_mm(view, mark, placing) - high / 2.0;
    signs.push_back({centre + middle * towards(placing.angle(mark.at)), kRound * high});
    if (!mark.belongs) continue;
    const double outer = belongs_tip_mm(view, mark, placing) + kMarkMm / 2.0;
    signs.push_back({centre + outer * towards(placing.angle(*mark.belongs)), kRound * kMarkMm});
  }
  for (const SeenTooth& tooth : view.teeth) {
    if (!tooth.paint) continue;
    const Vec2 back = -towards(placing.angle(tooth.towards));
    signs.push_back({placing.point(tooth.at_mm) + kPaintMm * back, kPaintDotMm});
  }
  return signs;
}

// Where round its shaft a pin lies no profile says: under the mark, or where that is taken the
// first place round the shaft that no other sign has.
Angle pin_angle(const BeltView& view, const SeenPin& pin, const Placing& placing) {
  const std::vector<Kept> signs = kept_clear(view, placing);
  const Vec2 centre = placing.point(view.pulleys[at(pin.pulley)].centre_mm);
  const double out = placing.length(pin.radius_mm);
  for (const double deg : {0.0, 180.0, 150.0, 210.0, 120.0, 240.0, 90.0, 270.0}) {
    const Angle tried = placing.angle(pin.at) + Angle::degrees(deg);
    const Vec2 hole = centre + out * towards(tried);
    const bool clear = std::none_of(signs.begin(), signs.end(), [&](const Kept& sign) {
      return (hole - sign.at_mm).norm() < kHoleMm + sign.radius_mm + kApartMm / 2.0;
    });
    if (clear) return tried;
  }
  return placing.angle(pin.at);
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
  if (seen.role == Role::crankshaft) {
    constexpr double kHexagonMm = 2.2;
    constexpr double kShare = 0.3;
    group.items.push_back({hexagon(centre, std::min(kHexagonMm, kShare * outside))});
  } else {
    add_hub(group, centre);
  }
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
  group.items.push_back({triangle(centre + tip * towards(direction), direction,
                                  mark_height_mm(view, mark, placing), Fill::ink)});
  if (beyond_rim(view, mark)) {
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
  const double tip = belongs_tip_mm(view, mark, placing);
  group.items.push_back({triangle(centre + tip * towards(direction),
                                  direction + Angle::degrees(180.0), kMarkMm, Fill::paper)});
  return group;
}

std::optional<Group> way_back(const BeltView& view, const SeenMark& mark, const Placing& placing) {
  if (!mark.belongs) return std::nullopt;
  const Vec2 centre = placing.point(view.pulleys[at(mark.pulley)].centre_mm);
  const double inner = mark_tip_mm(view, mark, placing);
  const double outer = belongs_tip_mm(view, mark, placing);
  const Angle from = placing.angle(mark.at);
  const Angle turn = (*mark.belongs - mark.at).wrapped_half();
  constexpr double kSeenMm = 0.8;  // less would show no direction
  if (std::abs(turn.radians()) * outer < kSeenMm) return std::nullopt;
  constexpr int kPieces = 12;
  constexpr double kHeadMm = 2.6;
  const auto on_way = [&](double share) -> Vec2 {
    const double radius = inner + 0.3 + share * (outer - inner - 0.6);
    return centre + radius * towards(from + share * turn);
  };
  std::vector<Vec2> points;
  for (int k = 0; k <= kPieces; ++k) points.push_back(on_way(k / double{kPieces}));
  const Vec2 last = points.back() - points[kPieces - 2];
  const Angle ahead = Angle::radians(std::atan2(last.y(), last.x()));
  Group group{"from where the mark stands to where it belongs", {}, "way-back", std::nullopt};
  for (std::size_t k = 1; k < points.size(); ++k) {
    group.items.push_back({casing(points[k - 1], points[k])});
  }
  group.items.push_back({Polyline{points, Pen::outline, Ends::open}});
  group.items.push_back({triangle(points.back(), ahead, kHeadMm, Fill::ink)});
  return group;
}

Group pin(const SeenPin& pin, const BeltView& view, const Placing& placing) {
  const SeenPulley& pulley = view.pulleys[at(pin.pulley)];
  const Vec2 centre = placing.point(pulley.centre_mm);
  const Vec2 hole = centre + placing.length(pin.radius_mm) * towards(pin_angle(view, pin, placing));
  Group group{(pin.bar ? "bar of " : "pin of ") + pulley.name, {}, "pin", centre};
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
