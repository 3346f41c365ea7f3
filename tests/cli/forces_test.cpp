// feel and tension through the command; the sound is made here, so its note is known.
#include <cmath>
#include <cstdint>
#include <numbers>

#include "cli/command.hpp"

namespace twoturn::test {
namespace {

const std::string kBakery =
    std::string("'") + TWOTURN_SOURCE_DIR + "/profiles/night-bakery-van.toml' ";

void little_endian(std::string& bytes, std::uint32_t value, int count) {
  for (int k = 0; k < count; ++k) bytes.push_back(static_cast<char>((value >> (8 * k)) & 0xFFU));
}

// RIFF/WAVE, 16 bit, one channel: a pluck that dies away in a third of a second, a quarter of a
// second of nothing before it.
std::string pluck_wav(double note_hz) {
  constexpr int kRate = 16000;
  constexpr int kCount = 2 * kRate;
  std::string samples;
  std::uint32_t noise = 12345;
  for (int k = 0; k < kCount; ++k) {
    const double at_s = static_cast<double>(k) / kRate - 0.25;
    double value = 0.0;
    for (int n = 1; at_s > 0.0 && n <= 5; ++n) {
      value += std::exp(-3.0 * at_s) / n * std::sin(2.0 * std::numbers::pi * n * note_hz * at_s);
    }
    noise = noise * 1664525U + 1013904223U;
    const double hiss = static_cast<double>(noise >> 16U) / 65536.0 - 0.5;
    const auto sample = static_cast<std::int16_t>(std::lround(8000.0 * value + 300.0 * hiss));
    little_endian(samples, static_cast<std::uint16_t>(sample), 2);
  }
  std::string wav = "RIFF";
  little_endian(wav, static_cast<std::uint32_t>(36 + samples.size()), 4);
  wav += "WAVEfmt ";
  little_endian(wav, 16, 4);
  little_endian(wav, 1, 2);
  little_endian(wav, 1, 2);
  little_endian(wav, kRate, 4);
  little_endian(wav, 2 * kRate, 4);
  little_endian(wav, 2, 2);
  little_endian(wav, 16, 2);
  wav += "data";
  little_endian(wav, static_cast<std::uint32_t>(samples.size()), 4);
  return wav + samples;
}

}  // namespace

TEST_CASE("feel: humps in order, the belt, where a valve would stop it, and exit 0") {
  const Bench bench;
  const Ran ran = done(bench, "feel " + kBakery);
  CHECK_THAT(ran.out, ContainsSubstring("N at the end of a spanner 300 mm long"));
  CHECK_THAT(ran.out,
             ContainsSubstring("A solid stop, or a hump where none is listed, is no spring"));
  CHECK_THAT(ran.out, ContainsSubstring("With all plugs in"));
  const auto document = bench.run("feel " + kBakery + "--json").json();
  CHECK(document["humps"].size() == 4);
  CHECK(document["steps"]["crank_nm"].size() == 1441);
  CHECK(document["belt"]["settled"] == true);
}

TEST_CASE("feel: without valve timing nothing is felt ahead, and exit is 1") {
  const Bench bench;
  const Ran ran =
      bench.run(std::string("feel '") + TWOTURN_SOURCE_DIR + "/profiles/mill-generator.toml'");
  CHECK(ran.code == 1);
  CHECK_THAT(ran.out, ContainsSubstring("valve"));
}

TEST_CASE("tension: a recording's note comes back as tension") {
  const Bench bench;
  bench.write("run.wav", pluck_wav(110.0));
  const auto document = bench.run("tension " + kBakery + "--sound run.wav --json").json();
  CHECK_THAT(document["sound"]["note_hz"].get<double>(), WithinAbs(110.0, 0.5));
  CHECK(document["reading"]["stands"] == "fits");
  CHECK_THAT(document["reading"]["share"].get<double>(), WithinAbs(1.0, 0.01));
  bench.write("twice.wav", pluck_wav(220.0));
  CHECK_THAT(done(bench, "tension " + kBakery + "--sound twice.wav").out,
             ContainsSubstring("you caught another note"));
}

TEST_CASE("tension: what is no sound, or no reading, is told") {
  const Bench bench;
  bench.write("no.wav", "OggS and nothing of use");
  CHECK(refused(bench, "tension " + kBakery + "--sound no.wav", 3).err.find("WAV") !=
        std::string::npos);
  bench.write("short.wav", pluck_wav(110.0).substr(0, 44 + 200));
  CHECK(bench.run("tension " + kBakery + "--sound short.wav").code == 3);
  const Ran slack = bench.run("tension " + kBakery + "--give-mm 60 --push-n 10");
  CHECK(slack.code == 1);
  CHECK_THAT(slack.out, ContainsSubstring("is slack"));
  const Ran elsewhere = bench.run("tension " + kBakery + "--run crank,moon --hz 80");
  CHECK(elsewhere.code == 1);
  CHECK_THAT(elsewhere.out, ContainsSubstring("no straight of belt goes from the crank"));
  CHECK(bench.run("tension " + kBakery + "--hz 80 --newtons 200").code == 2);
  CHECK(bench.run("tension " + kBakery + "--set belt.stiffness_n=0").code == 3);
  CHECK(bench.run("tension " + kBakery + "--set belt.mass_g_per_m=0").code == 3);
}

TEST_CASE("check: a belt that goes slack as it is turned is looked at, and the run is named") {
  const Bench bench;
  const Ran ran = bench.run("check " + kBakery + "--set tension.target_hz=40 --json");
  const Json document = ran.json();
  bool found = false;
  for (const Json& finding : document["findings"]) {
    found = found || finding["code"] == "run-slack";
  }
  CHECK(found);
}

TEST_CASE("check: a tension beyond the tensioner's travel, or beyond its spring, is a look") {
  const Bench bench;
  const auto looked_at = [&](const std::string& changes, const std::string& code) {
    const Json document = bench.run("check " + kBakery + changes + " --json").json();
    for (const Json& finding : document["findings"]) {
      if (finding["code"] == code) return finding;
    }
    return Json();
  };
  const Json beyond = looked_at("--set tension.target_hz=700", "tension-beyond");
  REQUIRE(beyond.is_object());
  CHECK(beyond["level"] == "look");
  // Tension goes with the square of the note: (700 / 110)^2 = 40.5 times that at 110 Hz.
  const auto target_n = [&](const std::string& hz) {
    return bench.run("tension " + kBakery + "--set tension.target_hz=" + hz + " --json")
        .json()["target_n"]
        .get<double>();
  };
  CHECK_THAT(target_n("700") / target_n("110"), WithinRel(700.0 * 700.0 / (110.0 * 110.0), 1e-9));
  CHECK_THAT(beyond["value"].get<double>(), WithinRel(target_n("700"), 1e-12));
  CHECK(looked_at("--set tension.target_hz=110", "tension-beyond").is_null());
  const std::string sprung =
      "--set 'pulley.tensioner.tensioner.holds=\"sprung\"' --set "
      "tension.target_hz=60 --set "
      "pulley.tensioner.tensioner.spring_nm_per_deg=";
  const Json gives = looked_at(sprung + "0.001", "tensioner-gives");
  REQUIRE(gives.is_object());
  CHECK(gives["level"] == "look");
  CHECK_THAT(gives["text"].get<std::string>(),
             ContainsSubstring("end of its travel") || ContainsSubstring("over centre"));
  CHECK(looked_at(sprung + "0.1", "tensioner-gives").is_null());
}

}  // namespace twoturn::test
