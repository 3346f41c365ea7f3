#include "twoturn/drive/tensioner_curve.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <limits>

#include "base/at.hpp"
#include "twoturn/base/assert.hpp"
#include "twoturn/geometry/moved_wheel.hpp"

namespace twoturn {
namespace {

constexpr int kSamples = 120;          // 3 deg of a swing; refined where the curve asks for it
constexpr double kSameSetting = 1e-9;  // settings nearer than this share of the search are one

}  // namespace

TensionerCurve::TensionerCurve(const Drive& drive)
    : tensioner_(*drive.tensioner),
      around_(drive.around),
      wheels_(placed_wheels(drive, 0.0)),
      tooth_mm_(drive.belt.tooth_mm()) {
  MovedWheel work = scratch();
  sample_curve(work);
  find_usable(work);
  find_range(work);
  if (!drive.belt.teeth) return;
  const double own_mm = drive.belt.length_mm(*drive.belt.teeth);
  own_settings_ = settings_for(own_mm);
  own_length_mm_ = own_mm;
}

MovedWheel TensionerCurve::scratch() const { return {wheels_, tensioner_.pulley, around_}; }

std::optional<LengthAt> TensionerCurve::at(double q) const {
  MovedWheel work = scratch();
  return at(q, work);
}

std::optional<LengthAt> TensionerCurve::at(double q, MovedWheel& work) const {
  const PathResult result = work.put(tensioner_.path.centre_mm(q));
  if (!result.solved()) return std::nullopt;
  const Vec2 gradient = centre_gradient(work.path(), tensioner_.pulley);
  return LengthAt{result.length_mm, gradient.dot(tensioner_.path.centre_rate(q))};
}

// Every setting at which the run to a neighbour comes or goes, and the two ends of the search.
std::vector<double> TensionerCurve::ends_of_stretches() const {
  std::vector<double> ends{0.0, tensioner_.path.search_length()};
  const int count = static_cast<int>(wheels_.size());
  const Wheel& own = wheels_[twoturn::at(tensioner_.pulley)];
  for (const int step : {1, count - 1}) {
    const Wheel& other = wheels_[twoturn::at((tensioner_.pulley + step) % count)];
    const double needed = std::abs(own.sense * own.radius_mm - other.sense * other.radius_mm);
    for (const double q : tensioner_.path.at_distance(other.centre_mm, needed)) ends.push_back(q);
  }
  std::sort(ends.begin(), ends.end());
  return ends;
}

void TensionerCurve::sample_curve(MovedWheel& work) {
  const std::vector<double> ends = ends_of_stretches();
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) sample_stretch(ends[i], ends[i + 1], work);
}

// Between two ends there is a tangent everywhere or nowhere. At an end itself the run has no
// length left, so a stretch begins and ends as near to it as rounding lets it.
void TensionerCurve::sample_stretch(double from_q, double to_q, MovedWheel& work) {
  const double search = tensioner_.path.search_length();
  const auto inside = [&](double end, double direction) {
    double q = end;
    for (double off = 1e-14; off < 1e-6 && !at(q, work); off *= 10.0) {
      q = end + direction * off * search;
    }
    return q;
  };
  if (!at((from_q + to_q) / 2.0, work)) return;
  const double first = inside(from_q, 1.0);
  const double last = inside(to_q, -1.0);
  if (!(first < last)) return;
  const double step = search / kSamples;
  std::vector<double> places{first};
  for (int k = static_cast<int>(std::floor(first / step)); k <= kSamples && k * step < last; ++k) {
    if (k * step > first) places.push_back(k * step);
  }
  places.push_back(last);
  std::optional<Sample> before;
  for (const double q : places) {
    const std::optional<LengthAt> here = at(q, work);
    if (!here) continue;  // an end that rounding hides
    const Sample sample{q, here->length_mm, here->rate, here->rate == 0.0, true};
    constexpr int kDeepest = 30;
    if (before) {
      refine(*before, sample, kDeepest, work);
    } else {
      samples_.push_back(sample);
    }
    before = sample;
  }
  if (!samples_.empty()) samples_.back().joined = false;
}

