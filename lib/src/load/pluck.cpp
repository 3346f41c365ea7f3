#include "twoturn/load/pluck.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "pluck_lines.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace plucked {
namespace {

constexpr int kMostMultiples = 24;
constexpr int kMostSeeds = 8;
constexpr int kMostOfSeed = 12;
constexpr double kAbsent = 0.1;        // what a multiple that is not there leaves of the odds
constexpr double kStray = 1e-4;        // stray lines a place, as loud as the loudest
constexpr double kStiffness = 5e-3;    // B as a run of belt may have it: one sigma
constexpr double kBeyond = 0.05;       // prior of a note outside the range, against one inside
constexpr double kLowestShare = 0.5;   // of the least note asked for: looked at too
constexpr double kHighestShare = 2.5;  // and of the greatest
constexpr double kFalseAlarm = 1e-6;   // a recording

double log_sum(double a, double b) {
  const double most = std::max(a, b);
  return most + std::log1p(std::exp(-std::abs(a - b)));
}

struct Multiple {
  int number = 1;
  const Line* line = nullptr;
};

// (f_n / n)^2 = a + b n^2: a string of some stiffness, b/a its B, told by weighed least squares.
struct StringFit {
  Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
  Eigen::Vector2d right = Eigen::Vector2d::Zero();

  explicit StringFit(double about_hz) {
    normal(1, 1) = 1.0 / squared(kStiffness * squared(about_hz));
  }

