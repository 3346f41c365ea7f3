#include "twoturn/engine/lobe.hpp"

#include <algorithm>
#include <cmath>

#include "closing_in.hpp"

namespace twoturn {
namespace {

LiftAt of_flanks(const LawFlanks& flanks, double rad) {
  const bool opening = rad < 0.0;
  const double length = opening ? flanks.opening_rad : flanks.closing_rad;
  const RiseAt at = rise(flanks.law, 1.0 - std::abs(rad) / length);
  const double slope = at.slope * flanks.height_mm / length;
  return {at.lift * flanks.height_mm, opening ? slope : -slope,
          at.curvature * flanks.height_mm / (length * length)};
}

// The cubic of one piece, as Hermite gives it.
struct Piece {
  double width, low, high, low_slope, high_slope;
};

Piece piece(const MeasuredLobe& lobe, std::size_t k) {
  return {lobe.rad[k + 1] - lobe.rad[k], lobe.lift_mm[k], lobe.lift_mm[k + 1], lobe.slope_mm[k],
          lobe.slope_mm[k + 1]};
}

LiftAt of_table_at(const MeasuredLobe& lobe, double rad) {
  if (rad <= lobe.rad.front() || rad >= lobe.rad.back()) return {};
  const auto after = std::upper_bound(lobe.rad.begin(), lobe.rad.end(), rad);
  const auto k = static_cast<std::size_t>(after - lobe.rad.begin()) - 1;
  const Piece p = piece(lobe, k);
  const double t = (rad - lobe.rad[k]) / p.width;
  const double mean = (p.high - p.low) / p.width;
  const double second = 3.0 * mean - 2.0 * p.low_slope - p.high_slope;
  const double third = p.low_slope + p.high_slope - 2.0 * mean;
  const double lift = p.low + p.width * t * (p.low_slope + t * (second + t * third));
  return {std::max(lift, 0.0), p.low_slope + t * (2.0 * second + 3.0 * t * third),
          (2.0 * second + 6.0 * t * third) / p.width};
}

// The second derivative of a cubic is greatest at an end.
double curvature(const Piece& p) {
  const double mean = (p.high - p.low) / p.width;
  const double at_low = (6.0 * mean - 4.0 * p.low_slope - 2.0 * p.high_slope) / p.width;
  const double at_high = (-6.0 * mean + 2.0 * p.low_slope + 4.0 * p.high_slope) / p.width;
  return std::max(std::abs(at_low), std::abs(at_high));
}

// Where piece k passes through a lift between those of its ends.
Angle place_in_piece(const MeasuredLobe& lobe, std::size_t k, double lift_mm) {
  const auto above = [&](double rad) { return of_table_at(lobe, rad).lift_mm - lift_mm; };
  return Angle::radians(place_of_zero(above, lobe.rad[k], lobe.rad[k + 1],
                                      lobe.lift_mm[k] - lift_mm, lobe.lift_mm[k + 1] - lift_mm));
}

// Fritsch and Butland: the weighted harmonic mean of the neighbouring rises, 0 at a turning place.
void set_slopes(MeasuredLobe& lobe) {
  const std::size_t count = lobe.rad.size();
  lobe.slope_mm.assign(count, 0.0);
  for (std::size_t k = 1; k + 1 < count; ++k) {
    const double before = lobe.rad[k] - lobe.rad[k - 1];
    const double after = lobe.rad[k + 1] - lobe.rad[k];
    const double rise_before = (lobe.lift_mm[k] - lobe.lift_mm[k - 1]) / before;
    const double rise_after = (lobe.lift_mm[k + 1] - lobe.lift_mm[k]) / after;
    if (rise_before * rise_after <= 0.0) continue;
    const double first = 2.0 * after + before;
    const double second = after + 2.0 * before;
    lobe.slope_mm[k] = (first + second) / (first / rise_before + second / rise_after);
  }
}

bool is_a_lobe(const std::vector<LiftPoint>& points) {
  constexpr std::size_t kFewest = 5;
  if (points.size() < kFewest) return false;
  if (points.front().lift_mm != 0.0 || points.back().lift_mm != 0.0) return false;
  bool falling = false;
  for (std::size_t k = 0; k < points.size(); ++k) {
    if (!std::isfinite(points[k].crank_deg) || !std::isfinite(points[k].lift_mm)) return false;
    if (k == 0) continue;
    if (!(points[k].crank_deg > points[k - 1].crank_deg)) return false;
    falling = falling || points[k].lift_mm < points[k - 1].lift_mm;
    if (falling && points[k].lift_mm > points[k - 1].lift_mm) return false;
  }
  return falling && points.back().crank_deg - points.front().crank_deg < 720.0;
}

}  // namespace

double wrapped_cycle(double rad) { return rad - kCycleRad * std::floor(rad / kCycleRad + 0.5); }

LiftCurve LiftCurve::of_law(const LawFlanks& flanks) {
  LiftCurve curve{Shape(flanks)};
  curve.greatest_mm_ = flanks.height_mm;
  curve.first_rad_ = -flanks.opening_rad;
  curve.last_rad_ = flanks.closing_rad;
  const double greatest = flanks.height_mm * greatest_curvature(flanks.law);
  curve.pieces_ = {{-flanks.opening_rad, 0.0, greatest / (flanks.opening_rad * flanks.opening_rad)},
                   {0.0, flanks.closing_rad, greatest / (flanks.closing_rad * flanks.closing_rad)}};
  return curve;
}

std::optional<LiftCurve> LiftCurve::of_table(const std::vector<LiftPoint>& points) {
  if (!is_a_lobe(points)) return std::nullopt;
  MeasuredLobe lobe;
  const auto lifted = [](const LiftPoint& point) { return point.lift_mm > 0.0; };
  // Of the base circle only the last point before the lobe and the first after it.
  const auto begin = std::find_if(points.begin(), points.end(), lifted) - 1;
  const auto end = std::find_if(points.rbegin(), points.rend(), lifted).base() + 1;
  for (auto point = begin; point != end; ++point) {
    lobe.rad.push_back(point->crank_deg * kRadPerDeg);
    lobe.lift_mm.push_back(point->lift_mm);
  }
  set_slopes(lobe);
  LiftCurve curve{Shape(lobe)};
  // Of several equal greatest points the middle of the first and the last.
  const double greatest = *std::max_element(lobe.lift_mm.begin(), lobe.lift_mm.end());
  const auto first = std::find(lobe.lift_mm.begin(), lobe.lift_mm.end(), greatest);
  const auto last = std::find(lobe.lift_mm.rbegin(), lobe.lift_mm.rend(), greatest);
  curve.greatest_mm_ = greatest;
  curve.greatest_rad_ = 0.5 * (lobe.rad[static_cast<std::size_t>(first - lobe.lift_mm.begin())] +
                               lobe.rad[static_cast<std::size_t>(lobe.lift_mm.rend() - last) - 1]);
  curve.first_rad_ = lobe.rad.front();
  curve.last_rad_ = lobe.rad.back();
  for (std::size_t k = 0; k + 1 < lobe.rad.size(); ++k) {
    curve.pieces_.push_back({lobe.rad[k], lobe.rad[k + 1], curvature(piece(lobe, k))});
  }
  return curve;
}

LiftAt LiftCurve::at(double rad) const {
  if (const auto* flanks = std::get_if<LawFlanks>(&shape_)) return of_flanks(*flanks, rad);
  return of_table_at(std::get<MeasuredLobe>(shape_), rad);
}

double LiftCurve::lift_mm(double rad) const {
  if (rad <= first_rad_ || rad >= last_rad_) return 0.0;
  return at(rad).lift_mm;
}

Angle LiftCurve::rises_through(double lift_mm) const {
  if (lift_mm <= 0.0) return Angle::radians(first_rad_);
  if (lift_mm > greatest_mm_) return greatest_at();
  if (const auto* flanks = std::get_if<LawFlanks>(&shape_)) {
    const double share = 1.0 - rise_place(flanks->law, lift_mm / flanks->height_mm);
    return Angle::radians(-share * flanks->opening_rad);
  }
  const auto& lobe = std::get<MeasuredLobe>(shape_);
  std::size_t k = 0;
  while (lobe.lift_mm[k + 1] < lift_mm) ++k;
  return place_in_piece(lobe, k, lift_mm);
}

Angle LiftCurve::falls_through(double lift_mm) const {
  if (lift_mm <= 0.0) return Angle::radians(last_rad_);
  if (lift_mm > greatest_mm_) return greatest_at();
  if (const auto* flanks = std::get_if<LawFlanks>(&shape_)) {
    const double share = 1.0 - rise_place(flanks->law, lift_mm / flanks->height_mm);
    return Angle::radians(share * flanks->closing_rad);
  }
  const auto& lobe = std::get<MeasuredLobe>(shape_);
  std::size_t k = lobe.rad.size() - 2;
  while (lobe.lift_mm[k] < lift_mm) --k;
  return place_in_piece(lobe, k, lift_mm);
}

double Lobe::lift_mm(Angle after_overlap) const {
  const double gross = curve.lift_mm(wrapped_cycle((after_overlap - placed).radians()));
  return std::max(0.0, gross - lash_mm);
}

namespace {

struct Places {
  Angle opens, closes, centre;
};

std::optional<Places> stated_places(const LobeQuestion& question) {
  if (question.opens && question.closes) {
    const Angle middle = 0.5 * (*question.opens + *question.closes);
    return Places{*question.opens, *question.closes, question.centre.value_or(middle)};
  }
  if (!question.centre || !question.duration) return std::nullopt;
  const Angle half = 0.5 * *question.duration;
  return Places{*question.centre - half, *question.centre + half, *question.centre};
}

std::optional<Lobe> solve_by_law(const LobeQuestion& question, Law law) {
  const std::optional<Places> places = stated_places(question);
  if (!places || !(question.height_mm > question.lash_mm)) return std::nullopt;
  if (!(question.at_lift_mm < question.height_mm)) return std::nullopt;
  const double opening = (places->centre - places->opens).radians();
  const double closing = (places->closes - places->centre).radians();
  if (!(opening > 0.0) || !(closing > 0.0)) return std::nullopt;
  const double share = 1.0 - rise_place(law, question.at_lift_mm / question.height_mm);
  const LawFlanks flanks{law, question.height_mm, opening / share, closing / share};
  if (!(flanks.opening_rad + flanks.closing_rad < kCycleRad)) return std::nullopt;
  return Lobe{LiftCurve::of_law(flanks), places->centre, question.lash_mm};
}

std::optional<Lobe> place_table(const LobeQuestion& question,
                                const std::vector<LiftPoint>& points) {
  const std::optional<LiftCurve> curve = LiftCurve::of_table(points);
  if (!curve || !(curve->greatest_mm() > question.lash_mm)) return std::nullopt;
  if (!(question.at_lift_mm < curve->greatest_mm())) return std::nullopt;
  const Angle own =
      0.5 * (curve->rises_through(question.at_lift_mm) + curve->falls_through(question.at_lift_mm));
  Angle wanted;
  if (question.centre) {
    wanted = *question.centre;
  } else if (question.opens && question.closes) {
    wanted = 0.5 * (*question.opens + *question.closes);
  } else {
    return std::nullopt;
  }
  return Lobe{*curve, wanted - own, question.lash_mm};
}

}  // namespace

std::optional<Lobe> solve_lobe(const LobeQuestion& question) {
  if (const auto* law = std::get_if<Law>(&question.shape)) return solve_by_law(question, *law);
  return place_table(question, std::get<std::vector<LiftPoint>>(question.shape));
}

}  // namespace twoturn
