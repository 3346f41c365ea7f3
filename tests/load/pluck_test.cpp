#include "twoturn/load/pluck.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "support/catch.hpp"

using namespace twoturn;

// All evidence here is by construction: sounds are made of a note that is known, or of none.
namespace {

using Random = std::mt19937;
using Samples = std::vector<double>;
constexpr double kTurn = 2.0 * 3.14159265358979323846;

// From 0 to under 1, the same with every standard library.
double unit(Random& random) { return std::ldexp(static_cast<double>(random()), -32); }
double uniform(Random& random, double from, double to) { return from + (to - from) * unit(random); }

// Mean 0, variance 1; four even draws are near enough to a bell.
double bell(Random& random) {
  double sum = -2.0;
  for (int k = 0; k < 4; ++k) sum += unit(random);
  return sum * std::sqrt(3.0);
}

double of_db(double db) { return std::pow(10.0, db / 20.0); }

struct Part {
  int number;
  double level_db;
};

struct Pluck {
  double note_hz = 110.0;
  double decay_s = 0.3;  // to 1/e
  double at_s = 0.2;
  double length_s = 1.0;
  double rate_hz = 8000.0;
  double stiffness = 0.0;
  std::vector<Part> parts{{1, 0.0}, {2, -3.0}, {3, -6.0}};

  std::size_t first() const { return static_cast<std::size_t>(at_s * rate_hz); }
};

// Each part a fading sine: two samples make the next one.
Samples sound_of(const Pluck& pluck, Random& random) {
  Samples x(static_cast<std::size_t>(pluck.length_s * pluck.rate_hz), 0.0);
  for (const Part& part : pluck.parts) {
    const double square = part.number * part.number;
    const double hz = pluck.note_hz * part.number *
                      std::sqrt((1.0 + pluck.stiffness * square) / (1.0 + pluck.stiffness));
    if (hz > 0.45 * pluck.rate_hz) continue;
    const double turn = kTurn * hz / pluck.rate_hz;
    const double fade = std::exp(-1.0 / (pluck.decay_s * pluck.rate_hz));
    const double phase = uniform(random, 0.0, kTurn);
    double now = of_db(part.level_db) * std::sin(phase);
    double last = of_db(part.level_db) * std::sin(phase - turn) / fade;
    for (std::size_t i = pluck.first(); i < x.size(); ++i) {
      x[i] += now;
      last = std::exchange(now, 2.0 * fade * std::cos(turn) * now - fade * fade * last);
    }
  }
  return x;
}

// Over the first 0.3 s of the pluck.
double power_of(const Samples& x, const Pluck& pluck) {
  const std::size_t last =
      std::min(x.size(), pluck.first() + static_cast<std::size_t>(0.3 * pluck.rate_hz));
  double sum = 0.0;
  for (std::size_t i = pluck.first(); i < last; ++i) sum += x[i] * x[i];
  return sum / static_cast<double>(last - pluck.first());
}

void add_noise(Samples& x, double power, Random& random) {
  for (double& value : x) value += std::sqrt(power) * bell(random);
}

void add_hum(Samples& x, double power, double hz, double rate_hz, Random& random) {
  const double phase = uniform(random, 0.0, kTurn);
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double t = static_cast<double>(i) / rate_hz;
    x[i] += std::sqrt(2.0 * power) * std::sin(kTurn * hz * t + phase);
  }
}

NoteAnswer heard(const Samples& x, double rate_hz, const PluckQuestion& question = {}) {
  double most = 1e-9;
  for (const double value : x) most = std::max(most, std::abs(value));
  std::vector<float> samples;
  samples.reserve(x.size());
  for (const double value : x) samples.push_back(static_cast<float>(0.5 * value / most));
  return find_note(samples, rate_hz, question);
}

// With noise 40 dB below.
NoteAnswer heard_cleanly(const Pluck& pluck, const PluckQuestion& question = {}) {
  Random random(1);
  Samples x = sound_of(pluck, random);
  add_noise(x, 1e-4 * power_of(x, pluck), random);
  return heard(x, pluck.rate_hz, question);
}

constexpr double kRates[] = {8000.0, 11025.0, 16000.0, 22050.0, 44100.0, 48000.0};

