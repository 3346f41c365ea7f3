#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/missing.hpp"
#include "twoturn/fault/fault.hpp"
#include "twoturn/study/card_answer.hpp"

namespace twoturn {

/// The bench card of a drive, from the same benches as `why_answer`. What is missing for one is
/// listed.
[[nodiscard]] std::optional<CardAnswer> card_of(const DriveSpec& spec, const Heading& heading,
                                                std::vector<Missing>& missing);

/// Faults that end at the same place of the card: those of one remedy, wherever it is to be done.
std::string card_key(const FaultCase& suspect);

/// Whether one of the card's looks takes that look.
bool card_asks(const CardLook& look, const Look& of);

}  // namespace twoturn
