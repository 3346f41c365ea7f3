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
