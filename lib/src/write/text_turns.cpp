#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "answer_tables.hpp"
#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/text.hpp"
#include "words/cure.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;
using Align = TextTable::Align;

const Shaft& shaft_at(const TurnsAnswer& answer, int index) {
  return answer.assembly.shafts[static_cast<std::size_t>(index)];
}

const ShaftAfter* worst_of(const AfterTurns& after) {
  const auto worst = std::max_element(
      after.shafts.begin(), after.shafts.end(), [](const ShaftAfter& a, const ShaftAfter& b) {
        return std::abs(a.error_crank_deg) < std::abs(b.error_crank_deg);
      });
  return worst == after.shafts.end() ? nullptr : &*worst;
}

// "18.56 crank deg (9.28 cam deg) late"
std::string error_words(const Shaft& shaft, double crank_deg, double own_deg, Direction direction) {
  return fmt::format("{} crank deg ({} {}) {}", fixed(std::abs(crank_deg), 2),
                     fixed(std::abs(own_deg), 2), sentences::own_deg(shaft.role, shaft.name),
                     sentences::early_or_late(crank_deg, direction));
}

std::string first_line(const TurnsAnswer& answer) {
  const AfterTurns* after = after_two(answer);
  const ShaftAfter* worst = after ? worst_of(*after) : nullptr;
  if (!worst || after->shafts.size() < 2) return "Nothing but the crank is timed here.\n";
  const char* turned = after->turns < 0 ? "two turns backwards" : "two turns";
  if (prints_as_nothing(worst->error_crank_deg, 2)) {
    return wrapped(fmt::format("After {} every timed shaft is back in its place: {} crank deg out.",
                               turned, fixed(worst->error_crank_deg, 2)));
  }
  const Shaft& shaft = shaft_at(answer, worst->shaft);
  return wrapped(fmt::format(
      "After {} {} is {}.", turned, the(shaft.name),
      error_words(shaft, worst->error_crank_deg, worst->error_own_deg, worst->direction)));
}

std::string turns_word(int turns) {
  const int count = std::abs(turns);
  const std::string text = count == 1   ? "one turn"
                           : count == 2 ? "two turns"
                                        : counted(count, "turn", "turns");
  return turns < 0 ? text + " backwards" : text;
}

std::string pin_cell(const ShaftAfter& seen) {
  switch (seen.pin) {
    case PinState::not_given:
      return "-";
    case PinState::not_due:
      return "not due";
    case PinState::in:
      return seen.pin_sure ? "goes in" : "may go in";
    case PinState::tight:
      return seen.pin_sure ? "tight" : "may be tight";
    case PinState::out:
      return seen.pin_sure ? "not in" : "may not go in";
  }
  return "";
}

std::string seen_table(const TurnsAnswer& answer, const AfterTurns& after) {
  TextTable table({{"shaft", Align::left},
                   {"off by\ncrank\ndeg"},
                   {"own\ndeg"},
                   {"teeth"},
                   {"edge\nmm"},
                   {"", Align::left},
                   {"pin", Align::left},
                   {"misses\nby\nmm"},
                   {"mark at\nclock\ndeg"}});
  bool opposite = false;
  for (const ShaftAfter& seen : after.shafts) {
    const Shaft& shaft = shaft_at(answer, seen.shaft);
    table.add({shaft.name, fixed(std::abs(seen.error_crank_deg), 2),
               fixed(std::abs(seen.error_own_deg), 2), fixed(std::abs(seen.error_teeth), 2),
               seen.error_edge_mm ? fixed(std::abs(*seen.error_edge_mm), 2) : "-",
               std::string(sentences::early_or_late(seen.error_crank_deg, seen.direction)),
               pin_cell(seen), seen.miss_mm ? fixed(*seen.miss_mm, 2) : "",
               seen.mark_deg ? fixed(*seen.mark_deg, 1) : ""});
    const double own_turns = after.turns * shaft.turns_per_crank.value_or(1.0);
    opposite = opposite || own_turns != std::round(own_turns);
  }
  const std::string moment =
      after.turns == 0 ? "Before the first turn" : fmt::format("After {}", turns_word(after.turns));
  std::string text = fmt::format("\n{}:\n", moment) + table.text();
  if (opposite) {
    text += wrapped(
        "Shafts that turn at half speed show their marks opposite now; that is right, "
        "and no pin is due.");
  }
  return text;
}

// What a wrong pulley leaves unknown.
std::string known_within(const TurnsAnswer& answer) {
  std::string text;
  for (const ShaftAfter& seen : answer.after.front().shafts) {
    if (!seen.known_within_own_deg) continue;
    const Shaft& shaft = shaft_at(answer, seen.shaft);
    text += wrapped(fmt::format(
        "{}: the grooves of a wrong pulley stand anywhere against its mark, so where it stands is "
        "known within {} {} either way.",
        capital(the(shaft.name)), fixed(*seen.known_within_own_deg, 2),
        sentences::own_deg(shaft.role, shaft.name)));
  }
  return text;
}

