#include "twoturn/read/sound.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>
#include <string>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/load/pluck.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

// The files are made here, byte by byte, after the RIFF/WAVE layout.
namespace {

std::string bytes_of(std::uint32_t number, int count) {
  std::string bytes;
  for (int i = 0; i < count; ++i) bytes += static_cast<char>(number >> (8 * i) & 0xFFU);
  return bytes;
}

std::string chunk(const std::string& id, const std::string& body) {
  std::string whole = id + bytes_of(static_cast<std::uint32_t>(body.size()), 4) + body;
  if (body.size() % 2 == 1) whole += '\0';
  return whole;
}

struct Layout {
  std::uint32_t tag = 1;
  std::uint32_t channels = 1;
  std::uint32_t rate_hz = 8000;
  std::uint32_t bits = 16;
};

std::string format_chunk(const Layout& layout) {
  const std::uint32_t frame = layout.channels * layout.bits / 8;
  return chunk("fmt ", bytes_of(layout.tag, 2) + bytes_of(layout.channels, 2) +
                           bytes_of(layout.rate_hz, 4) + bytes_of(layout.rate_hz * frame, 4) +
                           bytes_of(frame, 2) + bytes_of(layout.bits, 2));
}

std::string riff(const std::string& chunks) {
  return "RIFF" + bytes_of(static_cast<std::uint32_t>(chunks.size() + 4), 4) + "WAVE" + chunks;
}

std::string wav(const Layout& layout, const std::string& data) {
  return riff(format_chunk(layout) + chunk("data", data));
}

std::string coded(double value, const Layout& layout) {
  if (layout.tag == 3) {
    const float single = static_cast<float>(value);
    std::uint32_t raw = 0;
    std::memcpy(&raw, &single, sizeof raw);
    return bytes_of(raw, 4);
  }
  const double step = std::ldexp(1.0, static_cast<int>(layout.bits) - 1);
  const std::int64_t whole = static_cast<std::int64_t>(std::floor(value * step));
  const std::int64_t rest = layout.bits == 8 ? 128 : 0;
  return bytes_of(static_cast<std::uint32_t>(whole + rest), static_cast<int>(layout.bits / 8));
}

// A slow sine of half scale: 2000 samples.
double half_sine(int i) { return 0.5 * std::sin(0.05 * i); }

std::string sine_data(const Layout& layout, double of_second_channel = 1.0) {
  std::string data;
  for (int i = 0; i < 2000; ++i) {
    data += coded(half_sine(i), layout);
    if (layout.channels == 2) data += coded(of_second_channel * half_sine(i), layout);
  }
  return data;
}

std::string message_of(const std::string& bytes) {
  try {
    static_cast<void>(read_sound("belt.wav", bytes));
  } catch (const InputError& error) {
    CHECK(error.problems().size() == 1);
    CHECK(error.problems()[0].key == "sound");
    CHECK(error.problems()[0].file == "belt.wav");
    return error.what();
  }
  return "no error";
}

}  // namespace

TEST_CASE("every kind of sample comes out as it went in, to its last bit") {
  for (const Layout& layout :
       {Layout{1, 1, 8000, 8}, Layout{1, 1, 8000, 16}, Layout{1, 1, 44100, 24},
        Layout{1, 1, 48000, 32}, Layout{3, 1, 11025, 32}}) {
    CAPTURE(layout.tag, layout.bits, layout.rate_hz);
    const Layout slow{layout.tag, 1, 8000, layout.bits};
    CHECK(read_sound("a.wav", wav(slow, sine_data(slow))).rate_hz == 8000.0);
    std::string data = sine_data(layout) + sine_data(layout) + sine_data(layout);
    const Sound sound = read_sound("a.wav", wav(layout, data));
    CHECK(sound.rate_hz == static_cast<double>(layout.rate_hz));
    CHECK(sound.bits == static_cast<int>(layout.bits));
    CHECK(sound.channels == 1);
    REQUIRE(sound.samples.size() == 6000);
    // A step of the coding, and what 24 bits of a float leave of it.
    const double step = layout.tag == 3 ? 0.0 : std::ldexp(1.0, 1 - static_cast<int>(layout.bits));
    for (std::size_t i = 0; i < 2000; ++i) {
      const double off = static_cast<double>(sound.samples[i]) - half_sine(static_cast<int>(i));
      REQUIRE(std::abs(off) <= step + 1e-7);
    }
  }
}

