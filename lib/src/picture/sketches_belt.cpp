#include "sketch_parts.hpp"

namespace twoturn::sketch {
namespace {

// The corners of a tooth that hangs from a belt's land, left to right.
void hang_tooth(std::vector<Vec2>& outline, double middle, double land, const Vec2& foot,
                const Vec2& tip) {
  outline.emplace_back(middle - foot.x(), land);
  outline.emplace_back(middle - tip.x(), land - tip.y());
  outline.emplace_back(middle + tip.x(), land - tip.y());
  outline.emplace_back(middle + foot.x(), land);
}

// From a flank of tooth 1 to the same flank of tooth 11: ten pitches, not nine.
MeasuringSketch over_ten_teeth() {
  Sketch sketch("Calliper over ten teeth", {"belt.over_10_teeth_mm"});
  constexpr double kPitchMm = 4.2;
  constexpr double kFirstMm = 7.0;
  constexpr double kBackMm = 27.0;
  constexpr double kLandMm = 24.0;
  constexpr double kTipMm = 21.0;
  constexpr int kTeeth = 12;
  std::vector<Vec2> outline{{2.0, kBackMm}, {2.0, kLandMm}};
  for (int k = 0; k < kTeeth; ++k) {
    hang_tooth(outline, kFirstMm + k * kPitchMm, kLandMm, Vec2(1.1, 0.0),
               Vec2(0.7, kLandMm - kTipMm));
  }
  outline.emplace_back(58.0, kLandMm);
  outline.emplace_back(58.0, kBackMm);
  sketch.area(std::move(outline), Fill::light_hatch);
  sketch.words(Vec2(kFirstMm, kBackMm + 2.0), "1");
  sketch.words(Vec2(kFirstMm + 10.0 * kPitchMm, kBackMm + 2.0), "11");
  const double flank = kFirstMm - 0.9;
  sketch.measured_at_y(Vec2(flank, kTipMm), Vec2(flank + 10.0 * kPitchMm, kTipMm), 12.0);
  sketch.words(Vec2(flank + 5.0 * kPitchMm, 14.0), "ten pitches");
  sketch.words(Vec2(30.0, 3.0), "same flank of tooth 1 and 11");
  return sketch.finish();
}

// A lying loop with teeth inside.
void draw_loop(Sketch& sketch, const Vec2& centre, double half_mm, double radius) {
  const Vec2 left = centre - Vec2(half_mm, 0.0);
  const Vec2 right = centre + Vec2(half_mm, 0.0);
  const Vec2 up(0.0, radius);
  constexpr int kOnStraight = 4;
  constexpr int kOnEnd = 8;
  constexpr double kOutMm = 0.7;
  constexpr double kInMm = 2.2;
  for (int k = 0; k < kOnStraight; ++k) {
    const Vec2 at = left + (k + 0.5) / kOnStraight * (right - left);
    for (const Vec2& side : {up, Vec2(-up)}) {
      const Vec2 inwards = -side.normalized();
      sketch.line(at + side + kOutMm * inwards, at + side + kInMm * inwards, Pen::heavy);
    }
  }
  for (int k = 0; k < kOnEnd; ++k) {
    const double deg = 180.0 * (k + 0.5) / kOnEnd;
    sketch.line(off(right, radius - kOutMm, deg), off(right, radius - kInMm, deg), Pen::heavy);
    sketch.line(off(left, radius - kOutMm, -deg), off(left, radius - kInMm, -deg), Pen::heavy);
  }
  Curve loop;
  loop.start_mm = left + up;
  loop.pieces = {{right + up, std::nullopt, 1},
                 {right - up, right, -1},
                 {left - up, std::nullopt, 1},
                 {left + up, left, -1}};
  loop.ends = Ends::joined;
  sketch.band(std::move(loop));
}

MeasuringSketch counting() {
  Sketch sketch("Counting teeth", {"belt.teeth", "pulley.teeth"});
  const Vec2 belt(18.0, 24.0);
  draw_loop(sketch, belt, 6.5, 8.5);
  const Vec2 painted = belt + Vec2(-1.6, 8.5);
  sketch.dot(painted + Vec2(0.0, 1.9), 1.2);
  sketch.turn(belt, 3.6, 30.0, 330.0, Way::clockwise);
  sketch.words(Vec2(belt.x(), 9.5), "belt");
  const Vec2 pulley(46.0, 24.0);
  constexpr double kPulleyMm = 9.0;
  constexpr int kTeeth = 16;
  sketch.toothed(pulley, kPulleyMm, kTeeth);
  sketch.dot(off(pulley, kPulleyMm + 1.2, 180.0 / kTeeth), 1.2);
  sketch.cross(pulley);
  sketch.turn(pulley, 4.6, 30.0, 330.0, Way::clockwise);
  sketch.words(Vec2(pulley.x(), 9.5), "pulley");
  sketch.words(Vec2(30.0, 3.0), "mark one, count them all");
  return sketch.finish();
}

MeasuringSketch section() {
  Sketch sketch("A belt from the side",
                {"belt.thickness_mm", "belt.tooth_height_mm", "belt.land_to_pitch_line_mm"});
  constexpr double kBackMm = 36.0;
  constexpr double kLandMm = 26.0;
  constexpr double kTipMm = 17.0;
  constexpr double kPitchLineMm = 29.6;
  std::vector<Vec2> outline{{10.0, kBackMm}, {10.0, kLandMm}};
  for (const double middle : {18.0, 40.0}) {
    hang_tooth(outline, middle, kLandMm, Vec2(5.0, 0.0), Vec2(3.4, kLandMm - kTipMm));
  }
  outline.emplace_back(51.0, kLandMm);
  outline.emplace_back(51.0, kBackMm);
  sketch.area(std::move(outline), Fill::light_hatch);
  for (int k = 0; k < 16; ++k) sketch.dot(Vec2(12.0 + 2.4 * k, kPitchLineMm), 0.7);
  sketch.measured_at_x(Vec2(10.0, kBackMm), Vec2(14.6, kTipMm), 4.0);
  sketch.line(Vec2(4.0, kTipMm), Vec2(4.0, 13.2));
  sketch.words(Vec2(2.0, 9.6), "thickness", Across::left);
  sketch.line(Vec2(21.4, kTipMm), Vec2(36.6, kTipMm));
  sketch.measured(Vec2(29.0, kTipMm), Vec2(29.0, kLandMm));
  sketch.line(Vec2(29.0, kTipMm), Vec2(29.0, 13.2));
  sketch.words(Vec2(25.0, 9.6), "tooth height", Across::left);
  sketch.line(Vec2(49.8, kPitchLineMm), Vec2(56.5, kPitchLineMm));
  sketch.line(Vec2(51.0, kLandMm), Vec2(56.5, kLandMm));
  sketch.pinched(Vec2(54.5, kLandMm), Vec2(54.5, kPitchLineMm));
  sketch.line(Vec2(54.5, kLandMm - 6.0), Vec2(54.5, 6.6));
  sketch.words(Vec2(58.0, 3.0), "land to cords' middle", Across::right);
  return sketch.finish();
}

MeasuringSketch printed() {
  Sketch sketch("On the belt's back", {"belt.section", "belt.teeth"});
  std::vector<Vec2> edge{{2.0, 18.0}, {3.2, 21.0}, {1.6, 24.0}, {2.6, 27.0}, {2.0, 30.0}};
  for (const Vec2& corner : std::vector<Vec2>(edge.rbegin(), edge.rend())) {
    edge.emplace_back(60.0 - corner.x(), corner.y());
  }
  sketch.area(std::move(edge), Fill::none);
  constexpr double kLargeMm = 4.0;
  const auto print = [&](double x, const char* text) {
    Label label = draw::text_at(Vec2(x, 22.0), text, Across::middle);
    label.height_mm = kLargeMm;
    sketch.add(std::move(label));
  };
  print(15.0, "111");
  print(30.0, "ZA");
  print(45.0, "19");
  const auto about = [&](double x, double to_x, double y, const char* text) {
    sketch.line(Vec2(x, 20.5), Vec2(to_x, y + 3.6));
    sketch.words(Vec2(to_x, y), text);
  };
  about(15.0, 12.0, 10.0, "teeth");
  about(30.0, 30.0, 10.0, "section");
  about(45.0, 48.0, 10.0, "width");
  sketch.words(Vec2(30.0, 3.0), "what may be printed there");
  return sketch.finish();
}

}  // namespace

std::vector<MeasuringSketch> of_belt() {
  return {counting(), over_ten_teeth(), section(), printed()};
}

}  // namespace twoturn::sketch
