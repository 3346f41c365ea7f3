#include "twoturn/drive/spread.hpp"

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/sobol.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numeric>

#include "spread_tally.hpp"
#include "spread_throw.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

namespace twoturn {

using spreading::Axis;
using spreading::Heap;
using spreading::Sample;
using spreading::Side;
using spreading::Spreads;

namespace {

constexpr double kSigmasShown = 8.0;

double sum_of_squares(const std::vector<double>& values) {
  return std::inner_product(values.begin(), values.end(), values.begin(), 0.0);
}

double root_of_squares(const std::vector<double>& values) {
  return std::sqrt(sum_of_squares(values));
}

// Of the variance by the gradient, numbers of one key together.
std::vector<SpreadShare> shares_of(const std::vector<std::string>& keys,
                                   const std::vector<double>& effects) {
  const double variance = sum_of_squares(effects);
  std::vector<SpreadShare> shares;
  for (std::size_t k = 0; k < effects.size(); ++k) {
    const double share = variance > 0.0 ? effects[k] * effects[k] / variance : 0.0;
    const auto same = [&](const SpreadShare& other) { return other.key == keys[k]; };
    const auto found = std::find_if(shares.begin(), shares.end(), same);
    if (found == shares.end()) {
      shares.push_back({keys[k], share});
    } else {
      found->share = std::min(1.0, found->share + share);  // but for rounding
    }
  }
  std::stable_sort(shares.begin(), shares.end(),
                   [](const SpreadShare& a, const SpreadShare& b) { return a.share > b.share; });
  return shares;
}

}  // namespace

struct Spread::Setup {
  // One throw, which unknowns of either fit may take.
  struct Thrown {
    std::string number;
    SpreadLaw law;
    double shift;
  };

  Setup(const Fitted& fitted, const SpreadQuestion& asked, std::optional<SpreadBeside> other)
      : question(asked), side(fitted), beside(std::move(other)) {
    deal(side);
    if (beside) book.emplace(beside->book);
    if (book) deal(*book);
    boost::random::mt19937 random(question.seed);
    boost::random::uniform_01<double> share;
    for (Thrown& one : thrown) one.shift = share(random);
    find_reading();
    if (book) find_values();
  }

  bool tensioned() const { return side.drive().tensioner.has_value(); }

  // What is read at that place of a tensioner, from the nominal on, so that a swing's reading does
  // not jump at 12 o'clock; without one, how much too long the belt is.
  std::optional<double> read_of(Sample& sample, const std::optional<double>& q) const {
    if (!q) return std::nullopt;
    double read = 0.0;
    if (tensioned()) {
      const Swing* swing = side.drive().tensioner->path.swing();
      const double away = *q - side.q;
      read = reading.axis.nominal + (swing != nullptr ? -swing->sense * away / kRadPerDeg : away);
    } else {
      read = sample.belt_mm() - sample.length(*q);
    }
    return std::isfinite(read) ? std::optional(read) : std::nullopt;
  }

  SpreadQuestion question;
  Side side;
  std::optional<SpreadBeside> beside;
  std::optional<Side> book;  ///< empty where nothing that is unsure moves a value
  std::vector<Thrown> thrown;
  std::vector<std::string> keys;
  Spreads reading;
  std::vector<double> nominals;  ///< of the values beside it
  std::vector<bool> moved;
  std::vector<Spreads> values;

 private:
  SpreadLaw law_of(const Unknown& unknown) const {
    for (const std::string& key : {unknown.number, unknown.key}) {
      const auto found = question.laws.find(key);
      if (found != question.laws.end()) return found->second;
    }
    return question.law;
  }

  // The same number in both fits is one throw.
  void deal(Side& to) {
    for (const Unknown& unknown : to.unknowns()) {
      const auto same = [&](const Thrown& one) { return one.number == unknown.number; };
      const auto found = std::find_if(thrown.begin(), thrown.end(), same);
      to.throws.push_back(static_cast<std::size_t>(found - thrown.begin()));
      if (found != thrown.end()) continue;
      thrown.push_back({unknown.number, law_of(unknown), 0.0});
      keys.push_back(unknown.key);
    }
  }

  void weigh(std::vector<double>& effects) const {
    for (std::size_t k = 0; k < effects.size(); ++k) {
      effects[k] *= spreading::deviation_of(thrown[k].law);
    }
  }

