#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "twoturn/drive/fault_kind.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// The words that a profile uses for a choice, and that output uses back.
std::string_view word(Turn turn);
std::string_view word(Face face);
std::string_view word(Role role);
std::string_view word(Fixing fixing);
std::string_view word(MarkOn mark_on);
std::string_view word(Origin origin);
std::string_view word(Between between);
std::string_view word(ValveSide side);
std::string_view word(LiftLaw law);
std::string_view word(CrownShape crown);
std::string_view word(LiftAtPart part);
std::string_view word(Holds holds);
std::string_view word(BoltCondition condition);
std::string_view word(ThreadState threads);
std::string_view word(PinFelt pin);
std::string_view word(SeenAgain again);
std::string_view word(LastTurned turned);
std::string_view word(FaultKind kind);

/// All words of a kind, in the order of the enum.
template <class Choice>
const std::vector<std::string>& words_of();

/// The choice that a word names, or empty. US spellings are accepted ("counterclockwise",
/// "intake").
template <class Choice>
std::optional<Choice> from_word(std::string_view text);

}  // namespace twoturn
