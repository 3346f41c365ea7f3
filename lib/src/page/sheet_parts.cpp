#include "sheet_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

constexpr std::string_view kNoBreak = "\u00a0";

bool ends_in_digit(std::string_view word) {
  return !word.empty() && std::isdigit(static_cast<unsigned char>(word.back())) != 0;
}

// Letters alone: "deg)," is deg.
std::string_view bare(std::string_view word) {
  const auto letter = [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; };
  const auto end = std::find_if_not(word.begin(), word.end(), letter);
  return word.substr(0, static_cast<std::size_t>(end - word.begin()));
}

bool is_unit(std::string_view word) {
  constexpr std::array<std::string_view, 12> kUnits{
      "mm", "deg", "tooth", "teeth", "turn", "turns", "thou", "of", "N", "Hz", "Nm", "min"};
  return std::find(kUnits.begin(), kUnits.end(), bare(word)) != kUnits.end();
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    words.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return words;
}

}  // namespace

std::vector<TimedShaft> timed_shafts(const DriveSpec& spec) {
  std::vector<TimedShaft> shafts;
  const auto add = [&shafts](const auto& given, std::optional<Fixing> fixing) {
    const std::optional<double> turns = turns_per_crank(given);
    if (!turns) return;
    TimedShaft shaft{given.name, given.role, std::abs(*turns), given.mark_deg, "", fixing};
    if (given.pin) shaft.held_by = given.pin->bar_mm ? "bar" : "pin";
    shafts.push_back(std::move(shaft));
  };
  for (const PulleySpec& pulley : spec.pulleys) add(pulley, pulley.fixing);
  for (const GearedSpec& geared : spec.geared) add(geared, std::nullopt);
  return shafts;
}

int pins_and_bars(const DriveSpec& spec) {
  const std::vector<TimedShaft> shafts = timed_shafts(spec);
  return static_cast<int>(std::count_if(shafts.begin(), shafts.end(), [](const TimedShaft& shaft) {
    return !shaft.held_by.empty();
  }));
}

std::string put(SheetLine& line, std::string key, double value, int digits) {
  line.numbers.push_back({std::move(key), value, ""});
  return fixed(value, digits);
}

std::string put_shortest(SheetLine& line, std::string key, double value, int digits) {
  line.numbers.push_back({std::move(key), value, ""});
  return shortest(value, digits);
}

std::string put_count(SheetLine& line, std::string key, long long value) {
  line.numbers.push_back({std::move(key), static_cast<double>(value), ""});
  return fmt::format("{}", value);
}

std::string put_clock(SheetLine& line, std::string key, double clock_deg) {
  const std::string face = sentences::clock_face(clock_deg);
  line.numbers.push_back({std::move(key), clock_deg, face});
  return fmt::format("{} ({} deg)", face, fixed(clock_deg, 1));
}

std::string put_degrees(SheetLine& line, const std::string& key, double crank_deg, double own_deg,
                        const std::string& own) {
  const std::string crank = put(line, key + "_crank_deg", crank_deg, 2) + " crank deg";
  if (own.empty()) return crank;
  return fmt::format("{} ({} {})", crank, put(line, key + "_own_deg", own_deg, 2), own);
}

SheetLine note(std::string text) { return {SheetLine::Kind::note, std::move(text)}; }

SheetLine tick(std::string text) { return {SheetLine::Kind::tick, std::move(text)}; }

std::string in_words(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

std::string turning(const DriveSpec& spec) {
  return spec.crank_turns ? std::string(word(*spec.crank_turns)) : "";
}

std::string keep_units(std::string_view text) {
  std::string joined;
  bool number = false;
  const std::vector<std::string_view> words = words_of(text);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool own_degrees = (words[i] == "crank" || words[i] == "cam") && i + 1 < words.size() &&
                             bare(words[i + 1]) == "deg";
    const bool joins = number && (own_degrees || is_unit(words[i]));
    if (i > 0) joined += joins ? kNoBreak : " ";
    joined += words[i];
    number = ends_in_digit(words[i]) || (joins && own_degrees);
  }
  return joined;
}

}  // namespace twoturn::sheet
