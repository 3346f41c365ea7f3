#include "sketch_parts.hpp"

#include <cmath>

namespace twoturn::sketch {

Vec2 off(const Vec2& from, double mm, double clock_deg) {
  return from + mm * draw::towards(Angle::clock(clock_deg));
}

Sketch::Sketch(const char* title, std::vector<std::string> keys) : sketch_{std::move(keys), {}} {
  const Vec2 size_mm(60.0, 46.0);
  sketch_.scene.title = title;
  sketch_.scene.size_mm = size_mm;
  Label head = draw::text_at(Vec2(size_mm.x() / 2.0, size_mm.y() - 4.0), title, Across::middle);
  head.weight = Weight::bold;
  add(std::move(head));
}

void Sketch::words(const Vec2& at, const char* text, Across across) {
  Label label = draw::text_at(at, text, across);
  label.ground = Ground::cleared;
  add(std::move(label));
}

void Sketch::line(const Vec2& from, const Vec2& to, Pen pen, Arrow arrow) {
  add(Line{from, to, pen, arrow});
}

void Sketch::lines(std::vector<Vec2> points, Pen pen, Ends ends) {
  add(Polyline{std::move(points), pen, ends});
}

void Sketch::area(std::vector<Vec2> corners, Fill fill, Pen edge) {
  add(Area{{std::move(corners)}, fill, edge});
}

void Sketch::box(const Vec2& least, const Vec2& most, Fill fill) {
  area({least, Vec2(most.x(), least.y()), most, Vec2(least.x(), most.y())}, fill);
}

void Sketch::circle(const Vec2& centre, double radius, Pen pen, Fill fill) {
  add(Circle{centre, radius, pen, fill});
}

void Sketch::dot(const Vec2& at, double radius) { circle(at, radius, Pen::thin, Fill::ink); }

void Sketch::cross(const Vec2& at) {
  constexpr double kArmMm = 2.0;
  line(at - Vec2(kArmMm, 0.0), at + Vec2(kArmMm, 0.0));
  line(at - Vec2(0.0, kArmMm), at + Vec2(0.0, kArmMm));
}

void Sketch::hexagon(const Vec2& centre, double radius) {
  std::vector<Vec2> corners;
  for (int k = 0; k < 6; ++k) corners.push_back(off(centre, radius, 60.0 * k));
  area(std::move(corners), Fill::paper);
}

void Sketch::toothed(const Vec2& centre, double radius, int teeth, double groove_deg) {
  constexpr double kDeepMm = 1.5;
  const Angle pitch = Angle::radians(kFullTurn / teeth);
  std::vector<Vec2> outline;
  for (int k = 0; k < teeth; ++k) {
    draw::add_groove(outline, centre, Angle::clock(groove_deg) + k * pitch, pitch, radius,
                     radius - kDeepMm);
  }
  area(std::move(outline), Fill::paper);
}

void Sketch::turn(const Vec2& centre, double radius, double from_deg, double to_deg, Way way,
                  Pen pen) {
  const double sense = way == Way::clockwise ? 1.0 : -1.0;
  const double sweep_deg = sense * in_turn(sense * (to_deg - from_deg));
  add(Arc{centre, radius, Angle::clock(from_deg), Angle::degrees(-sweep_deg), pen, Arrow::at_end});
}

void Sketch::measured(const Vec2& from, const Vec2& to) {
  line(from, to, Pen::outline, Arrow::at_both);
}

void Sketch::measured_at_y(const Vec2& from, const Vec2& to, double y) {
  for (const Vec2& end : {from, to}) line(end, Vec2(end.x(), y));
  measured(Vec2(from.x(), y), Vec2(to.x(), y));
}

void Sketch::measured_at_x(const Vec2& from, const Vec2& to, double x) {
  for (const Vec2& end : {from, to}) line(end, Vec2(x, end.y()));
  measured(Vec2(x, from.y()), Vec2(x, to.y()));
}

void Sketch::pinched(const Vec2& from, const Vec2& to) {
  constexpr double kArrowMm = 6.0;
  const Vec2 ahead = kArrowMm * (to - from).normalized();
  line(from - ahead, from, Pen::outline, Arrow::at_end);
  line(to + ahead, to, Pen::outline, Arrow::at_end);
}

void Sketch::band(Curve curve) {
  curve.pen = Pen::belt;
  add(curve);
  curve.pen = Pen::inside;
  add(std::move(curve));
}

}  // namespace twoturn::sketch
