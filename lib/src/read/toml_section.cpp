#include "toml_section.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "twoturn/read/profile.hpp"

namespace twoturn::reading {
namespace {

std::string joined(std::string_view path, std::string_view key) {
  std::string whole;
  whole.reserve(path.size() + 1 + key.size());
  if (!path.empty()) whole.append(path).push_back('.');
  return whole.append(key);
}

const toml::table& empty_table() {
  static const toml::table empty;
  return empty;
}

// "[[pulley]]" for "pulley.*.teeth", "[belt]" for "belt.pitch_mm".
std::string table_of(const std::string& pattern) {
  std::string table;
  std::string segment;
  bool repeated = false;
  for (std::size_t at = 0; at < pattern.size();) {
    const std::size_t dot = std::min(pattern.find('.', at), pattern.size());
    if (!segment.empty()) {
      if (segment == "*") {
        repeated = true;
      } else {
        repeated = false;
        table = joined(table, segment);
      }
    }
    segment = pattern.substr(at, dot - at);
    at = dot + 1;
  }
  if (table.empty()) return "the top, above the first [table]";
  return repeated ? fmt::format("[[{}]]", table) : fmt::format("[{}]", table);
}

// The table that has this very key, or "".
std::string home_of(std::string_view key) {
  static const std::vector<std::string> all = profile_keys();
  const std::string ending = fmt::format(".{}", key);
  for (const std::string& known : all) {
    const bool top = known == key;
    const bool inside = known.size() > ending.size() &&
                        known.compare(known.size() - ending.size(), ending.size(), ending) == 0;
    if (top || inside) return table_of(known);
  }
  return "";
}

}  // namespace

Section::Section(const toml::table& table, std::string path, std::string where, std::string pattern,
                 Reading& reading)
    : table_(&table),
      reading_(&reading),
      path_(std::move(path)),
      where_(std::move(where)),
      pattern_(std::move(pattern)) {
  if (!reading.surveying) {
    reading.nodes.emplace_back(where_, &table);
  }
}

Entry Section::entry(std::string_view key, const toml::node& node) const {
  return {&node, joined(path_, key), under_mm(joined(where_, key))};
}

std::optional<Entry> Section::find(std::string_view key) {
  constexpr std::size_t kUsual = 32;
  if (asked_.empty()) asked_.reserve(kUsual);
  asked_.emplace_back(key);
  if (reading_->surveying) reading_->know(joined(pattern_, key));
  const toml::node* node = table_->get(key);
  if (node == nullptr) return std::nullopt;
  Entry found = entry(key, *node);
  reading_->nodes.emplace_back(found.where, node);
  return found;
}

std::optional<Entry> Section::find_length(std::string_view stem) {
  std::optional<Entry> first;
  std::string key(stem);
  for (const std::string_view ending : {"_mm", "_in", "_thou"}) {
    std::optional<Entry> found = find(key.replace(stem.size(), std::string::npos, ending));
    if (found && first) {
      if (reading_->blamed.count(found->where) > 0) continue;
      reading_->blame(
          *found, fmt::format("the same length stands twice, {} as well; keep one", first->path));
    } else if (found) {
      first = std::move(found);
    }
  }
  return first;
}

std::optional<double> Section::number(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? reading_->number(*found) : std::nullopt;
}

std::optional<double> Section::length(std::string_view stem) {
  const std::optional<Entry> found = find_length(stem);
  return found ? reading_->number(*found) : std::nullopt;
}

std::optional<double> Section::torque(std::string_view stem) {
  const std::optional<Entry> metric = find(std::string(stem).append("_nm"));
  const std::optional<Entry> pounds = find(std::string(stem).append("_lbf_ft"));
  if (metric && pounds) {
    reading_->blame(
        *pounds, fmt::format("the same torque stands twice, {} as well; keep one", metric->path));
    return std::nullopt;
  }
  const std::optional<Entry>& found = metric ? metric : pounds;
  return found ? reading_->number(*found) : std::nullopt;
}

std::optional<Vec2> Section::position(std::string_view stem) {
  const std::optional<Entry> found = find_length(stem);
  return found ? reading_->position(*found) : std::nullopt;
}

std::vector<Vec2> Section::positions(std::string_view stem) {
  constexpr std::size_t kMost = 1000;
  const std::optional<Entry> found = find_length(stem);
  if (!found) return {};
  const toml::array* points = found->node->as_array();
  if (points == nullptr || points->size() > kMost) {
    reading_->blame(*found, points == nullptr
                                ? "must be a list of points, [[right, up], [right, up], ...]"
                                : fmt::format("must be {} points at most", kMost));
    return {};
  }
  std::vector<Vec2> read;
  for (std::size_t i = 0; i < points->size(); ++i) {
    if (const auto point = reading_->position(found->element(i))) read.push_back(*point);
  }
  if (read.size() == points->size()) return read;
  reading_->blamed.insert(found->where);  // the whole list, for a point of it
  return {};
}

template <class Value, class Read>
std::vector<Value> Section::list_of(std::string_view key, const Read& read) {
  constexpr std::size_t kMost = 100;
  const std::optional<Entry> found = find(key);
  if (!found) return {};
  const toml::array* list = found->node->as_array();
  if (list == nullptr || list->size() > kMost) {
    reading_->blame(*found, list == nullptr
                                ? "must be a list of numbers in brackets, one for each cylinder"
                                : fmt::format("must be {} numbers at most", kMost));
    return {};
  }
  std::vector<Value> values;
  for (std::size_t i = 0; i < list->size(); ++i) {
    if (const auto value = read(found->element(i))) values.push_back(*value);
  }
  return values.size() == list->size() ? values : std::vector<Value>{};
}

std::vector<double> Section::numbers(std::string_view key) {
  return list_of<double>(key, [this](const Entry& one) { return reading_->number(one); });
}

std::vector<int> Section::counts(std::string_view key) {
  return list_of<int>(key, [this](const Entry& one) { return reading_->count(one); });
}

std::optional<std::pair<int, int>> Section::two_counts(std::string_view key) {
  const std::optional<Entry> found = find(key);
  if (!found) return std::nullopt;
  const toml::array* list = found->node->as_array();
  if (list == nullptr || list->size() != 2) {
    reading_->blame(*found, "must be two counts in brackets: [27, 66]");
    return std::nullopt;
  }
  const std::optional<int> first = reading_->count(found->element(0));
  const std::optional<int> second = reading_->count(found->element(1));
  if (!first || !second) return std::nullopt;
  return std::pair(*first, *second);
}

std::optional<double> Section::clock(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? reading_->clock(*found) : std::nullopt;
}

std::optional<int> Section::count(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? reading_->count(*found) : std::nullopt;
}

std::optional<std::string> Section::text(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? reading_->text(*found) : std::nullopt;
}

std::optional<bool> Section::yes_no(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? reading_->yes_no(*found) : std::nullopt;
}

std::optional<Section> Section::table(std::string_view key) {
  const std::optional<Entry> found = find(key);
  const std::string pattern = joined(pattern_, key);
  if (reading_->surveying) return Section(empty_table(), "", "", pattern, *reading_);
  if (!found) return std::nullopt;
  const toml::table* inner = found->node->as_table();
  if (inner == nullptr) {
    reading_->blame(*found,
                    found->node->is_array_of_tables()
                        ? fmt::format("stands once: write [{}] with one pair of brackets", key)
                        : fmt::format("must be a table: [{}] with its keys below it", key));
    return std::nullopt;
  }
  return Section(*inner, found->path, found->where, pattern, *reading_);
}

std::vector<Section> Section::tables(std::string_view key, std::size_t most) {
  const std::optional<Entry> found = find(key);
  const std::string pattern = joined(joined(pattern_, key), "*");
  std::vector<Section> read;
  if (reading_->surveying) {
    read.push_back(Section(empty_table(), "", "", pattern, *reading_));
    return read;
  }
  if (!found) return read;
  const toml::array* list = found->node->as_array();
  if (list == nullptr || (!list->empty() && !list->is_homogeneous<toml::table>())) {
    reading_->blame(*found, fmt::format("write {} with two pairs of brackets, once for each",
                                        table_of(joined(pattern, "key"))));
    return read;
  }
  if (list->size() > most) {
    reading_->blame(*found, fmt::format("must be {} at most, not {}", most, list->size()));
    return read;
  }
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::table& element = *list->get_as<toml::table>(i);
    const std::string number = std::to_string(i + 1);
    const std::string name = element["name"].value_or(std::string());
    read.push_back(Section(element, joined(found->path, name.empty() ? number : name),
                           joined(found->where, number), pattern, *reading_));
  }
  return read;
}

