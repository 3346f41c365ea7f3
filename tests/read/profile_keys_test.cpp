#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/read/profile.hpp"

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

// N/mm is no length.
bool is_length(const std::string& key) {
  return ends_with(key, "_mm") && !ends_with(key, "_n_mm") && !ends_with(key, "_per_mm");
}

// The table that a heading of the page opens, as the beginning of its keys' paths.
std::string opened_by(const std::string& heading) {
  const std::size_t open = heading.find("`[");
  if (open == std::string::npos) return "";
  const std::size_t close = heading.find("]`", open);
  std::string table = heading.substr(open + 2, close - open - 2);
  const bool several = table[0] == '[';
  if (several) table = table.substr(1, table.size() - 2);
  for (const std::string list : {"pulley", "geared", "bolts"}) {
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

using Json = nlohmann::json;

Json profile_schema() {
  std::ifstream file(std::string(TWOTURN_SOURCE_DIR) + "/profiles/profile.schema.json");
  REQUIRE(file);
  return Json::parse(file);
}

// All keys of a schema as the reader names them: * for a name or a number, no key for a table.
class SchemaKeys {
 public:
  explicit SchemaKeys(const Json& schema) : schema_(schema) { add(schema, ""); }

  const std::set<std::string>& keys() const { return keys_; }

 private:
  const Json& defined(const Json& reference) const {
    const std::string path = reference.get<std::string>();
    return schema_.at("definitions").at(path.substr(path.rfind('/') + 1));
  }

  void add(const Json& node, const std::string& path) {
    if (node.contains("$ref")) {
      if (node["$ref"] == within_) return leaf(path);  // a path under [origin] that goes on
      const std::string outer = within_;
      within_ = node["$ref"].get<std::string>();
      add(defined(node["$ref"]), path);
      within_ = outer;
      return;
    }
    if (node.value("type", "") == "array" && in_tables(node["items"])) {
      return add(node["items"], path + ".*");
    }
    bool table = false;
    for (const char* several : {"allOf", "anyOf"}) {
      if (!node.contains(several)) continue;
      for (const Json& one : node[several]) add(one, path);
      table = true;
    }
    const std::string below = path.empty() ? "" : path + ".";
    if (node.contains("properties")) {
      table = true;
      for (const auto& [key, inner] : node["properties"].items()) add(inner, below + key);
    }
    if (node.contains("additionalProperties") && node["additionalProperties"].is_object()) {
      table = true;
      add(node["additionalProperties"], below + "*");
    }
    if (!table) leaf(path);
  }

  bool in_tables(const Json& items) const {
    const Json& item = items.contains("$ref") ? defined(items["$ref"]) : items;
    return item.contains("properties");
  }

  void leaf(const std::string& path) { keys_.insert(path); }

  const Json& schema_;
  std::string within_;
  std::set<std::string> keys_;
};

// The reader's own keys, without what only stands for "a table or a number".
std::set<std::string> reader_keys() {
  const std::vector<std::string> keys = profile_keys();
  return {keys.begin(), keys.end()};
}

std::set<std::string> words_in_schema(const Json& schema, const std::string& table,
                                      const std::string& key) {
  const Json& properties =
      table.empty() ? schema["properties"] : schema["definitions"][table]["properties"];
  return properties[key]["enum"].get<std::set<std::string>>();
}

template <class Choice>
std::set<std::string> words() {
  return {words_of<Choice>().begin(), words_of<Choice>().end()};
}

}  // namespace

TEST_CASE("Every key that the reader knows stands in the schema, and no other") {
  const Json schema = profile_schema();
  std::set<std::string> in_schema = SchemaKeys(schema).keys();
  std::set<std::string> known = reader_keys();
  // One number for the only head, in place of a table by head.
  for (const std::string stem : {"skim", "block_skim", "gasket_change"}) {
    for (const std::string unit : {"_mm", "_in", "_thou"}) {
      CHECK(in_schema.erase("build." + stem + unit) == 1);
    }
  }
  // Paths written out as tables.
  for (const char* path : {"origin.*.*", "example.*.*"}) in_schema.erase(path);
  for (const std::string& key : known) {
    INFO("known to the reader: " << key);
    CHECK(in_schema.count(key) == 1);
  }
  for (const std::string& key : in_schema) {
    INFO("in the schema: " << key);
    CHECK(known.count(key) == 1);
  }
}

TEST_CASE("The schema offers the words that the reader takes") {
  const Json schema = profile_schema();
  std::set<std::string> turns = words<Turn>();
  turns.insert("counterclockwise");
  CHECK(words_in_schema(schema, "", "crank_turns") == turns);
  CHECK(words_in_schema(schema, "tensioner", "tightens") == turns);
  CHECK(words_in_schema(schema, "pulley", "role") == words<Role>());
  CHECK(words_in_schema(schema, "geared", "role") == words<Role>());
  CHECK(words_in_schema(schema, "pulley", "face") == words<Face>());
  CHECK(words_in_schema(schema, "pulley", "fixing") == words<Fixing>());
  CHECK(words_in_schema(schema, "pulley", "mark_on") == words<MarkOn>());
  std::set<std::string> origins = words<Origin>();
  origins.erase("not said");
  CHECK(schema["definitions"]["origin_word"]["enum"].get<std::set<std::string>>() == origins);
  CHECK(words_in_schema(schema, "bolts", "condition") == words<BoltCondition>());
  CHECK(words_in_schema(schema, "bolts", "threads") == words<ThreadState>());
  CHECK(words_in_schema(schema, "seen", "again") == words<SeenAgain>());
  CHECK(words_in_schema(schema, "seen", "turned") == words<LastTurned>());
  const Json& seen = schema["definitions"]["seen"]["properties"];
  CHECK(seen["pin"]["additionalProperties"]["enum"].get<std::set<std::string>>() ==
        words<PinFelt>());
  CHECK(seen["prior"]["propertyNames"]["enum"].get<std::set<std::string>>() == words<FaultKind>());
  const std::vector<std::string> sections = section_names();
  CHECK(words_in_schema(schema, "belt", "section") ==
        std::set<std::string>(sections.begin(), sections.end()));
}

TEST_CASE("The schema closes every table and says the unit of every length") {
  const Json schema = profile_schema();
  for (const auto& [table, definition] : schema["definitions"].items()) {
    if (!definition.contains("properties")) continue;
    INFO(table);
    CHECK(definition["additionalProperties"] == false);
    for (const auto& [key, property] : definition["properties"].items()) {
      INFO(key);
      REQUIRE(property.contains("description"));
      const std::string said = property["description"].get<std::string>();
      if (is_length(key)) CHECK_THAT(said, EndsWith("(mm)"));
      if (ends_with(key, "_in")) CHECK_THAT(said, EndsWith("(inches)"));
      if (ends_with(key, "_thou")) CHECK_THAT(said, EndsWith("(thousandths of an inch)"));
    }
  }
}

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
        "limits.near_in", "seen.pin.*", "seen.mark_thou.*", "seen.count.*.teeth", "origin.default",
        "origin.*", "origin.*.give_or_take", "example.*"}) {
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
    if (!is_length(alone)) continue;
    const std::string stem = alone.substr(0, alone.size() - 3);
    INFO(key);
    CHECK(has(stem + "_in" + map));
    CHECK(has(stem + "_thou" + map));
    ++lengths;
  }
  CHECK(lengths > 40);
}
