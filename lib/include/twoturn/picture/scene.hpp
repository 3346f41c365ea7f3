#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "twoturn/base/angle.hpp"
#include "twoturn/geometry/path.hpp"

/// A picture before anyone decides how it is printed: shapes in mm, y up, each with what it is and
/// not how it looks. Writers (svg.hpp) choose strokes and hatches, black on white.
namespace twoturn::scene {

/// What a line is.
enum class Pen {
  outline,    ///< the edge of a part
  thin,       ///< a detail, a frame, the edge of a mark
  guide,      ///< a centre line or a dimension
  hidden,     ///< behind something
  belt,       ///< the belt where it is neither of the next two: a band, open inside
  tight_run,  ///< a heavier band, solid
  slack_run,  ///< an open band with dashed edges
  inside,     ///< paper along the middle of an open band
  heavy,      ///< an arrow that has to be seen first, a frame
  tooth,
  contour,
  main_contour,  ///< every so many contours a heavier one
};

/// What an area is filled with.
enum class Fill { none, paper, ink, light_hatch, dense_hatch, dots };

enum class Arrow { none, at_end, at_both };

struct Line {
  Vec2 from_mm = Vec2::Zero();
  Vec2 to_mm = Vec2::Zero();
  Pen pen = Pen::thin;
  Arrow arrow = Arrow::none;
};

enum class Ends { open, joined };

struct Polyline {
  std::vector<Vec2> points_mm;
  Pen pen = Pen::thin;
  Ends ends = Ends::open;
};

/// Anticlockwise where the sweep is positive; a whole turn or more is a circle.
struct Arc {
  Vec2 centre_mm = Vec2::Zero();
  double radius_mm = 0.0;
  Angle from;
  Angle sweep;
  Pen pen = Pen::thin;
  Arrow arrow = Arrow::none;
};

struct Circle {
  Vec2 centre_mm = Vec2::Zero();
  double radius_mm = 0.0;
  Pen pen = Pen::thin;
  Fill fill = Fill::none;
};

/// One piece of a curve: straight to `end_mm`, or round a centre, anticlockwise or clockwise.
struct CurvePiece {
  Vec2 end_mm = Vec2::Zero();
  std::optional<Vec2> centre_mm;
  int sense = 1;  ///< +1 anticlockwise
};

/// Straight pieces and arcs in one stroke, so that dashes run on and an inside can be filled.
struct Curve {
  Vec2 start_mm = Vec2::Zero();
  std::vector<CurvePiece> pieces;
  Pen pen = Pen::thin;
  Fill fill = Fill::none;
  Ends ends = Ends::open;
};

/// Closed outlines filled by the even-odd rule.
struct Area {
  std::vector<std::vector<Vec2>> outlines_mm;
  Fill fill = Fill::light_hatch;
  std::optional<Pen> edge;
};

/// The part of a text's box that stands at the place given.
enum class Across { left, middle, right };
enum class Upwards { foot, middle, top };
enum class Weight { plain, bold };
/// Whether the paper shines through round the letters, over lines and hatches.
enum class Ground { bare, cleared };

/// Capitals below this height are hard to read on a bench; writers raise a smaller text to it.
inline constexpr double kLeastTextMm = 2.5;

struct Label {
  Vec2 at_mm = Vec2::Zero();
  std::string text;
  double height_mm = kLeastTextMm;  ///< of capitals
  Across across = Across::left;
  Upwards upwards = Upwards::foot;
  Weight weight = Weight::plain;
  Ground ground = Ground::bare;
  Angle turned;  ///< anticlockwise about `at_mm`
};

struct Item;

/// Items that belong together, with words for those who cannot see them.
struct Group {
  std::string title;
  std::vector<Item> items;
  std::string kind{};              ///< what it shows, one word for programs: "pulley"
  std::optional<Vec2> pivot_mm{};  ///< what it turns about, where it turns
};

struct Item {
  std::variant<Line, Polyline, Arc, Circle, Curve, Area, Label, Group> shape;
};

/// The sheet: everything within a box from `corner_mm` (left, bottom).
struct Scene {
  std::string title;
  std::string description;
  Vec2 corner_mm = Vec2::Zero();
  Vec2 size_mm = Vec2::Zero();
  std::vector<Item> items;

  template <class Shape>
  void add(Shape shape) {
    items.push_back(Item{std::move(shape)});
  }
};

/// How wide a label prints at most, in any of the usual sans-serif faces: for leaving room.
double text_width_mm(const Label& label);

/// A rectangle with sides along x and y.
struct Box {
  Vec2 least_mm = Vec2::Zero();
  Vec2 most_mm = Vec2::Zero();

  Vec2 middle_mm() const { return (least_mm + most_mm) / 2.0; }
  Vec2 size_mm() const { return most_mm - least_mm; }
  bool meets(const Box& other) const;
  bool holds(const Box& other) const;
  bool holds(const Vec2& point) const;
};

/// The box that a label's letters keep to, tails included.
Box box_of(const Label& label);
/// The box of anything: lines without their width.
Box box_of(const Item& item);
/// Moves anything.
void shift(Item& item, const Vec2& by_mm);

}  // namespace twoturn::scene