TEST_CASE("the ends of the scale are -1 and just under 1") {
  const Layout wide{1, 1, 8000, 16};
  std::string data = bytes_of(0x8000, 2) + bytes_of(0x7FFF, 2) + sine_data(wide);
  const Sound sound = read_sound("a.wav", wav(wide, data));
  CHECK(sound.samples[0] == -1.0F);
  CHECK(sound.samples[1] == 1.0F - 1.0F / 32768.0F);
  const Layout narrow{1, 1, 8000, 8};
  data = std::string("\x00\xFF\x80", 3) + sine_data(narrow) + sine_data(narrow);
  const Sound eight = read_sound("a.wav", wav(narrow, data));
  CHECK(eight.samples[0] == -1.0F);
  CHECK(eight.samples[1] == 127.0F / 128.0F);
  CHECK(eight.samples[2] == 0.0F);
}

TEST_CASE("two channels are averaged; of opposite ones, and of one with nothing, the louder one") {
  const Layout two{3, 2, 8000, 32};
  const auto second_sample = [&](double of_second_channel) {
    const Sound sound = read_sound("a.wav", wav(two, sine_data(two, of_second_channel)));
    CHECK(sound.channels == 2);
    CHECK(sound.samples.size() == 2000);
    return static_cast<double>(sound.samples[1]) / half_sine(1);
  };
  CHECK_THAT(second_sample(1.0), WithinAbs(1.0, 1e-6));
  CHECK_THAT(second_sample(0.6), WithinAbs(0.8, 1e-6));
  CHECK_THAT(second_sample(-1.0), WithinAbs(1.0, 1e-6));
  CHECK_THAT(second_sample(-1.2), WithinAbs(-1.2, 1e-6));
  CHECK_THAT(second_sample(0.0), WithinAbs(1.0, 1e-6));
}

TEST_CASE("an extensible header, other chunks and a padded one change nothing") {
  const Layout layout;
  const std::string data = sine_data(layout);
  const Sound plain = read_sound("a.wav", wav(layout, data));
  const std::string guid("\x01\x00\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71", 16);
  const std::string extensible =
      chunk("fmt ", bytes_of(0xFFFE, 2) + bytes_of(1, 2) + bytes_of(8000, 4) + bytes_of(16000, 4) +
                        bytes_of(2, 2) + bytes_of(16, 2) + bytes_of(22, 2) + bytes_of(16, 2) +
                        bytes_of(4, 4) + guid);
  CHECK(read_sound("a.wav", riff(extensible + chunk("data", data))).samples == plain.samples);
  const std::string more = chunk("LIST", "odd") + format_chunk(layout) + chunk("fact", "even") +
                           chunk("data", data) + chunk("id3 ", "x");
  CHECK(read_sound("a.wav", riff(more)).samples == plain.samples);
}

TEST_CASE("a recorder that was cut off leaves its length open: all that follows is sound") {
  const Layout layout;
  const std::string data = sine_data(layout);
  const std::string bytes = riff(format_chunk(layout) + "data" + bytes_of(0xFFFFFFFF, 4) + data);
  CHECK(read_sound("a.wav", bytes).samples.size() == 2000);
}

TEST_CASE("what is no WAV file is told by its first bytes") {
  const std::string rest(100, 'x');
  for (const auto& [bytes, says] : std::vector<std::pair<std::string, std::string>>{
           {"OggS" + rest, "sound = an Ogg file: must be a WAV file"},
           {"ID3" + rest, "an MP3 file"},
           {"\xFF\xFB" + rest, "an MP3 file"},
           {"\xFF\xF1" + rest, "an AAC file"},
           {std::string("\0\0\0\x20", 4) + "ftypM4A " + rest, "an M4A or MP4 file"},
           {"fLaC" + rest, "a FLAC file"},
           {"FORM1234AIFF" + rest, "an AIFF file"},
           {"\x1A\x45\xDF\xA3" + rest, "WebM"},
           {"RF64" + rest, "more than 4 GB"},
           {"RIFF1234AVI " + rest, "an AVI film"},
           {"[belt]\nsection = \"T5\"\n", "no sound file: must be a WAV file"},
           {"RIFF", "ends in its header"},
           {"R", "no sound file"},
           {"", "the file is empty"}}) {
    CAPTURE(says);
    CHECK_THAT(message_of(bytes), StartsWith("belt.wav: sound"));
    CHECK_THAT(message_of(bytes), ContainsSubstring(says));
  }
}

