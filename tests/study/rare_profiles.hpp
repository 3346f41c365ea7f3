// A demo with one or two lines otherwise, checked, and the finding that is to be among what it
// says.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"
#include "twoturn/study/check.hpp"

namespace rare {

using namespace twoturn;
using texts::with;

inline CheckAnswer checked(const std::string& text, const std::vector<Override>& settings = {}) {
  ProfileText profile;
  profile.name = "p.toml";
  profile.text = text;
  profile.settings = settings;
  profile.find_table = [](const std::string& table) {
    return TableText{table, demos::file_text(table), ""};
  };
  return check_drive(read_profile(profile));
}

inline const Finding* find(const CheckAnswer& answer, const std::string& code,
                           const std::string& about) {
  const auto found =
      std::find_if(answer.findings.begin(), answer.findings.end(), [&](const Finding& finding) {
        return finding.code == code && (about.empty() || finding.about == about);
      });
  return found == answer.findings.end() ? nullptr : &*found;
}

struct Row {
  std::string demo;
  std::vector<Override> settings;
  Level level;
  std::string code;
  std::string about;
  std::string says;
  std::string brief;
};

inline void check_rows(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    INFO(row.demo << ' ' << row.code << ' ' << row.says);
    const std::string text =
        row.demo.find('\n') == std::string::npos ? demos::text_of(row.demo) : row.demo;
    const CheckAnswer answer = checked(text, row.settings);
    const Finding* found = find(answer, row.code, row.about);
    REQUIRE(found != nullptr);
    CHECK(found->level == row.level);
    CHECK_THAT(found->text, ContainsSubstring(row.says));
    CHECK_THAT(found->brief, ContainsSubstring(row.brief));
  }
}

inline const std::string kTensioner = "pulley.tensioner.tensioner.";
inline const std::string kVan = "night-bakery-van";
inline const std::string kLaunch = "harbour-launch";
inline const std::string kSaloon = "hill-climb-saloon";
inline const std::string kSprayer = "orchard-sprayer";

inline std::string launch() { return demos::text_of(kLaunch); }

// The van in its right tooth.
inline std::string van() {
  return with(demos::text_of(kVan), "teeth_out = { \"inlet cam\" = \"1 late\" }", "");
}

// Of whose numbers nothing is said.
inline std::string no_origin(const std::string& demo) {
  const std::string text = demos::text_of(demo);
  return text.substr(0, text.find("[origin]"));
}

// Three pulleys on fixed centres.
inline std::string fixed_centres(const std::string& pump, int teeth = 103) {
  return "crank_turns = \"clockwise\"\n[belt]\nsection = \"ZA\"\nteeth = " + std::to_string(teeth) +
         "\n[[head]]\nname = \"head\"\ndeck_deg = 0\ndeck_from_crank_mm = 200\n"
         "[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = 20\nat_mm = [0, 0]\n"
         "mark_deg = 0\n[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = 40\n"
         "at_mm = [10, 333]\nmount = \"head\"\nfixing = \"keyed\"\nmark_deg = 0\n"
         "[[pulley]]\nname = \"pump\"\n" +
         pump;
}

}  // namespace rare
