#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "profile_parts.hpp"
#include "toml_tree.hpp"

namespace twoturn::reading {
namespace {

// One line of [origin], of a number or of all numbers below a path.
struct Said {
  Entry entry;
  std::optional<Origin> origin;
  std::optional<double> give_or_take;
  bool used = false;
};

using Leaves = std::vector<std::pair<std::string, Entry>>;

// The values of a table whose keys are paths, dots quoted or not. `whole` says where a table is a
// value and not a step of a path.
template <class Whole>
void collect(const Entry& table, const std::string& path, const Whole& whole, Leaves& leaves) {
  for (const auto& [key, node] : *table.node->as_table()) {
    const std::string text(key.str());
    const std::string here = path.empty() ? text : fmt::format("{}.{}", path, text);
    const Entry entry{&node, fmt::format("{}.{}", table.path, text),
                      fmt::format("{}.{}", table.where, text)};
    if (node.is_table() && !whole(*node.as_table())) {
      collect(entry, here, whole, leaves);
    } else {
      leaves.emplace_back(here, entry);
    }
  }
}

std::optional<Origin> origin_word(Reading& reading, const Entry& entry) {
  const std::optional<std::string> said = reading.text(entry);
  if (!said) return std::nullopt;
  std::vector<std::string> words = words_of<Origin>();
  words.erase(words.begin());  // "not said" is what an absent line says
  const std::optional<Origin> origin = from_word<Origin>(*said);
  if (origin && *origin != Origin::not_said) return origin;
  reading.blame(entry, "must be " + listed(words), nearest_word(*said, words));
  return std::nullopt;
}

void read_give_or_take(Reading& reading, const Entry& entry, const std::string& path, Said& said) {
  const auto value = entry.node->is_number() ? entry.node->value<double>() : std::nullopt;
  if (!value || !std::isfinite(*value) || *value < 0.0) {
    reading.blame(entry,
                  "must be a number, 0 or more: how far off the value may be, 95 times in "
                  "100");
    return;
  }
  said.give_or_take = *value * unit_of(path).factor;
  if (!said.origin) said.origin = Origin::measured;
}

Said read_said(Reading& reading, const std::string& path, const Entry& entry) {
  Said said{entry, std::nullopt, std::nullopt};
  const toml::table* table = entry.node->as_table();
  if (table == nullptr) {
    said.origin = origin_word(reading, entry);
    return said;
  }
  const auto below = [&](const toml::node& node, std::string_view key) {
    return Entry{&node, fmt::format("{}.{}", entry.path, key),
                 fmt::format("{}.{}", entry.where, key)};
  };
  if (const auto* from = table->get("from"))
    said.origin = origin_word(reading, below(*from, "from"));
  if (const auto* give = table->get("give_or_take")) {
    read_give_or_take(reading, below(*give, "give_or_take"), path, said);
  }
  for (const auto& [key, node] : *table) {
    if (key.str() == "from" || key.str() == "give_or_take") continue;
    reading.blame(below(node, key.str()), "no such key",
                  nearest_word(key.str(), {"from", "give_or_take"}));
  }
  return said;
}

// The line of [origin] for a number: its own, or that of the nearest path above it.
Said* said_of(std::map<std::string, Said>& lines, std::string where) {
  while (!where.empty()) {
    const auto found = lines.find(where);
    if (found != lines.end()) return &found->second;
    const std::size_t cut = where.find_last_of(".[");
    where.resize(cut == std::string::npos ? 0 : cut);
  }
  return nullptr;
}

std::vector<std::string> given_keys(const Reading& reading) {
  std::vector<std::string> keys;
  for (const Given& given : reading.given) {
    std::string key = given.value.key.substr(0, given.value.key.find('['));
    if (keys.empty() || keys.back() != key) keys.push_back(std::move(key));
  }
  return keys;
}

std::optional<Origin> apply_origin_table(Section& top, const toml::table& tree,
                                         std::map<std::string, Said>& lines) {
  std::optional<Entry> table = top.find("origin");
  Reading& reading = top.reading();
  for (const char* key : {"origin.default", "origin.*", "origin.*.from", "origin.*.give_or_take"}) {
    reading.know(key);
  }
  if (!table) return std::nullopt;
  if (!table->node->is_table()) {
    reading.blame(*table, "must be a table: [origin] with its keys below it");
    return std::nullopt;
  }
  std::optional<Origin> otherwise;
  Leaves leaves;
  const auto whole = [](const toml::table& value) {
    return value.empty() || value.contains("from") || value.contains("give_or_take");
  };
  collect(*table, "", whole, leaves);
  for (const auto& [path, entry] : leaves) {
    if (reading.full()) break;
    if (path == "default") {
      otherwise = origin_word(reading, entry);
    } else {
      lines.emplace(by_number(tree, path), read_said(reading, path, entry));
    }
  }
  return otherwise;
}

void example_number(const toml::node& node, const std::string& path, const toml::table& tree,
                    std::multimap<std::string, double>& examples) {
  if (const toml::array* list = node.as_array()) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      example_number(*list->get(i), fmt::format("{}[{}]", path, i), tree, examples);
    }
  } else if (node.is_number()) {
    examples.emplace(by_number(tree, path),
                     node.value<double>().value_or(0.0) * unit_of(path).factor);
  }
}

// The example numbers by where they would stand; a line for a number not given says nothing.
std::multimap<std::string, double> read_examples(Section& top, const toml::table& tree) {
  std::multimap<std::string, double> examples;
  const std::optional<Entry> table = top.find("example");
  top.reading().know("example.*");
  if (!table) return examples;
  if (!table->node->is_table()) {
    top.reading().blame(*table, "must be a table: [example] with its keys below it");
    return examples;
  }
  Leaves leaves;
  collect(
      *table, "", [](const toml::table&) { return false; }, leaves);
  for (const auto& [path, entry] : leaves) {
    if (!entry.node->is_number() && !entry.node->is_array()) {
      top.reading().blame(entry, "must be the example's number");
    }
    example_number(*entry.node, path, tree, examples);
  }
  return examples;
}

}  // namespace

void read_origins(Section& top, const toml::table& tree) {
  Reading& reading = top.reading();
  std::map<std::string, Said> lines;
  const std::optional<Origin> otherwise = apply_origin_table(top, tree, lines);
  const std::multimap<std::string, double> examples = read_examples(top, tree);
  for (Given& given : reading.given) {
    Said* said = said_of(lines, given.where);
    const auto [first, last] = examples.equal_range(given.where);
    const bool untouched = std::any_of(
        first, last, [&](const auto& example) { return example.second == given.value.number; });
    if (said != nullptr) said->used = true;
    given.value.origin = otherwise.value_or(Origin::not_said);
    if (untouched) given.value.origin = Origin::example;
    // What is set for the occasion is no measurement, whatever the file says of its own number.
    if (given.value.line == 0) given.value.origin = Origin::assumed;
    if (said == nullptr || given.value.line == 0) continue;
    if (said->origin) given.value.origin = *said->origin;
    given.value.give_or_take = said->give_or_take;
  }
  for (const auto& [where, said] : lines) {
    if (said.used || reading.full()) continue;
    const std::string path = said.entry.path.substr(std::string_view("origin.").size());
    reading.blame(said.entry, "no number is given under this key",
                  nearest_word(path, given_keys(reading)));
  }
}

}  // namespace twoturn::reading
