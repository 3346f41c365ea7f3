#include "toml_tree.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "toml_section.hpp"
#include "toml_text.hpp"
#include "twoturn/base/parse_number.hpp"
#include "twoturn/base/utf8.hpp"

namespace twoturn::reading {
namespace {

// The longest paths worth walking; a longer one names nothing.
constexpr std::size_t kLongestPath = 300;

// True where `path` goes on behind its first `length` characters, or ends there.
bool ends_segment(std::string_view path, std::size_t length) {
  return length == path.size() || path[length] == '.';
}

bool starts_with_name(std::string_view path, std::string_view name) {
  return !name.empty() && path.substr(0, name.size()) == name && ends_segment(path, name.size());
}

std::string name_of(const toml::node& element) {
  const toml::table* table = element.as_table();
  return table == nullptr ? "" : (*table)["name"].value_or(std::string());
}

std::string_view behind(std::string_view path, std::size_t length) {
  return length >= path.size() ? std::string_view() : path.substr(length + 1);
}

// One step down: how much of the path it used, and the number or key of what it found.
struct Step {
  std::size_t used = 0;
  std::size_t index = 0;  ///< of an array's element
};

// The element of an array of tables that the path names first, by name or by number from 1.
std::optional<Step> element_step(const toml::array& list, std::string_view path) {
  std::optional<Step> best;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string name = name_of(list[i]);
    if (starts_with_name(path, name) && (!best || name.size() > best->used)) {
      best = Step{name.size(), i};
    }
  }
  if (best) return best;
  const std::size_t end = std::min(path.find('.'), path.size());
  const std::optional<int> number = parsed_whole(path.substr(0, end));
  if (!number || *number < 1) return std::nullopt;
  const auto index = static_cast<std::size_t>(*number) - 1;
  return index < list.size() ? std::optional(Step{end, index}) : std::nullopt;
}

// The longest key of a table that the path starts with.
std::optional<Step> key_step(const toml::table& table, std::string_view path) {
  for (std::size_t end = path.size(); end > 0; --end) {
    if (ends_segment(path, end) && table.contains(path.substr(0, end))) return Step{end, 0};
  }
  return std::nullopt;
}

std::vector<std::string> names_in(const toml::array& list) {
  std::vector<std::string> names;
  for (const toml::node& element : list) {
    std::string name = name_of(element);
    if (!name.empty()) names.push_back(std::move(name));
  }
  return names;
}

// The names of all pulleys, heads, shafts and covers: they may hold a dot.
std::vector<std::string> all_names(const toml::table& tree) {
  std::vector<std::string> names;
  for (const auto& [key, node] : tree) {
    const toml::array* list = node.as_array();
    if (list == nullptr) continue;
    for (std::string& name : names_in(*list)) names.push_back(std::move(name));
  }
  return names;
}

// The next key on the way to something that is not there yet.
std::size_t new_segment(std::string_view path, const std::vector<std::string>& names) {
  std::size_t longest = 0;
  for (const std::string& name : names) {
    if (starts_with_name(path, name)) longest = std::max(longest, name.size());
  }
  return longest > 0 ? longest : std::min(path.find('.'), path.size());
}

// A table with the setting's value under the key "x": TOML if it is that, else a bare word.
toml::table value_of(const std::string& text) {
  if (toml_text::unreadable(text).empty()) {
    try {
      toml::table parsed = toml::parse(fmt::format("x = {}\n", toml_text::with_zero(text)));
      if (parsed.size() == 1 && parsed.contains("x") && text.find('\n') == std::string::npos) {
        return parsed;
      }
    } catch (const toml::parse_error&) {
      // A bare word, then.
    }
  }
  toml::table word;
  word.insert("x", text);
  return word;
}

// The same length under its other units gives way to the new one. `below` is what follows the key:
// the head's name in build.skim_mm.head.
void drop_other_units(toml::table& table, std::string_view key, std::string_view below) {
  const std::string wanted = under_mm(key);
  std::vector<std::string> others;
  for (const auto& [other, node] : table) {
    if (under_mm(other.str()) == wanted && other.str() != key) others.emplace_back(other.str());
  }
  for (const std::string& other : others) {
    toml::table* by_name = table[other].as_table();
    if (by_name == nullptr || below.empty()) {
      table.erase(other);
    } else {
      by_name->erase(below);
    }
  }
}

Problem set_problem(const Override& setting, std::string rule, std::string nearest = "") {
  Problem problem;
  problem.key = shown_text(setting.key);
  problem.value = shown_text(setting.value);
  problem.rule = std::move(rule);
  problem.nearest = std::move(nearest);
  problem.file = "--set";
  return problem;
}

// Puts the value where the rest of the path says, below a table that is there.
void put(toml::table& table, std::string_view rest, const std::vector<std::string>& names,
         const toml::node& value) {
  toml::table* at = &table;
  while (true) {
    const std::size_t end = new_segment(rest, names);
    const std::string key(rest.substr(0, end));
    rest = behind(rest, end);
    drop_other_units(*at, key, rest);
    if (rest.empty()) {
      at->insert_or_assign(key, value);
      return;
    }
    at = at->insert_or_assign(key, toml::table()).first->second.as_table();
  }
}

// "at_mm[0]" as the list and the place in it.
bool put_in_list(toml::table& table, std::string_view rest, const toml::node& value) {
  const std::size_t open = rest.find('[');
  if (open == std::string_view::npos || rest.back() != ']') return false;
  toml::array* list = table[rest.substr(0, open)].as_array();
  const std::optional<int> number = parsed_whole(rest.substr(open + 1, rest.size() - open - 2));
  if (list == nullptr || !number) return false;
  const auto index = static_cast<std::size_t>(*number);
  if (index >= list->size()) return false;
  list->replace(list->cbegin() + static_cast<std::ptrdiff_t>(index), value);
  return true;
}

}  // namespace