// Adds everything between two samples, and the second of them. A piece whose rise is not what its
// end rates promise is halved: either it bends more than its ends tell, or the length jumps by a
// whole turn round a pulley, and a jump is no piece of the curve.
void TensionerCurve::refine(const Sample& from, const Sample& to, int depth, MovedWheel& work) {
  const double width = to.q - from.q;
  const double promised = width * (from.rate + to.rate) / 2.0;
  const double greatest_rate = std::max(std::abs(from.rate), std::abs(to.rate));
  const double doubt = std::abs(to.length_mm - from.length_mm - promised);
  constexpr double kTrusted = 0.05;
  const bool trusted = doubt <= kTrusted * (greatest_rate * width + kOnLengthMm);
  if (!trusted && depth > 0) {
    const double q = from.q + width / 2.0;
    const std::optional<LengthAt> here = at(q, work);
    if (here) {
      const Sample middle{q, here->length_mm, here->rate, here->rate == 0.0, true};
      refine(from, middle, depth - 1, work);
      refine(middle, to, depth - 1, work);
      return;
    }
  }
  if (!trusted) {
    samples_.back().joined = false;
  } else if (from.rate * to.rate < 0.0) {
    const auto rate = [this, &work](double q) { return at(q, work).value_or(LengthAt{}).rate; };
    std::uintmax_t most = 60;
    const auto bracket =
        boost::math::tools::toms748_solve(rate, from.q, to.q, from.rate, to.rate,
                                          boost::math::tools::eps_tolerance<double>(50), most);
    const double q = (bracket.first + bracket.second) / 2.0;
    if (const std::optional<LengthAt> here = at(q, work)) {
      samples_.push_back({q, here->length_mm, 0.0, true, true});
    }
  }
  samples_.push_back(to);
}

std::optional<Refusal> TensionerCurve::refusal_at(double q, MovedWheel& work) const {
  const PathResult result = work.put(tensioner_.path.centre_mm(q));
  if (!result.solved()) {
    return Refusal{Refused::no_tangent, result.none.from, result.none.to, result.none.distance_mm,
                   result.none.needed_mm};
  }
  const std::vector<Refusal> refused = work.reasons_against();
  if (refused.empty()) return std::nullopt;
  return refused.front();
}

// Halves its way from a setting that runs to one that does not; the range ends at the last that
// runs, and names why the next does not.
void TensionerCurve::cut_unusable(double good_q, double bad_q, UsableTravel& range, Side side,
                                  MovedWheel& work) const {
  std::optional<Refusal> cause = refusal_at(bad_q, work);
  constexpr int kHalvings = 40;
  for (int k = 0; k < kHalvings; ++k) {
    const double q = (good_q + bad_q) / 2.0;
    const std::optional<Refusal> refusal = refusal_at(q, work);
    (refusal ? bad_q : good_q) = q;
    if (refusal) cause = refusal;
  }
  (side == Side::tight ? range.to_q : range.from_q) = good_q;
  (side == Side::tight ? range.tight_cause : range.slack_cause) = cause;
}

void TensionerCurve::find_usable(MovedWheel& work) {
  constexpr int kLooks = 60;
  const double travel = tensioner_.path.travel_length();
  std::vector<double> looks;
  for (int k = 0; k <= kLooks; ++k) looks.push_back(travel * k / kLooks);
  // A stretch may be shorter than a step: each is looked at, at both ends and within.
  for (std::size_t i = 0; i + 1 < samples_.size(); ++i) {
    const bool starts = i == 0 || !samples_[i - 1].joined;
    const bool ends = !samples_[i + 1].joined;
    const double middle = (samples_[i].q + samples_[i + 1].q) / 2.0;
    for (const double q : {samples_[i].q, middle, samples_[i + 1].q}) {
      const bool wanted = (starts && q <= middle) || (ends && q >= middle);
      if (samples_[i].joined && wanted && q > 0.0 && q < travel) looks.push_back(q);
    }
  }
  std::sort(looks.begin(), looks.end());
  std::optional<UsableTravel> open;
  double last_q = 0.0;
  double clear_q = -1.0;
  // At an end rounding may choose between running and not more than once.
  const auto keep = [&](const UsableTravel& range) {
    const double same = kSameSetting * tensioner_.path.search_length();
    if (usable_.empty() || range.from_q - usable_.back().to_q > same) {
      usable_.push_back(range);
      return;
    }
    usable_.back().to_q = range.to_q;
    usable_.back().tight_cause = range.tight_cause;
  };
  for (const double q : looks) {
    const bool known = q <= clear_q;
    const bool runs = known || !refusal_at(q, work).has_value();
    if (runs && !known) clear_q = q + work.free_way_mm() / tensioner_.path.centre_rate(q).norm();
    if (runs && !open) {
      open = UsableTravel{q, q, {}, {}};
      if (q > 0.0) cut_unusable(q, last_q, *open, Side::slack, work);
    }
    if (runs) open->to_q = q;
    if (!runs && open) {
      cut_unusable(last_q, q, *open, Side::tight, work);
      keep(*open);
      open.reset();
    }
    last_q = q;
  }
  if (open) keep(*open);
}

