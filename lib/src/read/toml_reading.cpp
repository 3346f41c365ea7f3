#include <fmt/format.h>

#include <array>
#include <cmath>
#include <sstream>

#include "toml_section.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/parse_number.hpp"
#include "twoturn/base/utf8.hpp"

namespace twoturn::reading {
namespace {

struct Ending {
  std::string_view ending;
  Unit unit;
};

constexpr std::array kEndings{
    Ending{"_n_mm", {"N/mm", 1.0}},
    Ending{"_n_mm2", {"N/mm2", 1.0}},
    Ending{"_mm", {"mm", 1.0}},
    Ending{"_in", {"in", kMmPerInch}},
    Ending{"_deg", {"deg", 1.0}},
    Ending{"_thou", {"thou", kMmPerThou}},
    Ending{"_n", {"N", 1.0}},
    Ending{"_percent", {"%", 1.0}},
    Ending{"_cc", {"cc", 1.0}},
    Ending{"_nm", {"Nm", 1.0}},
    Ending{"_lbf_ft", {"lbf ft", kNmPerLbfFt}},
};

bool ends_with(std::string_view text, std::string_view ending) {
  return text.size() >= ending.size() && text.substr(text.size() - ending.size()) == ending;
}

std::string_view without_places(std::string_view key) {
  while (!key.empty() && key.back() == ']') {
    const std::size_t open = key.rfind('[');
    if (open == std::string_view::npos) break;
    key = key.substr(0, open);
  }
  return key;
}

// Tables whose keys are names that people gave: what a name ends in is no unit.
constexpr std::array<std::string_view, 8> kByName{
    "build.skim_",      "build.block_skim_",   "build.gasket_change_",
    "build.teeth_out.", "build.adjusted_deg.", "seen.mark_",
    "seen.pin.",        "seen.prior."};

// In "build.skim_in.head" the dot before "head"; npos where no name ends the key.
std::size_t dot_before_name(std::string_view key) {
  // None of them begins otherwise; every key is asked.
  if (key.empty() || (key.front() != 'b' && key.front() != 's')) return std::string_view::npos;
  for (const std::string_view start : kByName) {
    if (key.substr(0, start.size()) == start) return key.find('.', key.find('.') + 1);
  }
  return std::string_view::npos;
}

std::string_view kind(const toml::node& node) {
  if (node.is_integer()) return "a whole number";
  if (node.is_floating_point()) return "a number";
  if (node.is_string()) return "text";
  if (node.is_boolean()) return "true or false";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table";
  return "a date or time";
}

// Of an integer or a floating-point number; 0 of anything else.
double raw_number(const toml::node& node) {
  if (const auto* integer = node.as_integer()) return static_cast<double>(integer->get());
  const auto* floating = node.as_floating_point();
  return floating != nullptr ? floating->get() : 0.0;
}

std::string wrong_kind(const toml::node& node, std::string_view wanted, std::string_view unit) {
  std::string rule = fmt::format("must be {}, not {}", wanted, kind(node));
  const auto* text = node.as_string();
  if (text == nullptr) return rule;
  const std::string_view said = toml_text::trimmed(text->get());
  const std::string point = toml_text::with_point(said);
  if (toml_text::is_number(said)) {
    return rule + fmt::format("; write {} without the quotes", said);
  }
  if (!point.empty()) {
    return rule +
           fmt::format("; write {} with a point for the comma and without the quotes", point);
  }
  const std::size_t end = said.find_first_not_of("+-.0123456789");
  if (end != std::string_view::npos && toml_text::is_number(said.substr(0, end))) {
    rule += fmt::format("; write the number {} alone{}", said.substr(0, end),
                        unit.empty() ? "" : fmt::format(", the key already says {}", unit));
  }
  return rule;
}

// Degrees of "H:MM" or "H o'clock", clockwise from 12.
std::optional<double> clock_time(std::string_view said) {
  said = toml_text::trimmed(said);
  const auto whole = [](std::string_view digits) -> std::optional<int> {
    return digits.size() > 2 ? std::nullopt : parsed_whole(digits);
  };
  const std::size_t colon = said.find(':');
  const std::size_t oclock = said.find(" o'clock");
  const bool round = colon == std::string_view::npos && ends_with(said, " o'clock");
  if (colon == std::string_view::npos && !round) return std::nullopt;
  const std::optional<int> hours = whole(said.substr(0, round ? oclock : colon));
  const std::string_view minute_digits = round ? "00" : said.substr(colon + 1);
  const std::optional<int> minutes = whole(minute_digits);
  if (!hours || !minutes || minute_digits.size() != 2 || *hours > 12 || *minutes > 59) {
    return std::nullopt;
  }
  return 30.0 * (*hours % 12) + 0.5 * *minutes;
}

}  // namespace

Unit unit_of(std::string_view key) {
  const std::size_t named = dot_before_name(key);
  key = named == std::string_view::npos ? without_places(key) : key.substr(0, named);
  if (ends_with(key, "pins_in")) return {};  // counted in, no inches
  for (const Ending& known : kEndings) {
    if (ends_with(key, known.ending)) return known.unit;
  }
  return {};
}

std::string under_mm(std::string_view key) {
  const std::size_t named = dot_before_name(key);
  const std::string_view with_unit =
      named == std::string_view::npos ? without_places(key) : key.substr(0, named);
  const std::string_view behind = key.substr(with_unit.size());
  constexpr std::string_view kPounds = "_lbf_ft";
  if (ends_with(with_unit, kPounds)) {
    return fmt::format("{}_nm{}", with_unit.substr(0, with_unit.size() - kPounds.size()), behind);
  }
  for (const std::string_view ending : {"_in", "_thou"}) {
    if (!ends_with(with_unit, ending)) continue;
    return fmt::format("{}_mm{}", with_unit.substr(0, with_unit.size() - ending.size()), behind);
  }
  return std::string(key);
}

std::string listed(const std::vector<std::string>& words) {
  std::string list;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) list += i + 1 == words.size() ? " or " : ", ";
    list += fmt::format("\"{}\"", words[i]);
  }
  return list;
}

