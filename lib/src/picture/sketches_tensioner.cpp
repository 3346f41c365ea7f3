#include "sketch_parts.hpp"

namespace twoturn::sketch {
namespace {

MeasuringSketch eccentric_walls() {
  Sketch sketch("An eccentric's walls",
                {"pulley.tensioner.thickest_mm", "pulley.tensioner.thinnest_mm"});
  const Vec2 roller(22.0, 21.0);
  constexpr double kRollerMm = 14.0;
  const Vec2 bolt = roller + Vec2(-5.0, 0.0);
  constexpr double kHoleMm = 4.0;
  sketch.circle(roller, kRollerMm);
  sketch.circle(bolt, kHoleMm);
  sketch.cross(bolt);
  sketch.measured(bolt + Vec2(kHoleMm, 0.0), roller + Vec2(kRollerMm, 0.0));
  sketch.measured(roller - Vec2(kRollerMm, 0.0), bolt - Vec2(kHoleMm, 0.0));
  sketch.line(Vec2(30.0, 21.8), Vec2(40.0, 30.0));
  sketch.words(Vec2(40.0, 31.0), "thickest", Across::left);
  sketch.line(Vec2(10.5, 20.2), Vec2(12.0, 6.0));
  sketch.words(Vec2(8.0, 2.0), "thinnest", Across::left);
  sketch.words(Vec2(38.0, 10.0), "bolt's hole", Across::left);
  sketch.line(Vec2(37.5, 11.0), bolt + Vec2(2.6, -3.0));
  return sketch.finish();
}

MeasuringSketch swing() {
  Sketch sketch("From slack to tight", {"pulley.tensioner.slack_deg", "pulley.tensioner.tight_deg",
                                        "pulley.tensioner.set_deg", "pulley.tensioner.tightens"});
  const Vec2 bolt(29.0, 18.0);
  constexpr double kArmMm = 11.0;
  constexpr double kSlackDeg = 250.0;
  constexpr double kSetDeg = 315.0;
  constexpr double kTightDeg = 40.0;
  sketch.line(bolt, bolt + Vec2(0.0, 18.0), Pen::guide);
  for (const double deg : {kSlackDeg, kSetDeg, kTightDeg}) {
    const Vec2 centre = off(bolt, kArmMm, deg);
    sketch.line(bolt, centre);
    sketch.circle(centre, 1.1, Pen::thin, deg == kSetDeg ? Fill::ink : Fill::paper);
  }
  sketch.dot(bolt, 1.0);
  sketch.turn(bolt, 15.0, kSlackDeg, kTightDeg, Way::clockwise, Pen::heavy);
  sketch.words(Vec2(12.0, 12.0), "slack", Across::right);
  sketch.words(Vec2(15.6, 30.5), "set", Across::right);
  sketch.words(Vec2(41.0, 28.6), "tight", Across::left);
  sketch.words(Vec2(29.0, 37.2), "0");
  sketch.words(Vec2(33.0, 16.0), "bolt", Across::left);
  sketch.words(Vec2(30.0, 6.2), "dots: the roller's centre,");
  sketch.words(Vec2(30.0, 1.6), "each read from the bolt");
  return sketch.finish();
}

MeasuringSketch pointer() {
  Sketch sketch("Pointer, and where it stands",
                {"pulley.tensioner.pointer_deg", "pulley.tensioner.set_deg"});
  const Vec2 bolt(26.0, 19.0);
  const Vec2 roller = off(bolt, 4.5, 340.0);
  sketch.circle(roller, 13.0);
  sketch.dot(bolt, 1.0);
  sketch.circle(roller, 0.8, Pen::thin);
  sketch.line(bolt, roller);
  sketch.line(bolt, off(bolt, 19.0, 70.0), Pen::heavy, Arrow::at_end);
  sketch.line(bolt, bolt + Vec2(0.0, 17.5), Pen::guide);
  sketch.turn(bolt, 15.0, 0.0, 68.0, Way::clockwise, Pen::thin);
  sketch.words(Vec2(45.0, 27.5), "pointer", Across::left);
  sketch.words(Vec2(30.0, 2.0), "both read from the bolt");
  sketch.words(Vec2(2.0, 36.4), "roller's", Across::left);
  sketch.words(Vec2(2.0, 31.8), "centre", Across::left);
  sketch.line(Vec2(15.0, 33.0), roller + Vec2(-0.9, 0.4));
  return sketch.finish();
}

MeasuringSketch slide() {
  Sketch sketch("A roller in a slot", {"pulley.tensioner.slack_at_mm",
                                       "pulley.tensioner.tight_at_mm", "pulley.tensioner.set_mm"});
  constexpr double kAlongDeg = 65.0;
  constexpr double kLongMm = 34.0;
  constexpr double kSetMm = 14.0;
  constexpr double kHalfMm = 2.6;
  const Vec2 slack(13.0, 16.0);
  const Vec2 tight = off(slack, kLongMm, kAlongDeg);
  const Vec2 set = off(slack, kSetMm, kAlongDeg);
  const Vec2 up = off(Vec2::Zero(), 1.0, kAlongDeg - 90.0);
  sketch.circle(set, 9.0);
  Curve slot;
  slot.start_mm = slack + kHalfMm * up;
  slot.pieces = {{tight + kHalfMm * up, std::nullopt, 1},
                 {tight - kHalfMm * up, tight, -1},
                 {slack - kHalfMm * up, std::nullopt, 1},
                 {slack + kHalfMm * up, slack, -1}};
  slot.ends = Ends::joined;
  slot.pen = Pen::outline;
  sketch.add(std::move(slot));
  for (const Vec2& end : {slack, tight}) sketch.circle(end, 1.1, Pen::thin);
  sketch.dot(set, 1.1);
  constexpr double kAsideMm = 13.0;
  sketch.line(slack, slack + (kAsideMm + 1.0) * up);
  sketch.line(set, set + (kAsideMm + 1.0) * up);
  sketch.measured(slack + kAsideMm * up, set + kAsideMm * up);
  sketch.words(Vec2(11.6, 33.0), "set", Across::right);
  sketch.words(Vec2(13.0, 7.6), "slack end");
  sketch.words(Vec2(48.0, 20.0), "tight end");
  sketch.words(Vec2(30.0, 1.6), "the roller's centre at each");
  return sketch.finish();
}

}  // namespace

std::vector<MeasuringSketch> of_tensioners() {
  return {eccentric_walls(), swing(), pointer(), slide()};
}

}  // namespace twoturn::sketch
