#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/reading.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"
#include "words/sentences_spread.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

using sentences::in_hundred;
using sentences::place;

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

// Shares that print as something.
std::string parts(const SpreadError& error) {
  std::string text;
  for (const SpreadShare& share : error.shares) {
    if (prints_as_nothing(share.share, 2)) break;
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", sentences::number_of(share.key),
                        fixed(share.share, 2));
  }
  return wrapped(fmt::format("{}, share of the variance: {}.", error.shaft, text));
}

std::string errors(const SpreadAnswer& answer) {
  if (answer.errors.empty()) return "";
  std::string text = "\nTiming error of each shaft, from the book as fitted:\n";
  TextTable table({{"shaft", Align::left},
                   {"mean,\n+ early"},
                   {"standard deviation,\ncrank deg"},
                   {"by the\ngradient"}});
  constexpr int kDigits = 3;
  std::string made_so;
  for (const SpreadError& error : answer.errors) {
    text += wrapped(sentences::spread_error(answer, error));
    if (!error.spreads) continue;
    table.add({error.shaft, fixed(error.error.mean, kDigits), fixed(error.error.deviation, kDigits),
               fixed(error.error.linear_deviation, kDigits)});
    made_so += parts(error);
  }
  if (table.empty()) return text;
  return text + table.text() + made_so;
}

}  // namespace

std::string spread_text(const Heading& heading, const SpreadAnswer& answer) {
  if (answer.samples == 0) {
    return wrapped("Interrupted before any drive was built.") + sentences::heading(heading);
  }
  return wrapped(sentences::spread_first_line(answer)) + sentences::heading(heading) +
         wrapped(sentences::spread_thrown(answer)) + spread_line(answer) + counts(answer) +
         histogram(answer) + shares(answer) + errors(answer);
}

}  // namespace twoturn
