#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/reading.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

const TensionRun* best_of(const TensionAnswer& answer) {
  const auto best = std::find_if(answer.runs.begin(), answer.runs.end(),
                                 [](const TensionRun& run) { return run.best; });
  return best == answer.runs.end() ? nullptr : &*best;
}

std::string run_words(const std::string& from, const std::string& to) {
  return fmt::format("the run from {} to {}", the(from), the(to));
}

std::string reading_value(const TensionReading& reading) {
  constexpr double kTenthsOnly = 0.1;
  const std::string give =
      shortest(reading.give_or_take, reading.give_or_take < kTenthsOnly ? 3 : 1);
  switch (reading.by) {
    case TensionBy::newton:
      return fmt::format("{} N, give or take {}", fixed(reading.value, 0), give);
    case TensionBy::note:
      return fmt::format("{} Hz, give or take {}", fixed(reading.value, 1), give);
    case TensionBy::give:
      return fmt::format("{} mm of give to {} N, give or take {} mm", shortest(reading.value, 2),
                         fixed(reading.push_n, 0), give);
  }
  return "";
}

std::string reading_words(const TensionReading& reading) {
  std::string text =
      fmt::format("{} on {}", reading_value(reading), run_words(reading.from, reading.to));
  if (reading.by != TensionBy::newton) {
    text += fmt::format(" is {} N, give or take {}", fixed(reading.tension_n, 0),
                        fixed(reading.tension_give_n, 0));
  }
  if (!reading.stands) return text + ".";
  const TensionWords words = words_of(*reading.stands);
  return text + fmt::format(": {} % of what it should have; {}{}.",
                            fixed(*reading.share * 100.0, 0), words.judged,
                            words.to_do.empty() ? "" : ": " + words.to_do);
}

std::string first_line(const TensionAnswer& answer) {
  if (answer.reading) return wrapped(reading_words(*answer.reading));
  if (!answer.target_n && answer.target_given) {
    return "How tight this belt should be cannot be told yet: see what is missing.\n";
  }
  if (!answer.target_n) return "How tight this belt should be is not given.\n";
  const TensionRun* best = best_of(answer);
  // Where no run is meant, the one to measure on has what the springs make of it.
  std::string text =
      fmt::format("{} N", fixed(best && best->tension_n ? *best->tension_n : *answer.target_n, 0));
  if (best && best->note_hz) text += fmt::format(", or {} Hz", fixed(*best->note_hz, 0));
  if (best && best->give_mm) {
    text += fmt::format(", or {} mm of give to {} N", fixed(*best->give_mm, 1),
                        fixed(answer.push_n, 0));
  }
  return wrapped(text + (best ? " on " + run_words(best->from, best->to) : "") + ".");
}

std::string note_words(const TensionReport& report) {
  if (!report.note) return "";
  const NoteFound& note = *report.note;
  constexpr double kSurest = 0.99;
  std::string text = fmt::format(
      "Heard {} s into the recording: {} Hz, give or take {}, from {} of its harmonics, of which "
      "number {} is the loudest; {} % sure.",
      fixed(note.plucked_at_s, 1), fixed(note.note_hz, 1),
      fixed(std::max(0.1, note.give_or_take_hz), 1), note.harmonics.size(), note.strongest_harmonic,
      note.sureness > kSurest ? "more than 99" : fixed(100.0 * note.sureness, 0));
  constexpr double kWorthTelling = 0.02;
  if (note.other_hz && note.other_sureness > kWorthTelling) {
    text += fmt::format(" It might be {} Hz instead ({} %).", fixed(*note.other_hz, 1),
                        fixed(100.0 * note.other_sureness, 0));
  }
  return wrapped(text);
}

std::string runs_table(const TensionAnswer& answer) {
  TextTable table({{"run from", Align::left},
                   {"to", Align::left},
                   {"straight\nmm"},
                   {"tension\nN"},
                   {"note\nHz"},
                   {fmt::format("give to\n{} N, mm", fixed(answer.push_n, 0))},
                   {"", Align::left}});
  for (const TensionRun& run : answer.runs) {
    table.add({run.from, run.to, fixed(run.length_mm, 0),
               run.tension_n ? fixed(*run.tension_n, 0) : "",
               run.note_hz ? fixed(*run.note_hz, 0) : "",
               run.give_mm     ? fixed(*run.give_mm, 1)
               : run.tension_n ? "slack"
                               : "",
               run.target ? "the one that is meant"
               : run.best ? "measure here"
                          : ""});
  }
  std::string text = "\n";
  if (answer.target_n) {
    text += wrapped(fmt::format("With the crank {} crank deg on from pins in, engine cold{}:",
                                fixed(answer.at_crank_deg, 0),
                                answer.springs_counted
                                    ? ", each run with what the valve springs add or take"
                                    : "; valve springs load one run more than another, and are not "
                                      "counted here"));
  }
  return text + table.text();
}

std::string pointer_words(const TensionAnswer& answer) {
  if (!answer.pointer) return "";
  const TensionPointer& pointer = *answer.pointer;
  if (!pointer.target) {
    return wrapped("No place in the tensioner's travel pulls the belt so tight.");
  }
  return wrapped(fmt::format(
      "The tensioner then stands at {}; a belt of its own length, at {} N, puts it at {}. One {} "
      "on towards tight is {} N "
      "more, so a pointer sets it, and a note or a push shows it.",
      sentences::setting(*pointer.target), fixed(answer.reference_n, 0),
      sentences::setting(pointer.untensioned), unit(*answer.kind), fixed(pointer.n_per_unit, 0)));
}

std::string hand_words(const TensionAnswer& answer) {
  if (!answer.hands) return "";
  const HandTests& hands = *answer.hands;
  std::string text = fmt::format(
      "By hand, on {} (common practice, and no more than a first look): where a thumb pressed "
      "firmly moves it {} mm the belt has some {} to {} N",
      run_words(hands.from, hands.to), fixed(hands.push_give_mm, 0), fixed(hands.push_least_n, 0),
      fixed(hands.push_greatest_n, 0));
  text += hands.twist_least_n
              ? fmt::format("; where thumb and finger twist it just a quarter turn, {} to {} N.",
                            fixed(*hands.twist_least_n, 0), fixed(*hands.twist_greatest_n, 0))
              : ". What a quarter turn says hangs on the belt's width (belt.width_mm).";
  return "\n" + wrapped(text);
}

}  // namespace

std::string tension_text(const Heading& heading, const TensionReport& report) {
  const TensionAnswer& answer = report.answer;
  return first_line(answer) + sentences::heading(heading) + note_words(report) +
         runs_table(answer) + pointer_words(answer) + hand_words(answer) +
         wrapped("The engine maker's figure and way of measuring come first.") +
         sentences::missing(heading.missing);
}

}  // namespace twoturn
