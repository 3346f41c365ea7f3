// Slips that nothing forbids: asked about, with the likely cause.
#include <algorithm>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

std::string text_of(const std::string& code, const std::vector<Override>& overrides,
                    const std::string& demo = "harbour-launch") {
  const CheckAnswer answer = check_drive(demos::spec_of(demo, overrides));
  const auto found = std::find_if(answer.findings.begin(), answer.findings.end(),
                                  [&](const Finding& finding) { return finding.code == code; });
  if (found == answer.findings.end()) return "";
  CHECK(found->level == Level::look);
  return found->text;
}

}  // namespace

TEST_CASE("A pitch of nine gaps taken for ten is asked about, other odd pitches are not") {
  const auto with_pitch = [](const std::string& pitch) {
    return text_of("odd-pitch", {{"belt.pitch_mm", pitch}}, "roadside-counts");
  };
  CHECK_THAT(with_pitch("8.57"), ContainsSubstring("nine gaps of 9.525 mm"));
  CHECK_THAT(with_pitch("7.2"), ContainsSubstring("nine gaps of 8 mm"));
  for (const char* right : {"9.525", "8", "20", "10", "6.4"}) {
    INFO(right);
    CHECK(with_pitch(right).empty());
  }
}

TEST_CASE("A roller whose double would do is asked whether its radius was given") {
  const auto with_roller = [](const std::string& diameter) {
    return text_of("small-pulley", {{"pulley.tensioner.diameter_mm", diameter}});
  };
  CHECK_THAT(with_roller("30"), ContainsSubstring("Is that its radius?"));
  CHECK_FALSE(with_roller("20").empty());
  CHECK_THAT(with_roller("20"), !ContainsSubstring("radius"));
  CHECK(with_roller("60").empty());
}

TEST_CASE("A maker's angle outside the travel is asked whether it was counted from 3 o'clock") {
  // The demo's travel goes clockwise from 285 to 60, its marks stand at 333.
  const auto with_set = [](const std::string& set) {
    return text_of("marks-outside-travel", {{"pulley.tensioner.tensioner.set_deg", set}});
  };
  CHECK_THAT(with_set("117"), ContainsSubstring("3 o'clock, anticlockwise"));  // 90 - 333 + 360
  CHECK_THAT(with_set("243"), ContainsSubstring("3 o'clock, clockwise"));      // 333 - 90
  CHECK_FALSE(with_set("140").find("outside its travel") == std::string::npos);
  CHECK(with_set("333").empty());
}

TEST_CASE("Where no reading from 3 o'clock would fit either, none is asked about") {
  const std::vector<Override> narrow{{"pulley.tensioner.tensioner.slack_deg", "320"},
                                     {"pulley.tensioner.tensioner.tight_deg", "350"},
                                     {"pulley.tensioner.tensioner.set_deg", "200"}};
  const std::string text = text_of("marks-outside-travel", narrow);
  CHECK_FALSE(text.empty());
  CHECK_THAT(text, !ContainsSubstring("3 o'clock"));
}

TEST_CASE("A calliper a little off a usual pitch is asked whether it is that one") {
  const auto with_over_ten = [](double over) {
    DriveSpec spec = demos::spec_of("roadside-counts");
    spec.belt.pitch_mm.reset();
    spec.belt.section.reset();
    spec.belt.over_10_teeth_mm = over;
    for (const Finding& finding : check_drive(spec).findings) {
      if (finding.code == "nearly-a-pitch") return finding.text;
    }
    return std::string();
  };
  CHECK_THAT(with_over_ten(80.1), ContainsSubstring("is it 80?"));
  CHECK_THAT(with_over_ten(95), ContainsSubstring("is it 95.25?"));
  CHECK(with_over_ten(80).empty());
  CHECK(with_over_ten(95.25).empty());
}

TEST_CASE("Places in inches or in cm are asked about where the belt would then go on") {
  const auto measured_in = [](double unit_mm, bool all) {
    DriveSpec spec = demos::spec_of("harbour-launch");
    for (PulleySpec& pulley : spec.pulleys) {
      if (pulley.at_mm) *pulley.at_mm /= unit_mm;
      if (all && pulley.diameter_mm) *pulley.diameter_mm /= unit_mm;
      if (!pulley.tensioner) continue;
      auto& swing = std::get<SwingSpec>(pulley.tensioner->path);
      *swing.pivot_mm /= unit_mm;
      if (all) *swing.arm_mm /= unit_mm;
    }
    const CheckAnswer answer = check_drive(spec);
    CHECK(answer.verdict != Verdict::agrees);
    for (const Finding& finding : answer.findings) {
      if (finding.code == "other-unit") return finding.text;
    }
    return std::string();
  };
  CHECK_THAT(measured_in(25.4, true), ContainsSubstring("inches"));
  CHECK_THAT(measured_in(25.4, false), ContainsSubstring("inches"));
  CHECK_THAT(measured_in(10.0, true), ContainsSubstring("in cm"));
  CHECK(measured_in(3.0, true).empty());
  for (const std::string& name : demos::names()) {
    INFO(name);
    CHECK(text_of("other-unit", {}, name).empty());
  }
}

TEST_CASE("Without a section a roller whose double would do is asked about too") {
  DriveSpec spec = demos::spec_of("harbour-launch");
  spec.belt.section.reset();
  spec.belt.pitch_mm = 9.525;
  const auto asked = [&](double across) {
    for (PulleySpec& pulley : spec.pulleys) {
      if (pulley.diameter_mm) pulley.diameter_mm = across;
    }
    const CheckAnswer answer = check_drive(spec);
    return std::any_of(answer.findings.begin(), answer.findings.end(), [](const Finding& finding) {
      return finding.code == "radius-for-diameter" && finding.level == Level::look;
    });
  };
  CHECK(asked(30.0));
  CHECK_FALSE(asked(60.0));
  CHECK_FALSE(asked(20.0));
}
