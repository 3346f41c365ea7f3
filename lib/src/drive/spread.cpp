#include "twoturn/drive/spread.hpp"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/sobol.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numeric>

#include "base/at.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

namespace twoturn {
namespace {

constexpr int kBins = 400;

// Eighteen digits cost more than they say.
using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

// One sigma's worth of an unknown, by where it lies between 0 and 1.
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

// The standard deviation of that.
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

}  // namespace

struct Spread::Setup {
  Fitted fitted;
  SpreadQuestion question;
  double nominal_q = 0.0;
  double slope = 0.0;  ///< dL/dq there
  double slack_q = 0.0;
  double tight_q = 0.0;
  double most_q = 0.0;  ///< where the longest belt goes on: over centre, or the tight end
  double nominal = 0.0;
  double linear = 0.0;    ///< standard deviation of the reading, or of the mismatch
  double bin_from = 0.0;  ///< of the first bin
  double bin_width = 0.0;
  std::vector<double> shift;
  std::vector<double> effects;

  const Drive& drive() const { return fitted.drive(); }
  bool tensioned() const { return drive().tensioner.has_value(); }
  std::size_t dimensions() const { return shift.size(); }
};

struct Spread::Tally {
  long long samples = 0;
  long long not_assembled = 0;
  long long evaluations = 0;
  double sum = 0.0;
  double squares = 0.0;  ///< of the distance from the nominal
  std::array<long long, kBins> bins{};
  std::map<int, long long> counts;
};

namespace spreading {

// One drive of the many: all that is solved again and again, without a word on the heap.
class Sample {
 public:
  explicit Sample(const Drive& drive) : drive_(drive), nominal_(placed_wheels(drive, 0.0)) {
    wheels_ = nominal_;
    if (drive.tensioner) {
      const Tensioner& tensioner = *drive.tensioner;
      roller_ = tensioner.pulley;
      if (const Swing* swing = tensioner.path.swing()) {
        swing_ = swing;
        nominal_[at(roller_)].centre_mm = swing->pivot_mm;
      }
    }
  }

  void put(const std::vector<Unknown>& unknowns, const std::vector<double>& off) {
    wheels_ = nominal_;
    turn(unknowns, off);
    pitch_off_ = arm_off_ = 0.0;
    slack_off_ = tight_off_ = Vec2::Zero();
    for (std::size_t k = 0; k < unknowns.size(); ++k) {
      const Unknown& unknown = unknowns[k];
      for (const Unknown::Move& move : unknown.moves) {
        Wheel& wheel = wheels_[at(move.pulley)];
        const bool end = move.pulley == roller_ && swing_ == nullptr;
        if (!end) wheel.centre_mm += off[k] * move.centre_mm;
        wheel.radius_mm += off[k] * move.radius_mm;
      }
      pitch_off_ += off[k] * unknown.pitch_mm;
      arm_off_ += off[k] * unknown.arm_mm;
      slack_off_ += off[k] * unknown.slack_mm;
      tight_off_ += off[k] * unknown.tight_mm;
    }
    if (roller_ >= 0) base_ = wheels_[at(roller_)].centre_mm;
  }

  double tooth_mm() const { return drive_.belt.tooth_mm() + pitch_off_; }

  /// The path's length with the tensioner at q; a number that is none where there is no path.
  double length(double q) {
    ++evaluations;
    if (roller_ >= 0) {
      Vec2& centre = wheels_[at(roller_)].centre_mm;
      if (swing_ != nullptr) {
        const double angle = swing_->slack.radians() + swing_->sense * q;
        centre = base_ + (swing_->arm_mm + arm_off_) * Vec2(std::cos(angle), std::sin(angle));
      } else {
        const TensionerPath& way = drive_.tensioner->path;
        const double share = way.travel(q);
        centre = way.centre_mm(q) + (1.0 - share) * slack_off_ + share * tight_off_;
      }
    }
    const PathResult result = path_length(wheels_);
    return result.solved() ? result.length_mm : std::nan("");
  }

  long long evaluations = 0;

