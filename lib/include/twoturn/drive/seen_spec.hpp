#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace twoturn {

/// What was seen at the engine, [seen], value for value; part of `DriveSpec`.

enum class PinFelt { in, tight, out };
enum class SeenAgain { repeats, wanders };
enum class LastTurned { forwards, backwards };

/// Belt teeth that a person counted from one mark to another, the way without the tensioner.
struct TeethCounted {
  std::string from;
  std::string to;
  std::optional<int> teeth;

  bool operator==(const TeethCounted&) const = default;
};

/// Maps go by shaft or, for marks, by the name of a further mark. Errors are + early.
struct SeenSpec {
  std::map<std::string, PinFelt> pin;
  std::map<std::string, double> mark_mm;
  std::map<std::string, double> mark_teeth;
  std::map<std::string, double> mark_crank_deg;
  std::optional<double> give_mm;      ///< of a mark by eye, 95 %
  std::optional<int> after_turns;     ///< of the crank, when pins and marks were looked at
  std::optional<SeenAgain> again;     ///< looked at after further turns
  std::optional<double> pointer_deg;  ///< clock angle
  std::optional<double> pointer_mm;   ///< slide: from the slack end
  std::vector<TeethCounted> count;
  std::optional<LastTurned> turned;
  std::optional<bool> stops;                 ///< whether anything stopped the crank dead
  std::optional<double> stop_deg;            ///< where, crank deg turned on from pins in
  std::optional<bool> moved_when_tensioned;  ///< marks right before, off after
  std::optional<bool> right_forwards;        ///< right once come up to from behind
  std::optional<bool> rocks;                 ///< a shaft moves although it is pinned
  std::optional<bool> seated;                ///< the belt lies flat and central on every pulley
  std::optional<bool> pointer_moves;         ///< as the engine is turned or its tensioner let go
  std::optional<bool> same_each_try;         ///< fitted again with care it shows the same
  std::map<std::string, double> prior;       ///< weight of a fault by its code; 1 where not said

  bool operator==(const SeenSpec&) const = default;
  /// Whether anything at all was seen; a prior is no sight.
  bool any() const {
    SeenSpec nothing;
    nothing.prior = prior;
    nothing.give_mm = give_mm;
    nothing.after_turns = after_turns;
    return !(*this == nothing);
  }
};

}  // namespace twoturn
