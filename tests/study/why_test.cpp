// What was seen at the engine, and what check and why make of it. Which sights go with which fault
// is common practice (USERS.md); the numbers are those of the simulated drive.
#include "twoturn/study/why.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/skim.hpp"

using namespace twoturn;

namespace {

using Sights = std::vector<Override>;

CheckAnswer checked(const std::string& demo, const Sights& seen) {
  return check_drive(demos::spec_of(demo, seen));
}

// Everything that a careful person looks at on the harbour launch, all of it right.
const Sights kAllRight{{"seen.pin.cam", "in"},    {"seen.pin.crank", "in"},
                       {"seen.mark_mm.cam", "0"}, {"seen.pointer_deg", "57"},
                       {"seen.after_turns", "2"}, {"seen.again", "repeats"},
                       {"seen.rocks", "false"},   {"seen.seated", "true"}};

bool has(const CheckAnswer& answer, const std::string& code) {
  return std::any_of(answer.findings.begin(), answer.findings.end(),
                     [&](const Finding& finding) { return finding.code == code; });
}

}  // namespace

TEST_CASE("With every mark, pin and the pointer seen right, check agrees on what was seen") {
  const CheckAnswer answer = checked("harbour-launch", kAllRight);
  INFO(answer.headline);
  CHECK(answer.basis == Basis::seen);
  CHECK(answer.verdict == Verdict::agrees);
  CHECK_THAT(answer.headline, StartsWith("Seen: agrees"));
  CHECK_THAT(answer.headline, !ContainsSubstring("safe"));
}

TEST_CASE("A stop on paper is not called seen, however right what was seen looks") {
  const CheckAnswer answer =
      checked("night-bakery-van", {{"seen.pin.inlet cam", "in"}, {"seen.after_turns", "2"}});
  CHECK(answer.basis == Basis::seen);
  CHECK(answer.verdict == Verdict::stop);
  CHECK_THAT(answer.headline, StartsWith("On paper: STOP"));
  CHECK_THAT(answer.headline, ContainsSubstring("Seen: "));
}

TEST_CASE("What was seen of the engine as it is says nothing of it after a further skim") {
  const SkimAnswer skim =
      skim_consequences(demos::spec_of("harbour-launch", kAllRight), {"head", 0.1});
  CHECK_THAT(skim.headline, StartsWith("On paper"));
}

TEST_CASE("Without anything seen the basis stays paper, and a prior is no sight") {
  CHECK(checked("harbour-launch", {}).basis == Basis::paper);
  CHECK(checked("harbour-launch", {{"seen.prior.tooth-out", "3"}}).basis == Basis::paper);
}

TEST_CASE("What nobody saw keeps check from agreeing on what was seen") {
  for (const auto& left_out : {"pin", "pointer", "after_turns"}) {
    Sights seen;
    for (const Override& sight : kAllRight) {
      const bool of_it =
          sight.key.find(left_out) != std::string::npos ||
          (std::string(left_out) == "pin" && sight.key.find("mark") != std::string::npos);
      if (!of_it) seen.push_back(sight);
    }
    const CheckAnswer answer = checked("harbour-launch", seen);
    INFO(left_out << ": " << answer.headline);
    CHECK(answer.basis == Basis::seen);
    CHECK(answer.verdict == Verdict::look_again);
  }
}

TEST_CASE(
    "A pin that is out and a mark a tooth late stop, with the move; seen right again, it agrees") {
  Sights seen = kAllRight;
  seen[0].value = "out";
  seen[2].value = "-9.5";
  const CheckAnswer answer = checked("harbour-launch", seen);
  INFO(answer.headline);
  CHECK(answer.verdict == Verdict::stop);
  CHECK(has(answer, "seen-fault"));
  CHECK_THAT(answer.headline, StartsWith("Seen: STOP"));
  CHECK_THAT(answer.headline, ContainsSubstring("1 tooth late"));
  CHECK_THAT(answer.headline, ContainsSubstring("turn the cam 1 tooth on"));
  CHECK_FALSE(answer.next_command.empty());
  CHECK(checked("harbour-launch", kAllRight).verdict == Verdict::agrees);
}

TEST_CASE("Seen late and seen early are mirror images, and so is the move") {
  Sights seen = kAllRight;
  seen[0].value = "out";
  seen[2].value = "9.5";
  const CheckAnswer answer = checked("harbour-launch", seen);
  CHECK_THAT(answer.headline, ContainsSubstring("1 tooth early"));
  CHECK_THAT(answer.headline, ContainsSubstring("turn the cam 1 tooth back"));
}

