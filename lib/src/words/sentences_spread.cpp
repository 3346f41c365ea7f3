#include "sentences_spread.hpp"

#include <fmt/format.h>

#include <cmath>

#include "sentences.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/reading.hpp"

namespace twoturn::sentences {
namespace {

std::string_view said(SpreadLaw law) {
  switch (law) {
    case SpreadLaw::normal:
      return "normally about each number, 95 in 100 within its give-or-take";
    case SpreadLaw::uniform:
      return "evenly within each number's give-or-take";
    case SpreadLaw::limits:
      return "at one or the other limit of each number's give-or-take";
  }
  return "";
}

// With three decimals, which way behind it and the unit between: "0.412 late".
std::string out_by(double crank_deg, Direction direction, std::string_view unit) {
  constexpr int kDigits = 3;
  const std::string size = fixed(std::abs(crank_deg), kDigits) + std::string(unit);
  if (prints_as_nothing(crank_deg, kDigits)) return size;
  const bool early = crank_deg > 0.0;
  if (direction == Direction::assumed) return size + (early ? " one way" : " the other way");
  return size + (early ? " early" : " late");
}

}  // namespace

std::string word(SpreadLaw law) {
  switch (law) {
    case SpreadLaw::normal:
      return "normal";
    case SpreadLaw::uniform:
      return "uniform";
    case SpreadLaw::limits:
      return "limits";
  }
  return "";
}

std::string in_hundred(long long count, long long of) {
  constexpr double kHundred = 100.0;
  return fixed(kHundred * static_cast<double>(count) / static_cast<double>(of), 2);
}

std::string place(const SpreadAnswer& answer, double reading) {
  if (answer.kind != TensionerKind::swing) return fixed(reading, 2) + " mm";
  return "clock " + fixed(Angle::clock(reading).clock_deg(), 1);
}

std::string spread_first_line(const SpreadAnswer& answer) {
  const std::string low = place(answer, answer.reading.low);
  const std::string high = place(answer, answer.reading.high);
  if (!answer.kind) {
    return fmt::format(
        "A belt of {} teeth is too long by {} to {}, 95 times in 100 (below 0: too "
        "short).",
        *answer.belt_teeth, low, high);
  }
  return fmt::format(
      "A belt of {} teeth puts the tensioner between {} and {}, 95 times in 100; {} in 100 drives "
      "cannot be put together with it.",
      *answer.belt_teeth, low, high, in_hundred(answer.not_assembled, answer.samples));
}

std::string spread_thrown(const SpreadAnswer& answer) {
  const bool whole = answer.samples == answer.question.samples;
  std::string text = fmt::format(
      "{}{} drives, seed {}, thrown {}",
      whole ? "" : fmt::format("Interrupted: of {} asked for, ", answer.question.samples),
      answer.samples, answer.question.seed, said(answer.question.law));
  for (const auto& [key, law] : answer.question.laws) {
    text += fmt::format("; {}: {}", key, word(law));
  }
  return text + ".";
}

std::string spread_error(const SpreadAnswer& answer, const SpreadError& error) {
  const std::string shaft = capital(the(error.shaft));
  const std::string nominal = out_by(error.nominal, answer.direction, " crank deg");
  if (!error.spreads) {
    return fmt::format("{}: {} in every drive; nothing that may be off moves it.", shaft, nominal);
  }
  return fmt::format("{}: {} with every number as given; between {} and {}, 95 times in 100.",
                     shaft, nominal, out_by(error.error.low, answer.direction, ""),
                     out_by(error.error.high, answer.direction, ""));
}

}  // namespace twoturn::sentences
