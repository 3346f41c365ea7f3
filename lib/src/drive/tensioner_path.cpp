#include "twoturn/drive/tensioner_path.hpp"

#include <algorithm>
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

std::vector<double> TensionerPath::at_distance(const Vec2& point, double distance_mm) const {
  std::vector<double> found;
  const auto add = [&](double q) {
    if (q >= 0.0 && q <= search_length()) found.push_back(q);
  };
  if (const Swing* s = swing()) {
    // |pivot + arm - point| = d: a triangle of the three, whose angle at the pivot is this.
    const Vec2 away = point - s->pivot_mm;
    const double cosine = (away.squaredNorm() + s->arm_mm * s->arm_mm - distance_mm * distance_mm) /
                          (2.0 * s->arm_mm * away.norm());
    if (!(std::abs(cosine) <= 1.0)) return found;
    const double half = std::acos(cosine);
    const double towards = std::atan2(away.y(), away.x()) - s->slack.radians();
    for (const double off : {-half, half}) {
      add(Angle::radians(s->sense * (towards + off)).wrapped_turn().radians());
    }
  } else {
    const Vec2 along = centre_rate(0.0);
    const Vec2 from = slide()->slack_mm - point;
    const double middle = -from.dot(along);
    const double left = distance_mm * distance_mm - (from + middle * along).squaredNorm();
    if (!(left >= 0.0)) return found;
    for (const double sign : {-1.0, 1.0}) add(middle + sign * std::sqrt(left));
  }
  std::sort(found.begin(), found.end());
  return found;
}

double TensionerPath::apart(double q, double other) const {
  if (!swing()) return std::abs(q - other);
  return std::abs(Angle::radians(q - other).wrapped_half().degrees());
}

}  // namespace twoturn
