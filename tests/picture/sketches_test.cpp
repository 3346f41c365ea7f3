#include "twoturn/picture/sketches.hpp"

#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "support/catch.hpp"

using namespace twoturn;
using namespace twoturn::scene;

namespace {

constexpr double kStepMm = 0.2;

std::vector<Label> labels_of(const Scene& scene) {
  std::vector<Label> labels;
  for (const Item& item : scene.items) {
    if (const auto* label = std::get_if<Label>(&item.shape)) labels.push_back(*label);
  }
  return labels;
}

// Points close together on every stroke of a sketch; a hatch is no stroke.
class Strokes {
 public:
  explicit Strokes(const Scene& scene) {
    for (const Item& item : scene.items) {
      std::visit([this](const auto& shape) { trace(shape); }, item.shape);
    }
  }

  const std::vector<Vec2>& points() const { return points_; }

 private:
  void straight(const Vec2& from, const Vec2& to) {
    const int steps = 1 + static_cast<int>((to - from).norm() / kStepMm);
    for (int k = 0; k <= steps; ++k) points_.emplace_back(from + k * (to - from) / steps);
  }

  void round(const Vec2& centre, double radius, Angle from, Angle sweep) {
    const int steps = 1 + static_cast<int>(radius * std::abs(sweep.radians()) / kStepMm);
    for (int k = 0; k <= steps; ++k) {
      const double at = (from + static_cast<double>(k) / steps * sweep).radians();
      points_.emplace_back(centre + radius * Vec2(std::cos(at), std::sin(at)));
    }
  }

  void corners(const std::vector<Vec2>& points) {
    for (std::size_t i = 1; i < points.size(); ++i) straight(points[i - 1], points[i]);
  }

  void trace(const Line& shape) { straight(shape.from_mm, shape.to_mm); }
  void trace(const Polyline& shape) { corners(shape.points_mm); }
  void trace(const Arc& shape) { round(shape.centre_mm, shape.radius_mm, shape.from, shape.sweep); }
  void trace(const Circle& shape) {
    round(shape.centre_mm, shape.radius_mm, Angle(), Angle::radians(kFullTurn));
  }
  void trace(const Curve& shape) {
    Vec2 here = shape.start_mm;
    for (const CurvePiece& piece : shape.pieces) {
      if (piece.centre_mm) {
        const Vec2 out = here - *piece.centre_mm;
        const Vec2 back = piece.end_mm - *piece.centre_mm;
        const Angle from = Angle::radians(std::atan2(out.y(), out.x()));
        const Angle to = Angle::radians(std::atan2(back.y(), back.x()));
        const Angle turn = (piece.sense * (to - from)).wrapped_turn();
        round(*piece.centre_mm, out.norm(), from, piece.sense * turn);
      } else {
        straight(here, piece.end_mm);
      }
      here = piece.end_mm;
    }
  }
  void trace(const Area& shape) {
    for (const std::vector<Vec2>& outline : shape.outlines_mm) {
      corners(outline);
      straight(outline.back(), outline.front());
    }
  }
  void trace(const Label&) {}
  void trace(const Group&) { FAIL("sketches have no groups"); }

  std::vector<Vec2> points_;
};

// Whether a point lies on a label's capitals, or nearer to them than is seen apart.
bool touches(const Label& label, const Vec2& point) {
  constexpr double kApartMm = 0.4;
  const double turned = -label.turned.radians();
  const Vec2 out = point - label.at_mm;
  const double x = std::cos(turned) * out.x() - std::sin(turned) * out.y();
  const double y = std::sin(turned) * out.x() + std::cos(turned) * out.y();
  const double width = text_width_mm(label);
  const double left = label.across == Across::left     ? 0.0
                      : label.across == Across::middle ? width / 2.0
                                                       : width;
  return x > -left - kApartMm && x < width - left + kApartMm && y > -kApartMm &&
         y < label.height_mm + kApartMm;
}

}  // namespace

TEST_CASE("Sketches are of one size, each with its own title and keys") {
  std::set<std::string> titles;
  const std::vector<MeasuringSketch> all = measuring_sketches();
  for (const MeasuringSketch& sketch : all) {
    INFO(sketch.scene.title);
    CHECK(titles.insert(sketch.scene.title).second);
    CHECK(sketch.scene.size_mm == all.front().scene.size_mm);
    CHECK_FALSE(sketch.keys.empty());
    CHECK(std::set<std::string>(sketch.keys.begin(), sketch.keys.end()).size() ==
          sketch.keys.size());
  }
}

TEST_CASE("A sketch's words lie within its frame and keep apart from one another") {
  for (const MeasuringSketch& sketch : measuring_sketches()) {
    const std::vector<Label> labels = labels_of(sketch.scene);
    CHECK(labels.front().text == sketch.scene.title);
    const Box frame{Vec2::Zero(), sketch.scene.size_mm};
    for (std::size_t i = 0; i < labels.size(); ++i) {
      INFO(sketch.scene.title << ": " << labels[i].text);
      CHECK(frame.holds(box_of(labels[i])));
      for (std::size_t k = 0; k < i; ++k) {
        INFO(labels[k].text);
        CHECK_FALSE(box_of(labels[i]).meets(box_of(labels[k])));
      }
    }
  }
}

TEST_CASE("No stroke of a sketch touches its words or leaves its frame") {
  for (const MeasuringSketch& sketch : measuring_sketches()) {
    const std::vector<Label> labels = labels_of(sketch.scene);
    const Strokes strokes(sketch.scene);
    const Box frame{Vec2::Zero(), sketch.scene.size_mm};
    std::set<std::string> touched;
    for (const Vec2& point : strokes.points()) {
      INFO(sketch.scene.title << ": " << point.x() << ", " << point.y());
      CHECK(frame.holds(point));
      for (const Label& label : labels) {
        if (touches(label, point)) touched.insert(label.text);
      }
    }
    INFO(sketch.scene.title);
    CHECK(touched == std::set<std::string>{});
  }
}