  void find_reading() {
    const Drive& drive = side.drive();
    double nominal =
        drive.belt.length_mm(*drive.belt.teeth) - path_length(placed_wheels(drive, 0.0)).length_mm;
    reading.effects = side.length_effects;
    if (tensioned()) {
      nominal = side.reading;
      for (double& effect : reading.effects) effect /= side.rate;
    }
    weigh(reading.effects);
    reading.linear = root_of_squares(reading.effects);
    reading.axis.nominal = nominal;
    double greatest = 0.0;
    std::vector<double> off(thrown.size());
    for (double& one : off) {
      double change = 0.0;
      for (const double sigmas : {-kSigmas95, kSigmas95}) {
        one = sigmas;
        Sample sample(side);
        sample.put(off);
        const std::optional<double> read = read_of(sample, sample.setting());
        if (read) change = std::max(change, std::abs(*read - nominal));
      }
      one = 0.0;
      greatest += change * change;
    }
    reading.axis = axis_about(nominal, reading.linear, greatest);
  }

  // As far as a number at its limit takes it, where the gradient says too little.
  static Axis axis_about(double nominal, double linear, double greatest) {
    return {nominal, kSigmasShown * std::max(linear, std::sqrt(greatest) / 2.0)};
  }

  // What is read with the numbers so many sigmas off; empty where either does not go together.
  std::vector<double> values_at(const std::vector<double>& off) const {
    std::vector<double> read(beside->names.size());
    ThrownDrive by_book;
    ThrownDrive as_fitted;
    for (const auto& [of, into] : {std::pair(&*book, &by_book), std::pair(&side, &as_fitted)}) {
      Sample sample(*of);
      sample.put(off);
      const std::optional<double> q = sample.setting();
      if (!q || !sample.look(*q, *into)) return {};
    }
    beside->read(by_book, as_fitted, read);
    return read;
  }

  void find_values() {
    const std::size_t count = beside->names.size();
    nominals = values_at(std::vector<double>(thrown.size()));
    moved.resize(count);
    values.resize(count);
    if (nominals.empty()) {
      book.reset();
      beside.reset();
      return;
    }
    std::vector<double> greatest(count);
    for (std::size_t k = 0; k < thrown.size(); ++k) add_effects(k, greatest);
    for (std::size_t v = 0; v < count; ++v) {
      moved[v] = std::sqrt(greatest[v]) >= beside->nothing;
      weigh(values[v].effects);
      values[v].linear = root_of_squares(values[v].effects);
      values[v].axis = axis_about(nominals[v], values[v].linear, greatest[v]);
    }
    if (std::none_of(moved.begin(), moved.end(), [](bool moves) { return moves; })) book.reset();
  }

  // By a tenth of a sigma for the gradient, and to its limits for whether it does anything.
  void add_effects(std::size_t k, std::vector<double>& greatest) {
    constexpr double kStep = 0.1;
    std::vector<double> off(thrown.size());
    const auto at_sigmas = [&](double sigmas) {
      off[k] = sigmas;
      std::vector<double> read = values_at(off);
      return read.empty() ? nominals : read;
    };
    const std::vector<double> less = at_sigmas(-kStep);
    const std::vector<double> more = at_sigmas(kStep);
    const std::vector<double> least = at_sigmas(-kSigmas95);
    const std::vector<double> most = at_sigmas(kSigmas95);
    for (std::size_t v = 0; v < nominals.size(); ++v) {
      values[v].effects.push_back((more[v] - less[v]) / (2.0 * kStep));
      const double change =
          std::max(std::abs(least[v] - nominals[v]), std::abs(most[v] - nominals[v]));
      greatest[v] += change * change;
    }
  }
};

struct Spread::Tally {
  long long samples = 0;
  long long evaluations = 0;
  Heap reading;
  std::vector<Heap> values;
  std::map<int, long long> counts;
};

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

std::vector<std::string> Spread::numbers(const Fitted& fitted) {
  std::vector<std::string> numbers;
  for (const Unknown& unknown : fitted.uncertainty().unknowns()) {
    numbers.push_back(unknown.key);
    if (unknown.number != unknown.key) numbers.push_back(unknown.number);
  }
  return numbers;
}

Spread::Spread(const Fitted& fitted, const SpreadQuestion& question,
               std::optional<SpreadBeside> beside)
    : setup_(std::make_unique<Setup>(fitted, question, std::move(beside))) {}

Spread::~Spread() = default;
Spread::Spread(Spread&&) noexcept = default;
Spread& Spread::operator=(Spread&&) noexcept = default;

// The samples of one lane, one after the other.
class Spread::Lane {
 public:
  Lane(const Setup& setup, long long first, Tally& tally)
      : setup_(setup),
        tally_(tally),
        engine_(setup.thrown.size()),
        off_(setup.thrown.size()),
        sample_(setup.side) {
    if (setup.book) {
      book_.emplace(*setup.book);
      values_.resize(setup.values.size());
      tally.values.resize(setup.values.size());
    }
    engine_.discard(static_cast<boost::uintmax_t>(first) * setup.thrown.size());
  }