  void add(int number, double hz, double sigma_hz) {
    const double square = squared(number);
    const Eigen::Vector2d row(1.0, square);
    const double weight = squared(square / (2.0 * hz * sigma_hz));
    normal += weight * row * row.transpose();
    right += weight * squared(hz) / square * row;
  }
  Eigen::Vector2d solved() const {
    Eigen::Vector2d both = normal.inverse() * right;
    if (both[1] < 0.0) both = Eigen::Vector2d(right[0] / normal(0, 0), 0.0);
    return both;
  }
  std::pair<double, double> multiple(int number) const {  // Hz, and one sigma of it
    const Eigen::Vector2d row(1.0, squared(number));
    const double hz = number * std::sqrt(std::max(0.0, row.dot(solved())));
    const double spread = std::sqrt(row.dot(normal.inverse() * row));
    return {hz, 0.5 * squared(number) * spread / std::max(hz, 1e-9)};
  }
};

struct Candidate {
  double hz = 0.0;
  double log_odds = 0.0;    // against noise
  double log_weight = 0.0;  // against other notes
  std::vector<Multiple> multiples;
};

const Line* loudest_within(const std::vector<Line>& lines, double from_hz, double to_hz) {
  const Line* loudest = nullptr;
  for (const Line& line : lines) {
    if (line.stands || line.hz < from_hz || line.hz > to_hz) continue;
    if (loudest == nullptr || line.power > loudest->power) loudest = &line;
  }
  return loudest;
}

// What a bet against noise pays at so small a chance p: 0.1 p^-0.9. Over an even p that is 1 in the
// mean, so of any product or mean of such pays, noise sees more than x once in x times at most
// (Markov); as far as noise is of even colour over some ten Hz and its places are independent.
double log_bet(double log_p) { return std::log(kAbsent) - (1.0 - kAbsent) * std::min(0.0, log_p); }

// Goes up the multiples of a note that has the seed among them, and learns the note on the way.
// How many multiples it has is not known: the mean over 1 to the most.
Candidate candidate_of(const Behind& behind, const Line& seed, int number, double top_hz) {
  Candidate candidate;
  StringFit fit(seed.hz / number);
  fit.add(number, seed.hz, seed.sigma_hz);
  const double never = -std::numeric_limits<double>::infinity();
  double odds = 0.0, weight = 0.0, best = never;
  candidate.log_odds = candidate.log_weight = never;
  std::size_t kept = 0;
  for (int n = 1; n <= kMostMultiples; ++n) {
    const auto [hz, sigma_hz] = fit.multiple(n);
    if (hz > top_hz) break;
    const double reach_hz = std::min(0.25 * hz / n, 0.75 / behind.places_per_hz + 2.0 * sigma_hz);
    const Line* line =
        n == number ? &seed : loudest_within(behind.lines, hz - reach_hz, hz + reach_hz);
    double log_p = 0.0, stray = 0.0;
    if (line != nullptr) {
      const double tries = std::log(std::max(1.0, 2.0 * reach_hz * behind.places_per_hz));
      log_p = line->log_p + tries;
      stray = std::log(kStray * std::sqrt(behind.loudest / line->power)) + tries;
      candidate.multiples.push_back({n, line});
      if (n != number) fit.add(n, line->hz, line->sigma_hz);
    }
    odds += log_bet(log_p);
    weight += log_bet(line == nullptr ? 0.0 : log_sum(log_p, stray));
    candidate.log_odds = log_sum(candidate.log_odds, odds - std::log(kMostMultiples));
    candidate.log_weight = log_sum(candidate.log_weight, weight - std::log(kMostMultiples));
    if (n < number || odds < best) continue;
    best = odds;
    kept = candidate.multiples.size();
  }
  candidate.multiples.resize(kept);
  candidate.hz = fit.multiple(1).first;
  return candidate;
}

double log_prior(double hz, const PluckQuestion& question) {
  double prior = hz < question.least_hz || hz > question.greatest_hz ? kBeyond : 1.0;
  if (question.expected_hz) {
    constexpr double kNear = 0.2;      // one sigma of its logarithm
    constexpr double kTrusted = 99.0;  // how much likelier near it than anywhere else
    prior *=
        1.0 + kTrusted * std::exp(-0.5 * squared(std::log(hz / *question.expected_hz) / kNear));
  }
  return std::log(prior);
}

// Every note that the loudest lines can be multiples of, the likeliest first.
std::vector<Candidate> candidates_of(const Behind& behind, double top_hz,
                                     const PluckQuestion& question) {
  std::vector<Candidate> all;
  int seeds = 0;
  for (const Line& line : behind.lines) {
    if (line.stands || seeds++ == kMostSeeds) continue;
    for (int n = 1; n <= kMostOfSeed && line.hz / n > kLowestShare * question.least_hz; ++n) {
      if (line.hz / n > kHighestShare * question.greatest_hz) continue;
      Candidate candidate = candidate_of(behind, line, n, top_hz);
      if (candidate.multiples.empty()) continue;
      candidate.log_weight += log_prior(candidate.hz, question);
      all.push_back(std::move(candidate));
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Candidate& a, const Candidate& b) { return a.log_weight > b.log_weight; });
  constexpr double kSame = 0.02;
  std::vector<Candidate> distinct;
  for (Candidate& candidate : all) {
    const bool known = std::any_of(distinct.begin(), distinct.end(), [&](const Candidate& one) {
      return std::abs(one.hz - candidate.hz) < kSame * one.hz;
    });
    if (!known) distinct.push_back(std::move(candidate));
  }
  return distinct;
}

// The lines of a note and the string that fits them.
struct Settled {
  std::vector<int> numbers;
  std::vector<Line> lines;
  StringFit fit{1.0};
  double misfit = 0.0;  // chi-squared
  double worst = 0.0;   // the farthest line, in its sigmas
  std::size_t worst_at = 0;
};

void fit_lines(Settled& settled) {
  settled.fit = StringFit(settled.lines[0].hz / settled.numbers[0]);
  for (std::size_t i = 0; i < settled.lines.size(); ++i) {
    settled.fit.add(settled.numbers[i], settled.lines[i].hz, settled.lines[i].sigma_hz);
  }
  settled.misfit = settled.worst = 0.0;
  for (std::size_t i = 0; i < settled.lines.size(); ++i) {
    const Line& line = settled.lines[i];
    const double off =
        std::abs(settled.fit.multiple(settled.numbers[i]).first - line.hz) / line.sigma_hz;
    settled.misfit += squared(off);
    if (off <= settled.worst) continue;
    settled.worst = off;
    settled.worst_at = i;
  }
}

// The note by all its lines; what does not fit by far is none of them.
Settled settle(const Listened& heard, const Behind& behind,
               const std::vector<Multiple>& multiples) {
  constexpr double kFar = 4.0;  // sigmas
  Settled settled;
  for (const Multiple& multiple : multiples) {
    settled.numbers.push_back(multiple.number);
    settled.lines.push_back(*multiple.line);
    refine(heard, behind, settled.lines.back());
  }
  fit_lines(settled);
  while (settled.worst > kFar && settled.lines.size() > 2) {
    const std::ptrdiff_t out = static_cast<std::ptrdiff_t>(settled.worst_at);
    settled.lines.erase(settled.lines.begin() + out);
    settled.numbers.erase(settled.numbers.begin() + out);
    fit_lines(settled);
  }
  return settled;
}

void tell_note(const Settled& settled, NoteFound& found) {
  constexpr double k95 = 1.96;
  const double spare = static_cast<double>(settled.lines.size()) - 2.0;
  const double wider = spare > 0.0 ? std::max(1.0, settled.misfit / spare) : 1.0;
  const auto [hz, sigma_hz] = settled.fit.multiple(1);
  found.note_hz = hz;
  found.give_or_take_hz = k95 * sigma_hz * std::sqrt(wider);
  const Eigen::Vector2d string = settled.fit.solved();
  found.stiffness = string[1] / string[0];
  double most = 0.0;
  for (const Line& line : settled.lines) most = std::max(most, line.power);
  for (std::size_t i = 0; i < settled.lines.size(); ++i) {
    const Line& line = settled.lines[i];
    found.harmonics.push_back({settled.numbers[i], line.hz, 10.0 * std::log10(line.power / most)});
    if (line.power == most) found.strongest_harmonic = settled.numbers[i];
  }
}

// Whether the note as a whole dies away. Where nothing was recorded before it, only that tells it
// from a hum, and it must do so beyond what noise may feign.
bool dies_away(const Candidate& note, const Behind& behind) {
  double early = 0.0, late = 0.0, power = 0.0, noise = 0.0;
  for (const Multiple& multiple : note.multiples) {
    early += multiple.line->early;
    late += multiple.line->late;
    power += multiple.line->power;
    noise += multiple.line->noise;
  }
  // The variance of each of the two is 2/S of its square, where S is half of the window's: three
  // sigmas of their ratio.
  const double unsure = behind.led_in ? 0.0 : std::min(0.8, 3.0 * std::sqrt(8.0 * noise / power));
  return late < early * (1.0 - unsure);
}

// Until it is twice as loud as the quietest tenth of the recording.
double heard_s(const Listened& heard, const Behind& behind) {
  const std::vector<double> loud = loudness(heard);
  std::vector<double> sorted = loud;
  std::sort(sorted.begin(), sorted.end());
  const double quiet = sorted[sorted.size() / 10];
  const std::size_t first = behind.rise / heard.hop;
  std::size_t k = first;
  while (k < loud.size() && loud[k] > 2.0 * quiet) ++k;
  return static_cast<double>((k - first) * heard.hop) / heard.rate_hz;
}

double signal_to_noise_db(const Behind& behind, const std::vector<Harmonic>& harmonics) {
  double noise = 0.0, signal = 0.0;
  for (const double floor : behind.floor) noise += floor / std::log(2.0);
  const double reach = 2.0 / behind.places_per_hz;
  for (const Harmonic& harmonic : harmonics) {
    const std::size_t first = behind.bin(std::max(0.0, harmonic.hz - reach));
    const std::size_t last = std::min(behind.power.size(), behind.bin(harmonic.hz + reach) + 1);
    for (std::size_t k = first; k < last; ++k) {
      signal += std::max(0.0, behind.power[k] - behind.floor[k] / std::log(2.0));
    }
  }
  constexpr double kLeastNoise = 1e-12;
  return 10.0 * std::log10(signal / std::max(noise, kLeastNoise * signal));
}

// The rise with the note that noise is least likely to have.
struct Search {
  std::size_t rises = 0;
  Behind behind;
  std::vector<Candidate> notes;    // the likeliest first; empty: no line
  std::optional<Line> standing{};  // the loudest behind any rise
};

Search searched(const Listened& heard, const PluckQuestion& question) {
  Search search;
  Looker looker(heard);
  for (const std::size_t rise : rises_of(heard)) {
    ++search.rises;
    Behind behind = looker.look(rise);
    std::vector<Candidate> notes = candidates_of(behind, heard.top_hz, question);
    if (behind.standing && (!search.standing || behind.standing->power > search.standing->power)) {
      search.standing = behind.standing;
    }
    if (notes.empty()) continue;
    if (!search.notes.empty() && search.notes[0].log_odds >= notes[0].log_odds) continue;
    search.behind = std::move(behind);
    search.notes = std::move(notes);
  }
  return search;
}

// Whether noise alone would come to such odds in fewer than one of a million recordings, with as
// many notes and rises to try.
bool beyond_noise(const Search& search, const PluckQuestion& question) {
  if (search.notes.empty()) return false;
  const double tries = kHighestShare * question.greatest_hz * search.behind.places_per_hz *
                       kMostOfSeed * static_cast<double>(search.rises);
  return search.notes[0].log_odds > std::log(tries / kFalseAlarm);
}

NoteAnswer answered(const Listened& heard, const Search& search, const PluckQuestion& question,
                    NoNote none) {
  const std::vector<Candidate>& notes = search.notes;
  if (search.standing) none.hz = search.standing->hz;
  none.reason = none.hz ? NoNote::Reason::standing : NoNote::Reason::noise;
  if (!beyond_noise(search, question)) return none;
  NoteFound found;
  tell_note(settle(heard, search.behind, notes[0].multiples), found);
  none.hz = found.note_hz;
  none.reason = NoNote::Reason::standing;
  if (!dies_away(notes[0], search.behind)) return none;
  none.reason = NoNote::Reason::beyond_range;
  if (found.note_hz < question.least_hz || found.note_hz > question.greatest_hz) return none;

  double all = 0.0;
  for (const Candidate& note : notes) all += std::exp(note.log_weight - notes[0].log_weight);
  found.sureness = 1.0 / all;
  if (notes.size() > 1) {
    found.other_hz = notes[1].hz;
    found.other_sureness = std::exp(notes[1].log_weight - notes[0].log_weight) / all;
  }
  found.plucked_at_s = static_cast<double>(search.behind.rise) / heard.rate_hz;
  found.heard_s = heard_s(heard, search.behind);
  found.signal_to_noise_db = signal_to_noise_db(search.behind, found.harmonics);
  return found;
}

}  // namespace
}  // namespace plucked

NoteAnswer find_note(std::span<const float> samples, double rate_hz,
                     const PluckQuestion& question) {
  TWOTURN_ASSERT(rate_hz >= 4000.0, rate_hz);
  TWOTURN_ASSERT(question.least_hz > 0.0, question.least_hz);
  TWOTURN_ASSERT(question.greatest_hz > question.least_hz, question.greatest_hz);
  NoNote none;
  none.length_s = static_cast<double>(samples.size()) / rate_hz;
  none.least_s = plucked::kLeastS;
  none.reason = NoNote::Reason::too_short;
  if (none.length_s < none.least_s) return none;
  std::vector<double> x(samples.begin(), samples.end());
  double sum = 0.0;
  for (const double value : x) sum += value;
  for (double& value : x) {
    value -= sum / static_cast<double>(x.size());
    none.loudest = std::max(none.loudest, std::abs(value));
  }
  none.reason = NoNote::Reason::silent;
  if (none.loudest < kSilence) return none;
  const plucked::Listened heard = plucked::listen(x, rate_hz);
  return plucked::answered(heard, plucked::searched(heard, question), question, none);
}

}  // namespace twoturn