std::string pattern_words(const TurnsAnswer& answer) {
  std::string text;
  for (std::size_t i = 1; i < answer.patterns.size(); ++i) {
    const Shaft& shaft = answer.assembly.shafts[i];
    if (!shaft.timed()) continue;
    if (answer.patterns[i] == Pattern::repeats) {
      text += wrapped(
          fmt::format("{} repeats: the same error every time round.", capital(the(shaft.name))));
    }
    if (answer.patterns[i] == Pattern::wanders) {
      text +=
          wrapped(fmt::format("{} wanders: further out with every turn. Count the teeth of its "
                              "pulley and of the crank's.",
                              capital(the(shaft.name))));
    }
  }
  return text;
}

std::string cures(const TurnsAnswer& answer) {
  std::string text;
  const bool at_crank = sentences::at_crank(answer);
  if (at_crank) {
    const auto moves = [](const Cure& cure) { return cure.teeth_on != 0; };
    const auto& first = *std::find_if(answer.cures.begin(), answer.cures.end(), moves);
    text += wrapped(fmt::format("- all of them are out alike, so the belt sits wrong at the crank: "
                                "{}.",
                                sentences::move(answer, first)),
                    2);
  }
  for (const Cure& cure : answer.cures) {
    std::string told = sentences::cure_of(answer, cure);
    if (at_crank) {
      const std::string rest = sentences::rest(answer, cure);
      const std::string name = the(shaft_at(answer, cure.shaft).name);
      told = rest.empty() ? "" : fmt::format("{}: {}", name, rest);
    }
    if (!told.empty()) text += wrapped("- " + told + ".", 2);
  }
  return text.empty() ? "" : "\nTo put it right:\n" + text;
}

std::string fitting_words(const TurnsAnswer& answer) {
  std::string text;
  for (std::size_t i = 1; i < answer.assembly.shafts.size(); ++i) {
    const Shaft& shaft = answer.assembly.shafts[i];
    const ShaftFit& fit = answer.assembly.fits[i];
    if (!shaft.timed() || shaft.pulley < 0) continue;
    const std::string loose = sentences::loose_pulley(shaft.name, fit.turned_on_shaft_deg);
    if (shaft.fixing == Fixing::free_until_tightened && !loose.empty()) {
      text += wrapped("- " + loose + ".", 2);
    }
    if (!prints_as_nothing(fit.drawn_remainder_teeth, 2)) {
      text += wrapped(fmt::format("- {}: the drawn drive itself is {} of a tooth off, as its teeth "
                                  "are tied to its mark.",
                                  the(shaft.name), fixed(std::abs(fit.drawn_remainder_teeth), 2)),
                      2);
    }
    if (answer.assembly.fitted.tensioner && fit.reference == Way::with_travel) {
      text += wrapped(fmt::format("- {}: the tensioner sits on its tight side, so it is timed over "
                                  "the slack side.",
                                  the(shaft.name)),
                      2);
    }
    if (!shaft.fixing) {
      text += wrapped(fmt::format("- {}: how its pulley sits on its shaft is not known; keyed is "
                                  "taken.",
                                  the(shaft.name)),
                      2);
    }
  }
  if (!prints_as_nothing(answer.crank_play_deg, 2)) {
    text += wrapped(fmt::format("- the crank's own pin lets it stand {} crank deg either way; add "
                                "that to every figure.",
                                fixed(answer.crank_play_deg, 2)),
                    2);
  }
  return text.empty() ? "" : "\nKeep in mind:\n" + text;
}

std::string setting_words(const Heading& heading, const TurnsAnswer& answer) {
  const Assembly& assembly = answer.assembly;
  if (!assembly.fitted_setting) return "";
  const TensionerKind kind = assembly.fitted.tensioner->path.kind();
  const auto where = [](const Setting& setting) {
    return fmt::format("{}, {} mm of adjustment left", sentences::setting(setting),
                       fixed(setting.adjustment_left_mm, 2));
  };
  std::string text = wrapped(fmt::format("Tensioner at {}.", where(*assembly.fitted_setting)));
  if (heading.fit == Fit::as_fitted && heading.build_said && assembly.setting_moved) {
    text += wrapped(fmt::format("By the book it would stand at {}: {} {} away.",
                                where(*assembly.book_setting),
                                fixed(*assembly.setting_moved, digits(kind)), unit(kind)));
  }
  return text;
}

std::string steps(const TurnsAnswer& answer) {
  if (answer.steps.empty()) return "";
  return "\nStep by step (+ early, - late):\n" + steps_table(answer).text();
}

