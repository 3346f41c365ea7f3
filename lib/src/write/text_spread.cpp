#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/reading.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

constexpr double kHundred = 100.0;

std::string in_hundred(long long count, long long of) {
  return fixed(kHundred * static_cast<double>(count) / static_cast<double>(of), 2);
}

// A swing's reading as a clock angle, which goes on past 12 o'clock.
std::string place(const SpreadAnswer& answer, double reading) {
  if (answer.kind != TensionerKind::swing) return fixed(reading, 2) + " mm";
  return "clock " + fixed(Angle::clock(reading).clock_deg(), 1);
}

std::string first_line(const SpreadAnswer& answer) {
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

std::string law(SpreadLaw law) {
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

std::string spread_line(const SpreadAnswer& answer) {
  const char* unit_word = answer.kind ? unit(*answer.kind) : "mm";
  return wrapped(
      fmt::format("With every number as given {}; on average {}, standard deviation {} {}; by the "
                  "gradient alone "
                  "{} {}.",
                  place(answer, answer.nominal), place(answer, answer.reading.mean),
                  fixed(answer.reading.deviation, 2), unit_word,
                  fixed(answer.reading.linear_deviation, 2), unit_word));
}

std::string counts(const SpreadAnswer& answer) {
  if (answer.counts.empty()) return "";
  TextTable table({{"teeth"}, {"goes on,\ntimes in 100"}});
  for (const auto& [teeth, times] : answer.counts) {
    table.add({std::to_string(teeth), in_hundred(times, answer.samples)});
  }
  return "\nTooth counts that go on:\n" + table.text();
}

// Bars of up to forty signs.
std::string histogram(const SpreadAnswer& answer) {
  constexpr double kLongest = 40.0;
  long long most = 1;
  for (const SpreadBin& bar : answer.bins) most = std::max(most, bar.count);
  TextTable table(
      {{answer.kind == TensionerKind::swing ? "from\nclock" : "from\nmm"}, {"", Align::left}});
  for (const SpreadBin& bar : answer.bins) {
    const auto length = static_cast<std::size_t>(
        std::lround(kLongest * static_cast<double>(bar.count) / static_cast<double>(most)));
    if (length == 0) continue;
    const double from =
        answer.kind == TensionerKind::swing ? Angle::clock(bar.from).clock_deg() : bar.from;
    table.add({fixed(from, answer.kind == TensionerKind::swing ? 1 : 2), std::string(length, '#')});
  }
  return "\nHow they lie:\n" + table.text();
}

std::string shares(const SpreadAnswer& answer) {
  TextTable table({{"what makes it so", Align::left}, {"share of the\nvariance"}});
  constexpr std::size_t kMost = 12;
  for (std::size_t k = 0; k < std::min(kMost, answer.shares.size()); ++k) {
    table.add({sentences::number_of(answer.shares[k].key), fixed(answer.shares[k].share, 3)});
  }
  return "\nWhat to measure better first:\n" + table.text();
}

}  // namespace

std::string spread_text(const Heading& heading, const SpreadAnswer& answer) {
  if (answer.samples == 0) {
    return wrapped("Interrupted before any drive was built.") + sentences::heading(heading);
  }
  std::string text = wrapped(first_line(answer)) + sentences::heading(heading);
  const bool whole = answer.samples == answer.question.samples;
  text += wrapped(fmt::format(
      "{}{} drives, seed {}, thrown {}.",
      whole ? "" : fmt::format("Interrupted: of {} asked for, ", answer.question.samples),
      answer.samples, answer.question.seed, law(answer.question.law)));
  return text + spread_line(answer) + counts(answer) + histogram(answer) + shares(answer);
}

}  // namespace twoturn
