// How a cure is told: once, for findings, for the text and for pages.
#pragma once

#include <string>
#include <string_view>

#include "twoturn/timing/turns_answer.hpp"

namespace twoturn::sentences {

/// "turn the cam 1 tooth on (clockwise) with the belt off its pulley": of a geared shaft the one
/// that drives it; where that rights them all, the crank. Empty where no whole tooth is to be
/// moved.
std::string move(const TurnsAnswer& turns, const Cure& cure);

/// Whether the slots of an adjustable pulley reach as far as the rest asks.
bool slots_reach(const Cure& cure);

/// Whether that move is the crank's, and so one for all shafts.
bool at_crank(const TurnsAnswer& turns);

/// "no whole tooth takes out 0.28 cam deg (0.56 crank deg); ..." and what would; empty where what
/// is left prints as nothing.
std::string rest(const TurnsAnswer& turns, const Cure& cure);

/// Both for one line of a list: "the cam: turn the cam ...; after that, no whole tooth ...",
/// without a full stop. Empty where neither is there.
std::string cure_of(const TurnsAnswer& turns, const Cure& cure);

/// Both as sentences to stand behind a finding, each with a space before it.
std::string cure(const TurnsAnswer& turns, const Cure& cure);

/// The next thing to do, for a verdict line.
std::string cure_in_short(const TurnsAnswer& turns, const Cure& cure);

/// "the pulley of the cam is loose while the belt is tensioned: ..."; empty where it turns by what
/// prints as nothing.
std::string loose_pulley(std::string_view shaft, double turned_on_shaft_deg);

}  // namespace twoturn::sentences
