#include "twoturn/read/sound.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <optional>
#include <string>
#include <utility>

#include "twoturn/base/numbers.hpp"
#include "twoturn/read/profile.hpp"

namespace twoturn {
namespace {

using namespace std::string_view_literals;

constexpr std::uint32_t kPcm = 1;
constexpr std::uint32_t kFloat = 3;
constexpr std::uint32_t kExtensible = 0xFFFE;

[[noreturn]] void refuse_sound(std::string_view name, std::string value, std::string rule) {
  Problem problem;
  problem.key = "sound";
  problem.value = std::move(value);
  problem.rule = std::move(rule);
  problem.file = name;
  throw InputError({problem});
}

// The number in so many bytes from a place on, the lowest first.
std::uint32_t number_at(std::string_view bytes, std::size_t place, std::size_t count) {
  std::uint32_t number = 0;
  for (std::size_t i = count; i-- > 0;) {
    number = number << 8U | static_cast<unsigned char>(bytes[place + i]);
  }
  return number;
}

// What a file is that is no WAV, by its first bytes; empty where they tell nothing.
std::string_view other_container(std::string_view bytes) {
  struct Mark {
    std::size_t place;
    std::string_view bytes;
    std::string_view name;
  };
  static constexpr std::array<Mark, 14> kMarks{{
      {0, "OggS"sv, "an Ogg file"sv},
      {0, "ID3"sv, "an MP3 file"sv},
      {0, "fLaC"sv, "a FLAC file"sv},
      {4, "ftyp"sv, "an M4A or MP4 file"sv},
      {0, "caff"sv, "a CAF file"sv},
      {8, "AIFF"sv, "an AIFF file"sv},
      {8, "AIFC"sv, "an AIFF file"sv},
      {0, "#!AMR"sv, "an AMR file"sv},
      {0, "\x1A\x45\xDF\xA3"sv, "a WebM or Matroska file"sv},
      {0, "RF64"sv, "a WAV file in its form for more than 4 GB"sv},
      {0, "RIFX"sv, "a WAV file with its bytes the other way round"sv},
      {0, "\xFF\xF1"sv, "an AAC file"sv},
      {0, "\xFF\xF9"sv, "an AAC file"sv},
      {8, "AVI "sv, "an AVI film"sv},
  }};
  for (const Mark& mark : kMarks) {
    if (bytes.size() < mark.place) continue;
    if (bytes.substr(mark.place, mark.bytes.size()) == mark.bytes) return mark.name;
  }
  // Eleven bits set begin a frame of MPEG.
  const bool frame = bytes.size() > 1 && (number_at(bytes, 0, 2) & 0xE0FFU) == 0xE0FFU;
  return frame ? "an MP3 file"sv : ""sv;
}

void check_container(std::string_view name, std::string_view bytes) {
  if (bytes.empty()) refuse_sound(name, "", "the file is empty; record again, and save it as WAV");
  if (bytes.substr(0, 4) == "RIFF" && bytes.size() >= 12 && bytes.substr(8, 4) == "WAVE") return;
  const std::string_view other = other_container(bytes);
  if (!other.empty()) {
    refuse_sound(name, std::string(other),
                 "must be a WAV file: open it in what recorded it, and save it as WAV");
  }
  if (bytes.substr(0, 4) == "RIFF" && bytes.size() < 12) {
    refuse_sound(name, counted(static_cast<long long>(bytes.size()), "byte", "bytes"),
                 "the WAV file ends in its header; copy it again");
  }
  refuse_sound(name, "no sound file", "must be a WAV file: its first bytes are RIFF and WAVE");
}

struct Chunks {
  std::optional<std::string_view> format;
  std::optional<std::string_view> data;
  std::size_t promised = 0;  // bytes of sound, by the header
};

// A recorder that was cut off, or wrote into a pipe, leaves all bits set for the length of the
// sound: then it goes to the end of the file.
Chunks chunks_of(std::string_view bytes) {
  constexpr std::uint32_t kToTheEnd = 0xFFFFFFFF;
  Chunks chunks;
  std::size_t place = 12;
  while (place + 8 <= bytes.size()) {
    const std::string_view id = bytes.substr(place, 4);
    const std::uint32_t length = number_at(bytes, place + 4, 4);
    const std::string_view body = bytes.substr(place + 8, length);
    if (id == "fmt " && !chunks.format) chunks.format = body;
    if (id == "data" && !chunks.data) {
      chunks.data = body;
      chunks.promised = length == kToTheEnd ? body.size() : length;
    }
    if (body.size() < length) break;
    place += 8 + body.size() + body.size() % 2;
  }
  return chunks;
}

struct Format {
  std::uint32_t tag = 0;
  std::uint32_t channels = 0;
  std::uint32_t rate_hz = 0;
  std::uint32_t frame_bytes = 0;
  std::uint32_t bits = 0;
};

Format format_of(std::string_view name, const Chunks& chunks) {
  constexpr std::size_t kPlain = 16, kTagOfExtensible = 24;
  if (!chunks.format) refuse_sound(name, "", "the WAV file has no header of its sound (chunk fmt)");
  const std::string_view body = *chunks.format;
  const auto need = [&](std::size_t length) {
    if (body.size() >= length) return;
    refuse_sound(name, counted(static_cast<long long>(body.size()), "byte", "bytes"),
                 fmt::format("the header of the sound (chunk fmt) needs {}", length));
  };
  need(kPlain);
  Format format{number_at(body, 0, 2), number_at(body, 2, 2), number_at(body, 4, 4),
                number_at(body, 12, 2), number_at(body, 14, 2)};
  if (format.tag == kExtensible) {
    need(kTagOfExtensible + 2);
    format.tag = number_at(body, kTagOfExtensible, 2);
  }
  return format;
}

std::string coding_name(std::uint32_t tag) {
  constexpr std::array<std::pair<std::uint32_t, std::string_view>, 6> kNames{{{0x0002, "ADPCM"},
                                                                              {0x0006, "A-law"},
                                                                              {0x0007, "mu-law"},
                                                                              {0x0011, "ADPCM"},
                                                                              {0x0050, "MPEG"},
                                                                              {0x0055, "MP3"}}};
  for (const auto& [number, coding] : kNames) {
    if (number == tag) return fmt::format("{} inside a WAV file", coding);
  }
  return fmt::format("coding {} inside a WAV file", tag);
}

void check_format(std::string_view name, const Format& format) {
  if (format.tag != kPcm && format.tag != kFloat) {
    refuse_sound(name, coding_name(format.tag),
                 "must not be compressed: save it as WAV, PCM of 16 bit");
  }
  const bool known = format.tag == kFloat
                         ? format.bits == 32
                         : format.bits >= 8 && format.bits <= 32 && format.bits % 8 == 0;
  if (!known) {
    refuse_sound(name,
                 fmt::format("{} bit {}", format.bits, format.tag == kFloat ? "float" : "PCM"),
                 "must be PCM of 8, 16, 24 or 32 bit, or float of 32 bit");
  }
  if (format.channels != 1 && format.channels != 2) {
    refuse_sound(name, counted(format.channels, "channel", "channels"),
                 "must be one channel or two");
  }
  if (format.frame_bytes != format.channels * format.bits / 8) {
    refuse_sound(name, fmt::format("{} bytes for all channels of a sample", format.frame_bytes),
                 fmt::format("the header contradicts itself: {} of {} bit need {}",
                             counted(format.channels, "channel", "channels"), format.bits,
                             format.channels * format.bits / 8));
  }
  if (format.rate_hz < kLeastSoundHz || format.rate_hz > kMostSoundHz) {
    refuse_sound(
        name, fmt::format("{} samples a second", format.rate_hz),
        fmt::format("must be {} to {}", shortest(kLeastSoundHz, 0), shortest(kMostSoundHz, 0)));
  }
}

void check_length(std::string_view name, const Chunks& chunks, const Format& format) {
  if (!chunks.data || chunks.promised < format.frame_bytes) {
    refuse_sound(name, "no samples", "there is no sound in the file; record again");
  }
  if (chunks.data->size() < chunks.promised) {
    refuse_sound(
        name, fmt::format("{} bytes of sound", chunks.data->size()),
        fmt::format("the file is cut off: its header says {}; copy it again", chunks.promised));
  }
  const std::size_t count = chunks.data->size() / format.frame_bytes;
  const double length_s = static_cast<double>(count) / format.rate_hz;
  if (length_s < kLeastSoundS) {
    refuse_sound(name, fmt::format("{} s", shortest(length_s, 4)),
                 fmt::format("too short: must be {} s or longer, and a second is better",
                             shortest(kLeastSoundS, 1)));
  }
  if (length_s > kMostSoundS) {
    refuse_sound(name, fmt::format("{} s", shortest(length_s, 0)),
                 fmt::format("longer than {} s; cut it to the pluck", shortest(kMostSoundS, 0)));
  }
}

float sample_at(std::string_view data, std::size_t place, const Format& format) {
  const std::uint32_t raw = number_at(data, place, format.bits / 8);
  if (format.tag == kFloat) {
    float value = 0.0F;
    std::memcpy(&value, &raw, sizeof value);
    return value;
  }
  // 8 bit count from 0 and rest at 128; all others are signed. Either way the sign goes to the top.
  const std::uint32_t high = raw << (32U - format.bits);
  const std::uint32_t is_signed = format.bits == 8 ? high ^ 0x80000000U : high;
  return static_cast<float>(
      std::ldexp(static_cast<double>(static_cast<std::int32_t>(is_signed)), -31));
}

double power_of(const std::vector<float>& samples) {
  double sum = 0.0, squares = 0.0;
  for (const float sample : samples) {
    const double value = static_cast<double>(sample);
    sum += value;
    squares += value * value;
  }
  const double count = static_cast<double>(samples.size());
  return squares / count - (sum / count) * (sum / count);
}

std::vector<float> mixed(std::vector<float> left, std::vector<float> right) {
  constexpr double kKept = 0.5;
  std::vector<float> both(left.size());
  for (std::size_t i = 0; i < both.size(); ++i) both[i] = 0.5F * (left[i] + right[i]);
  const double of_left = power_of(left), of_right = power_of(right);
  if (power_of(both) > kKept * std::max(of_left, of_right)) return both;
  return of_left >= of_right ? left : right;
}

}  // namespace

Sound read_sound(std::string_view name, std::string_view bytes) {
  check_container(name, bytes);
  const Chunks chunks = chunks_of(bytes);
  const Format format = format_of(name, chunks);
  check_format(name, format);
  check_length(name, chunks, format);

  std::array<std::vector<float>, 2> channels;
  const std::size_t count = chunks.data->size() / format.frame_bytes;
  for (std::size_t c = 0; c < format.channels; ++c) {
    channels[c].reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t place = i * format.frame_bytes + c * format.bits / 8;
      channels[c].push_back(sample_at(*chunks.data, place, format));
      if (std::isfinite(channels[c].back())) continue;
      refuse_sound(name, fmt::format("sample {}", i + 1), "must be a finite number");
    }
  }
  Sound sound;
  sound.rate_hz = format.rate_hz;
  sound.channels = static_cast<int>(format.channels);
  sound.bits = static_cast<int>(format.bits);
  sound.samples = format.channels == 1 ? std::move(channels[0])
                                       : mixed(std::move(channels[0]), std::move(channels[1]));
  return sound;
}

}  // namespace twoturn
