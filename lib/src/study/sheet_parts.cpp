#include "sheet_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
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

std::string put(SheetLine& line, std::string key, double value, int digits) {
  line.numbers.push_back({std::move(key), value, ""});
  return fixed(value, digits);
}

std::string put_whole(SheetLine& line, std::string key, double value) {
  return put(line, std::move(key), std::round(value), 0);
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

}  // namespace twoturn::sheet