// 3 to 10 parts at 0 to -20 dB; the first as the others, weak or not there.
Pluck random_pluck(Random& random) {
  Pluck pluck;
  pluck.rate_hz = kRates[random() % 6];
  pluck.note_hz = uniform(random, 35.0, 250.0);
  pluck.decay_s = 0.1 * std::pow(10.0, unit(random));
  pluck.at_s = uniform(random, 0.0, 0.5);
  pluck.length_s = pluck.at_s + uniform(random, 0.4, 1.0);
  pluck.parts.clear();
  const int count = 3 + static_cast<int>(random() % 8);
  const auto first = random() % 3;
  for (int n = 1; n <= count; ++n) {
    double level_db = uniform(random, -20.0, 0.0);
    if (n == 1 && first == 1) level_db -= 20.0;
    if (n == 1 && first == 1) level_db = std::max(level_db, -30.0);
    if (n == 1 && first == 2) continue;
    pluck.parts.push_back({n, level_db});
  }
  return pluck;
}

struct Tally {
  int draws = 0;
  int within = 0;  // of their own give or take
  double worst_hz = 0.0;

  void add(const NoteAnswer& answer, double truth_hz) {
    ++draws;
    const NoteFound* found = std::get_if<NoteFound>(&answer);
    REQUIRE(found != nullptr);
    const double off_hz = std::abs(found->note_hz - truth_hz);
    CHECK(off_hz < 1.0);
    if (off_hz <= found->give_or_take_hz) ++within;
    worst_hz = std::max(worst_hz, off_hz);
  }
};

// Noise of several kinds, from a sample of white noise each.
enum class Kind { white, low_passed, pink, clap, clap_in_a_room, louder_from_there };

Samples noise_of(Kind kind, double rate_hz, Random& random) {
  Samples x(static_cast<std::size_t>(uniform(random, 0.3, 1.2) * rate_hz));
  const double share = 1.0 - std::exp(-kTurn * uniform(random, 50.0, 800.0) / rate_hz);
  const double at_s = uniform(random, 0.0, 0.2);
  const double decay_s =
      kind == Kind::clap ? uniform(random, 0.002, 0.02) : uniform(random, 0.02, 0.1);
  const double behind = of_db(uniform(random, -50.0, -20.0));
  double once = 0.0, twice = 0.0, slow = 0.0, slower = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double t = static_cast<double>(i) / rate_hz, white = bell(random);
    once += share * (white - once);
    twice += share * (once - twice);
    // Three low passes a decade apart come near 1/f.
    slow += 0.03 * (white - slow);
    slower += 0.003 * (white - slower);
    const double fade = t < at_s ? 0.0 : std::exp((at_s - t) / decay_s);
    switch (kind) {
      case Kind::white:
        x[i] = white;
        break;
      case Kind::low_passed:
        x[i] = twice;
        break;
      case Kind::pink:
        x[i] = 0.3 * white + 3.0 * slow + 10.0 * slower;
        break;
      case Kind::clap:
      case Kind::clap_in_a_room:
        x[i] = white * fade + behind * bell(random);
        break;
      case Kind::louder_from_there:
        x[i] = white * (t < at_s ? 0.2 : 1.0);
        break;
    }
  }
  return x;
}

}  // namespace

TEST_CASE("at 10 dB over white noise every pluck's note comes out, its first harmonic or not") {
  // Measured over 1200 such draws: worst 0.07 Hz, 99 % within their own give or take.
  Tally tally;
  for (unsigned seed = 0; seed < 200; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Pluck pluck = random_pluck(random);
    Samples x = sound_of(pluck, random);
    add_noise(x, 0.1 * power_of(x, pluck), random);
    tally.add(heard(x, pluck.rate_hz), pluck.note_hz);
  }
  CHECK(tally.within >= 0.93 * tally.draws);
  CHECK(tally.worst_hz < 0.2);
}

TEST_CASE("hum, a click and a belt that is a little stiff change no note") {
  Tally tally;
  for (unsigned seed = 0; seed < 120; ++seed) {
    CAPTURE(seed);
    Random random(1000 + seed);
    Pluck pluck = random_pluck(random);
    pluck.stiffness = uniform(random, 0.0, 2e-4);
    Samples x = sound_of(pluck, random);
    const double power = power_of(x, pluck);
    add_noise(x, 0.1 * power, random);
    add_hum(x, 0.01 * power, 50.0, pluck.rate_hz, random);
    const std::size_t click = random() % 2 == 0 ? 0 : pluck.first();
    for (std::size_t i = click; i < click + 3; ++i) x[i] += 10.0 * std::sqrt(power);
    tally.add(heard(x, pluck.rate_hz), pluck.note_hz);
  }
  CHECK(tally.within >= 0.93 * tally.draws);
}

