#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string first_line(const MarksAnswer& answer) {
  if (answer.empty()) return "Nothing is given to count from.\n";
  if (answer.paint) {
    const std::optional<long long>& turns = answer.paint->all_meet_turns;
    return wrapped(fmt::format(
        "The paint {}; after two turns it is {} further on.",
        turns ? "returns " + sentences::after_turns(turns) : "never returns in practice",
        counted(answer.paint->teeth_further_on, "tooth", "teeth")));
  }
  const ToothWorth& last = answer.worth.back();
  return wrapped(
      fmt::format("One tooth at {} is {} crank deg.", the(last.name), fixed(last.crank_deg, 2)));
}

std::string worth_table(const MarksAnswer& answer) {
  TextTable table({{"one tooth at", Align::left},
                   {"teeth"},
                   {"crank deg"},
                   {"own deg"},
                   {"mm at\nedge"},
                   {"a mm is\ncrank deg"},
                   {"own deg"}});
  for (const ToothWorth& pulley : answer.worth) {
    const auto known = [](const std::optional<double>& value) {
      return value ? fixed(*value, 2) : std::string();
    };
    table.add({pulley.name, fmt::format("{}", pulley.teeth), fixed(pulley.crank_deg, 2),
               fixed(pulley.own_deg, 2),
               answer.question.pitch_mm ? shortest(*answer.question.pitch_mm, 3) : "",
               known(pulley.crank_deg_per_mm), known(pulley.own_deg_per_mm)});
  }
  std::string text = '\n' + table.text();
  if (answer.question.pitch_mm) text += "The edge is taken at the belt's pitch line.\n";
  return text;
}

std::string wandering(const MarksAnswer& answer) {
  std::string text;
  for (const ToothWorth& pulley : answer.worth) {
    if (prints_as_nothing(pulley.wanders_crank_deg, 2)) continue;
    text += wrapped(fmt::format(
        "With {} on {} {} does not turn as it must: it wanders {} crank deg "
        "every two turns. Count both again.",
        counted(pulley.teeth, "tooth", "teeth"), answer.question.crank_teeth.value_or(0),
        the(pulley.name), fixed(std::abs(pulley.wanders_crank_deg), 2)));
  }
  return text;
}

std::string skim_words(const SkimShift& shift) {
  return wrapped(fmt::format(
      "With its centre, {} mm from the crank's, {} by {} mm {} is {} crank deg ({} {}) "
      "{}, {} mm at "
      "the edge; straight run assumed.",
      shortest(shift.centre_mm, 2), shift.skim_mm < 0.0 ? "further off" : "nearer",
      shortest(std::abs(shift.skim_mm), 3), the(shift.name), fixed(std::abs(shift.crank_deg), 2),
      fixed(std::abs(shift.own_deg), 2), sentences::own_deg(shift.role, shift.name),
      sentences::early_or_late(shift.crank_deg, Direction::given),
      fixed(std::abs(shift.edge_mm), 2)));
}

}  // namespace

std::string marks_text(const Heading& heading, const MarksAnswer& answer) {
  std::string text = first_line(answer);
  if (!heading.profile.empty()) text += sentences::heading(heading);
  if (!answer.empty()) text += worth_table(answer) + wandering(answer);
  if (answer.paint) text += '\n' + sentences::paint(*answer.paint);
  if (!answer.skims.empty()) text += '\n';
  for (const SkimShift& shift : answer.skims) text += skim_words(shift);
  return text + sentences::missing(answer.missing);
}

}  // namespace twoturn
