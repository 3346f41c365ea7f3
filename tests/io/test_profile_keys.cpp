#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include "io/profile_samples.hpp"
#include "support/catch.hpp"
#include "twoturn/io/profile.hpp"

using namespace twoturn;

namespace {

std::string replaced(std::string text, const std::string& piece, const std::string& by) {
  for (std::size_t at = text.find(piece); at != std::string::npos;
       at = text.find(piece, at + by.size())) {
    text.replace(at, piece.size(), by);
  }
  return text;
}

bool ends_with(const std::string& text, const std::string& ending) {
  return text.size() >= ending.size() &&
         text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

// The table that a heading of the page opens, as the beginning of its keys' paths.
std::string opened_by(const std::string& heading) {
  const std::size_t open = heading.find("`[");
  if (open == std::string::npos) return "";
  const std::size_t close = heading.find("]`", open);
  std::string table = heading.substr(open + 2, close - open - 2);
  const bool several = table[0] == '[';
  if (several) table = table.substr(1, table.size() - 2);
  for (const std::string list : {"pulley", "geared"}) {
    table = replaced(table, list + ".", list + ".*.");
  }
  return table + (several ? ".*." : ".");
}

// Every key in the first column of a key table of profiles/README.md, as a general path.
std::set<std::string> documented_keys() {
  std::ifstream file(std::string(TWOTURN_SOURCE_DIR) + "/profiles/README.md");
  REQUIRE(file);
  std::set<std::string> keys;
  std::string line;
  std::string table;
  bool of_keys = false;
  while (std::getline(file, line)) {
    if (line.substr(0, 1) == "#") table = opened_by(line);
    if (line.substr(0, 1) != "|") of_keys = false;
    if (line.substr(0, 7) == "| key |") of_keys = true;
    if (!of_keys || line.substr(0, 3) != "| `") continue;
    const std::string key = line.substr(3, line.find('`', 3) - 3);
    keys.insert(table + replaced(replaced(key, "PATH", "*"), ".NAME.", ".*."));
  }
  return keys;
}

// The reader's keys as the page lists them: lengths under mm, maps under their own key.
std::set<std::string> known_keys() {
  std::set<std::string> keys;
  for (std::string key : profile_keys()) {
    if (key == "example.*" || key == "origin.*") {
      keys.insert(key);
      continue;
    }
    if (ends_with(key, ".*")) key.resize(key.size() - 2);
    if (!ends_with(key, "_in") && !ends_with(key, "_thou")) keys.insert(key);
  }
  return keys;
}

}  // namespace

TEST_CASE("Every key that the reader knows stands in the format's page, and no other") {
  const std::set<std::string> documented = documented_keys();
  const std::set<std::string> known = known_keys();
  CHECK(known.size() > 80);
  for (const std::string& key : known) {
    INFO("known to the reader: " << key);
    CHECK(documented.count(key) == 1);
  }
  for (const std::string& key : documented) {
    INFO("on the page: " << key);
    CHECK(known.count(key) == 1);
  }
}

TEST_CASE("The keys of the reader are those that it reads: each stands in no table twice") {
  std::vector<std::string> keys = profile_keys();
  for (const char* key :
       {"title", "belt.teeth", "pulley.*.teeth", "pulley.*.diameter_in",
        "pulley.*.tensioner.arm_thou", "pulley.*.mark.*.at_deg", "pulley.*.pin.play_mm",
        "geared.*.pin.bar_mm", "cover.*.points_mm", "build.skim_mm.*", "build.renewed.*.teeth",
        "limits.near_in", "origin.default", "origin.*", "origin.*.give_or_take", "example.*"}) {
    INFO(key);
    CHECK(std::find(keys.begin(), keys.end(), key) != keys.end());
  }
  std::sort(keys.begin(), keys.end());
  CHECK(std::adjacent_find(keys.begin(), keys.end()) == keys.end());
}

TEST_CASE("Every key of a length is there in mm, in and thou") {
  const std::vector<std::string> keys = profile_keys();
  const auto has = [&](const std::string& key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
  };
  int lengths = 0;
  for (const std::string& key : keys) {
    const std::string map = ends_with(key, ".*") ? ".*" : "";
    const std::string alone = key.substr(0, key.size() - map.size());
    if (!ends_with(alone, "_mm")) continue;
    const std::string stem = alone.substr(0, alone.size() - 3);
    INFO(key);
    CHECK(has(stem + "_in" + map));
    CHECK(has(stem + "_thou" + map));
    ++lengths;
  }
  CHECK(lengths > 40);
}