TEST_CASE("no note is found in noise of any colour, nor in a clap") {
  // Measured over 1000 of each kind, and as many again in brown noise: none.
  for (const Kind kind : {Kind::white, Kind::low_passed, Kind::pink, Kind::clap,
                          Kind::clap_in_a_room, Kind::louder_from_there}) {
    for (unsigned seed = 0; seed < 40; ++seed) {
      CAPTURE(static_cast<int>(kind), seed);
      Random random(seed);
      const double rate_hz = kRates[seed % 6];
      const NoteAnswer answer = heard(noise_of(kind, rate_hz, random), rate_hz);
      REQUIRE(std::holds_alternative<NoNote>(answer));
      CHECK(std::get<NoNote>(answer).reason == NoNote::Reason::noise);
    }
  }
}

TEST_CASE("a hum is no pluck, with noise or without, and one of its lines is named") {
  for (unsigned seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const double rate_hz = kRates[seed % 6], hz = seed % 2 == 0 ? 50.0 : 60.0;
    Samples x(static_cast<std::size_t>(uniform(random, 0.3, 1.5) * rate_hz), 0.0);
    add_hum(x, 1.0, hz, rate_hz, random);
    add_hum(x, uniform(random, 0.0, 0.5), 2.0 * hz, rate_hz, random);
    add_hum(x, uniform(random, 0.0, 0.5), 3.0 * hz, rate_hz, random);
    add_noise(x, seed % 3 == 0 ? 0.3 : 1e-6, random);
    const NoteAnswer answer = heard(x, rate_hz);
    REQUIRE(std::holds_alternative<NoNote>(answer));
    const NoNote none = std::get<NoNote>(answer);
    CHECK(none.reason == NoNote::Reason::standing);
    REQUIRE(none.hz.has_value());
    CHECK_THAT(std::remainder(*none.hz, hz), WithinAbs(0.0, 1.0));
  }
}

TEST_CASE("a pluck over a hum that is louder than it is heard all the same") {
  for (unsigned seed = 0; seed < 12; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    Pluck pluck;
    pluck.at_s = 0.5;
    pluck.length_s = 1.5;
    pluck.note_hz = uniform(random, 62.0, 140.0);
    Samples x = sound_of(pluck, random);
    const double power = power_of(x, pluck);
    add_hum(x, 4.0 * power, 50.0, pluck.rate_hz, random);
    add_noise(x, 0.01 * power, random);
    Tally().add(heard(x, pluck.rate_hz), pluck.note_hz);
  }
}

TEST_CASE("with even harmonics alone it is the octave above, and the other one is named") {
  for (const double note_hz : {41.0, 57.3, 88.8, 121.0, 180.0}) {
    CAPTURE(note_hz);
    Pluck pluck;
    pluck.note_hz = note_hz;
    pluck.parts = {{1, 0.0}, {2, -2.0}, {3, -4.0}, {4, -1.0}, {5, -6.0}, {6, -3.0}};
    const NoteFound whole = std::get<NoteFound>(heard_cleanly(pluck));
    CHECK_THAT(whole.note_hz, WithinAbs(note_hz, 0.1));
    pluck.parts = {{2, -2.0}, {4, -1.0}, {6, -3.0}};
    const NoteFound even = std::get<NoteFound>(heard_cleanly(pluck));
    CHECK_THAT(even.note_hz, WithinAbs(2.0 * note_hz, 0.1));
    CHECK_THAT(even.other_hz.value_or(0.0), WithinAbs(note_hz, 0.2));
    CHECK(even.sureness < whole.sureness);
    CHECK(even.other_sureness > 0.0);
    CHECK(even.sureness + even.other_sureness <= 1.0 + 1e-12);
  }
}

TEST_CASE("what is expected decides between octaves, and does not make a note") {
  Pluck pluck;
  pluck.note_hz = 70.0;
  pluck.parts = {{2, 0.0}};
  PluckQuestion question;
  CHECK_THAT(std::get<NoteFound>(heard_cleanly(pluck, question)).note_hz, WithinAbs(140.0, 0.1));
  question.expected_hz = 75.0;
  CHECK_THAT(std::get<NoteFound>(heard_cleanly(pluck, question)).note_hz, WithinAbs(70.0, 0.1));
  // Twelve neighbours in a row are not harmonics of what was expected.
  pluck.parts.clear();
  for (int n = 1; n <= 12; ++n) pluck.parts.push_back({n, -0.5 * n});
  question.expected_hz = 100.0;
  CHECK_THAT(std::get<NoteFound>(heard_cleanly(pluck, question)).note_hz, WithinAbs(70.0, 0.1));
}