TEST_CASE("A mark a little off with its pin in is the eye, not a tooth (common practice)") {
  Sights seen = kAllRight;
  seen[2].value = "1";
  const CheckAnswer answer = checked("harbour-launch", seen);
  INFO(answer.headline);
  REQUIRE(answer.seen.has_value());
  CHECK(answer.seen->explained);
  const FaultKind kind = answer.seen->groups.front().members.front().fault.suspect.first().kind;
  CHECK((kind == FaultKind::none || kind == FaultKind::eye));
  CHECK(answer.verdict != Verdict::stop);
}

TEST_CASE("What no fault explains is said to be so, and nothing is to be moved") {
  Sights seen = kAllRight;
  seen[2].value = "14";  // half way between one tooth and two, the pin in and all else right
  const CheckAnswer answer = checked("harbour-launch", seen);
  REQUIRE(answer.seen.has_value());
  INFO(answer.headline);
  CHECK_FALSE(answer.seen->explained);
  CHECK(has(answer, "seen-unexplained"));
  CHECK_THAT(answer.seen->steps.front(), StartsWith("Move nothing yet"));
}

TEST_CASE("A prior of the profile changes what is likeliest, and is told") {
  const Sights one{{"seen.mark_mm.cam", "-2"}};
  std::vector<Missing> missing;
  DriveSpec spec = demos::spec_of("harbour-launch", one);
  const auto likely = [&](FaultKind kind) {
    const std::optional<WhyAnswer> answer = why_answer(spec, Fit::as_fitted, missing);
    double sum = 0.0;
    for (const WhyGroup& group : answer->seen->groups) {
      for (const WhyCandidate& member : group.members) {
        if (member.fault.suspect.first().kind == kind) sum += member.probability;
      }
    }
    return sum;
  };
  const double before = likely(FaultKind::slack_left);
  spec.seen.prior["slack-left"] = 20.0;
  CHECK(likely(FaultKind::slack_left) > before);
}

TEST_CASE("Every fault of the catalogue has a title, a remedy and its numbers on every demo") {
  for (const std::string& demo : demos::names()) {
    std::vector<Missing> missing;
    const std::optional<WhyAnswer> answer =
        why_answer(demos::spec_of(demo), Fit::as_fitted, missing);
    INFO(demo);
    if (!answer) continue;
    CHECK(answer->catalogue.size() > 15);
    for (const WhyFault& fault : answer->catalogue) {
      INFO(fault.title);
      CHECK_FALSE(fault.title.empty());
      CHECK_FALSE(fault.remedy.empty());
      CHECK(fault.goes_on == !fault.shafts.empty());
      CHECK(fault.goes_on == fault.none.empty());
    }
  }
}

TEST_CASE("Slack taken up turns a shaft by its arc, and the crank is set back by the same arc") {
  // Exact: a mm at radius r is 1/r rad.
  std::vector<Missing> missing;
  const std::optional<WhyAnswer> answer =
      why_answer(demos::spec_of("harbour-launch"), Fit::as_fitted, missing);
  REQUIRE(answer.has_value());
  REQUIRE(answer->slack.size() == 1);
  const double pi = std::acos(-1.0);
  const double cam_radius_mm = 9.525 * 40 / (2.0 * pi);
  const double crank_radius_mm = 9.525 * 20 / (2.0 * pi);
  CHECK_THAT(answer->slack[0].own_deg_a_mm, WithinAbs(180.0 / pi / cam_radius_mm, 1e-9));
  CHECK_THAT(answer->slack[0].crank_deg_a_mm, WithinAbs(360.0 / pi / cam_radius_mm, 1e-9));
  CHECK_THAT(answer->slack[0].set_back_deg_a_mm, WithinAbs(180.0 / pi / crank_radius_mm, 1e-9));
  CHECK(answer->slack[0].goes_late);
}

TEST_CASE(
    "An exercise is the same for its seed, and its working finds what was hidden or says why not") {
  int found = 0;
  constexpr unsigned kSeeds = 40;
  for (unsigned seed = 1; seed <= kSeeds; ++seed) {
    std::vector<Missing> missing;
    const DriveSpec spec = demos::spec_of("hill-climb-saloon");
    const std::optional<Exercise> one = exercise(spec, Fit::as_fitted, seed, missing);
    const std::optional<Exercise> again = exercise(spec, Fit::as_fitted, seed, missing);
    REQUIRE(one.has_value());
    REQUIRE(again.has_value());
    CHECK(one->hidden.title == again->hidden.title);
    CHECK(one->shows == again->shows);
    REQUIRE(one->working.seen.has_value());
    for (const WhyCandidate& member : one->working.seen->groups.front().members) {
      if (remedy_key(member.fault.suspect) == remedy_key(one->hidden.suspect)) {
        ++found;
        break;
      }
    }
  }
  INFO(found << " of " << kSeeds);
  CHECK(found >= 36);
}
