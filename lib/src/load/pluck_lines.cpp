#include "pluck_lines.hpp"

#include <Eigen/Core>
#include <unsupported/Eigen/FFT>

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <limits>
#include <utility>

#include "twoturn/base/angle.hpp"

namespace twoturn::plucked {
namespace {

constexpr double kListenAtHz = 8000.0;  // at this rate or up to twice it
constexpr double kTopShare = 0.36;      // of that rate: what is looked at
constexpr double kRumbleS = 0.05;       // a mean over this is taken off: what is far below 20 Hz
constexpr double kHopS = 0.005;         // loudness is told in these steps
constexpr std::size_t kRiseHops = 10;
constexpr std::size_t kMostRises = 4;
constexpr double kSkipS = 0.005;   // behind a rise: a click
constexpr double kWindowS = 0.5;   // longer tells lines apart no better than they ring
constexpr double kAttackS = 0.07;  // of the window: shorter, and loud lines cover their neighbours
constexpr double kLongestRingS = 3.0;  // what falls to 1/e more slowly is no run of belt
constexpr double kLowestHz = 10.0;
constexpr double kDeepest = 1e-4;  // against the loudest: 40 dB below it all is clutter
constexpr std::size_t kMostLines = 40;
constexpr double kSurelyStands = -20.0;  // log of the chance that noise is as loud as what stands

// A sinc under a Hann window, its sum 1. What it lets through above half the new rate folds back
// above what is looked at.
std::vector<double> low_pass(std::size_t every) {
  const int half = 8 * static_cast<int>(every);
  std::vector<double> taps;
  double sum = 0.0;
  for (int k = -half; k <= half; ++k) {
    const double turn = kPi * k / static_cast<double>(every);
    const double fade = 0.5 + 0.5 * std::cos(kPi * k / (half + 1.0));
    taps.push_back(fade * (k == 0 ? 1.0 : std::sin(turn) / turn));
    sum += taps.back();
  }
  for (double& tap : taps) tap /= sum;
  return taps;
}

std::vector<double> thinned(const std::vector<double>& x, std::size_t every) {
  if (every == 1) return x;
  const std::vector<double> taps = low_pass(every);
  const std::size_t half = taps.size() / 2;
  std::vector<double> thin;
  thin.reserve(x.size() / every + 1);
  for (std::size_t i = 0; i < x.size(); i += every) {
    const std::size_t first = i < half ? 0 : i - half;
    const std::size_t last = std::min(x.size(), i + half + 1);
    double sum = 0.0;
    for (std::size_t j = first; j < last; ++j) sum += x[j] * taps[j + half - i];
    thin.push_back(sum);
  }
  return thin;
}

std::vector<double> running_mean(const std::vector<double>& x, std::size_t half) {
  std::vector<double> sums{0.0};
  for (const double value : x) sums.push_back(sums.back() + value);
  std::vector<double> means(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    const std::size_t first = i < half ? 0 : i - half;
    const std::size_t last = std::min(x.size(), i + half + 1);
    means[i] = (sums[last] - sums[first]) / static_cast<double>(last - first);
  }
  return means;
}

// A mean of means falls off so fast that from 25 Hz on no level changes by half a dB.
std::vector<double> without_rumble(std::vector<double> x, double rate_hz) {
  const std::size_t half = static_cast<std::size_t>(0.5 * kRumbleS * rate_hz);
  const std::vector<double> rumble = running_mean(running_mean(x, half), half);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] -= rumble[i];
  return x;
}

double mean_of(const std::vector<double>& values, std::size_t first, std::size_t last) {
  last = std::min(last, values.size());
  if (first >= last) return 0.0;
  double sum = 0.0;
  for (std::size_t i = first; i < last; ++i) sum += values[i];
  return sum / static_cast<double>(last - first);
}

}  // namespace

double squared(double value) { return value * value; }

Listened listen(const std::vector<double>& x, double rate_hz) {
  Listened heard;
  const std::size_t every =
      std::max(std::size_t{1}, static_cast<std::size_t>(rate_hz / kListenAtHz));
  heard.rate_hz = rate_hz / static_cast<double>(every);
  heard.top_hz = kTopShare * heard.rate_hz;
  heard.x = without_rumble(thinned(x, every), heard.rate_hz);
  heard.hop = static_cast<std::size_t>(kHopS * heard.rate_hz);
  for (std::size_t i = 0; i + heard.hop <= heard.x.size(); i += heard.hop) {
    double sum = 0.0;
    for (std::size_t j = i; j < i + heard.hop; ++j) sum += squared(heard.x[j]);
    heard.hops.push_back(sum / static_cast<double>(heard.hop));
  }
  return heard;
}

