#include "twoturn/engine/slider_crank.hpp"

#include <cmath>

#include "closing_in.hpp"

namespace twoturn {
namespace {

bool sound(double throw_mm, double rod_mm, double offset_mm) {
  const bool finite = std::isfinite(throw_mm) && std::isfinite(rod_mm) && std::isfinite(offset_mm);
  return finite && throw_mm > 0.0 && rod_mm > throw_mm + std::abs(offset_mm);
}

double leg(double hypotenuse, double other) {
  return std::sqrt((hypotenuse - other) * (hypotenuse + other));
}

}  // namespace

SliderCrank::SliderCrank(double throw_mm, double rod_mm, double offset_mm)
    : throw_(throw_mm), rod_(rod_mm), offset_(offset_mm) {
  const double a = throw_, l = rod_, e = offset_;
  top_ = leg(a + l, e);
  top_at_ = Angle::radians(std::asin(e / (a + l)));
  bottom_ = Angle::radians(kPi + std::asin(e / (l - a))) - top_at_;
  stroke_ = top_ - leg(l - a, e);
  // With u = a sin t - e: |u| <= reach, |u'| and |u''| <= a, and the rod's height is least at
  // reach.
  const double reach = a + std::abs(e);
  const double height = leg(l, reach);
  steepest_ = a + reach * a / height;
  curvature_ =
      a + (a * a + reach * a) / height + reach * reach * a * a / (height * height * height);
}

std::optional<SliderCrank> SliderCrank::of_throw(double throw_mm, double rod_mm, double offset_mm) {
  if (!sound(throw_mm, rod_mm, offset_mm)) return std::nullopt;
  return SliderCrank(throw_mm, rod_mm, offset_mm);
}

std::optional<SliderCrank> SliderCrank::of_stroke(double stroke_mm, double rod_mm,
                                                  double offset_mm) {
  const double half = stroke_mm / 2.0;
  if (!sound(half, rod_mm, offset_mm)) return std::nullopt;
  const double room = 4.0 * (rod_mm - half) * (rod_mm + half);
  // Above 0, for a sound one has its offset within rod less throw.
  const double square = 1.0 - 4.0 * offset_mm * offset_mm / room;
  return of_throw(half * std::sqrt(square), rod_mm, offset_mm);
}

double SliderCrank::depth_mm(Angle after_tdc) const {
  const double t = (after_tdc + top_at_).radians();
  const double aside = throw_ * std::sin(t) - offset_;
  return top_ - (throw_ * std::cos(t) + std::sqrt(rod_ * rod_ - aside * aside));
}

double SliderCrank::slope_mm(Angle after_tdc) const {
  const double t = (after_tdc + top_at_).radians();
  const double sine = std::sin(t);
  const double aside = throw_ * sine - offset_;
  const double height = std::sqrt(rod_ * rod_ - aside * aside);
  return throw_ * sine + aside * throw_ * std::cos(t) / height;
}

// Depth only grows from `shallow` to `deep`.
Angle SliderCrank::place(double depth_mm, Angle shallow, Angle deep) const {
  const auto below = [&](double rad) { return this->depth_mm(Angle::radians(rad)) - depth_mm; };
  return Angle::radians(
      place_of_zero(below, shallow.radians(), deep.radians(), -depth_mm, stroke_ - depth_mm));
}

Angle SliderCrank::going_down(double depth_mm) const {
  if (depth_mm <= 0.0) return Angle();
  if (depth_mm >= stroke_) return bottom_;
  return place(depth_mm, Angle(), bottom_);
}

Angle SliderCrank::coming_up(double depth_mm) const {
  const Angle turn = Angle::radians(kFullTurn);
  if (depth_mm <= 0.0) return turn;
  if (depth_mm >= stroke_) return bottom_;
  return place(depth_mm, turn, bottom_);
}

}  // namespace twoturn
