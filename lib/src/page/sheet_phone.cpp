#include <string_view>

#include "phone_lines.hpp"
#include "sheet_phone_parts.hpp"
#include "sheet_words.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/page/sheet.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using phone::narrow;
using phone::title;

std::string mark_text(const SheetMark& mark) {
  const auto part = [](std::string_view words, const std::string& value) {
    return narrow("\u00a0\u00a0" + std::string(words) + ' ' + (value.empty() ? "____" : value), 4);
  };
  std::string text = narrow("- " + mark.shaft, 2);
  text += part("pins in, and after two turns:", sheet::start_words(mark));
  text += part("after one turn:", sheet::after_one_words(mark));
  if (mark.off_crank_deg) text += part("as this drive stands:", sheet::stands_words(mark));
  const std::string pin = sheet::pin_words(mark);
  if (!pin.empty()) text += part(mark.held_by + " then:", pin);
  return text + part("seen after two:", "");
}

std::string verdict(const SheetAnswer& sheet) {
  std::string text;
  if (!sheet.shout.empty()) text += narrow("*** " + sheet.shout + " ***") + narrow(sheet.must_do);
  text += narrow(sheet.says);
  text += '\n' + narrow(sheet.heading.profile + ", " +
                        std::string(sentences::word(sheet.heading.fit)) + ".");
  for (const std::string& found : sheet.found) text += narrow("- " + found, 2);
  return text;
}

}  // namespace

std::string sheet_phone(const SheetAnswer& sheet) {
  if (!sheet.has_belt) return job_card_phone(sheet);
  std::string text = verdict(sheet) + title("Order of work");
  for (std::size_t i = 0; i < sheet.steps.size(); ++i)
    text += sheet::step_text(sheet.steps[i], i + 1);
  text += title("Where each mark stands");
  for (const SheetMark& mark : sheet.marks) text += mark_text(mark);
  text += narrow(
      "As on a clock face, looking at the belt end. Late: not yet where it belongs, in the running "
      "direction; early: past it. The mm are at the pulley's edge.");
  text += title("What you see, what it means");
  for (const SheetFault& fault : sheet.faults) {
    text += narrow("- " + fault.seen.text + ':', 2) + narrow("\u00a0\u00a0" + fault.means.text, 2);
  }
  if (sheet.has_other_side()) text += sheet::job_card_text(sheet);
  text += title("Not checked") + narrow(sheet.not_checked.text) + narrow(sheet.origins.text);
  text += title("Cautions");
  for (const std::string& caution : sheet.cautions) text += narrow("- " + caution, 2);
  return text;
}

}  // namespace twoturn