std::vector<double> loudness(const Listened& heard) {
  std::vector<double> loud;
  for (std::size_t k = 0; k < heard.hops.size(); ++k) {
    loud.push_back(mean_of(heard.hops, k, k + kRiseHops));
  }
  return loud;
}

std::vector<std::size_t> rises_of(const Listened& heard) {
  const std::vector<double> after = loudness(heard);
  std::vector<std::pair<double, std::size_t>> rises;
  for (std::size_t i = 0; i < after.size(); ++i) {
    const double before = mean_of(heard.hops, i < kRiseHops ? 0 : i - kRiseHops, i);
    rises.emplace_back(std::sqrt(after[i]) - std::sqrt(before), i * heard.hop);
  }
  std::sort(rises.begin(), rises.end(), std::greater<>());
  std::vector<std::size_t> steepest;
  for (const auto& [rise, sample] : rises) {
    if (rise <= 0.0 || steepest.size() == kMostRises) break;
    if (static_cast<double>(heard.x.size() - sample) < kLeastS * heard.rate_hz) continue;
    const std::size_t reach = heard.hop * kRiseHops;
    const bool apart =
        std::none_of(steepest.begin(), steepest.end(), [reach, here = sample](std::size_t other) {
          return (here > other ? here - other : other - here) <= reach;
        });
    if (apart) steepest.push_back(sample);
  }
  return steepest;
}

namespace {

enum class Fade { falling, both_ways };

// A short rise and a long fall as the ring has them, or a Hann window.
std::vector<double> window_of(std::size_t length, Fade fade, double rate_hz) {
  std::vector<double> window(length);
  const double whole = static_cast<double>(length);
  const double attack = fade == Fade::falling ? std::min(kAttackS * rate_hz, whole / 4) : whole / 2;
  for (std::size_t i = 0; i < length; ++i) {
    const double from = static_cast<double>(i) + 0.5;
    const double angle = from < attack ? kPi * (1.0 - from / attack)
                                       : kPi * (from - attack) / std::max(1.0, whole - attack);
    window[i] = 0.5 + 0.5 * std::cos(angle);
  }
  return window;
}

// How long an energy lasts: one over the width of the places that it makes depend on one another.
double duration(const std::vector<double>& energy) {
  double sum = 0.0, squares = 0.0;
  for (const double value : energy) {
    sum += value;
    squares += squared(value);
  }
  return squares > 0.0 ? sum * sum / squares : 0.0;
}

// How far to each side the noise is asked, Hz: wider than a line and its neighbours' gaps.
double beside_hz(double hz) { return 50.0 + 0.25 * hz; }

double places_beside(double hz, double top_hz, double per_hz) {
  return (std::min(top_hz, hz + beside_hz(hz)) - std::max(0.0, hz - beside_hz(hz))) * per_hz;
}

void add_floor(double top_hz, Behind& behind) {
  const std::size_t stride = std::max(
      std::size_t{1}, static_cast<std::size_t>(0.5 / behind.places_per_hz / behind.bin_hz));
  std::vector<std::pair<double, double>> knots;
  for (double hz = 0.0; knots.empty() || knots.back().first < top_hz; hz += 10.0 + 0.05 * hz) {
    const std::size_t first = behind.bin(std::max(0.5 * kLowestHz, hz - beside_hz(hz)));
    const std::size_t last = behind.bin(std::min(top_hz, hz + beside_hz(hz)));
    Power beside;
    for (std::size_t k = first; k <= last; k += stride) beside.push_back(behind.power[k]);
    const auto middle = beside.begin() + static_cast<std::ptrdiff_t>(beside.size() / 2);
    std::nth_element(beside.begin(), middle, beside.end());
    knots.emplace_back(hz, *middle);
  }
  std::size_t knot = 1;
  behind.floor.resize(behind.power.size());
  for (std::size_t k = 0; k < behind.floor.size(); ++k) {
    const double hz = static_cast<double>(k) * behind.bin_hz;
    while (knot + 1 < knots.size() && knots[knot].first < hz) ++knot;
    const auto& [from, low] = knots[knot - 1];
    const auto& [to, high] = knots[knot];
    behind.floor[k] = low + (high - low) * (hz - from) / (to - from);
  }
}

// Of the chance that noise in one place is so many times the median of others (Rohling 1983).
double log_chance(double ratio, double places) {
  const int count = std::clamp(static_cast<int>(places), 2, 60);
  double log_p = 0.0;
  for (int i = 0; i < count / 2; ++i) log_p -= std::log1p(ratio / (count - i));
  return log_p;
}

// Where the parabola through three logarithms has its top, in bins from the middle one.
double top_of(const Power& power, std::size_t k) {
  const double tiny = std::numeric_limits<double>::min();
  const double a = std::log(power[k - 1] + tiny), b = std::log(power[k] + tiny),
               c = std::log(power[k + 1] + tiny);
  const double bend = a - 2.0 * b + c;
  return bend < 0.0 ? std::clamp(0.5 * (a - c) / bend, -0.5, 0.5) : 0.0;
}

void add_lines(double top_hz, Behind& behind) {
  const Power& power = behind.power;
  std::vector<std::pair<double, std::size_t>> tops;
  for (std::size_t k = behind.bin(kLowestHz); k + 1 < power.size(); ++k) {
    const bool is_top = power[k] > power[k - 1] && power[k] >= power[k + 1];
    if (is_top && power[k] > 4.0 * behind.floor[k]) tops.emplace_back(power[k], k);
  }
  std::sort(tops.begin(), tops.end(), std::greater<>());
  behind.loudest = tops.empty() ? 0.0 : tops.front().first;
  for (const auto& [height, k] : tops) {
    Line line;
    line.hz = (static_cast<double>(k) + top_of(power, k)) * behind.bin_hz;
    line.power = height;
    const double median = std::max(behind.floor[k], kDeepest * behind.loudest);
    line.noise = median / std::log(2.0);
    line.log_p = log_chance(height / median, places_beside(line.hz, top_hz, behind.noisy_per_hz));
    line.sigma_hz = 0.5 / behind.places_per_hz * std::sqrt(line.noise / height);
    if (line.log_p > std::log(1e-3)) continue;
    const bool apart = std::none_of(behind.lines.begin(), behind.lines.end(), [&](const Line& one) {
      return std::abs(one.hz - line.hz) * behind.places_per_hz < 1.0;
    });
    if (apart) behind.lines.push_back(line);
    if (behind.lines.size() == kMostLines) break;
  }
}

}  // namespace