// One row a shaft; the part and what it does to the tensioner beside the first.
std::string shares_table(const TurnsAnswer& answer, const BuildShares& shares) {
  if (shares.parts.empty()) return "";
  TextTable table({{"part of [build]", Align::left},
                   {"shaft", Align::left},
                   {"alone it is then", Align::left},
                   {"give or\ntake"},
                   {shares.kind ? fmt::format("tensioner\nmoves {}", unit(*shares.kind)) : ""}});
  const auto add = [&](const BuildShare& share) {
    if (!share.told) table.add({share.said, "", "cannot be put together alone", "", ""});
    for (std::size_t k = 0; k < share.error_crank_deg.size(); ++k) {
      const bool moved = k == 0 && share.setting_moved;
      const double give = share.give_or_take_crank_deg[k];
      table.add({k == 0 ? share.said : "", shares.shafts[k],
                 sentences::error(share.error_crank_deg[k], answer.assembly.fitted.direction),
                 prints_as_nothing(give, 2) ? "" : fixed(give, 2),
                 moved ? fixed(*share.setting_moved, digits(*shares.kind)) : ""});
    }
  };
  for (const BuildShare& share : shares.parts) add(share);
  if (shares.together) add(*shares.together);
  return '\n' +
         wrapped(
             "What each part of [build] does alone, after two turns. These are differences from "
             "the book, known far better than any length.") +
         table.text();
}

std::string warm_temperatures(const WarmSpec& at) {
  return fmt::format("block {} C, head {} C, belt {} C, put together at {} C",
                     shortest(*at.block_c, 1), shortest(*at.head_c, 1), shortest(*at.belt_c, 1),
                     shortest(*at.cold_c, 1));
}

std::string warm_belt(const WarmAnswer& warm) {
  const double tighter = warm.tighter_mm();
  const char* way = prints_as_nothing(tighter, 2) ? "as tight as cold"
                    : tighter > 0.0               ? "tighter"
                                                  : "slacker";
  std::string text = fmt::format(
      "{} the path grows by {} mm and the belt by {} mm: it is {}{}.",
      warm.kind ? "With the tensioner locked where it was set cold," : "On its fixed centres,",
      fixed(warm.path_grows_mm, 2), fixed(warm.belt_grows_mm, 2), way,
      prints_as_nothing(tighter, 2) ? "" : fmt::format(" by {} mm", fixed(std::abs(tighter), 2)));
  if (warm.sprung_setting && warm.cold_setting) {
    text += fmt::format(" One that follows on a spring goes from {} to {}.",
                        sentences::setting(*warm.cold_setting),
                        sentences::setting(*warm.sprung_setting));
  } else if (warm.kind) {
    text += " One that follows on a spring has no place for it in its travel.";
  }
  return text;
}

std::string warm_table(const TurnsAnswer& answer, const std::optional<WarmAnswer>& warm) {
  if (!warm || !warm->missing.empty()) return "";
  const Direction direction = answer.assembly.fitted.direction;
  TextTable table({{"shaft", Align::left},
                   {"cold", Align::left},
                   {warm->kind ? "warm, tensioner locked" : "warm", Align::left},
                   {warm->kind ? "warm, tensioner follows" : "", Align::left}});
  for (const WarmShaft& shaft : warm->shafts) {
    table.add({shaft.name, sentences::error(shaft.cold_crank_deg, direction),
               sentences::error(shaft.locked_crank_deg, direction),
               warm->kind && shaft.sprung_crank_deg
                   ? sentences::error(*shaft.sprung_crank_deg, direction)
                   : ""});
  }
  return '\n' +
         wrapped(fmt::format("Warm: {}; pulleys are taken to keep their size. {}",
                             warm_temperatures(warm->at), warm_belt(*warm))) +
         table.text();
}

}  // namespace

std::string turns_text(const Heading& heading, const TurnsAnswer& answer, const TurnsBeside& beside,
                       const std::vector<int>& asked) {
  std::string text = first_line(answer) + sentences::heading(heading);
  text += setting_words(heading, answer);
  if (answer.assembly.fitted.direction == Direction::assumed) {
    text += wrapped(
        "Which way the crank turns is not given: clockwise is taken. What is early and what is "
        "late, "
        "and where marks point, hang on it: no cure is told.");
  }
  // Turns nought and four are always in the document; here what a person turns to or asks for.
  for (const AfterTurns& after : answer.after) {
    const int turns = std::abs(after.turns);
    const bool usual = turns != 0 && turns != 4;
    if (usual || std::find(asked.begin(), asked.end(), turns) != asked.end()) {
      text += seen_table(answer, after);
    }
  }
  text += known_within(answer) + pattern_words(answer) + cures(answer) + '\n' +
          sentences::paint(answer.paint);
  text += sentences::teeth_between_marks(answer.between_marks);
  text += fitting_words(answer) + shares_table(answer, beside.shares) +
          warm_table(answer, beside.warm) + steps(answer);
  return text + sentences::missing(heading.missing);
}

}  // namespace twoturn
