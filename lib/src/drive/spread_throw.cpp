#include "spread_throw.hpp"

#include <Eigen/Geometry>

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

namespace twoturn::spreading {

// Eighteen digits cost more than they say.
using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double off_by(double share, SpreadLaw law) {
  switch (law) {
    case SpreadLaw::normal: {
      // The ends of what can be drawn: some eight sigmas.
      constexpr double kLeast = 1e-15;
      const double inside = std::clamp(share, kLeast, 1.0 - kLeast);
      return std::sqrt(2.0) * boost::math::erf_inv(2.0 * inside - 1.0, InDoubles());
    }
    case SpreadLaw::uniform:
      return kSigmas95 * (2.0 * share - 1.0);
    case SpreadLaw::limits:
      return share < 0.5 ? -kSigmas95 : kSigmas95;
  }
  return 0.0;
}

double deviation_of(SpreadLaw law) {
  switch (law) {
    case SpreadLaw::normal:
      return 1.0;
    case SpreadLaw::uniform:
      return kSigmas95 / std::sqrt(3.0);
    case SpreadLaw::limits:
      return kSigmas95;
  }
  return 1.0;
}

Side::Side(const Fitted& of) : fitted(of) {
  const int teeth = *drive().belt.teeth;
  const TensionerCurve* curve = fitted.curve();
  if (!curve) {
    length_effects = fitted.uncertainty().length_effects(drive(), q, teeth);
    return;
  }
  const std::vector<Setting> settings = curve->settings_for(drive().belt.length_mm(teeth));
  const Setting& meant = *meant_setting(settings, *drive().tensioner);
  q = meant.q;
  reading = meant.reading.value;
  rate = meant.rate;
  slope = curve->at(q)->rate;
  for (const UsableTravel& range : curve->usable()) {
    if (q < range.from_q || q > range.to_q) continue;
    slack_q = range.from_q;
    tight_q = most_q = range.to_q;
  }
  for (const double over : curve->over_centres()) {
    if (over > slack_q && over < tight_q &&
        curve->at(over)->length_mm > curve->at(most_q)->length_mm) {
      most_q = over;
    }
  }
  length_effects = fitted.uncertainty().length_effects(drive(), q, teeth);
}

Sample::Sample(const Side& side) : side_(side), nominal_(placed_wheels(side.drive(), 0.0)) {
  wheels_ = nominal_;
  if (!side.drive().tensioner) return;
  const Tensioner& tensioner = *side.drive().tensioner;
  roller_ = tensioner.pulley;
  if (const Swing* swing = tensioner.path.swing()) {
    swing_ = swing;
    nominal_[at(roller_)].centre_mm = swing->pivot_mm;
  }
}

void Sample::put(const std::vector<double>& off) {
  wheels_ = nominal_;
  turn(off);
  pitch_off_ = arm_off_ = length_off_ = 0.0;
  slack_off_ = tight_off_ = Vec2::Zero();
  const std::vector<Unknown>& unknowns = side_.unknowns();
  for (std::size_t k = 0; k < unknowns.size(); ++k) {
    const Unknown& unknown = unknowns[k];
    const double by = off[side_.throws[k]];
    for (const Unknown::Move& move : unknown.moves) {
      Wheel& wheel = wheels_[at(move.pulley)];
      const bool end = move.pulley == roller_ && swing_ == nullptr;
      if (!end) wheel.centre_mm += by * move.centre_mm;
      wheel.radius_mm += by * move.radius_mm;
    }
    length_off_ += by * side_.length_effects[k];
    pitch_off_ += by * unknown.pitch_mm;
    arm_off_ += by * unknown.arm_mm;
    slack_off_ += by * unknown.slack_mm;
    tight_off_ += by * unknown.tight_mm;
  }
  if (roller_ >= 0) base_ = wheels_[at(roller_)].centre_mm;
}

// All centres together, before each moves by itself.
void Sample::turn(const std::vector<double>& off) {
  double by = 0.0;
  Vec2 about = Vec2::Zero();
  const std::vector<Unknown>& unknowns = side_.unknowns();
  for (std::size_t k = 0; k < unknowns.size(); ++k) {
    if (unknowns[k].turn_rad == 0.0) continue;
    by += off[side_.throws[k]] * unknowns[k].turn_rad;
    about = unknowns[k].about_mm;
  }
  if (by == 0.0) return;
  const Eigen::Rotation2Dd turn(by);
  for (Wheel& wheel : wheels_) wheel.centre_mm = about + turn * (wheel.centre_mm - about);
}

void Sample::place_roller(double q) {
  if (roller_ < 0) return;
  Vec2& centre = wheels_[at(roller_)].centre_mm;
  if (swing_ != nullptr) {
    const double angle = swing_->slack.radians() + swing_->sense * q;
    centre = base_ + (swing_->arm_mm + arm_off_) * Vec2(std::cos(angle), std::sin(angle));
  } else {
    const TensionerPath& way = side_.drive().tensioner->path;
    const double share = way.travel(q);
    centre = way.centre_mm(q) + (1.0 - share) * slack_off_ + share * tight_off_;
  }
}

double Sample::length(double q) {
  ++evaluations;
  place_roller(q);
  const PathResult result = path_length(wheels_);
  return result.solved() ? result.length_mm : std::nan("");
}

// By secants from where the gradient has it. The last step is taken without a look: as secants go,
// what is then left is the product of the two offs before it and a bend of some 1/mm.
std::optional<double> Sample::setting() {
  if (roller_ < 0) return 0.0;
  constexpr int kMost = 20;
  constexpr double kNearMm = 1e-4;
  constexpr double kMetMm = 1e-9;  // from here on a secant is rounding
  const double wanted_mm = belt_mm();
  const double margin = side_.tight_q - side_.slack_q;
  double q = side_.q - length_off_ / side_.slope;
  double last_q = q;
  double last_off = 0.0;
  for (int k = 0; k < kMost; ++k) {
    if (!(q > side_.slack_q - margin && q < side_.tight_q + margin)) return std::nullopt;
    const double off = length(q) - wanted_mm;
    const bool met = std::abs(off) <= kMetMm;
    const double rate = k == 0 ? side_.slope : (off - last_off) / (q - last_q);
    const double next = met ? q : q - off / rate;
    if (met || (k > 0 && std::abs(off) <= kNearMm)) {
      return next >= side_.slack_q && next <= side_.tight_q ? std::optional(next) : std::nullopt;
    }
    last_q = q;
    last_off = off;
    q = next;
  }
  return std::nullopt;
}

bool Sample::look(double q, ThrownDrive& into) {
  ++evaluations;
  place_roller(q);
  into.placed.wheels = wheels_;
  into.tooth_mm = tooth_mm();
  return solve_path(into.placed.wheels, into.placed.path).solved();
}

}  // namespace twoturn::spreading