class Looker::Spectra {
 public:
  explicit Spectra(const Listened& heard) : heard_(heard) {
    while (static_cast<double>(size_) < 2.0 * kWindowS * heard.rate_hz) size_ *= 2;
    fft_.SetFlag(Eigen::FFT<double>::HalfSpectrum);
  }

  double bin_hz() const { return heard_.rate_hz / static_cast<double>(size_); }

  Power power(std::size_t first, const std::vector<double>& window) {
    std::vector<double> part(size_, 0.0);
    double sum = 0.0;
    for (std::size_t i = 0; i < window.size(); ++i) {
      part[i] = heard_.x[first + i] * window[i];
      sum += window[i];
    }
    std::vector<std::complex<double>> waves;
    fft_.fwd(waves, part);
    Power power(static_cast<std::size_t>(heard_.top_hz / bin_hz()) + 2);
    for (std::size_t k = 0; k < power.size(); ++k) power[k] = std::norm(waves[k]) / squared(sum);
    return power;
  }

  void tell_standing(Behind& behind);

 private:
  Power before(Behind& behind);

  const Listened& heard_;
  Eigen::FFT<double> fft_;
  std::size_t size_ = 1;
};

// What was there before the rise; nothing where too little was recorded of it.
Power Looker::Spectra::before(Behind& behind) {
  const std::size_t guard = 2 * heard_.hop;
  const std::size_t lead = behind.rise < guard ? 0 : behind.rise - guard;
  behind.led_in = static_cast<double>(lead) >= kLeastS * heard_.rate_hz;
  if (!behind.led_in) return Power(behind.power.size(), 0.0);
  const std::size_t length = std::min(lead, static_cast<std::size_t>(kWindowS * heard_.rate_hz));
  return power(lead - length, window_of(length, Fade::both_ways, heard_.rate_hz));
}

