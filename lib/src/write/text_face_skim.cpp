#include <fmt/format.h>

#include <cmath>

#include "text_face_parts.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/no_answer.hpp"
#include "words/cure.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

std::string degrees(double value) { return fixed(std::abs(value), 2); }

std::string skim_words(const FaceReport& report) {
  const SkimAnswer& skim = *report.skim;
  std::string text = fmt::format("A skim of {}{}", mm_and_thou(skim.skim_mm, 3),
                                 report.skim_is_least ? ", the least that trues the face," : "");
  if (!prints_as_nothing(skim.already_mm, 3)) {
    text += fmt::format("{} on top of {} mm that [build] says already ({} mm together)",
                        report.skim_is_least ? "" : ",", shortest(skim.already_mm, 3),
                        shortest(skim.total_mm(), 3));
  }
  return text;
}

// The shaft that is out most, in one line.
std::string first_line(const FaceReport& report) {
  const SkimAnswer& skim = *report.skim;
  const SkimmedShaft* worst = nullptr;
  for (const SkimmedShaft& shaft : skim.shafts) {
    if (!worst || std::abs(shaft.error_crank_deg) > std::abs(worst->error_crank_deg)) {
      worst = &shaft;
    }
  }
  std::string text = skim_words(report);
  if (worst && !prints_as_nothing(worst->error_crank_deg, 2)) {
    text += fmt::format(" leaves {} {} by {} {} = {} crank deg.", the(worst->name),
                        sentences::early_or_late(worst->error_crank_deg, worst->direction),
                        degrees(worst->error_own_deg), sentences::own_deg(worst->role, worst->name),
                        degrees(worst->error_crank_deg));
  } else if (worst && !skim.reaches) {
    text += " may move the timing: what would tell is missing, see below.";
  } else if (worst) {
    text += " leaves every timed shaft in phase.";
  } else if (!skim.rough.empty()) {
    const SkimShift& shift = skim.rough.front();
    text += fmt::format(
        " makes {} {} by about {} {} = {} crank deg (from counts and a tape, over one straight "
        "run).",
        the(shift.name), sentences::early_or_late(shift.crank_deg, Direction::given),
        degrees(shift.own_deg), sentences::own_deg(shift.role, shift.name),
        degrees(shift.crank_deg));
  } else {
    text += ".";
  }
  return wrapped(text);
}

std::string shaft_table(const SkimAnswer& skim) {
  TextTable table({{"shaft", Align::left},
                   {"fixing", Align::left},
                   {"before\ncrank deg"},
                   {"after\ncrank deg"},
                   {"own deg"},
                   {"", Align::left},
                   {"mm at\nedge"},
                   {"pin", Align::left},
                   {"misses\nby mm"}});
  for (const SkimmedShaft& shaft : skim.shafts) {
    table.add({shaft.name, shaft.fixing ? std::string(word(*shaft.fixing)) : "keyed?",
               degrees(shaft.before_crank_deg), degrees(shaft.error_crank_deg),
               degrees(shaft.error_own_deg),
               std::string(sentences::early_or_late(shaft.error_crank_deg, shaft.direction)),
               shaft.error_edge_mm ? fixed(std::abs(*shaft.error_edge_mm), 2) : "-",
               face_words::pin(shaft.pin), shaft.miss_mm ? fixed(*shaft.miss_mm, 2) : ""});
  }
  return table.empty() ? "" : '\n' + table.text();
}

std::string cure(const SkimAnswer& skim, const SkimmedShaft& shaft) {
  if (shaft.fixing == Fixing::free_until_tightened) {
    const std::string loose = sentences::loose_pulley(shaft.name, shaft.turned_on_shaft_deg);
    return loose.empty() ? "" : wrapped("- " + loose + ".", 2);
  }
  const std::string told = shaft.cure ? sentences::cure_of(*skim.turns, *shaft.cure) : "";
  if (told.empty()) return "";
  std::string gasket;
  if (shaft.gasket_mm && !prints_as_nothing(*shaft.gasket_mm, 3)) {
    gasket =
        fmt::format("; or a gasket {} by {} mm", *shaft.gasket_mm > 0.0 ? "thicker" : "thinner",
                    fixed(std::abs(*shaft.gasket_mm), 3));
  }
  return wrapped(fmt::format("- {}{}.", told, gasket), 2);
}

std::string cures(const SkimAnswer& skim) {
  std::string text;
  for (const SkimmedShaft& shaft : skim.shafts) text += cure(skim, shaft);
  return text.empty() ? "" : "\nWhat would put it back:\n" + text;
}

std::string tensioner(const SkimAnswer& skim) {
  if (!skim.tensioner_after) return "";
  const Setting& after = *skim.tensioner_after;
  std::string text = fmt::format("Tensioner: {}", sentences::setting(after));
  if (skim.tensioner_before) {
    text += fmt::format(" (before: {})", sentences::setting(*skim.tensioner_before));
  }
  text += fmt::format(", {} over centre, {} mm of adjustment left ({} teeth)",
                      sentences::word(after.over_centre), fixed(after.adjustment_left_mm, 2),
                      fixed(after.adjustment_left_teeth, 2));
  if (skim.tensioner_before) {
    text += fmt::format(", before {} mm", fixed(skim.tensioner_before->adjustment_left_mm, 2));
  }
  return '\n' + wrapped(text + ".");
}

std::string no_belt(const SkimAnswer& skim) {
  if (!skim.none || !skim.drive) return "";
  return '\n' + wrapped(no_assembly(*skim.none, *skim.drive).text);
}

std::string compression(const SkimAnswer& skim) {
  if (!skim.compression || !skim.ratio_before || !skim.compression->ratio_after) return "";
  return '\n' + wrapped(fmt::format(
                    "Compression ratio: {} before this skim, {} after it (by the book {}; taken "
                    "off over the whole bore).",
                    fixed(*skim.ratio_before, 2), fixed(*skim.compression->ratio_after, 2),
                    fixed(*skim.compression->ratio, 2)));
}

std::string drive_findings(const SkimAnswer& skim) {
  std::string text;
  for (const Finding& finding : skim.findings) {
    text += wrapped(fmt::format("- {}: {}", word(finding.level), finding.text), 2);
  }
  return text.empty() ? "" : "\nThe drive with this skim:\n" + text;
}

}  // namespace

std::string face_words::pin(PinState state) {
  switch (state) {
    case PinState::not_given:
      return "-";
    case PinState::not_due:
      return "not due";
    case PinState::in:
      return "goes in";
    case PinState::tight:
      return "tight";
    case PinState::out:
      return "not in";
  }
  return "";
}

std::string face_words::skim(const FaceReport& report) {
  const SkimAnswer& skim = *report.skim;
  std::string text = first_line(report);
  text += wrapped(
      fmt::format("{}. {}.", report.profile, capital(std::string(sentences::word(report.fit)))));
  text += shaft_table(skim) + tensioner(skim) + no_belt(skim) + cures(skim) + compression(skim) +
          drive_findings(skim);
  return text + sentences::missing(skim.missing);
}

}  // namespace twoturn
