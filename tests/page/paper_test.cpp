#include "twoturn/page/paper.hpp"

#include <algorithm>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/starter_drives.hpp"
#include "twoturn/picture/sketches.hpp"
#include "twoturn/study/starter_example.hpp"
#include "twoturn/write/starter.hpp"

using namespace twoturn;

namespace {

// The key of every numbered question, with its table before it, read off the profile's text.
std::set<std::string> asked_keys(const std::string& profile) {
  const std::regex table("^\\[+([a-z_.]+)\\]+$");
  const std::regex question("^# [0-9]+\\. ");
  const std::regex named("^(?:# )?([a-z0-9_.]+?)(?:\\.(?:head|\"[a-z ]+\"))? = ");
  std::set<std::string> keys;
  std::string before;
  bool asked = false;
  std::istringstream lines(profile);
  for (std::string line; std::getline(lines, line);) {
    std::smatch found;
    if (std::regex_match(line, found, table)) before = found[1].str() + ".";
    if (std::regex_search(line, question)) asked = true;
    if (!asked || !std::regex_search(line, found, named)) continue;
    keys.insert(before + found[1].str());
    asked = false;
  }
  return keys;
}

bool measures(const MeasuringSketch& sketch, const std::set<std::string>& asked) {
  return std::any_of(sketch.keys.begin(), sketch.keys.end(),
                     [&](const std::string& key) { return asked.count(key) == 1; });
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

}  // namespace

TEST_CASE("Every question that a starter asks has a sketch, but for what is only read off") {
  std::set<std::string> sketched{"title", "belt.length_tolerance_mm"};
  for (const MeasuringSketch& sketch : measuring_sketches()) {
    sketched.insert(sketch.keys.begin(), sketch.keys.end());
  }
  std::set<std::string> all;
  for (const StarterDrive& drive : starters::drives()) {
    INFO(starters::described(drive));
    const std::set<std::string> asked = asked_keys(starter_profile(starter_for(drive)));
    CHECK(asked.size() > 15);
    for (const std::string& key : asked) {
      INFO(key);
      CHECK(sketched.count(key) == 1);
    }
    all.insert(asked.begin(), asked.end());
  }
  for (const MeasuringSketch& sketch : measuring_sketches()) {
    INFO(sketch.scene.title);
    CHECK(measures(sketch, all));
  }
}

TEST_CASE("The page shows the sketches of what its drive asks for, each once, and no other") {
  for (const StarterDrive& drive : starters::drives()) {
    INFO(starters::described(drive));
    const StarterAnswer starter = starter_for(drive);
    const std::set<std::string> asked = asked_keys(starter_profile(starter));
    const std::string page = paper_html(starter);
    for (const MeasuringSketch& sketch : measuring_sketches()) {
      INFO(sketch.scene.title);
      CHECK(count(page, "<title>" + sketch.scene.title + "</title>") ==
            (measures(sketch, asked) ? 1 : 0));
    }
  }
}