void Looker::Spectra::tell_standing(Behind& behind) {
  const Power was = before(behind);
  const double left = static_cast<double>(heard_.x.size() - behind.first);
  const double length = std::min(0.5 * kWindowS * heard_.rate_hz, 0.5 * left);
  const double later = std::min(1.5 * kWindowS * heard_.rate_hz, left - length);
  const std::vector<double> hann =
      window_of(static_cast<std::size_t>(length), Fade::both_ways, heard_.rate_hz);
  const Power early = power(behind.first, hann);
  const Power late = power(behind.first + static_cast<std::size_t>(later), hann);
  const double falls_to = std::exp(-2.0 * later / heard_.rate_hz / kLongestRingS);
  for (Line& line : behind.lines) {
    const std::size_t k = behind.bin(line.hz);
    const double there = std::max({was[k - 1], was[k], was[k + 1]});
    line.early = early[k];
    line.late = late[k] / falls_to;
    line.stands = line.power < 4.0 * there || line.late > line.early;
    if (line.stands && !behind.standing && line.log_p < kSurelyStands) behind.standing = line;
    line.noise = std::max(line.noise, there);
    const double places = places_beside(line.hz, heard_.top_hz, behind.noisy_per_hz);
    line.log_p = log_chance(line.power / line.noise / std::log(2.0), places);
  }
}

Looker::Looker(const Listened& heard) : heard_(heard), spectra_(std::make_unique<Spectra>(heard)) {}
Looker::~Looker() = default;

Behind Looker::look(std::size_t rise) {
  Behind behind;
  behind.rise = rise;
  behind.first = rise + static_cast<std::size_t>(kSkipS * heard_.rate_hz);
  behind.bin_hz = spectra_->bin_hz();
  const double length =
      std::min(kWindowS * heard_.rate_hz, static_cast<double>(heard_.x.size() - behind.first));
  behind.window = window_of(static_cast<std::size_t>(length), Fade::falling, heard_.rate_hz);
  behind.power = spectra_->power(behind.first, behind.window);
  std::vector<double> plain, weighed;
  for (std::size_t i = 0; i < behind.window.size(); i += heard_.hop) {
    const std::size_t k = (behind.first + i) / heard_.hop;
    plain.push_back(squared(behind.window[i]));
    weighed.push_back(plain.back() * mean_of(heard_.hops, k < 2 ? 0 : k - 2, k + 3));
  }
  const double hop_s = static_cast<double>(heard_.hop) / heard_.rate_hz;
  behind.places_per_hz = duration(plain) * hop_s;
  behind.noisy_per_hz = duration(weighed) * hop_s;
  add_floor(heard_.top_hz, behind);
  add_lines(heard_.top_hz, behind);
  if (!behind.lines.empty()) spectra_->tell_standing(behind);
  return behind;
}

// With w the window, x the sound and M_k the sum of t^k w x e^(-i omega t): the power |M_0|^2 has
// its top where Im(M_1/M_0) = 0, and falls off beside it as 1 - d^2 V, V = Re(M_2/M_0) -
// |M_1/M_0|^2. Noise N adds to the slope by 2 |M_0| Im sum (t - T) w N, T = Re(M_1/M_0). So the
// place is off by a variance of [sum w^2 (t - T)^2 / sum w^2] / (2 S V^2), S the power over that of
// the noise.
void refine(const Listened& heard, const Behind& behind, Line& line) {
  const double furthest = 0.25 / behind.places_per_hz;
  double wide = 0.0, middle = 0.0, place = 0.0;
  for (int turn = 0; turn < 3; ++turn) {
    const double omega = 2.0 * kPi * (line.hz + place) / heard.rate_hz;
    const std::complex<double> step = std::polar(1.0, -omega);
    std::complex<double> wave = 1.0, none = 0.0, once = 0.0, twice = 0.0;
    for (std::size_t i = 0; i < behind.window.size(); ++i) {
      const double t = static_cast<double>(i) / heard.rate_hz;
      const std::complex<double> part = behind.window[i] * heard.x[behind.first + i] * wave;
      none += part;
      once += t * part;
      twice += t * t * part;
      wave *= step;
    }
    middle = (once / none).real();
    wide = (twice / none).real() - std::norm(once / none);
    const double by = wide > 0.0 ? (once / none).imag() / wide / (2.0 * kPi) : 0.0;
    place = std::clamp(place + by, -furthest, furthest);
  }
  line.hz += place;
  double weight = 0.0, arm = 0.0;
  for (std::size_t i = 0; i < behind.window.size(); ++i) {
    weight += squared(behind.window[i]);
    arm += squared(behind.window[i] * (static_cast<double>(i) / heard.rate_hz - middle));
  }
  if (wide <= 0.0) return;
  line.sigma_hz = std::sqrt(arm / weight * line.noise / line.power / 2.0) / wide / (2.0 * kPi);
}

}  // namespace twoturn::plucked