std::string by_number(const toml::table& tree, std::string_view path) {
  const std::string mm = under_mm(path);
  if (path.size() > kLongestPath) return mm;
  std::string numbered;
  std::string_view rest = path;
  const toml::node* node = &tree;
  while (!rest.empty()) {
    std::optional<Step> step;
    const toml::node* next = nullptr;
    std::string segment;
    if (const toml::table* table = node->as_table()) {
      step = key_step(*table, rest);
      if (step) {
        segment = rest.substr(0, step->used);
        next = table->get(segment);
      }
    } else if (node->is_array_of_tables()) {
      step = element_step(*node->as_array(), rest);
      if (step) {
        segment = std::to_string(step->index + 1);
        next = node->as_array()->get(step->index);
      }
    }
    if (!step) break;
    numbered += (numbered.empty() ? "" : ".") + segment;
    rest = behind(rest, step->used);
    node = next;
  }
  if (!rest.empty()) numbered += (numbered.empty() ? "" : ".") + std::string(rest);
  return under_mm(numbered);
}

std::vector<Problem> apply(const Override& setting, toml::table& tree) {
  std::string_view rest = setting.key;
  if (rest.empty() || rest.size() > kLongestPath || rest.front() == '.' || rest.back() == '.' ||
      rest.find("..") != std::string_view::npos) {
    return {set_problem(setting, "must be KEY=VALUE with a key such as pulley.cam.teeth")};
  }
  const toml::table value = value_of(setting.value);
  const std::vector<std::string> names = all_names(tree);
  toml::table* table = &tree;
  while (const std::optional<Step> step = key_step(*table, rest)) {
    const std::string_view further = behind(rest, step->used);
    toml::node* next = table->get(rest.substr(0, step->used));
    if (further.empty()) break;
    if (next->is_array_of_tables()) {
      toml::array& list = *next->as_array();
      const std::optional<Step> element = element_step(list, further);
      if (!element) {
        const std::string_view wanted = further.substr(0, further.find('.'));
        return {set_problem(setting,
                            fmt::format("no {} of {} is named \"{}\"", rest.substr(0, step->used),
                                        list.size(), shown_text(wanted)),
                            nearest_choice(wanted, names_in(list)))};
      }
      rest = behind(further, element->used);
      table = list[element->index].as_table();
      if (rest.empty()) {
        return {set_problem(setting, "names a whole table; go on with one of its keys")};
      }
    } else if (next->is_table()) {
      drop_other_units(*table, rest.substr(0, step->used), further);
      rest = further;
      table = next->as_table();
    } else {
      break;
    }
  }
  if (!put_in_list(*table, rest, *value.get("x"))) put(*table, rest, names, *value.get("x"));
  return {};
}

}  // namespace twoturn::reading
