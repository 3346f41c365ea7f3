#include "twoturn/write/starter.hpp"

#include <algorithm>
#include <regex>
#include <set>
#include <vector>

#include "support/catch.hpp"
#include "support/starter_drives.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/starter_example.hpp"

using namespace twoturn;

namespace {

using Kind = StarterDrive::Tensioner;

using starters::described;
using starters::drives;

DriveSpec read(const std::string& text) { return read_profile({"starter.toml", text, {}}); }

std::set<std::string> examples(const DriveSpec& spec) {
  std::set<std::string> keys;
  for (const GivenValue& given : spec.given) {
    if (given.origin == Origin::example) keys.insert(given.key);
  }
  return keys;
}

// The text with one number of a line another: the first, or of a place the one that `key` ends in.
std::string edited(const std::string& text, const GivenValue& given) {
  std::size_t at = 0;
  for (int line = 1; line < given.line; ++line) at = text.find('\n', at) + 1;
  at = text.find('=', at) + 1;
  if (given.key.back() == ']') at = text.find('[', at) + 1;
  if (given.key.find("[1]") != std::string::npos) at = text.find(',', at) + 1;
  const std::size_t end = text.find_first_of(",]\n", at);
  const double number = std::stod(text.substr(at, end - at));
  const bool count = given.key.find(".teeth") != std::string::npos;
  const double other = count ? number + 1.0 : number == 0.0 ? 1.0 : number * 1.001;
  return text.substr(0, at) + " " + std::to_string(other) + text.substr(end);
}

}  // namespace

TEST_CASE("Untouched, every starter reads without a problem and says only that it is an example") {
  for (const StarterDrive& drive : drives()) {
    INFO(described(drive));
    REQUIRE(no_starter_for(drive).empty());
    const CheckAnswer answer = check_drive(read(starter_profile(starter_for(drive))));
    CHECK(answer.verdict == Verdict::look_again);
    CHECK(answer.route_judged);
    CHECK(answer.fit_judged);
    CHECK(answer.phasing_judged);
    for (const Finding& finding : answer.findings) {
      INFO(finding.text);
      CHECK((finding.level == Level::note || finding.code == "example-numbers"));
    }
  }
}

TEST_CASE("A starter's numbers are all known as examples, but for the crank's own place") {
  for (const StarterDrive& drive : drives()) {
    INFO(described(drive));
    const DriveSpec spec = read(starter_profile(starter_for(drive)));
    for (const GivenValue& given : spec.given) {
      INFO(given.key);
      const bool datum = given.key.find("pulley.crank.at_mm") == 0;
      CHECK((given.origin == Origin::example) != datum);
    }
  }
}

TEST_CASE("Editing one number of a starter takes that one, and no other, from the examples") {
  for (const StarterDrive& drive : {StarterDrive{2, 1, Kind::eccentric, 1, true, true, true},
                                    StarterDrive{4, 2, Kind::slide, 0}}) {
    const std::string text = starter_profile(starter_for(drive));
    const DriveSpec untouched = read(text);
    const std::set<std::string> before = examples(untouched);
    REQUIRE(before.size() > 30);
    for (const GivenValue& given : untouched.given) {
      if (given.origin != Origin::example) continue;
      INFO(given.key << " in line " << given.line);
      std::set<std::string> wanted = before;
      wanted.erase(given.key);
      CHECK(examples(read(edited(text, given))) == wanted);
    }
  }
}

TEST_CASE("The check lists an untouched starter's numbers by line") {
  const DriveSpec spec = read(starter_profile(starter_for({})));
  const CheckAnswer answer = check_drive(spec);
  const auto found = std::find_if(answer.findings.begin(), answer.findings.end(),
                                  [](const Finding& f) { return f.code == "example-numbers"; });
  REQUIRE(found != answer.findings.end());
  CHECK(found->level == Level::look);
  CHECK(found->value == static_cast<double>(examples(spec).size()));
  for (const GivenValue& given : spec.given) {
    if (given.origin != Origin::example) continue;
    CHECK_THAT(found->text, ContainsSubstring(given.key + " (line " + std::to_string(given.line)));
  }
}

TEST_CASE("A starter asks only what its drive makes necessary") {
  const std::string plain = starter_profile(starter_for({1, 1, Kind::none}));
  for (const char* absent : {"tensioner]", "diameter_mm", "thickness_mm", "[[geared]]",
                             "injection pump", "water pump", "idler\""}) {
    INFO(absent);
    CHECK_THAT(plain, !ContainsSubstring(absent));
  }
  CHECK_THAT(starter_profile(starter_for({1, 1, Kind::slide})), !ContainsSubstring("\nslack_deg"));
  CHECK_THAT(starter_profile(starter_for({1, 1, Kind::eccentric})),
             !ContainsSubstring("slack_at_mm"));
}

TEST_CASE("The paper asks the same questions under the same numbers as the profile") {
  for (const StarterDrive& drive : drives()) {
    INFO(described(drive));
    const std::string profile = starter_profile(starter_for(drive));
    const std::string paper = starter_paper(starter_for(drive));
    const std::regex in_profile(
        "\n# ([0-9]+)\\. [^\n]*\n(?:# [^\n]*[a-z)][^\n]*\n)*?"
        "(?:# )?([a-z][a-z0-9_.\" ]*) = ");
    const std::regex on_paper("\n +([0-9]+)\\. ([^ \n](?:[^ \n]| (?=[^ \n]))*)");
    const auto pairs = [](const std::string& text, const std::regex& pattern) {
      std::vector<std::string> list;
      for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it) {
        list.push_back((*it)[1].str() + " " + (*it)[2].str());
      }
      return list;
    };
    const std::vector<std::string> asked = pairs(profile, in_profile);
    CHECK(asked.size() > 15);
    CHECK(asked == pairs(paper, on_paper));
  }
}

TEST_CASE("Paper and profile stay within 80 columns and in ASCII") {
  for (const StarterDrive& drive : drives()) {
    for (const std::string& text :
         {starter_profile(starter_for(drive)), starter_paper(starter_for(drive))}) {
      std::size_t from = 0;
      for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', from)) {
        INFO(text.substr(from, at - from));
        CHECK(at - from <= 80);
        from = at + 1;
      }
      CHECK(std::all_of(text.begin(), text.end(),
                        [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
    }
  }
}

TEST_CASE("What no starter is drawn for is refused in words") {
  CHECK_FALSE(no_starter_for({3, 2}).empty());
  CHECK_FALSE(no_starter_for({1, 2}).empty());
  CHECK_FALSE(no_starter_for({4, 1}).empty());
  CHECK_FALSE(no_starter_for({1, 3}).empty());
  CHECK_FALSE(no_starter_for({1, 1, Kind::none, 3}).empty());
  CHECK_FALSE(no_starter_for({2, 2, Kind::none, 0, false, true}).empty());
}
