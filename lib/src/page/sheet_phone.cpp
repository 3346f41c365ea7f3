#include <string_view>

#include "phone_lines.hpp"
#include "sheet_words.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/page/sheet.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using phone::narrow;
using phone::title;

std::string with_blanks(const SheetLine& line) {
  std::string text = line.text;
  for (const SheetBlank& blank : line.blanks) {
    for (const std::string& part : {blank.label, std::string("____"), blank.unit}) {
      if (!part.empty()) text += (text.empty() ? "" : " ") + part;
    }
  }
  return text;
}

std::string step_text(const SheetStep& step, std::size_t number) {
  std::string text = '\n' + narrow(std::to_string(number) + ". " + step.title);
  for (const SheetLine& line : step.lines) {
    const bool tick = line.kind == SheetLine::Kind::tick;
    text += narrow((tick ? "[ ]\u00a0" : "-\u00a0") + with_blanks(line), tick ? 4 : 2);
  }
  return text;
}

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
  std::string text = verdict(sheet) + title("Order of work");
  for (std::size_t i = 0; i < sheet.steps.size(); ++i) text += step_text(sheet.steps[i], i + 1);
  text += title("Where each mark stands");
  for (const SheetMark& mark : sheet.marks) text += mark_text(mark);
  text += narrow(
      "As on a clock face, looking at the belt end. Late: not yet where it belongs, in the running "
      "direction; early: past it. The mm are at the pulley's edge.");
  text += title("What you see, what it means");
  for (const SheetFault& fault : sheet.faults) {
    text += narrow("- " + fault.seen.text + ':', 2) + narrow("\u00a0\u00a0" + fault.means.text, 2);
  }
  text += title("Not checked") + narrow(sheet.not_checked.text) + narrow(sheet.origins.text);
  text += title("Cautions");
  for (const std::string& caution : sheet.cautions) text += narrow("- " + caution, 2);
  return text;
}

}  // namespace twoturn
