#include <fmt/format.h>

#include <cmath>

#include "sentences.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/io/text_check.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string upper(std::string text) {
  for (char& letter : text) {
    if (letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 'a' + 'A');
  }
  return text;
}

std::string findings(const CheckAnswer& answer) {
  std::string text = "\nFound:\n";
  for (const Finding& finding : answer.findings) {
    text += wrapped(
        fmt::format("- {}, {}: {}", upper(word(finding.level)), finding.code, finding.text), 2);
  }
  return answer.findings.empty() ? text + "- nothing against it.\n" : text;
}

std::string shaft_line(const Shaft& shaft, const ShaftAfter& seen) {
  constexpr double kPrintsAsNothing = 0.005;
  std::string text = "- " + sentences::the(shaft.name) + ": ";
  if (seen.mark_deg) text += fmt::format("mark at {}", sentences::clock(*seen.mark_deg));
  const double edge = std::abs(seen.error_edge_mm);
  const bool off = std::abs(seen.error_crank_deg) >= kPrintsAsNothing;
  if (off) {
    text += fmt::format("{}{} crank deg {}", seen.mark_deg ? ", " : "",
                        fixed(std::abs(seen.error_crank_deg), 2),
                        sentences::early_or_late(seen.error_crank_deg));
    if (edge > 0.0) text += fmt::format(" ({} mm at the edge)", fixed(edge, 2));
  }
  if (!off && !seen.mark_deg) text += "in its place";
  switch (seen.pin) {
    case PinState::not_given:
      break;
    case PinState::not_due:
      text += "; no pin is due";
      break;
    case PinState::in:
      text += "; the pin goes in";
      break;
    case PinState::tight:
      text += "; the pin is tight";
      break;
    case PinState::out:
      text += "; the pin does not go in";
      break;
  }
  return wrapped(text + ".", 2);
}

std::string what_you_should_see(const TurnsAnswer& turns) {
  std::string text;
  for (const AfterTurns& after : turns.after) {
    if (after.turns != 1 && after.turns != 2) continue;
    text +=
        after.turns == 1
            ? "\nAfter one turn by hand you should see (cam marks stand opposite: that is right):\n"
            : "\nAfter two turns by hand you should see:\n";
    for (const ShaftAfter& seen : after.shafts) {
      text += shaft_line(turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)], seen);
    }
  }
  if (turns.crank_play_deg > 0.0) {
    text += wrapped(fmt::format(
        "Give or take {} crank deg: the play of the crank's own pin, from which all is seen.",
        fixed(turns.crank_play_deg, 2)));
  }
  return text;
}

std::string setting_cell(const std::optional<TensionerAnswer>& tensioner,
                         const std::optional<TurnsAnswer>& turns) {
  if (!tensioner || !turns || !turns->assembly.fitted_setting) return "-";
  const Setting& setting = *turns->assembly.fitted_setting;
  return tensioner->swings ? sentences::clock(setting.reading) : fixed(setting.reading, 2) + " mm";
}

void add_tensioner_rows(const FitAnswer& book, const FitAnswer& fitted, TextTable& table) {
  table.add({"tensioner's roller at", setting_cell(book.tensioner, book.turns),
             setting_cell(fitted.tensioner, fitted.turns)});
  const auto cell = [](const FitAnswer& fit, auto value) -> std::string {
    if (!fit.turns || !fit.turns->assembly.fitted_setting) return "-";
    return value(*fit.turns->assembly.fitted_setting);
  };
  const auto pointer = [](const Setting& setting) {
    return setting.pointer_deg ? sentences::clock(*setting.pointer_deg) : std::string("not given");
  };
  const auto left = [](const Setting& setting) {
    return fixed(setting.adjustment_left_mm, 2) + " mm";
  };
  if (fitted.tensioner->swings) {
    table.add({"its pointer at", cell(book, pointer), cell(fitted, pointer)});
  }
  table.add({"adjustment left", cell(book, left), cell(fitted, left)});
}

std::string side_by_side(const CheckAnswer& answer) {
  if (!answer.book || !answer.book->turns || !answer.judged.turns) return "";
  const FitAnswer& book = *answer.book;
  const FitAnswer& fitted = answer.judged;
  TextTable table({{"", Align::left}, {"by the book"}, {"as fitted"}});
  if (fitted.tensioner) add_tensioner_rows(book, fitted, table);
  const auto& book_shafts = book.turns->after.front().shafts;
  const auto& fitted_shafts = fitted.turns->after.front().shafts;
  for (std::size_t k = 1; k < fitted_shafts.size() && k < book_shafts.size(); ++k) {
    const Shaft& shaft =
        fitted.turns->assembly.shafts[static_cast<std::size_t>(fitted_shafts[k].shaft)];
    const auto error = [](const ShaftAfter& seen) {
      return fmt::format("{} {}", fixed(std::abs(seen.error_crank_deg), 2),
                         sentences::early_or_late(seen.error_crank_deg));
    };
    table.add({shaft.name + ", crank deg", error(book_shafts[k]), error(fitted_shafts[k])});
  }
  return "\nBy the book and as fitted:\n" + table.text();
}

std::string belt_and_tensioner(const CheckAnswer& answer) {
  std::string text;
  if (answer.judged.turns && answer.judged.turns->assembly.fitted_setting && !answer.book) {
    const Setting& setting = *answer.judged.turns->assembly.fitted_setting;
    text += wrapped(fmt::format("Tensioner at {}, {} mm of adjustment left.",
                                sentences::setting(setting, answer.judged.tensioner->swings),
                                fixed(setting.adjustment_left_mm, 2)));
  }
  if (answer.judged.tensioner && answer.judged.tensioner->swings) {
    text += wrapped(fmt::format(
        "The spanner turns {} to tighten.",
        answer.judged.tensioner->tightens == Turn::clockwise ? "clockwise" : "anticlockwise"));
  } else if (answer.judged.tensioner) {
    text += wrapped(fmt::format("The tensioner tightens towards {}.",
                                sentences::clock(answer.judged.tensioner->tightens_towards_deg)));
  }
  return text.empty() ? "" : "\n" + text;
}

std::string not_checked(const CheckAnswer& answer) {
  if (answer.not_checked.empty()) return "";
  std::string text = "\nNot checked, and what would allow it:\n";
  for (const Missing& missing : answer.not_checked) {
    text += wrapped(fmt::format("- {}: {} ({}).", missing.answer, missing.measure, missing.key), 2);
  }
  return text;
}

}  // namespace

std::string check_text(const Heading& heading, const CheckAnswer& answer) {
  std::string text = wrapped(answer.headline) + sentences::heading(heading);
  text += findings(answer);
  if (answer.judged.turns) {
    text += what_you_should_see(*answer.judged.turns);
    text += "\n" + sentences::paint(answer.judged.turns->paint);
    text += sentences::teeth_between_marks(answer.judged.turns->between_marks);
  } else if (answer.paint) {
    text += "\n" + sentences::paint(*answer.paint);
  }
  text += belt_and_tensioner(answer) + side_by_side(answer) + not_checked(answer);
  text += "\nCautions:\n";
  for (const std::string& caution : answer.cautions) text += wrapped("- " + caution, 2);
  return text;
}

}  // namespace twoturn
