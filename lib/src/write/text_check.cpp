#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_engine_parts.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

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
  for (const ToldFinding& finding : told(answer.findings)) {
    text += wrapped(
        fmt::format("- {}, {}: {}", upper(word(finding.level)), finding.about, finding.text), 2);
  }
  return answer.findings.empty() ? text + "- nothing against it.\n" : text;
}

std::string whole_move(const CheckAnswer& answer) {
  if (answer.whole_move.empty()) return "";
  std::string text = "\nTo put it right, the whole move, in this order:\n";
  int number = 0;
  for (const std::string& step : answer.whole_move) {
    text += wrapped(fmt::format("{}. {}", ++number, step), 3);
  }
  return text;
}

std::string shaft_line(const Shaft& shaft, const ShaftAfter& seen) {
  std::string text = "- " + the(shaft.name) + ": ";
  if (seen.mark_deg) text += fmt::format("mark at {}", sentences::clock(*seen.mark_deg));
  const bool off = !prints_as_nothing(seen.error_crank_deg, 2);
  if (off && seen.belongs_deg) {
    text += fmt::format(", belongs at {}", sentences::clock(*seen.belongs_deg));
  }
  if (off) {
    text += fmt::format("{}{} crank deg {}", seen.mark_deg ? ", " : "",
                        fixed(std::abs(seen.error_crank_deg), 2),
                        sentences::early_or_late(seen.error_crank_deg, seen.direction));
    if (seen.error_edge_mm) {
      text += fmt::format(" ({} mm at the edge)", fixed(std::abs(*seen.error_edge_mm), 2));
    }
  }
  if (!off && !seen.mark_deg) text += "in its place";
  switch (seen.pin) {
    case PinState::not_given:
      break;
    case PinState::not_due:
      text += "; no pin is due";
      break;
    case PinState::in:
    case PinState::tight:
    case PinState::out:
      text +=
          fmt::format("; the pin {}", sentences::pin_shows(seen.pin, sentences::sureness(seen)));
      break;
  }
  return wrapped(text + ".", 2);
}

enum class OnPaper { goes, stops };

// A record may stop a drive that is right: what it then shows is still what it should.
OnPaper stops_on_paper(const CheckAnswer& answer) {
  const bool stops = answer.record ? answer.record->paper_stops : answer.verdict == Verdict::stop;
  return stops ? OnPaper::stops : OnPaper::goes;
}

std::string what_you_should_see(const TurnsAnswer& turns, OnPaper on_paper) {
  std::string text;
  const bool stop = on_paper == OnPaper::stops;
  if (stop)
    text += "\nDo NOT turn it. If it were turned, this is what marks and pins would show:\n";
  for (const AfterTurns& after : turns.after) {
    if (after.turns != 1 && after.turns != 2) continue;
    const std::string turned = after.turns == 1 ? "one turn" : "two turns";
    text += stop ? fmt::format("\nAfter {}:\n", turned)
                 : fmt::format("\nAfter {} by hand you should see:\n", turned);
    if (after.turns == 1) {
      text += "(marks of shafts at half speed stand opposite now: that is right)\n";
    }
    for (const ShaftAfter& seen : after.shafts) {
      text += shaft_line(turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)], seen);
    }
  }
  if (turns.crank_play_deg > 0.0) {
    text +=
        wrapped(fmt::format("Give or take {} crank deg: all is seen from the crank's own pin, "
                            "which has that much play.",
                            fixed(turns.crank_play_deg, 2)));
  }
  text += wrapped(
      "Clock: as on a clock face, looking at the belt end. Late: not yet where it belongs, in "
      "the running direction; early: past it.");
  return text;
}

std::string setting_cell(const std::optional<TensionerAnswer>& tensioner,
                         const std::optional<TurnsAnswer>& turns) {
  if (!tensioner || !turns || !turns->assembly.fitted_setting) return "-";
  const Setting& setting = *turns->assembly.fitted_setting;
  const auto& [reading, kind] = setting.reading;
  return kind == TensionerKind::swing ? sentences::clock(reading)
                                      : fixed(reading, digits(kind)) + " mm";
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
  if (fitted.tensioner->kind == TensionerKind::swing) {
    table.add({"its pointer at", cell(book, pointer), cell(fitted, pointer)});
  }
  table.add({"belt it can still take up", cell(book, left), cell(fitted, left)});
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
      const std::string off = fixed(std::abs(seen.error_crank_deg), 2);
      const std::string_view side = sentences::early_or_late(seen.error_crank_deg, seen.direction);
      return side == "right" ? off : fmt::format("{} {}", off, side);
    };
    table.add({shaft.name + ", crank deg", error(book_shafts[k]), error(fitted_shafts[k])});
  }
  return "\nBy the book and as fitted:\n" + table.text();
}

