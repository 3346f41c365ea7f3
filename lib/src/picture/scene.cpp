#include "twoturn/picture/scene.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace twoturn::scene {
namespace {

constexpr double kCapitalsPerSize = 0.72;

// Advance widths from space to tilde in thousandths of the size, as a browser measures the widest
// of the usual sans-serif faces.
constexpr std::array<int, 95> kPlain{
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr std::array<int, 95> kBold{
    348,  456, 521, 838, 696, 1002, 872, 306,  457, 457, 523, 838, 380, 415,  380, 365,
    696,  696, 696, 696, 696, 696,  696, 696,  696, 696, 400, 400, 838, 838,  838, 580,
    1000, 774, 762, 734, 830, 683,  683, 821,  837, 372, 372, 775, 637, 995,  837, 850,
    733,  850, 770, 720, 682, 812,  774, 1103, 771, 724, 725, 457, 365, 457,  838, 500,
    500,  675, 716, 593, 716, 678,  435, 716,  712, 343, 343, 665, 343, 1042, 712, 687,
    716,  716, 493, 595, 478, 712,  652, 924,  645, 652, 582, 712, 365, 712,  838};

double letter_width(char letter, Weight weight) {
  const auto index = static_cast<std::size_t>(static_cast<unsigned char>(letter)) - 32U;
  const std::array<int, 95>& widths = weight == Weight::bold ? kBold : kPlain;
  return index < widths.size() ? widths[index] / 1000.0 : 0.0;
}

bool continues(char letter) { return (static_cast<unsigned char>(letter) & 0xC0U) == 0x80U; }
bool beyond_ascii(char letter) { return (static_cast<unsigned char>(letter) & 0x80U) != 0U; }

void grow(Box& box, const Vec2& point) {
  box.least_mm = box.least_mm.cwiseMin(point);
  box.most_mm = box.most_mm.cwiseMax(point);
}

void grow(Box& box, const Box& other) {
  grow(box, other.least_mm);
  grow(box, other.most_mm);
}

Box box_at(const Vec2& point) { return {point, point}; }

Box square(const Vec2& centre, double half) {
  return {centre - Vec2(half, half), centre + Vec2(half, half)};
}

Box box_of_shape(const Line& shape) {
  Box box = box_at(shape.from_mm);
  grow(box, shape.to_mm);
  return box;
}

Box box_of_points(const std::vector<Vec2>& points) {
  if (points.empty()) return {};
  Box box = box_at(points.front());
  for (const Vec2& point : points) grow(box, point);
  return box;
}

Box box_of_shape(const Polyline& shape) { return box_of_points(shape.points_mm); }
// The ends, and the furthest points in x and y that the sweep passes.
Box box_of_arc(const Vec2& centre, double radius, Angle from, Angle sweep) {
  const auto on = [&](Angle angle) -> Vec2 {
    return centre + radius * Vec2(std::cos(angle.radians()), std::sin(angle.radians()));
  };
  Box box = box_at(on(from));
  grow(box, on(from + sweep));
  const double sense = sweep.radians() < 0.0 ? -1.0 : 1.0;
  constexpr int kQuarters = 4;
  for (int k = 0; k < kQuarters; ++k) {
    const Angle quarter = Angle::radians(kFullTurn * k / kQuarters);
    const double way = (sense * (quarter - from)).wrapped_turn().radians();
    if (way <= std::abs(sweep.radians())) grow(box, on(quarter));
  }
  return box;
}

Box box_of_shape(const Arc& shape) {
  return box_of_arc(shape.centre_mm, shape.radius_mm, shape.from, shape.sweep);
}
Box box_of_shape(const Circle& shape) { return square(shape.centre_mm, shape.radius_mm); }

Box box_of_shape(const Curve& shape) {
  Box box = box_at(shape.start_mm);
  Vec2 here = shape.start_mm;
  for (const CurvePiece& piece : shape.pieces) {
    grow(box, piece.end_mm);
    if (piece.centre_mm) {
      const Vec2 out = here - *piece.centre_mm;
      const Vec2 back = piece.end_mm - *piece.centre_mm;
      const Angle from = Angle::radians(std::atan2(out.y(), out.x()));
      const Angle to = Angle::radians(std::atan2(back.y(), back.x()));
      const Angle turn = (piece.sense * (to - from)).wrapped_turn();
      grow(box, box_of_arc(*piece.centre_mm, out.norm(), from, piece.sense * turn));
    }
    here = piece.end_mm;
  }
  return box;
}

Box box_of_shape(const Area& shape) {
  Box box = shape.outlines_mm.empty() ? Box{} : box_of_points(shape.outlines_mm.front());
  for (const std::vector<Vec2>& outline : shape.outlines_mm) grow(box, box_of_points(outline));
  return box;
}

Box box_of_shape(const Label& shape) { return box_of(shape); }

Box box_of_shape(const Group& shape) {
  Box box = shape.items.empty() ? Box{} : box_of(shape.items.front());
  for (const Item& item : shape.items) grow(box, box_of(item));
  return box;
}

void shift_shape(Line& shape, const Vec2& by) {
  shape.from_mm += by;
  shape.to_mm += by;
}

void shift_points(std::vector<Vec2>& points, const Vec2& by) {
  for (Vec2& point : points) point += by;
}

void shift_shape(Polyline& shape, const Vec2& by) { shift_points(shape.points_mm, by); }
void shift_shape(Arc& shape, const Vec2& by) { shape.centre_mm += by; }
void shift_shape(Circle& shape, const Vec2& by) { shape.centre_mm += by; }

void shift_shape(Curve& shape, const Vec2& by) {
  shape.start_mm += by;
  for (CurvePiece& piece : shape.pieces) {
    piece.end_mm += by;
    if (piece.centre_mm) *piece.centre_mm += by;
  }
}

void shift_shape(Area& shape, const Vec2& by) {
  for (std::vector<Vec2>& outline : shape.outlines_mm) shift_points(outline, by);
}

void shift_shape(Label& shape, const Vec2& by) { shape.at_mm += by; }

void shift_shape(Group& shape, const Vec2& by) {
  if (shape.pivot_mm) *shape.pivot_mm += by;
  for (Item& item : shape.items) shift(item, by);
}

}  // namespace

double text_width_mm(const Label& label) {
  double width = 0.0;
  for (const char letter : label.text) {
    constexpr double kWidest = 1.1;
    if (continues(letter)) continue;
    width += beyond_ascii(letter) ? kWidest : letter_width(letter, label.weight);
  }
  const double size = std::max(label.height_mm, kLeastTextMm) / kCapitalsPerSize;
  return width * size;
}

bool Box::meets(const Box& other) const {
  return least_mm.x() < other.most_mm.x() && other.least_mm.x() < most_mm.x() &&
         least_mm.y() < other.most_mm.y() && other.least_mm.y() < most_mm.y();
}

bool Box::holds(const Box& other) const { return holds(other.least_mm) && holds(other.most_mm); }

bool Box::holds(const Vec2& point) const {
  return point.x() >= least_mm.x() && point.x() <= most_mm.x() && point.y() >= least_mm.y() &&
         point.y() <= most_mm.y();
}

Box box_of(const Label& label) {
  const double height = std::max(label.height_mm, kLeastTextMm);
  constexpr double kTails = 0.38;   // below the foot, of the capitals' height
  constexpr double kAccents = 0.4;  // above them
  const double width = text_width_mm(label);
  const double left = label.across == Across::left     ? 0.0
                      : label.across == Across::middle ? width / 2.0
                                                       : width;
  const double foot = label.upwards == Upwards::foot     ? 0.0
                      : label.upwards == Upwards::middle ? height / 2.0
                                                         : height;
  const Vec2 least(-left, -foot - kTails * height);
  const Vec2 most(width - left, height - foot + kAccents * height);
  const double turned = label.turned.radians();
  const std::array corners{least, Vec2(most.x(), least.y()), most, Vec2(least.x(), most.y())};
  const auto place = [&](const Vec2& corner) {
    const double c = std::cos(turned);
    const double s = std::sin(turned);
    return Vec2(label.at_mm.x() + c * corner.x() - s * corner.y(),
                label.at_mm.y() + s * corner.x() + c * corner.y());
  };
  Box box = box_at(place(corners[0]));
  for (const Vec2& corner : corners) grow(box, place(corner));
  return box;
}

Box box_of(const Item& item) {
  return std::visit([](const auto& shape) { return box_of_shape(shape); }, item.shape);
}

void shift(Item& item, const Vec2& by_mm) {
  std::visit([&](auto& shape) { shift_shape(shape, by_mm); }, item.shape);
}

}  // namespace twoturn::scene