bool TensionerCurve::runs_at(double q) const {
  return std::any_of(usable_.begin(), usable_.end(), [q](const UsableTravel& range) {
    return q >= range.from_q && q <= range.to_q;
  });
}

void TensionerCurve::find_range(MovedWheel& work) {
  least_mm_ = std::numeric_limits<double>::infinity();
  greatest_mm_ = -least_mm_;
  const auto include = [this](double length_mm) {
    least_mm_ = std::min(least_mm_, length_mm);
    greatest_mm_ = std::max(greatest_mm_, length_mm);
  };
  for (const UsableTravel& range : usable_) {
    for (const double q : {range.from_q, range.to_q}) {
      if (const std::optional<LengthAt> end = at(q, work)) include(end->length_mm);
    }
    for (const Sample& sample : samples_) {
      if (sample.q > range.from_q && sample.q < range.to_q) include(sample.length_mm);
    }
  }
}

// Newton with the exact rate, kept inside the bracket: a step that leaves it, or that does not
// halve the residual, is replaced by the middle.
double TensionerCurve::root_between(const Sample& from, const Sample& to, double length_mm,
                                    MovedWheel& work, int& most_evaluations) const {
  double low = from.q;
  double high = to.q;
  const double rising = to.length_mm > from.length_mm ? 1.0 : -1.0;
  const double share = (length_mm - from.length_mm) / (to.length_mm - from.length_mm);
  double q = low + std::clamp(share, 0.0, 1.0) * (high - low);
  double last_residual = std::numeric_limits<double>::infinity();
  constexpr int kMost = 100;
  for (int k = 0; k < kMost; ++k) {
    const std::optional<LengthAt> here = at(q, work);
    TWOTURN_ASSERT(here.has_value(), q);
    most_evaluations = std::max(most_evaluations, k + 1);
    const double residual = here->length_mm - length_mm;
    constexpr double kAimMm = 1e-11;
    if (std::abs(residual) <= kAimMm || high - low <= 4e-16 * std::max(1.0, high)) return q;
    (residual * rising > 0.0 ? high : low) = q;
    const double newton = q - residual / here->rate;
    const bool trusted = here->rate != 0.0 && newton > low && newton < high &&
                         std::abs(residual) <= 0.5 * last_residual;
    q = trusted ? newton : (low + high) / 2.0;
    last_residual = trusted || k == 0 ? std::abs(residual) : std::abs(residual) * 2.0;
  }
  return q;
}

std::vector<Setting> TensionerCurve::settings_for(double length_mm) const {
  if (length_mm == own_length_mm_) return own_settings_;
  int uncounted = 0;
  return settings_for(length_mm, uncounted);
}

std::vector<Setting> TensionerCurve::settings_for(double length_mm, int& most_evaluations) const {
  MovedWheel work = scratch();
  std::vector<Setting> found;
  const double same = kSameSetting * tensioner_.path.search_length();
  const auto add = [&](double q) {
    const bool again = std::any_of(found.begin(), found.end(), [&](const Setting& other) {
      const double apart = std::abs(other.q - q);
      return apart <= same || (tensioner_.path.swing() && kFullTurn - apart <= same);
    });
    if (again || (!runs_at(q) && refusal_at(q, work))) return;
    found.push_back(describe(q, work));
  };
  const auto on_length = [&](const Sample& sample) {
    return std::abs(sample.length_mm - length_mm) <= kOnLengthMm;
  };
  for (std::size_t i = 0; i < samples_.size(); ++i) {
    const Sample& here = samples_[i];
    if (on_length(here)) add(here.q);
    if (!here.joined || i + 1 == samples_.size()) continue;
    const Sample& next = samples_[i + 1];
    if (on_length(here) || on_length(next)) continue;
    const bool between = (here.length_mm - length_mm) * (next.length_mm - length_mm) < 0.0;
    if (between) add(root_between(here, next, length_mm, work, most_evaluations));
  }
  std::sort(found.begin(), found.end(),
            [](const Setting& a, const Setting& b) { return a.q < b.q; });
  return found;
}

