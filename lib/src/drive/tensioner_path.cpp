#include "twoturn/drive/tensioner_path.hpp"

#include <cmath>

namespace twoturn {
namespace {

// Settings within this share of the travel of an end still count as in the travel.
constexpr double kEndShare = 1e-9;

}  // namespace

double TensionerPath::travel_length() const {
  if (const Swing* s = swing()) return s->travel.radians();
  return (slide()->tight_mm - slide()->slack_mm).norm();
}

double TensionerPath::search_length() const { return swing() ? kFullTurn : travel_length(); }

Vec2 TensionerPath::centre_mm(double q) const {
  if (const Swing* s = swing()) {
    const double angle = s->slack.radians() + s->sense * q;
    return s->pivot_mm + s->arm_mm * Vec2(std::cos(angle), std::sin(angle));
  }
  return slide()->slack_mm + travel(q) * (slide()->tight_mm - slide()->slack_mm);
}

Vec2 TensionerPath::centre_rate(double q) const {
  if (const Swing* s = swing()) {
    const double angle = s->slack.radians() + s->sense * q;
    return s->sense * s->arm_mm * Vec2(-std::sin(angle), std::cos(angle));
  }
  return (slide()->tight_mm - slide()->slack_mm) / travel_length();
}

bool TensionerPath::in_travel(double q) const {
  return travel(q) >= -kEndShare && travel(q) <= 1.0 + kEndShare;
}

TensionerReading TensionerPath::reading(double q) const {
  if (const Swing* s = swing()) {
    return {(s->slack + Angle::radians(s->sense * q)).clock_deg(), kind()};
  }
  return {q, kind()};
}

double TensionerPath::from_reading(double reading) const {
  if (const Swing* s = swing()) {
    const double q = (s->sense * (Angle::clock(reading) - s->slack)).wrapped_turn().radians();
    return q > kFullTurn * (1.0 - kEndShare) ? 0.0 : q;
  }
  return reading;
}

double TensionerPath::rate_per_reading(double dlength_dq) const {
  return swing() ? dlength_dq * kRadPerDeg : dlength_dq;
}

double TensionerPath::apart(double q, double other) const {
  if (!swing()) return std::abs(q - other);
  return std::abs(Angle::radians(q - other).wrapped_half().degrees());
}

}  // namespace twoturn