std::string belt_and_tensioner(const CheckAnswer& answer) {
  std::string text;
  if (answer.judged.turns && answer.judged.turns->assembly.fitted_setting && !answer.book) {
    const Setting& setting = *answer.judged.turns->assembly.fitted_setting;
    const Unsure unsure = answer.judged.tensioner ? answer.judged.tensioner->unsure : Unsure{};
    const Unsure left =
        answer.judged.tensioner ? answer.judged.tensioner->adjustment_unsure : Unsure{};
    text += wrapped(fmt::format("Tensioner at {}; adjustment left {}.",
                                sentences::setting(setting, unsure),
                                sentences::mm(setting.adjustment_left_mm, left)));
  }
  if (answer.judged.tensioner && answer.judged.tensioner->kind == TensionerKind::swing) {
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
  std::string outside = "Outside this check altogether: ";
  for (std::size_t i = 0; i < answer.outside.size(); ++i) {
    const bool last = i + 1 == answer.outside.size();
    outside += (i == 0 ? "" : last ? "; and " : "; ") + answer.outside[i] + (last ? "." : "");
  }
  if (answer.not_checked.empty()) {
    return "\n" + wrapped("Nothing that this check can judge of the drive was left open.") +
           wrapped(outside);
  }
  std::string text = "\nNot checked, and what would allow it:\n";
  for (const Missing& missing : answer.not_checked) {
    text += wrapped(fmt::format("- {}: {} ({}).", missing.answer, missing.measure, missing.key), 2);
  }
  return text + wrapped(outside);
}

// "origin.build.skim_mm.head.give_or_take" is what its reader wrote, not what he calls it.
std::string told_key(const std::string& key) {
  constexpr std::string_view kOrigin = "origin.";
  constexpr std::string_view kGive = ".give_or_take";
  if (key.rfind(kOrigin, 0) != 0 || key.size() < kOrigin.size() + kGive.size()) return key;
  const std::size_t end = key.size() - kGive.size();
  if (key.compare(end, kGive.size(), kGive) != 0) return key;
  return "the give-or-take of " + key.substr(kOrigin.size(), end - kOrigin.size());
}

// Keys of one reason together.
std::string unused(const CheckAnswer& answer) {
  std::vector<std::pair<std::string, std::string>> by_reason;
  for (const UnusedKey& unused : answer.unused) {
    const auto same = std::find_if(by_reason.begin(), by_reason.end(),
                                   [&](const auto& entry) { return entry.first == unused.why; });
    if (same == by_reason.end()) {
      by_reason.emplace_back(unused.why, told_key(unused.key));
    } else {
      same->second += ", " + told_key(unused.key);
    }
  }
  std::string text;
  for (const auto& [why, keys] : by_reason) {
    text += fmt::format("{}{} ({})", text.empty() ? "" : "; ", keys, why);
  }
  return text.empty() ? "" : '\n' + wrapped("Given but not used by anything yet: " + text + ".");
}

// What is done stands here; what is not is among the findings.
std::string record_part(const CheckAnswer& answer) {
  if (!answer.record) return "";
  const RecordAnswer& record = *answer.record;
  std::string text = "\nBy the record";
  if (!record.by.empty()) text += " of " + printable(record.by);
  if (!record.date.empty()) text += ", " + printable(record.date);
  text += ":\n" +
          wrapped(fmt::format("- {}{}.", record.counts, record.complete() ? "" : ": NOT DONE"), 2);
  if (record.bolt_ticks_of > 0) {
    text += wrapped(
        fmt::format("- {} of {} ticks at bolts", record.bolt_ticks, record.bolt_ticks_of) + ".", 2);
  }
  for (const RecordItem& item : record.items) {
    if (item.state != RecordItem::State::done || item.what == "bolts") continue;
    text += wrapped("- done: " + item.text + ".", 2);
  }
  return text;
}

}  // namespace

std::string check_text(const Heading& heading, const CheckAnswer& answer) {
  std::string text = wrapped(answer.headline) + sentences::heading(heading);
  text += findings(answer) + record_part(answer) + whole_move(answer);
  if (!answer.next_command.empty()) text += "\n" + wrapped(answer.next_command);
  if (answer.judged.turns) {
    text += what_you_should_see(*answer.judged.turns, stops_on_paper(answer));
    text += "\n" + sentences::paint(answer.judged.turns->paint);
    text += sentences::teeth_between_marks(answer.judged.turns->between_marks);
  } else if (answer.paint) {
    text += "\n" + sentences::paint(*answer.paint);
  }
  text += text_engine::in_check(answer.engine);
  text += belt_and_tensioner(answer) + side_by_side(answer) + not_checked(answer);
  text += unused(answer);
  text += "\nCautions:\n";
  for (const std::string& caution : answer.cautions) text += wrapped("- " + caution, 2);
  return text;
}

}  // namespace twoturn