  void next() {
    throw_off();
    sample_.put(off_);
    const std::optional<double> q = sample_.setting();
    if (q) {
      const std::optional<double> read = setup_.read_of(sample_, q);
      if (read) tally_.reading.take(setup_.reading.axis, *read);
      if (book_) look_beside(*q);
    }
    if (setup_.tensioned()) count_teeth();
  }

  long long evaluations() const { return sample_.evaluations + (book_ ? book_->evaluations : 0); }

 private:
  void throw_off() {
    const double scale = 1.0 / (static_cast<double>(boost::random::sobol::max()) + 1.0);
    for (std::size_t k = 0; k < off_.size(); ++k) {
      double share = static_cast<double>(engine_()) * scale + setup_.thrown[k].shift;
      share -= std::floor(share);
      off_[k] = spreading::off_by(share, setup_.thrown[k].law);
    }
  }

  void look_beside(double q) {
    book_->put(off_);
    const std::optional<double> book_q = book_->setting();
    if (!book_q || !book_->look(*book_q, by_book_) || !sample_.look(q, as_fitted_)) return;
    setup_.beside->read(by_book_, as_fitted_, values_);
    for (std::size_t v = 0; v < values_.size(); ++v) {
      if (setup_.moved[v]) tally_.values[v].take(setup_.values[v].axis, values_[v]);
    }
  }

  // Every count between the lengths at the two ends of the travel.
  void count_teeth() {
    const double least = sample_.length(setup_.side.slack_q);
    const double most = sample_.length(setup_.side.most_q);
    if (!std::isfinite(least + most)) return;
    const int fewest = static_cast<int>(std::ceil(least / sample_.tooth_mm()));
    const int greatest = static_cast<int>(std::floor(most / sample_.tooth_mm()));
    for (int count = fewest; count <= greatest; ++count) ++tally_.counts[count];
  }

  const Setup& setup_;
  Tally& tally_;
  boost::random::sobol engine_;
  std::vector<double> off_;
  Sample sample_;
  std::optional<Sample> book_;
  ThrownDrive by_book_;
  ThrownDrive as_fitted_;
  std::vector<double> values_;
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

std::vector<SpreadError> Spread::errors(const Tally& all) const {
  std::vector<SpreadError> errors;
  if (!setup_->beside) return errors;
  for (std::size_t v = 0; v < setup_->nominals.size(); ++v) {
    const double nominal = setup_->nominals[v];
    SpreadError error{setup_->beside->names[v], nominal, setup_->moved[v], {}, {}};
    if (error.spreads) {
      const Spreads& value = setup_->values[v];
      error.error = spreading::spreading_of(all.values[v], value.axis, value.linear);
      error.shares = shares_of(setup_->keys, value.effects);
      constexpr double kNothing = 1e-9;  // rounding, where the way is not touched at all
      std::erase_if(error.shares, [](const SpreadShare& one) { return one.share < kNothing; });
    } else {
      error.error = {nominal, 0.0, nominal, nominal, nominal, 0.0};
    }
    errors.push_back(std::move(error));
  }
  return errors;
}

SpreadAnswer Spread::answer(const std::vector<std::shared_ptr<const Tally>>& lanes) const {
  const Setup& setup = *setup_;
  Tally all;
  all.values.resize(setup.values.size());
  for (const auto& lane : lanes) {
    if (!lane) continue;
    all.samples += lane->samples;
    all.evaluations += lane->evaluations;
    all.reading.add(lane->reading);
    for (std::size_t v = 0; v < lane->values.size(); ++v) all.values[v].add(lane->values[v]);
    for (const auto& [count, times] : lane->counts) all.counts[count] += times;
  }
  SpreadAnswer answer;
  answer.question = setup.question;
  answer.fit = setup.side.fitted.fit();
  answer.direction = setup.side.drive().direction;
  if (setup.tensioned()) answer.kind = setup.side.drive().tensioner->path.kind();
  answer.belt_teeth = setup.side.drive().belt.teeth;
  answer.samples = all.samples;
  answer.not_assembled = all.samples - all.reading.count;
  answer.nominal = setup.reading.axis.nominal;
  answer.reading = spreading::spreading_of(all.reading, setup.reading.axis, setup.reading.linear);
  answer.bins = spreading::bars_of(all.reading, setup.reading.axis);
  answer.counts = all.counts;
  answer.shares = shares_of(setup.keys, setup.reading.effects);
  if (all.samples > 0) {
    answer.path_evaluations =
        static_cast<double>(all.evaluations) / static_cast<double>(all.samples);
  }
  answer.errors = errors(all);
  for (const Heap& heap : all.values) {
    answer.error_samples = std::max(answer.error_samples, heap.count);
  }
  return answer;
}

SpreadAnswer Spread::answer() const {
  std::vector<std::shared_ptr<const Tally>> lanes;
  for (int k = 0; k < kLanes; ++k) lanes.push_back(lane(k));
  return answer(lanes);
}

}  // namespace twoturn