std::vector<std::pair<std::string, Entry>> Section::entries_of(const Entry& table,
                                                               std::string_view key) {
  std::vector<std::pair<std::string, Entry>> entries;
  const toml::table* named = table.node->as_table();
  if (named == nullptr) {
    reading_->blame(table, fmt::format("must be a table by name: {} = {{ NAME = ... }}", key));
    return entries;
  }
  constexpr std::size_t kMost = 200;
  if (named->size() > kMost) {
    reading_->blame(table, fmt::format("must be {} at most, not {}", kMost, named->size()));
    return entries;
  }
  for (const auto& [name, node] : *named) {
    const std::string text(name.str());
    const Entry found{&node, joined(table.path, text), joined(table.where, text)};
    reading_->nodes.emplace_back(found.where, &node);
    entries.emplace_back(text, found);
  }
  return entries;
}

std::vector<std::pair<std::string, Entry>> Section::by_name(std::string_view key) {
  const std::optional<Entry> found = find(key);
  reading_->know(joined(joined(pattern_, key), "*"));
  if (reading_->surveying) return {{"*", {&empty_table(), "", ""}}};
  if (!found) return {};
  return entries_of(*found, key);
}

std::vector<std::pair<std::string, Entry>> Section::lengths_by_name(std::string_view stem) {
  std::vector<std::pair<std::string, Entry>> all;
  for (const std::string_view ending : {"_mm", "_in", "_thou"}) {
    const std::string key = fmt::format("{}{}", stem, ending);
    const std::optional<Entry> found = find(key);
    reading_->know(fmt::format("{}.*", joined(pattern_, key)));
    if (!found) continue;
    if (!found->node->is_table()) all.emplace_back("", *found);
    if (!found->node->is_table()) continue;
    for (auto& entry : entries_of(*found, key)) all.push_back(std::move(entry));
  }
  return all;
}