// The greatest length still ahead of q, before the belt slackens again or its travel ends.
double TensionerCurve::longest_ahead(double q) const {
  double end = q;
  for (const UsableTravel& range : usable_) {
    const double slack = kSameSetting * tensioner_.path.search_length();
    if (q >= range.from_q - slack && q <= range.to_q + slack) end = std::max(q, range.to_q);
  }
  for (std::size_t i = 0; i < samples_.size(); ++i) {
    const Sample& here = samples_[i];
    if (here.q >= end) break;
    if (here.q > q && (here.turning || here.rate < 0.0)) return here.q;
    const bool falls = here.joined && samples_[i + 1].length_mm < here.length_mm;
    if (here.q <= q && falls && q < samples_[i + 1].q) return q;
  }
  return end;
}

Setting TensionerCurve::describe(double q) const {
  MovedWheel work = scratch();
  return describe(q, work);
}

Setting TensionerCurve::describe(double q, MovedWheel& work) const {
  const std::optional<LengthAt> here = at(q, work);
  TWOTURN_ASSERT(here.has_value(), q);
  Setting setting{tensioner_.at(q)};
  setting.rate = tensioner_.path.rate_per_reading(here->rate);
  setting.length_mm = here->length_mm;
  const auto turning_here = [q](const Sample& sample) { return sample.turning && sample.q == q; };
  const bool turning = std::any_of(samples_.begin(), samples_.end(), turning_here);
  setting.over_centre = turning            ? OverCentre::at
                        : here->rate > 0.0 ? OverCentre::before
                                           : OverCentre::past;
  if (setting.over_centre == OverCentre::before && setting.in_travel) {
    setting.adjustment_left_mm =
        std::max(0.0, at(longest_ahead(q), work).value_or(LengthAt{}).length_mm - here->length_mm);
    setting.adjustment_left_teeth = setting.adjustment_left_mm / tooth_mm_;
  }
  return setting;
}

std::vector<double> TensionerCurve::over_centres() const {
  std::vector<double> found;
  for (std::size_t i = 1; i + 1 < samples_.size(); ++i) {
    const Sample& here = samples_[i];
    const bool greatest = here.turning && samples_[i - 1].length_mm <= here.length_mm &&
                          samples_[i + 1].length_mm <= here.length_mm;
    if (greatest && tensioner_.path.in_travel(here.q)) found.push_back(here.q);
  }
  return found;
}

double TensionerCurve::whole_range_mm() const {
  const auto shorter = [](const Sample& a, const Sample& b) { return a.length_mm < b.length_mm; };
  const auto [least, greatest] = std::minmax_element(samples_.begin(), samples_.end(), shorter);
  return greatest->length_mm - least->length_mm;
}

double TensionerCurve::lets_off() const {
  const double travel = tensioner_.path.travel_length();
  double let_off = 0.0;
  for (std::size_t i = 1; i < samples_.size() && samples_[i - 1].q < travel; ++i) {
    const Sample& from = samples_[i - 1];
    if (!from.joined) continue;
    const double to_mm = samples_[i].q > travel ? at(travel)->length_mm : samples_[i].length_mm;
    let_off += std::max(0.0, from.length_mm - to_mm);
  }
  return let_off > 0.0 ? let_off / whole_range_mm() : 0.0;
}

std::optional<double> TensionerCurve::lets_off_the_other_way() const {
  const double travel = tensioner_.path.travel_length();
  if (!tensioner_.path.swing() || samples_.empty()) return std::nullopt;
  // A gap over the slack end, where the circle comes round.
  if (samples_.front().q > 0.0) return std::nullopt;
  double let_off = 0.0;
  for (std::size_t i = 1; i < samples_.size(); ++i) {
    const Sample& from = samples_[i - 1];
    if (!from.joined) return std::nullopt;
    if (samples_[i].q <= travel) continue;
    const double from_mm = from.q < travel ? at(travel)->length_mm : from.length_mm;
    let_off += std::max(0.0, samples_[i].length_mm - from_mm);
  }
  return let_off > 0.0 ? let_off / whole_range_mm() : 0.0;
}

std::vector<FittingCount> fitting_counts(const TensionerCurve& curve, const Belt& belt) {
  const double tooth_mm = belt.tooth_mm();
  std::vector<FittingCount> counts;
  if (curve.usable().empty()) return counts;
  const int least = static_cast<int>(std::ceil((curve.least_mm() - kOnLengthMm) / tooth_mm));
  const int greatest = static_cast<int>(std::floor((curve.greatest_mm() + kOnLengthMm) / tooth_mm));
  for (int teeth = least; teeth <= greatest; ++teeth) {
    FittingCount count{teeth, curve.settings_for(belt.length_mm(teeth))};
    if (count.fits()) counts.push_back(std::move(count));
  }
  return counts;
}

}  // namespace twoturn
