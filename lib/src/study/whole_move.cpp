#include <fmt/format.h>

#include <algorithm>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/park_words.hpp"
#include "words/cure.hpp"
#include "words/sentences.hpp"

// A belt is not moved by the tooth alone: where the crank stands meanwhile, what turns each shaft,
// and what has to be seen again are part of the advice.
namespace twoturn {
namespace {

const Shaft& shaft_at(const TurnsAnswer& turns, int index) {
  return turns.assembly.shafts[static_cast<std::size_t>(index)];
}

bool can_be_moved(const TurnsAnswer& turns, const Cure& cure) {
  return !sentences::move(turns, cure).empty() ||
         (sentences::slots_reach(cure) && !sentences::rest(turns, cure).empty());
}

// Where the crank waits, and what that means for the way back to its mark.
struct Parked {
  std::string told;
  const ParkAnswer* elsewhere = nullptr;  // it has to come back from there
};

Parked park(const DriveSpec& spec, const CheckAnswer& answer) {
  if (never_meet(spec, answer.engine)) {
    return {
        "Leave the crank at its mark: by what is stated no valve meets a piston in this "
        "engine. Stop at any resistance all the same."};
  }
  const std::optional<ParkAnswer>& known = answer.engine.park;
  if (known && known->timing_spare_mm && *known->timing_spare_mm > 0.0) {
    return {fmt::format(
        "Leave the crank at its mark: there every piston is clear of the valves wherever the cams "
        "stand, by {} beyond the margin. The manual's own position comes before this one.",
        sentences::mm_amid(*known->timing_spare_mm, known->timing_unsure))};
  }
  if (known && known->best_is_clear) {
    const bool clears = answer.engine.valves &&
                        worst_stand(*answer.engine.valves) == RoomStands::clears &&
                        !may_touch(*answer.engine.valves);
    return {fmt::format(
                "{} Park the crank as the manual says; on paper at {} crank deg past top dead "
                "centre of cylinder 1, where no valve reaches a piston wherever the cams stand ({} "
                "beyond the margin).",
                clears ? "The belt is still on, and with it the valves clear: forwards only."
                       : "Do not turn it with the belt as it is: valves and pistons come too near.",
                fixed(known->best_deg, 1),
                sentences::mm_amid(known->best_spare_mm, known->best_unsure)),
            &*known};
  }
  return {"Park the crank clear of the valves as the manual says."};
}

std::string tool_for(const Shaft& shaft) {
  if (shaft.role == Role::crankshaft) return "a spanner on the crank's own bolt turns it";
  if (shaft.role == Role::camshaft) {
    return "a holding tool in its pulley, or a spanner on the shaft's own flats, turns it; never "
           "the cam bolt";
  }
  return "a holding tool in its pulley turns it; never the bolt that holds the pulley";
}

void add_moves(const TurnsAnswer& turns, std::vector<std::string>& steps) {
  bool moved_once = false;  // one move of the crank rights them all
  for (const Cure& cure : turns.cures) {
    const std::string move = moved_once ? "" : sentences::move(turns, cure);
    const bool at_crank = sentences::at_crank(turns);
    const Shaft& moved = at_crank ? turns.assembly.crank() : shaft_at(turns, cure.moved);
    if (!move.empty()) steps.push_back(fmt::format("Now {}: {}.", move, tool_for(moved)));
    moved_once = moved_once || (at_crank && !move.empty());
    const std::string rest = sentences::slots_reach(cure) ? sentences::rest(turns, cure) : "";
    if (rest.empty()) continue;
    const std::string name = the(shaft_at(turns, cure.shaft).name);
    steps.push_back(fmt::format(
        "{}: {}. Hold the pulley, loosen its bolts, and tighten them again with the pin in.",
        move.empty() ? capital(name) : "After that, " + name, rest));
  }
}

std::string pins_in(const TurnsAnswer& turns) {
  std::vector<std::string> names;
  for (const Shaft& shaft : turns.assembly.shafts) {
    if (shaft.pin) names.push_back(plain_name(shaft.name));
  }
  if (names.empty()) return "every mark in its place";
  return fmt::format("every pin in ({})", fmt::join(names, ", "));
}

}  // namespace

std::vector<std::string> whole_move(const DriveSpec& spec, const CheckAnswer& answer) {
  const std::optional<TurnsAnswer>& turns = answer.judged.turns;
  if (!turns || answer.verdict == Verdict::agrees) return {};
  const auto movable = [&](const Cure& cure) { return can_be_moved(*turns, cure); };
  if (std::none_of(turns->cures.begin(), turns->cures.end(), movable)) return {};
  const bool has_tensioner = turns->assembly.fitted.tensioner.has_value();
  std::vector<std::string> steps;
  const Parked parked = park(spec, answer);
  steps.push_back(parked.told);
  steps.push_back(has_tensioner
                      ? "Slacken the tensioner and take the belt off the pulleys that are to move. "
                        "Its arrow points the way it runs."
                      : "Take the belt off as the manual says; never lever it.");
  add_moves(*turns, steps);
  if (parked.elsewhere) {
    std::string back = "Cams at their pins, belt off: the crank back to its mark";
    for (const ParkWay& way : parked.elsewhere->ways) back += "; " + told(way);
    steps.push_back(back + ". Stop at any resistance.");
  }
  steps.push_back(
      fmt::format("Belt back on from the crank along its tight run, the slack left {}; {}.",
                  has_tensioner ? "at the tensioner" : "to the last run", pins_in(*turns)));
  if (has_tensioner) {
    steps.push_back(
        fmt::format("Set the tension as the manual says, engine cold{}.",
                    turns->assembly.setting_is_moved()
                        ? "; the tension decides, not the place of the pointer, which what "
                          "has changed moves"
                        : ""));
  }
  steps.push_back(fmt::format(
      "All pins out and counted. Two turns by hand at the crank{}, then look at every mark and pin "
      "again.",
      spec.crank_turns ? fmt::format(", {}", word(*spec.crank_turns)) : ""));
  return steps;
}

}  // namespace twoturn
