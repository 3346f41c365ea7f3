// What the sketches of measuring are put together from.
#pragma once

#include "draw_parts.hpp"
#include "twoturn/picture/sketches.hpp"

namespace twoturn::sketch {

using namespace scene;

/// So far from a place in a direction as on a clock.
Vec2 off(const Vec2& from, double mm, double clock_deg);
/// Which way round.
enum class Way { clockwise, anticlockwise };

/// One sketch that is filled in; y runs up from its foot.
class Sketch {
 public:
  Sketch(const char* title, std::vector<std::string> keys);

  void words(const Vec2& at, const char* text, Across across = Across::middle);
  void line(const Vec2& from, const Vec2& to, Pen pen = Pen::thin, Arrow arrow = Arrow::none);
  void lines(std::vector<Vec2> points, Pen pen = Pen::outline, Ends ends = Ends::open);
  void area(std::vector<Vec2> corners, Fill fill, Pen edge = Pen::outline);
  void box(const Vec2& least, const Vec2& most, Fill fill);
  void circle(const Vec2& centre, double radius, Pen pen = Pen::outline, Fill fill = Fill::paper);
  void dot(const Vec2& at, double radius = 0.8);
  void cross(const Vec2& at);
  void hexagon(const Vec2& centre, double radius);
  /// A toothed pulley or a gear, a groove in the middle of a direction as on a clock.
  void toothed(const Vec2& centre, double radius, int teeth, double groove_deg = 0.0);
  /// An arrow round a centre, from one direction as on a clock to another.
  void turn(const Vec2& centre, double radius, double from_deg, double to_deg, Way way,
            Pen pen = Pen::outline);
  /// What a calliper or a rule reads between two places.
  void measured(const Vec2& from, const Vec2& to);
  /// The same on a level or upright line beside them, with lines to it.
  void measured_at_y(const Vec2& from, const Vec2& to, double y);
  void measured_at_x(const Vec2& from, const Vec2& to, double x);
  /// What is too thin for arrows within: they point at it from outside.
  void pinched(const Vec2& from, const Vec2& to);
  /// A belt: an open band along a curve.
  void band(Curve curve);

  template <class Shape>
  void add(Shape shape) {
    sketch_.scene.add(std::move(shape));
  }

  MeasuringSketch finish() { return std::move(sketch_); }

 private:
  MeasuringSketch sketch_;
};

std::vector<MeasuringSketch> of_engine();
std::vector<MeasuringSketch> of_belt();
std::vector<MeasuringSketch> of_pulleys();
std::vector<MeasuringSketch> of_shafts();
std::vector<MeasuringSketch> of_tensioners();

}  // namespace twoturn::sketch
