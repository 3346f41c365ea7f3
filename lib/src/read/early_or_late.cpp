#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "profile_parts.hpp"
#include "twoturn/base/parse_number.hpp"

namespace twoturn::reading {
namespace {

struct UnitWord {
  std::string_view word;
  std::string_view unit;  ///< as `unit_of` names it; teeth have none
};
constexpr std::array<UnitWord, 11> kUnitWords{{{"tooth", ""},
                                               {"teeth", ""},
                                               {"mm", "mm"},
                                               {"inches", "in"},
                                               {"inch", "in"},
                                               {"in", "in"},
                                               {"thou", "thou"},
                                               {"crank degrees", "deg"},
                                               {"crank deg", "deg"},
                                               {"degrees", "deg"},
                                               {"deg", "deg"}}};

// The unit that the words begin with, which are then cut to what follows it.
const UnitWord* unit_said(std::string_view& words) {
  for (const UnitWord& known : kUnitWords) {
    if (words.substr(0, known.word.size()) != known.word) continue;
    const std::string_view behind = words.substr(known.word.size());
    if (behind.empty() || behind[0] != ' ') continue;
    words = toml_text::trimmed(behind);
    return &known;
  }
  return nullptr;
}

// "1 late", "2 teeth early", "1.5 advanced", "right": the number, late negative; or why not.
struct EarlyOrLate {
  double value = 0.0;
  std::string fault;
};
EarlyOrLate early_or_late(std::string_view said, std::string_view key_unit) {
  const EarlyOrLate neither{0.0,
                            "must be a number, early above 0 and late below it, or words like \"1 "
                            "late\", \"2 early\" and \"right\""};
  said = toml_text::trimmed(said);
  if (said == "right") return {0.0, ""};
  const std::size_t end = std::min(said.find(' '), said.size());
  const std::string_view number = said.substr(0, end);
  if (!toml_text::is_number(number) || number[0] == '+' || number[0] == '-') return neither;
  const std::optional<double> value = parsed_number(number);
  std::string_view words = toml_text::trimmed(said.substr(end));
  const UnitWord* unit = unit_said(words);
  const bool early = words == "early" || words == "advanced";
  if (!early && words != "late" && words != "retarded") return neither;
  if (unit != nullptr && unit->unit != key_unit) {
    return {0.0, fmt::format("must be in {}, as its key says, not in {}",
                             key_unit.empty() ? "teeth" : key_unit, unit->word)};
  }
  if (!value) return {0.0, "must be smaller: no such number"};
  return {early || *value == 0.0 ? *value : -*value, ""};
}

}  // namespace

std::optional<double> read_early_or_late(Reading& reading, const Entry& entry) {
  const auto* text = entry.node->as_string();
  if (text == nullptr || toml_text::is_number(text->get())) return reading.number(entry);
  const Unit unit = unit_of(entry.path);
  EarlyOrLate read = early_or_late(text->get(), unit.name);
  if (!read.fault.empty()) {
    reading.blame(entry, std::move(read.fault));
    return std::nullopt;
  }
  const double value = read.value * unit.factor;
  reading.note(entry, value);
  return value;
}

}  // namespace twoturn::reading
