#include "sketch_parts.hpp"

namespace twoturn::sketch {
namespace {

MeasuringSketch place() {
  Sketch sketch("A place, from the crank",
                {"pulley.at_mm", "pulley.near_mm", "pulley.tensioner.pivot_mm",
                 "pulley.tensioner.slack_at_mm", "pulley.tensioner.tight_at_mm"});
  const Vec2 crank(14.0, 16.6);
  const Vec2 other(43.0, 33.4);
  const Vec2 corner(other.x(), crank.y());
  sketch.circle(crank, 5.0);
  sketch.circle(other, 6.0);
  sketch.cross(crank);
  sketch.cross(other);
  sketch.measured(crank, corner);
  sketch.measured(corner, other);
  sketch.words(Vec2(29.0, 18.6), "right");
  sketch.words(Vec2(45.0, 23.0), "up", Across::left);
  sketch.words(Vec2(14.0, 23.6), "0, 0");
  sketch.words(Vec2(14.0, 7.2), "crank");
  sketch.words(Vec2(30.0, 1.4), "left is minus, down too");
  return sketch.finish();
}

MeasuringSketch shaft_to_shaft() {
  Sketch sketch("Shaft to shaft",
                {"measured.distance_mm", "measured.across", "measured.from_diameter_mm",
                 "measured.to_diameter_mm", "pulley.at_mm"});
  const Vec2 one(14.0, 24.0);
  const Vec2 other(45.0, 24.0);
  sketch.circle(one, 7.0);
  sketch.circle(other, 9.0);
  sketch.cross(one);
  sketch.cross(other);
  sketch.words(one + Vec2(0.0, 3.0), "d");
  sketch.words(other + Vec2(0.0, 3.0), "D");
  sketch.measured_at_y(one - Vec2(7.0, 0.0), other + Vec2(9.0, 0.0), 10.0);
  sketch.words(Vec2(30.0, 12.0), "over both");
  sketch.words(Vec2(30.0, 3.0), "centres: over both - d/2 - D/2");
  return sketch.finish();
}

MeasuringSketch bearing() {
  Sketch sketch("How far, and which way", {"measured.distance_mm", "measured.bearing_deg"});
  const Vec2 from(12.0, 11.0);
  constexpr double kFarMm = 33.0;
  constexpr double kBearingDeg = 55.0;
  const Vec2 to = off(from, kFarMm, kBearingDeg);
  sketch.circle(from, 4.5);
  sketch.circle(to, 6.0);
  sketch.cross(from);
  sketch.cross(to);
  sketch.line(from, from + Vec2(0.0, 26.0), Pen::guide);
  sketch.measured(from, to);
  sketch.turn(from, 18.0, 0.0, kBearingDeg, Way::clockwise, Pen::thin);
  sketch.words(from - Vec2(0.0, 8.6), "from");
  sketch.words(to - Vec2(0.0, 10.4), "to");
  sketch.words(Vec2(26.0, 14.0), "distance", Across::left);
  sketch.words(Vec2(14.0, 37.0), "by the clock", Across::left);
  return sketch.finish();
}

MeasuringSketch gears() {
  Sketch sketch("Driven by gears", {"geared.ratio"});
  const Vec2 crank(20.0, 24.0);
  const Vec2 other(39.6, 24.0);
  constexpr double kCrankMm = 13.5;
  constexpr double kOtherMm = 7.2;
  constexpr int kTeeth = 12;
  sketch.toothed(crank, kCrankMm, 2 * kTeeth);
  sketch.toothed(other, kOtherMm, kTeeth, 180.0 / kTeeth);
  sketch.cross(crank);
  sketch.cross(other);
  sketch.turn(crank, 8.5, 300.0, 60.0, Way::clockwise);
  sketch.turn(other, 4.0, 60.0, 300.0, Way::anticlockwise);
  sketch.words(Vec2(20.0, 14.4), "24");
  sketch.words(Vec2(50.6, 22.8), "12");
  sketch.words(Vec2(20.0, 6.4), "crank");
  sketch.words(Vec2(30.0, 1.4), "24/12 the other way: -2");
  return sketch.finish();
}

}  // namespace

std::vector<MeasuringSketch> of_shafts() { return {place(), shaft_to_shaft(), bearing(), gears()}; }

}  // namespace twoturn::sketch
