#include "sketch_parts.hpp"

namespace twoturn::sketch {
namespace {

constexpr double kHalfBandMm = 0.7;
constexpr double kToothMm = 1.3;

// A belt bent over a smooth roller, its teeth away from the roller or on it.
void draw_on_roller(Sketch& sketch, const Vec2& centre, Face face) {
  constexpr double kRollerMm = 4.6;
  constexpr double kLegMm = 4.0;
  const double tip = face == Face::back ? kRollerMm + 2.0 * kHalfBandMm + kToothMm : kRollerMm;
  const double land = face == Face::back ? tip - kToothMm : tip + kToothMm;
  const double middle = face == Face::back ? land - kHalfBandMm : land + kHalfBandMm;
  sketch.circle(centre, kRollerMm);
  sketch.cross(centre);
  for (const double deg : {-75.0, -45.0, -15.0, 15.0, 45.0, 75.0}) {
    sketch.line(off(centre, land, deg), off(centre, tip, deg), Pen::heavy);
  }
  const Vec2 out(1.0, 0.0);
  for (const Vec2& side : {out, Vec2(-out)}) {
    const Vec2 leg = centre - Vec2(0.0, kLegMm / 2.0);
    sketch.line(leg + land * side, leg + tip * side, Pen::heavy);
  }
  const Vec2 down(0.0, kLegMm);
  Curve belt;
  belt.start_mm = centre - middle * out - down;
  belt.pieces = {{centre - middle * out, std::nullopt, 1},
                 {centre + middle * out, centre, -1},
                 {centre + middle * out - down, std::nullopt, 1}};
  sketch.band(std::move(belt));
}

MeasuringSketch smooth_roller() {
  Sketch sketch("A smooth roller", {"pulley.diameter_mm", "pulley.face"});
  constexpr double kLeftMm = 6.0;
  constexpr double kRightMm = 24.0;
  constexpr double kRimMm = 2.0;
  constexpr double kFootMm = 14.0;
  constexpr double kTopMm = 34.0;
  constexpr double kHighMm = 2.5;
  sketch.box(Vec2(kLeftMm, kFootMm), Vec2(kRightMm, kTopMm), Fill::light_hatch);
  for (const double x : {kLeftMm - kRimMm, kRightMm}) {
    sketch.box(Vec2(x, kFootMm - kHighMm), Vec2(x + kRimMm, kTopMm + kHighMm), Fill::paper);
  }
  const double middle = (kLeftMm + kRightMm) / 2.0;
  sketch.measured(Vec2(middle, kFootMm), Vec2(middle, kTopMm));
  sketch.words(Vec2(middle, 5.8), "right across,");
  sketch.words(Vec2(middle, 1.2), "not the rims");
  draw_on_roller(sketch, Vec2(38.0, 28.0), Face::back);
  draw_on_roller(sketch, Vec2(38.0, 9.0), Face::tooth);
  sketch.words(Vec2(48.0, 27.4), "back", Across::left);
  sketch.words(Vec2(48.0, 8.4), "tooth", Across::left);
  return sketch.finish();
}

void draw_slots(Sketch& sketch, const Vec2& hub) {
  constexpr double kSlotMm = 5.4;
  constexpr double kHalfMm = 1.1;
  constexpr double kHalfDeg = 24.0;
  for (const double deg : {0.0, 120.0, 240.0}) {
    const auto at = [&](double radius, double turned) { return off(hub, radius, deg + turned); };
    Curve slot;
    slot.start_mm = at(kSlotMm + kHalfMm, -kHalfDeg);
    slot.pieces = {{at(kSlotMm + kHalfMm, kHalfDeg), hub, -1},
                   {at(kSlotMm - kHalfMm, kHalfDeg), at(kSlotMm, kHalfDeg), -1},
                   {at(kSlotMm - kHalfMm, -kHalfDeg), hub, 1},
                   {at(kSlotMm + kHalfMm, -kHalfDeg), at(kSlotMm, -kHalfDeg), -1}};
    slot.ends = Ends::joined;
    sketch.add(std::move(slot));
    sketch.hexagon(at(kSlotMm, 0.0), 1.5);
  }
}

MeasuringSketch on_its_shaft() {
  Sketch sketch("How it sits on its shaft", {"pulley.fixing"});
  constexpr double kHubMm = 8.6;
  constexpr double kShaftMm = 3.4;
  const Vec2 keyed(10.4, 26.0);
  const Vec2 adjustable(30.0, 26.0);
  const Vec2 loose(49.6, 26.0);
  for (const Vec2& hub : {keyed, adjustable, loose}) sketch.circle(hub, kHubMm);
  sketch.circle(keyed, kShaftMm);
  sketch.box(keyed + Vec2(-1.0, 2.2), keyed + Vec2(1.0, 4.8), Fill::ink);
  draw_slots(sketch, adjustable);
  sketch.hexagon(adjustable, 2.0);
  sketch.circle(loose, kShaftMm + 0.6);
  sketch.hexagon(loose, 2.4);
  sketch.turn(loose, 6.2, 330.0, 30.0, Way::clockwise);
  sketch.turn(loose, 6.2, 210.0, 150.0, Way::anticlockwise);
  sketch.words(Vec2(keyed.x(), 11.4), "keyed");
  sketch.words(Vec2(adjustable.x(), 11.4), "adjustable");
  sketch.words(Vec2(loose.x(), 11.4), "free until");
  sketch.words(Vec2(keyed.x(), 6.8), "key, dowel");
  sketch.words(Vec2(adjustable.x(), 6.8), "slots");
  sketch.words(Vec2(loose.x(), 6.8), "tightened");
  return sketch.finish();
}

MeasuringSketch pin() {
  Sketch sketch("Pin: radius and play", {"pulley.pin.radius_mm", "pulley.pin.play_mm",
                                         "geared.pin.radius_mm", "geared.pin.play_mm"});
  const Vec2 shaft(17.0, 23.0);
  const Vec2 hole = off(shaft, 10.0, 55.0);
  sketch.circle(shaft, 14.5);
  sketch.circle(shaft, 3.0);
  sketch.cross(shaft);
  sketch.circle(hole, 2.2);
  sketch.dot(hole, 1.6);
  const Vec2 aside = 7.0 * off(Vec2::Zero(), 1.0, 145.0);
  sketch.line(shaft, shaft + aside);
  sketch.line(hole, hole + aside);
  sketch.measured(shaft + 0.8 * aside, hole + 0.8 * aside);
  sketch.words(Vec2(15.0, 4.0), "radius");
  sketch.line(Vec2(17.0, 7.4), shaft + Vec2(7.0, -1.4));
  const Vec2 large(45.0, 26.0);
  constexpr double kHoleMm = 7.4;
  constexpr double kPinMm = 5.0;
  sketch.line(hole + Vec2(1.4, 1.7), large + Vec2(-3.0, 7.0));
  sketch.line(hole + Vec2(1.4, -1.7), large + Vec2(-4.6, -5.9));
  sketch.circle(large, kHoleMm);
  sketch.circle(large, kPinMm, Pen::outline, Fill::light_hatch);
  sketch.pinched(large + Vec2(kPinMm, 0.0), large + Vec2(kHoleMm, 0.0));
  sketch.words(Vec2(45.0, 12.6), "play, each side:");
  sketch.words(Vec2(45.0, 8.0), "half of how far");
  sketch.words(Vec2(45.0, 3.4), "it rocks");
  return sketch.finish();
}

MeasuringSketch clock_angles() {
  Sketch sketch("Angles as on a clock", {"pulley.mark_deg", "geared.mark_deg"});
  const Vec2 middle(30.0, 21.0);
  constexpr double kDialMm = 13.0;
  sketch.circle(middle, kDialMm, Pen::thin);
  for (int hour = 0; hour < 12; ++hour) {
    const double inner = hour % 3 == 0 ? kDialMm - 2.5 : kDialMm - 1.3;
    sketch.line(off(middle, inner, 30.0 * hour), off(middle, kDialMm, 30.0 * hour));
  }
  sketch.cross(middle);
  constexpr double kMarkDeg = 135.0;
  sketch.line(middle, off(middle, 10.0, kMarkDeg), Pen::guide);
  sketch.add(draw::triangle(off(middle, 12.6, kMarkDeg), Angle::clock(kMarkDeg), 3.0, Fill::ink));
  sketch.turn(middle, 6.5, 0.0, kMarkDeg - 3.0, Way::clockwise);
  sketch.words(middle + Vec2(0.0, kDialMm + 1.4), "0");
  sketch.words(middle + Vec2(kDialMm + 4.0, -1.2), "90");
  sketch.words(middle - Vec2(0.0, kDialMm + 4.2), "180");
  sketch.words(middle - Vec2(kDialMm + 5.0, 1.2), "270");
  sketch.words(middle + Vec2(18.8, -13.4), "4:30 is 135");
  return sketch.finish();
}

}  // namespace

std::vector<MeasuringSketch> of_pulleys() {
  return {smooth_roller(), on_its_shaft(), clock_angles(), pin()};
}

}  // namespace twoturn::sketch
