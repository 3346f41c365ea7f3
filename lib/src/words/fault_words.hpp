// How a fault and its remedy are said: once, for the catalogue, the card, the verdict and
// exercises.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/fault/bench.hpp"
#include "twoturn/fault/fault.hpp"
#include "twoturn/fault/look.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn::sentences {

/// What a fault's words are made from beside itself.
struct FaultGround {
  const BenchLayout& layout;
  const TurnsAnswer& right;  ///< two turns without any fault
  Direction direction = Direction::given;
};

/// "the inlet cam is 1 tooth late"; of two "..., and ...".
std::string title(const FaultGround& ground, const FaultCase& suspect, double size);

/// What to do, a sentence: of a belt to be moved from the cures of its own two turns.
std::string remedy(const FaultGround& ground, const FaultCase& suspect, const TurnsAnswer* turns);

/// What to do about a whole class of faults, with this drive's mm of a tooth; empty where one
/// fault's own remedy says it.
std::string class_remedy(const BenchLayout& layout, Remedy remedy);

/// What else shows, beside marks, pins and pointer.
std::vector<std::string> signs(const FaultCase& suspect, const Bench& bench);

/// "A shaft whole teeth out": over all faults of a kind.
std::string_view heading(FaultKind kind);

/// "91 in 100", "fewer than 1 in 100", "more than 99 in 100".
std::string in_hundred(double probability);

/// "the mark on the damper"; "the petrol mark" where its name says so.
std::string further_mark(const std::string& name);

/// "the pin of the cam", "the mark of the cam", "the pointer".
std::string look_at(const BenchLayout& layout, LookKind kind, int part);

/// What a look showed, or would: "out", "8.0 mm late", "further out each time", "no".
std::string sight(const BenchLayout& layout, const Sight& sight, Direction direction);

}  // namespace twoturn::sentences
