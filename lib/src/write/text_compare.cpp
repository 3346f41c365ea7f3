#include <fmt/format.h>

#include <algorithm>

#include "answer_tables.hpp"
#include "text_heading.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;

std::string first_line(const CompareAnswer& answer) {
  const auto goes_on = [](const ComparedCount& count) { return count.goes_on; };
  const auto going = std::count_if(answer.counts.begin(), answer.counts.end(), goes_on);
  if (answer.meant_teeth) {
    return fmt::format("{} teeth: that belt puts the tensioner where the maker's marks want it.",
                       *answer.meant_teeth);
  }
  if (going == 0) return "None of these goes on.";
  if (going == 1) {
    const auto only = std::find_if(answer.counts.begin(), answer.counts.end(), goes_on);
    return fmt::format("{} teeth: of these the only count that goes on{}.", only->teeth,
                       answer.set_give ? ", yet it does not meet the maker's marks" : "");
  }
  if (!answer.set_give) {
    return fmt::format(
        "{} of these go on; which is right nothing given here tells: where the maker's marks put "
        "the tensioner would.",
        going);
  }
  return fmt::format("{} of these go on, and the marks do not tell them apart.", going);
}

}  // namespace

std::string compare_text(const Heading& heading, const CompareAnswer& answer) {
  std::string text = wrapped(first_line(answer)) + sentences::heading(heading);
  text += '\n' + compare_table(answer).text();
  if (answer.set_give) {
    text += wrapped(fmt::format(
        "From marks: by the book, {} {} are allowed and what the numbers leave open beyond.",
        shortest(*answer.set_give, 2), unit(*answer.kind)));
  }
  if (answer.tolerance_mm) {
    text += wrapped(fmt::format("Tolerance of the belt's length: {} mm either way.",
                                fixed(*answer.tolerance_mm, 2)));
  }
  return text + wrapped(
                    "A belt that goes on need not be the right one: count its teeth, and follow "
                    "the manual.");
}

}  // namespace twoturn
