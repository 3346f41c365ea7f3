#include "phone_lines.hpp"
#include "sheet_phone_parts.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/page/job_card.hpp"
#include "words/keep_units.hpp"
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

std::string box(int number) { return std::to_string(number) + "\u00a0[\u00a0]"; }

std::string boxes(const std::vector<int>& numbers) {
  std::string line;
  for (const int number : numbers) line += (line.empty() ? "" : " ") + box(number);
  return narrow("\u00a0\u00a0\u00a0" + line, 3);
}

std::string bolts_text(const BoltGroup& group) {
  std::string text =
      '\n' + narrow(sentences::keep_units(printable(capital(group.name))) +
                    (group.order_to_find() ? ", numbers as in the manual:" : ", in order:"));
  std::vector<int> numbers;
  for (const BoltPlace& bolt : group.bolts) numbers.push_back(bolt.number);
  for (const BoltStage& stage : group.stages) {
    text +=
        narrow(std::to_string(stage.stage) + ". " + sentences::keep_units(printable(stage.move)),
               2) +
        boxes(numbers);
  }
  for (const std::string& note : group.notes) {
    text += narrow("- " + sentences::keep_units(printable(note)), 2);
  }
  return text;
}

std::string tray_text(const CardTray& tray) {
  std::string text = '\n' + narrow(sentences::keep_units(printable(capital(tray.name))) +
                                   ", each back where it came from:");
  for (int row = 0; row < tray.rows; ++row) {
    std::vector<int> numbers;
    for (int k = 1; k <= tray.columns; ++k) numbers.push_back(row * tray.columns + k);
    text += boxes(numbers);
  }
  return text;
}

}  // namespace

std::string sheet::step_text(const SheetStep& step, std::size_t number) {
  std::string text = '\n' + narrow(std::to_string(number) + ". " + step.title);
  for (const SheetLine& line : step.lines) {
    const bool tick = line.kind == SheetLine::Kind::tick;
    text += narrow((tick ? "[ ]\u00a0" : "-\u00a0") + with_blanks(line), tick ? 4 : 2);
  }
  return text;
}

std::string sheet::job_card_text(const SheetAnswer& sheet) {
  std::string text = title("Job card");
  for (const BoltGroup& group : sheet.job_card.bolts) text += bolts_text(group);
  for (const CardTray& tray : sheet.job_card.trays) text += tray_text(tray);
  for (std::size_t i = 0; i < sheet.job_card_steps.size(); ++i) {
    text += sheet::step_text(sheet.job_card_steps[i], i + 1);
  }
  return text;
}

std::string job_card_phone(const SheetAnswer& sheet) {
  std::string text = narrow(sheet.heading.profile + ".");
  if (!sheet.shout.empty()) text += narrow("*** " + sheet.shout + " ***") + narrow(sheet.must_do);
  text += sheet::job_card_text(sheet);
  text += title("Cautions");
  for (const std::string& caution : sheet.cautions) text += narrow("- " + caution, 2);
  return text;
}

}  // namespace twoturn