TEST_CASE("harmonics, the loudest, the place and the distance from noise come with the note") {
  Pluck pluck;
  pluck.note_hz = 87.5;
  pluck.at_s = 0.31;
  pluck.parts = {{1, -9.0}, {2, 0.0}, {3, -6.0}, {5, -12.0}};
  const NoteFound found = std::get<NoteFound>(heard_cleanly(pluck));
  CHECK(found.strongest_harmonic == 2);
  REQUIRE(found.harmonics.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(found.harmonics[i].number == pluck.parts[i].number);
    CHECK_THAT(found.harmonics[i].hz, WithinAbs(87.5 * pluck.parts[i].number, 0.1));
    CHECK_THAT(found.harmonics[i].level_db, WithinAbs(pluck.parts[i].level_db, 0.5));
  }
  CHECK(found.sureness > 0.99);
  CHECK_THAT(found.plucked_at_s, WithinAbs(0.31, 0.01));
  // What lines leave of their neighbours counts as noise: some dB.
  CHECK_THAT(found.signal_to_noise_db, WithinAbs(40.0, 6.0));
}

TEST_CASE("it is heard until it sinks into the noise") {
  // 20 dB over the noise as a mean of its first 0.3 s, two decays: 6 dB more at the start. 26 dB of
  // power, at 8.69 dB a decay, are gone after 3 decays, 0.45 s; the last 3 dB and the mean over
  // 0.05 s take some 0.05 s each off.
  Random random(3);
  Pluck pluck;
  pluck.decay_s = 0.15;
  pluck.length_s = 2.0;
  Samples x = sound_of(pluck, random);
  add_noise(x, 0.01 * power_of(x, pluck), random);
  const NoteFound found = std::get<NoteFound>(heard(x, pluck.rate_hz));
  CHECK_THAT(found.heard_s, WithinAbs(0.4, 0.1));
  // 0.72 of the noise are below the top that is listened to.
  CHECK_THAT(found.signal_to_noise_db, WithinAbs(20.0, 3.0));
}

TEST_CASE("a pluck that begins with the recording is heard") {
  Pluck pluck;
  pluck.at_s = 0.0;
  const NoteFound found = std::get<NoteFound>(heard_cleanly(pluck));
  CHECK_THAT(found.note_hz, WithinAbs(110.0, 0.1));
  CHECK(found.plucked_at_s == 0.0);
}

TEST_CASE("a belt that is far from a string is told by its stiffness") {
  Pluck pluck;
  pluck.note_hz = 120.0;
  pluck.stiffness = 4e-3;
  pluck.parts = {{1, 0.0}, {2, -2.0}, {3, -4.0}, {4, -6.0}, {5, -6.0}};
  const NoteFound found = std::get<NoteFound>(heard_cleanly(pluck));
  CHECK_THAT(found.note_hz, WithinAbs(120.0, 0.1));
  CHECK_THAT(found.stiffness, WithinRel(4e-3, 0.05));
}

TEST_CASE("a sound twice as loud has the same note, to the last bit") {
  Random random(7);
  Pluck pluck;
  Samples x = sound_of(pluck, random);
  add_noise(x, 0.1 * power_of(x, pluck), random);
  std::vector<float> quiet, loud;
  for (const double value : x) {
    quiet.push_back(static_cast<float>(0.125 * value));
    loud.push_back(2.0F * quiet.back());
  }
  const NoteFound one = std::get<NoteFound>(find_note(quiet, pluck.rate_hz));
  const NoteFound other = std::get<NoteFound>(find_note(loud, pluck.rate_hz));
  CHECK(one.note_hz == other.note_hz);
  CHECK(one.give_or_take_hz == other.give_or_take_hz);
}

TEST_CASE("a note above what was asked for is told as such") {
  Pluck pluck;
  pluck.note_hz = 300.0;
  pluck.parts = {{1, 0.0}, {2, -3.0}, {3, -6.0}, {4, -6.0}};
  const NoNote none = std::get<NoNote>(heard_cleanly(pluck, {20.0, 140.0, {}}));
  CHECK(none.reason == NoNote::Reason::beyond_range);
  CHECK_THAT(none.hz.value_or(0.0), WithinAbs(300.0, 0.1));
}

TEST_CASE("too short and silent are told with their numbers") {
  const std::vector<float> blink(800, 0.5F);
  const NoNote brief = std::get<NoNote>(find_note(blink, 8000.0));
  CHECK(brief.reason == NoNote::Reason::too_short);
  CHECK(brief.length_s == 0.1);
  CHECK(brief.least_s > brief.length_s);
  // A direct voltage is no sound.
  const std::vector<float> still(8000, 0.25F);
  const NoNote silent = std::get<NoNote>(find_note(still, 8000.0));
  CHECK(silent.reason == NoNote::Reason::silent);
  CHECK(silent.length_s == 1.0);
  CHECK(silent.loudest < kSilence);
  CHECK(std::get<NoNote>(find_note({}, 8000.0)).reason == NoNote::Reason::too_short);
}