 private:
  // All centres together, before each moves by itself.
  void turn(const std::vector<Unknown>& unknowns, const std::vector<double>& off) {
    double by = 0.0;
    Vec2 about = Vec2::Zero();
    for (std::size_t k = 0; k < unknowns.size(); ++k) {
      if (unknowns[k].turn_rad == 0.0) continue;
      by += off[k] * unknowns[k].turn_rad;
      about = unknowns[k].about_mm;
    }
    if (by == 0.0) return;
    const Eigen::Rotation2Dd turn(by);
    for (Wheel& wheel : wheels_) wheel.centre_mm = about + turn * (wheel.centre_mm - about);
  }

  const Drive& drive_;
  std::vector<Wheel> nominal_;
  std::vector<Wheel> wheels_;
  const Swing* swing_ = nullptr;
  int roller_ = -1;
  Vec2 base_ = Vec2::Zero();
  Vec2 slack_off_ = Vec2::Zero();
  Vec2 tight_off_ = Vec2::Zero();
  double pitch_off_ = 0.0;
  double arm_off_ = 0.0;
};

// Where the belt is at its own length, by secants from the nominal place: empty where that leads
// out of the travel.
static std::optional<double> settled(Sample& sample, double wanted_mm, double from_q, double slope,
                                     double slack_q, double tight_q) {
  constexpr int kMost = 20;
  constexpr double kMetMm = 1e-7;
  double last_q = from_q;
  double last_off = sample.length(last_q) - wanted_mm;
  double q = last_q - last_off / slope;
  for (int k = 0; k < kMost; ++k) {
    const double margin = tight_q - slack_q;
    if (!(q > slack_q - margin && q < tight_q + margin)) return std::nullopt;
    const double off = sample.length(q) - wanted_mm;
    if (std::abs(off) <= kMetMm) {
      return q >= slack_q && q <= tight_q ? std::optional(q) : std::nullopt;
    }
    const double step = off * (q - last_q) / (off - last_off);
    last_q = q;
    last_off = off;
    q -= step;
    if (!std::isfinite(q)) return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace spreading

std::string Spread::why_not(const Fitted& fitted) {
  if (!fitted.drive().belt.teeth) return "the belt's teeth are not given";
  if (fitted.uncertainty().exact()) return "every number is taken as exact";
  constexpr std::size_t kMostDimensions = 300;
  if (fitted.uncertainty().unknowns().size() > kMostDimensions)
    return "too many numbers may be off";
  if (!fitted.curve()) return "";
  const std::vector<Setting> settings =
      fitted.curve()->settings_for(fitted.drive().belt.length_mm(*fitted.drive().belt.teeth));
  return meant_setting(settings, *fitted.drive().tensioner) != nullptr
             ? ""
             : "with every number as given the belt has no place in the travel";
}

Spread::Spread(const Fitted& fitted, const SpreadQuestion& question) {
  auto setup =
      std::make_unique<Setup>(Setup{fitted, question, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}});
  const Drive& drive = fitted.drive();
  const Uncertainty& known = fitted.uncertainty();
  const int teeth = *drive.belt.teeth;
  const double wanted = drive.belt.length_mm(teeth);
  if (const TensionerCurve* curve = fitted.curve()) {
    const std::vector<Setting> settings = curve->settings_for(wanted);
    const Setting& meant = *meant_setting(settings, *drive.tensioner);
    setup->nominal_q = meant.q;
    setup->slope = curve->at(meant.q)->rate;
    for (const UsableTravel& range : curve->usable()) {
      if (meant.q < range.from_q || meant.q > range.to_q) continue;
      setup->slack_q = range.from_q;
      setup->tight_q = setup->most_q = range.to_q;
    }
    for (const double q : curve->over_centres()) {
      if (q > setup->slack_q && q < setup->tight_q &&
          curve->at(q)->length_mm > curve->at(setup->most_q)->length_mm) {
        setup->most_q = q;
      }
    }
    setup->nominal = meant.reading.value;
    setup->effects = known.length_effects(drive, meant.q, teeth);
    for (double& effect : setup->effects) effect /= meant.rate;
  } else {
    setup->nominal = wanted - path_length(placed_wheels(drive, 0.0)).length_mm;
    setup->effects = known.length_effects(drive, 0.0, teeth);
  }
  setup->linear = known.sum(setup->effects).sigma() * deviation_of(question.law);
  constexpr double kSigmasShown = 8.0;
  setup->bin_from = setup->nominal - kSigmasShown * setup->linear;
  setup->bin_width = 2.0 * kSigmasShown * setup->linear / kBins;
  boost::random::mt19937 random(question.seed);
  boost::random::uniform_01<double> share;
  for (std::size_t k = 0; k < known.unknowns().size(); ++k) setup->shift.push_back(share(random));
  setup_ = std::move(setup);
}

Spread::~Spread() = default;
Spread::Spread(Spread&&) noexcept = default;
Spread& Spread::operator=(Spread&&) noexcept = default;

// The samples of one lane, one after the other.
class Spread::Lane {
 public:
  Lane(const Setup& setup, long long first, Tally& tally)
      : setup_(setup),
        tally_(tally),
        unknowns_(setup.fitted.uncertainty().unknowns()),
        engine_(setup.dimensions()),
        off_(setup.dimensions()),
        sample_(setup.drive()),
        teeth_(*setup.drive().belt.teeth) {
    engine_.discard(static_cast<boost::uintmax_t>(first) * setup.dimensions());
  }

  void next() {
    throw_off();
    const std::optional<double> found = setup_.tensioned() ? reading() : mismatch();
    if (setup_.tensioned()) count_teeth();
    if (!found) {
      ++tally_.not_assembled;
      return;
    }
    const double away = *found - setup_.nominal;
    tally_.sum += away;
    tally_.squares += away * away;
    const double bin = (*found - setup_.bin_from) / setup_.bin_width;
    ++tally_.bins[at(static_cast<int>(std::clamp(bin, 0.0, static_cast<double>(kBins - 1))))];
  }

  long long evaluations() const { return sample_.evaluations; }

 private:
  void throw_off() {
    const double scale = 1.0 / (static_cast<double>(boost::random::sobol::max()) + 1.0);
    for (std::size_t k = 0; k < off_.size(); ++k) {
      double share = static_cast<double>(engine_()) * scale + setup_.shift[k];
      share -= std::floor(share);
      off_[k] = off_by(share, setup_.question.law);
    }
    sample_.put(unknowns_, off_);
  }

  std::optional<double> reading() {
    const std::optional<double> q =
        spreading::settled(sample_, teeth_ * sample_.tooth_mm(), setup_.nominal_q, setup_.slope,
                           setup_.slack_q, setup_.tight_q);
    if (!q) return std::nullopt;
    // From the nominal on, so that a swing's reading does not jump at 12 o'clock.
    const Swing* swing = setup_.drive().tensioner->path.swing();
    const double moved = *q - setup_.nominal_q;
    return setup_.nominal + (swing != nullptr ? -swing->sense * moved / kRadPerDeg : moved);
  }

  std::optional<double> mismatch() {
    const double length = sample_.length(0.0);
    if (!std::isfinite(length)) return std::nullopt;
    return teeth_ * sample_.tooth_mm() - length;
  }

  // Every count between the lengths at the two ends of the travel.
  void count_teeth() {
    const double least = sample_.length(setup_.slack_q);
    const double most = sample_.length(setup_.most_q);
    if (!std::isfinite(least + most)) return;
    const int fewest = static_cast<int>(std::ceil(least / sample_.tooth_mm()));
    const int greatest = static_cast<int>(std::floor(most / sample_.tooth_mm()));
    for (int count = fewest; count <= greatest; ++count) ++tally_.counts[count];
  }

  const Setup& setup_;
  Tally& tally_;
  const std::vector<Unknown>& unknowns_;
  boost::random::sobol engine_;
  std::vector<double> off_;
  spreading::Sample sample_;
  int teeth_;
};

std::shared_ptr<const Spread::Tally> Spread::lane(int index) const {
  const long long from = setup_->question.samples * index / kLanes;
  const long long to = setup_->question.samples * (index + 1) / kLanes;
  auto tally = std::make_shared<Tally>();
  Lane lane(*setup_, from, *tally);
  for (long long n = from; n < to; ++n) lane.next();
  tally->samples = to - from;
  tally->evaluations = lane.evaluations();
  return tally;
}

namespace {

// Of the variance by the gradient, numbers of one key together.
std::vector<SpreadShare> shares_of(const std::vector<Unknown>& unknowns,
                                   const std::vector<double>& effects) {
  double variance = 0.0;
  for (const double effect : effects) variance += effect * effect;
  std::vector<SpreadShare> shares;
  for (std::size_t k = 0; k < effects.size(); ++k) {
    const double share = variance > 0.0 ? effects[k] * effects[k] / variance : 0.0;
    const auto same = [&](const SpreadShare& other) { return other.key == unknowns[k].key; };
    const auto found = std::find_if(shares.begin(), shares.end(), same);
    if (found == shares.end()) {
      shares.push_back({unknowns[k].key, share});
    } else {
      found->share += share;
    }
  }
  std::stable_sort(shares.begin(), shares.end(),
                   [](const SpreadShare& a, const SpreadShare& b) { return a.share > b.share; });
  return shares;
}

}  // namespace

// Where so much of what is in the bins lies below.
double Spread::quantile(const Tally& all, double share) const {
  const double wanted = share * static_cast<double>(all.samples - all.not_assembled);
  double seen = 0.0;
  for (std::size_t k = 0; k < all.bins.size(); ++k) {
    const auto here = static_cast<double>(all.bins[k]);
    if (here > 0.0 && seen + here >= wanted) {
      return setup_->bin_from +
             setup_->bin_width * (static_cast<double>(k) + (wanted - seen) / here);
    }
    seen += here;
  }
  return setup_->nominal;
}

Spreading Spread::spreading(const Tally& all) const {
  Spreading spreading;
  const auto going = static_cast<double>(all.samples - all.not_assembled);
  if (going > 0.0) {
    const double mean = all.sum / going;
    spreading.mean = setup_->nominal + mean;
    spreading.deviation = std::sqrt(std::max(0.0, all.squares / going - mean * mean));
  }
  constexpr double kLow = 0.025;
  spreading.low = quantile(all, kLow);
  spreading.middle = quantile(all, 0.5);
  spreading.high = quantile(all, 1.0 - kLow);
  spreading.linear_deviation = setup_->linear;
  return spreading;
}

SpreadAnswer Spread::answer(const std::vector<std::shared_ptr<const Tally>>& lanes) const {
  SpreadAnswer answer;
  answer.question = setup_->question;
  answer.fit = setup_->fitted.fit();
  if (setup_->tensioned()) answer.kind = setup_->drive().tensioner->path.kind();
  answer.belt_teeth = setup_->drive().belt.teeth;
  answer.nominal = setup_->nominal;
  Tally all;
  for (const auto& lane : lanes) {
    if (!lane) continue;
    all.samples += lane->samples;
    all.not_assembled += lane->not_assembled;
    all.evaluations += lane->evaluations;
    all.sum += lane->sum;
    all.squares += lane->squares;
    for (std::size_t k = 0; k < all.bins.size(); ++k) all.bins[k] += lane->bins[k];
    for (const auto& [count, times] : lane->counts) all.counts[count] += times;
  }
  answer.samples = all.samples;
  answer.not_assembled = all.not_assembled;
  answer.counts = all.counts;
  answer.reading = spreading(all);
  if (all.samples > 0) {
    answer.path_evaluations =
        static_cast<double>(all.evaluations) / static_cast<double>(all.samples);
  }
  // Fine enough for quantiles; told ten at a time.
  constexpr std::size_t kTogether = 10;
  for (std::size_t k = 0; k < all.bins.size(); k += kTogether) {
    const double from = setup_->bin_from + setup_->bin_width * static_cast<double>(k);
    const auto first = all.bins.begin() + static_cast<std::ptrdiff_t>(k);
    const long long count = std::accumulate(first, first + kTogether, 0LL);
    if (count > 0) answer.bins.push_back({from, from + kTogether * setup_->bin_width, count});
  }
  answer.shares = shares_of(setup_->fitted.uncertainty().unknowns(), setup_->effects);
  return answer;
}

}  // namespace twoturn
