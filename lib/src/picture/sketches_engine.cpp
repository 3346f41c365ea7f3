#include "sketch_parts.hpp"

namespace twoturn::sketch {
namespace {

// A pulley in its belt, which comes from above, with arrows for the way both go.
void draw_turning(Sketch& sketch, const Vec2& centre, Way way) {
  constexpr double kRadiusMm = 7.0;
  constexpr double kBeltMm = kRadiusMm + 0.7;
  constexpr double kTopMm = 38.0;
  const double sense = way == Way::clockwise ? 1.0 : -1.0;
  const Vec2 coming = centre + Vec2(sense * kBeltMm, 0.0);
  const Vec2 leaving = centre - Vec2(sense * kBeltMm, 0.0);
  Curve belt;
  belt.start_mm = Vec2(coming.x(), kTopMm);
  belt.pieces = {{coming, std::nullopt, 1},
                 {leaving, centre, way == Way::clockwise ? -1 : 1},
                 {Vec2(leaving.x(), kTopMm), std::nullopt, 1}};
  sketch.circle(centre, kRadiusMm);
  sketch.cross(centre);
  sketch.band(std::move(belt));
  sketch.turn(centre, 4.2, sense * 220.0, sense * 140.0, way, Pen::heavy);
  const Vec2 beside(-sense * 2.6, 0.0);
  const Vec2 length(0.0, 8.0);
  const Vec2 start = Vec2(coming.x(), kTopMm - 2.0) + beside;
  sketch.line(start, start - length, Pen::outline, Arrow::at_end);
  const Vec2 end = Vec2(leaving.x(), kTopMm - 2.0) - beside;
  sketch.line(end - length, end, Pen::outline, Arrow::at_end);
}

MeasuringSketch crank_turns() {
  Sketch sketch("Which way the crank turns", {"crank_turns"});
  draw_turning(sketch, Vec2(14.0, 20.6), Way::clockwise);
  draw_turning(sketch, Vec2(44.0, 20.6), Way::anticlockwise);
  sketch.words(Vec2(14.0, 8.0), "clockwise");
  sketch.words(Vec2(44.0, 8.0), "anticlockwise");
  sketch.words(Vec2(30.0, 2.4), "looking at the belt end");
  return sketch.finish();
}

MeasuringSketch gasket_face() {
  Sketch sketch("The head's gasket face", {"head.deck_deg", "head.deck_from_crank_mm"});
  constexpr double kLeanDeg = 25.0;
  const Vec2 up = off(Vec2::Zero(), 1.0, kLeanDeg);
  const Vec2 along = off(Vec2::Zero(), 1.0, kLeanDeg + 90.0);
  const Vec2 crank(12.0, 11.0);
  constexpr double kCrankMm = 4.0;
  constexpr double kThickMm = 7.0;
  const Vec2 foot = crank + 15.0 * up;
  const Vec2 left = foot - 9.0 * along;
  const Vec2 right = foot + 25.0 * along;
  sketch.area({left, right, right + kThickMm * up, left + kThickMm * up}, Fill::light_hatch);
  Label head = draw::text_at(foot + 6.0 * along + 2.2 * up, "head", Across::middle);
  head.turned = Angle::degrees(-kLeanDeg);
  head.ground = Ground::cleared;
  sketch.add(std::move(head));
  sketch.circle(crank, kCrankMm);
  sketch.cross(crank);
  sketch.words(Vec2(crank.x(), 2.6), "crank");
  sketch.measured(crank, foot);
  constexpr double kCornerMm = 1.8;
  sketch.lines({foot - kCornerMm * up, foot + kCornerMm * (along - up), foot + kCornerMm * along},
               Pen::thin);
  sketch.words(Vec2(19.5, 15.0), "square", Across::left);
  sketch.line(foot + 19.0 * along - 0.4 * up, Vec2(38.0, 8.6));
  sketch.words(Vec2(30.0, 5.0), "gasket face", Across::left);
  const Vec2 lift = foot + 16.0 * along + kThickMm * up;
  constexpr double kLiftMm = 13.0;
  sketch.line(lift, lift + kLiftMm * up, Pen::heavy, Arrow::at_end);
  sketch.line(lift, lift + Vec2(0.0, kLiftMm + 1.0), Pen::guide);
  sketch.turn(lift, 8.5, 0.0, kLeanDeg, Way::clockwise, Pen::thin);
  sketch.words(Vec2(42.5, 31.0), "the way", Across::left);
  sketch.words(Vec2(42.5, 26.4), "it lifts", Across::left);
  return sketch.finish();
}

MeasuringSketch metal_taken_off() {
  Sketch sketch("Metal taken off the face", {"build.skim_mm"});
  constexpr double kTopMm = 35.0;
  constexpr double kBeforeMm = 13.0;
  constexpr double kAfterMm = 16.5;
  sketch.box(Vec2(15.0, kAfterMm), Vec2(45.0, kTopMm), Fill::light_hatch);
  sketch.lines(
      {Vec2(15.0, kAfterMm), Vec2(15.0, kBeforeMm), Vec2(45.0, kBeforeMm), Vec2(45.0, kAfterMm)},
      Pen::hidden);
  sketch.words(Vec2(30.0, 24.5), "head");
  sketch.measured_at_x(Vec2(15.0, kTopMm), Vec2(15.0, kBeforeMm), 9.0);
  sketch.measured_at_x(Vec2(45.0, kTopMm), Vec2(45.0, kAfterMm), 51.0);
  sketch.words(Vec2(9.0, 8.2), "before");
  sketch.words(Vec2(51.0, 8.2), "after");
  sketch.words(Vec2(30.0, 2.4), "before less after");
  return sketch.finish();
}

MeasuringSketch valve_and_piston() {
  Sketch sketch("Can valve and piston meet?", {"engine.interference"});
  constexpr double kLeftMm = 9.0;
  constexpr double kRightMm = 35.0;
  constexpr double kRoofMm = 31.0;
  constexpr double kCrownMm = 24.0;
  sketch.lines(
      {Vec2(kLeftMm, 4.0), Vec2(kLeftMm, kRoofMm), Vec2(kRightMm, kRoofMm), Vec2(kRightMm, 4.0)});
  sketch.box(Vec2(kLeftMm + 0.6, 8.0), Vec2(kRightMm - 0.6, kCrownMm), Fill::light_hatch);
  for (const double ring : {21.6, 19.8}) {
    sketch.line(Vec2(kLeftMm + 0.6, ring), Vec2(kRightMm - 0.6, ring), Pen::outline);
  }
  const Vec2 valve(22.0, kCrownMm + 0.6);
  sketch.area({valve + Vec2(-6.0, 0.0), valve + Vec2(6.0, 0.0), valve + Vec2(6.0, 1.0),
               valve + Vec2(0.9, 3.6), valve + Vec2(0.9, 14.6), valve + Vec2(-0.9, 14.6),
               valve + Vec2(-0.9, 3.6), valve + Vec2(-6.0, 1.0)},
              Fill::paper);
  sketch.line(Vec2(25.4, 27.0), Vec2(40.0, 34.0));
  sketch.words(Vec2(41.0, 33.4), "valve", Across::left);
  sketch.line(Vec2(28.4, kCrownMm + 0.4), Vec2(40.0, 25.2));
  sketch.words(Vec2(41.0, 24.4), "room?", Across::left);
  sketch.line(Vec2(31.0, 14.0), Vec2(40.0, 14.0));
  sketch.words(Vec2(41.0, 12.8), "piston", Across::left);
  return sketch.finish();
}

MeasuringSketch tightening() {
  Sketch sketch("The head's bolts", {"bolts.count", "bolts.stage"});
  sketch.box(Vec2(4.0, 27.0), Vec2(56.0, 39.0), Fill::none);
  for (int column = 0; column < 5; ++column) {
    for (const double y : {30.0, 36.0}) {
      sketch.hexagon(Vec2(8.0 + 11.0 * column, y), 1.7);
    }
  }
  sketch.words(Vec2(30.0, 21.4), "count them");
  constexpr double kBoltMm = 3.6;
  constexpr double kBoltsMm = 12.6;
  const auto stage = [&](double x, const char* text) {
    sketch.hexagon(Vec2(x, kBoltsMm), kBoltMm);
    sketch.words(Vec2(x, 2.6), text);
  };
  stage(10.0, "torque");
  sketch.turn(Vec2(10.0, kBoltsMm), 5.6, 300.0, 60.0, Way::clockwise);
  for (const double x : {30.0, 50.0}) {
    const Vec2 bolt(x, kBoltsMm);
    stage(x, "+ angle");
    sketch.dot(bolt + Vec2(0.0, 2.0));
    sketch.line(bolt + Vec2(0.0, kBoltMm), bolt + Vec2(0.0, 6.6));
    sketch.line(bolt + Vec2(kBoltMm, 0.0), bolt + Vec2(6.6, 0.0));
    sketch.turn(bolt, 5.6, 0.0, 90.0, Way::clockwise);
  }
  return sketch.finish();
}

// A bolt hangs from its head: shank, then threads.
void draw_bolt(Sketch& sketch, double x, double waist_mm) {
  constexpr double kTopMm = 37.0;
  constexpr double kHeadMm = 33.5;
  constexpr double kThreadsMm = 21.0;
  constexpr double kHalfMm = 2.0;
  constexpr int kThreads = 6;
  constexpr double kPitchMm = 1.5;
  sketch.box(Vec2(x - 3.6, kHeadMm), Vec2(x + 3.6, kTopMm), Fill::paper);
  std::vector<Vec2> right{{kHalfMm, kHeadMm},
                          {kHalfMm, 29.0},
                          {kHalfMm - waist_mm, 26.0},
                          {kHalfMm, 23.0},
                          {kHalfMm, kThreadsMm}};
  for (int k = 0; k < kThreads; ++k) {
    right.emplace_back(kHalfMm - 0.6, kThreadsMm - (k + 0.5) * kPitchMm);
    right.emplace_back(kHalfMm, kThreadsMm - (k + 1) * kPitchMm);
  }
  std::vector<Vec2> outline;
  for (const Vec2& corner : right) outline.emplace_back(x + corner.x(), corner.y());
  for (auto corner = right.rbegin(); corner != right.rend(); ++corner) {
    outline.emplace_back(x - corner->x(), corner->y());
  }
  sketch.area(std::move(outline), Fill::paper);
}

MeasuringSketch bolts_state() {
  Sketch sketch("Bolts and their threads", {"bolts.threads", "bolts.condition"});
  constexpr double kWordsMm = 5.0;
  draw_bolt(sketch, 8.0, 0.0);
  sketch.words(Vec2(8.0, kWordsMm), "dry");
  draw_bolt(sketch, 22.0, 0.0);
  for (const Vec2& drop : {Vec2(25.6, 19.0), Vec2(18.4, 17.0), Vec2(25.6, 14.0)}) {
    sketch.dot(drop, 0.9);
  }
  sketch.words(Vec2(22.0, kWordsMm), "oiled");
  sketch.line(Vec2(30.0, 4.0), Vec2(30.0, 37.0));
  draw_bolt(sketch, 38.0, 0.0);
  sketch.words(Vec2(38.0, kWordsMm), "new");
  draw_bolt(sketch, 51.0, 0.8);
  sketch.words(Vec2(51.0, kWordsMm), "reused");
  return sketch.finish();
}

}  // namespace

std::vector<MeasuringSketch> of_engine() {
  return {crank_turns(),      gasket_face(), metal_taken_off(),
          valve_and_piston(), tightening(),  bolts_state()};
}

}  // namespace twoturn::sketch