Section Section::named_table(const std::pair<std::string, Entry>& entry, std::string_view key) {
  const std::string pattern = joined(joined(pattern_, key), "*");
  const toml::table* inner = entry.second.node->as_table();
  if (inner == nullptr) {
    reading_->blame(entry.second, "must be a table: { teeth = ..., diameter_mm = ... }");
    inner = &empty_table();
  }
  return Section(*inner, entry.second.path, entry.second.where, pattern, *reading_);
}

std::string Section::nearest_key(std::string_view key) const {
  const std::string begun = fmt::format("{}_", key);
  for (const std::string& asked : asked_) {
    if (asked.substr(0, begun.size()) == begun) return asked;
  }
  return nearest_word(key, asked_);
}

void Section::blame_unknown(const toml::key& key, const toml::node& node) {
  Problem problem;
  const Place at = reading_->place(key.source());
  // A key put there by a setting has no place, nor has its value.
  const Place value_at = reading_->place(node.source());
  problem.key = joined(path_, key.str());
  problem.file = value_at.line == 0 ? value_at.file : at.file;
  problem.line = value_at.line == 0 ? 0 : at.line;
  problem.column = value_at.line == 0 ? 0 : at.column;
  problem.rule = "no such key";
  const std::string elsewhere =
      reading_->keys_of == Kind::profile ? home_of(key.str()) : std::string();
  if (elsewhere.empty()) {
    problem.nearest = nearest_key(key.str());
  } else {
    problem.rule = fmt::format("no such key here; it belongs in {}", elsewhere);
  }
  reading_->blamed.insert(joined(where_, key.str()));
  if (!problem.nearest.empty()) reading_->blamed.insert(joined(where_, problem.nearest));
  reading_->add(std::move(problem));
}

void Section::finish() {
  if (reading_->surveying) return;
  for (const auto& [key, node] : *table_) {
    if (reading_->full()) return;
    const std::string_view text = key.str();
    if (std::find(asked_.begin(), asked_.end(), text) == asked_.end()) blame_unknown(key, node);
  }
}

}  // namespace twoturn::reading
