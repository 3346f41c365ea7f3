#pragma once

#include <string_view>
#include <vector>

namespace twoturn {

/// A recording, one channel.
struct Sound {
  double rate_hz = 0.0;
  std::vector<float> samples;  ///< full scale is -1 to 1
  int channels = 1;            ///< that the file had
  int bits = 16;               ///< of a sample in the file

  double length_s() const { return static_cast<double>(samples.size()) / rate_hz; }
};

/// What is taken: from a tenth of a second to five minutes, 4 to 400 kHz.
inline constexpr double kLeastSoundS = 0.1;
inline constexpr double kMostSoundS = 300.0;
inline constexpr double kLeastSoundHz = 4000.0;
inline constexpr double kMostSoundHz = 400000.0;

/// Reads the bytes of a WAV file: RIFF/WAVE of 8, 16, 24 or 32 bit PCM or 32 bit float, one channel
/// or two, with plain or extensible header; chunks of other kinds are passed over. Two channels are
/// averaged, unless that takes half of the louder one's power or more away (they are opposite, or
/// one is silent): then the louder one is taken. Throws InputError (profile.hpp) with the first
/// thing that keeps it from being read. Source: the RIFF/WAVE layout as published, from memory.
Sound read_sound(std::string_view name, std::string_view bytes);

}  // namespace twoturn