std::string nearest_choice(std::string_view said, const std::vector<std::string>& words) {
  constexpr std::size_t kLeast = 3;
  for (const std::string& word : words) {
    if (said.size() >= kLeast && word.compare(0, said.size(), said) == 0) return word;
  }
  return nearest_word(said, words);
}

Entry Entry::element(std::size_t index) const {
  const std::string place = '[' + std::to_string(index) + ']';
  return {node->as_array()->get(index), path + place, where + place};
}

std::string Reading::written(const toml::node& node) const {
  const toml::source_region& region = node.source();
  if (region.begin.line != 0) {
    return lines_.between(static_cast<int>(region.begin.line),
                          static_cast<int>(region.begin.column), static_cast<int>(region.end.line),
                          static_cast<int>(region.end.column));
  }
  if (const auto* text = node.as_string()) return fmt::format("\"{}\"", text->get());
  if (const auto* number = node.as_floating_point()) return fmt::format("{}", number->get());
  std::ostringstream out;
  node.visit([&out](const auto& value) { out << value; });
  return out.str();
}

Place Reading::place(const toml::source_region& region) const {
  if (region.begin.line == 0) return {"--set", 0, 0};
  return {file_, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

const TableText* Reading::table(const std::string& name) {
  if (!find_table) return nullptr;
  const auto had = tables_.find(name);
  if (had != tables_.end()) return &had->second;
  return &tables_.emplace(name, find_table(name)).first->second;
}

void Reading::blame(const Entry& entry, std::string rule, std::string nearest) {
  blamed.insert(entry.where);
  if (full()) return;
  const bool whole = !entry.node->is_table() && !entry.node->is_array_of_tables();
  const Place at = place(entry.node->source());
  Problem problem;
  problem.key = entry.path;
  if (whole) problem.value = shown_text(written(*entry.node));
  const std::string_view unit = unit_of(entry.path).name;
  if (entry.node->is_number() && !unit.empty()) problem.value += fmt::format(" {}", unit);
  problem.rule = std::move(rule);
  problem.nearest = std::move(nearest);
  problem.file = at.file;
  problem.line = at.line;
  problem.column = at.column;
  problems.push_back(std::move(problem));
}

void Reading::note(const Entry& entry, double number) {
  const toml::source_position at = entry.node->source().begin;  // line 0: set for the occasion
  const std::string_view unit = unit_of(entry.path).name;
  Given found;
  found.value.key = under_mm(entry.path);
  found.value.text = written(*entry.node);
  if (!unit.empty() && entry.node->is_number()) found.value.text.append(1, ' ').append(unit);
  found.value.number = number;
  found.value.line = static_cast<int>(at.line);
  found.where = entry.where;
  found.column = at.line == 0 ? 0 : static_cast<int>(at.column);
  given.push_back(std::move(found));
}

std::optional<double> Reading::number(const Entry& entry) {
  const std::optional<double> found = value(entry);
  if (found) note(entry, *found);
  return found;
}

std::optional<double> Reading::value(const Entry& entry) {
  if (!entry.node->is_number()) {
    blame(entry, wrong_kind(*entry.node, "a number", unit_of(entry.path).name));
    return std::nullopt;
  }
  const double value = raw_number(*entry.node) * unit_of(entry.path).factor;
  if (!std::isfinite(value)) {
    blame(entry, "must be a finite number");
    return std::nullopt;
  }
  return value;
}

std::optional<double> Reading::clock(const Entry& entry) {
  if (const auto* text = entry.node->as_string()) {
    const std::optional<double> degrees = clock_time(text->get());
    if (!degrees) {
      const bool time = text->get().find(':') != std::string::npos;
      blame(entry, time ? "must be degrees clockwise from 12 o'clock, or a time from \"0:00\" to "
                          "\"12:59\" with two digits for the minutes"
                        : wrong_kind(*entry.node,
                                     "degrees clockwise from 12 o'clock, or a time like \"4:30\"",
                                     "degrees"));
      return std::nullopt;
    }
    note(entry, *degrees);
    return degrees;
  }
  if (const auto* time = entry.node->as_time()) {
    const double degrees = 30.0 * (time->get().hour % 12) + 0.5 * time->get().minute;
    note(entry, degrees);
    return degrees;
  }
  return number(entry);
}

std::optional<int> Reading::count(const Entry& entry) {
  if (!entry.node->is_number()) {
    blame(entry, wrong_kind(*entry.node, "a whole number", ""));
    return std::nullopt;
  }
  const double value = raw_number(*entry.node);
  const std::optional<int> count = whole(entry, value);
  if (count) note(entry, value);
  return count;
}

std::optional<int> Reading::whole(const Entry& entry, double value) {
  constexpr double kMost = 1e9;
  if (std::abs(value) <= kMost && value == std::floor(value)) return static_cast<int>(value);
  const bool large = std::isfinite(value) && std::abs(value) > kMost;
  blame(entry, large ? "must be smaller: no such count" : "must be a whole number");
  return std::nullopt;
}

std::optional<std::string> Reading::text(const Entry& entry) {
  const auto* text = entry.node->as_string();
  if (text != nullptr) return text->get();
  const bool number = entry.node->is_number();
  blame(entry, wrong_kind(*entry.node, "text in quotes", "") +
                   (number ? fmt::format("; write \"{}\"", shown_text(written(*entry.node))) : ""));
  return std::nullopt;
}

std::optional<bool> Reading::yes_no(const Entry& entry) {
  const auto* flag = entry.node->as_boolean();
  if (flag != nullptr) return flag->get();
  blame(entry, fmt::format("must be true or false, without quotes, not {}", kind(*entry.node)));
  return std::nullopt;
}

std::optional<Vec2> Reading::position(const Entry& entry) {
  const toml::array* pair = entry.node->as_array();
  if (pair == nullptr) {
    blame(entry, wrong_kind(*entry.node, "two numbers in brackets, [right, up]", ""));
    return std::nullopt;
  }
  if (pair->size() != 2) {
    const bool commas = pair->size() > 2 && pair->size() <= 4;
    blame(entry, fmt::format("must be two numbers in brackets, [right, up], not {}{}", pair->size(),
                             commas ? "; was a decimal comma used? write 62.5, not 62,5" : ""));
    return std::nullopt;
  }
  const std::optional<double> right = number(entry.element(0));
  const std::optional<double> up = number(entry.element(1));
  if (!right || !up) return std::nullopt;
  return Vec2(*right, *up);
}

void Reading::know(const std::string& pattern) {
  if (surveying && known_.insert(pattern).second) keys.push_back(pattern);
}

}  // namespace twoturn::reading