TEST_CASE("a WAV file that cannot be used says why") {
  const Layout layout;
  const std::string data = sine_data(layout);
  const auto with = [&](const Layout& other) { return message_of(wav(other, data)); };
  CHECK_THAT(with({0x55, 1, 8000, 16}),
             ContainsSubstring("MP3 inside a WAV file: must not be compressed"));
  CHECK_THAT(with({0x11, 1, 8000, 4}), ContainsSubstring("ADPCM inside"));
  CHECK_THAT(with({0x1234, 1, 8000, 16}), ContainsSubstring("coding 4660 inside"));
  CHECK_THAT(with({1, 1, 8000, 12}), ContainsSubstring("12 bit PCM: must be PCM of 8, 16, 24"));
  CHECK_THAT(with({3, 1, 8000, 64}), ContainsSubstring("64 bit float"));
  CHECK_THAT(with({1, 0, 8000, 16}), ContainsSubstring("0 channels: must be one channel or two"));
  CHECK_THAT(with({1, 6, 8000, 16}), ContainsSubstring("6 channels"));
  CHECK_THAT(with({1, 1, 3999, 16}),
             ContainsSubstring("3999 samples a second: must be 4000 to 400000"));
  CHECK_THAT(with({1, 1, 400001, 16}), ContainsSubstring("400001 samples a second"));
  CHECK_THAT(with({1, 1, 44100, 16}), ContainsSubstring("0.0454 s: too short: must be 0.1 s"));
  CHECK_THAT(message_of(wav(layout, "")), ContainsSubstring("no samples"));
  CHECK_THAT(message_of(riff(format_chunk(layout))), ContainsSubstring("no samples"));
  CHECK_THAT(message_of(riff(chunk("data", data))), ContainsSubstring("no header of its sound"));
  CHECK_THAT(message_of(riff(chunk("fmt ", "short") + chunk("data", data))),
             ContainsSubstring("5 bytes: the header of the sound (chunk fmt) needs 16"));
  const std::string whole = wav(layout, data);
  CHECK_THAT(message_of(whole.substr(0, whole.size() - 1000)),
             ContainsSubstring("3000 bytes of sound: the file is cut off: its header says 4000"));
  std::string bent = whole;
  bent[32] = 3;  // the bytes of all channels together
  CHECK_THAT(message_of(bent),
             ContainsSubstring("the header contradicts itself: 1 channel of 16 bit need 2"));
  const Layout floating{3, 1, 8000, 32};
  std::string none = sine_data(floating);
  none.replace(4, 4, bytes_of(0x7FC00000, 4));
  CHECK_THAT(message_of(wav(floating, none)),
             ContainsSubstring("sample 2: must be a finite number"));
  const Layout slowly{1, 1, 4000, 8};
  CHECK_THAT(message_of(wav(slowly, std::string(4000 * 301, '\x80'))),
             ContainsSubstring("longer than 300 s"));
}

TEST_CASE("a file that ends anywhere is read or refused") {
  const Layout layout{1, 2, 8000, 24};
  const std::string whole = wav(layout, sine_data(layout));
  for (std::size_t length = 0; length < 200; ++length) {
    CHECK(message_of(whole.substr(0, length)) != "no error");
  }
  CHECK(message_of(whole) == "no error");
}

TEST_CASE("a pluck in a file has its note") {
  // By construction: a fading sine of 98 Hz and its double, after 0.2 s of stillness.
  const Layout layout{1, 1, 16000, 16};
  std::string data;
  for (int i = 0; i < 16000; ++i) {
    const double t = i / 16000.0 - 0.2, turn = 6.28318530717958648 * 98.0 * t;
    const double value =
        t < 0.0 ? 0.0 : std::exp(-t / 0.2) * (std::sin(turn) + std::sin(2.0 * turn));
    data += coded(0.3 * value, layout);
  }
  const Sound sound = read_sound("belt.wav", wav(layout, data));
  const NoteAnswer answer = find_note(sound.samples, sound.rate_hz);
  REQUIRE(std::holds_alternative<NoteFound>(answer));
  CHECK_THAT(std::get<NoteFound>(answer).note_hz, WithinAbs(98.0, 0.1));
}
