#pragma once

#include <optional>
#include <string>

#include "twoturn/load/pluck.hpp"
#include "twoturn/study/tension_answer.hpp"

namespace twoturn {

/// What `tension` tells: the answer and, where a recording was handed over, the note found in it.
struct TensionReport {
  TensionAnswer answer;
  std::optional<NoteFound> note;
  double recording_s = 0.0;
};

/// Why a recording has no note, and what to do: one or two sentences.
std::string no_note_words(const NoNote& none);

}  // namespace twoturn
