#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/unsure.hpp"
#include "twoturn/timing/assembly_answer.hpp"

namespace twoturn {

enum class PinState { not_given, not_due, in, tight, out };

/// What one timed shaft shows after a number of crank turns. Errors are + early (advanced).
struct ShaftAfter {
  int shaft = 0;                           ///< index in Assembly::shafts
  Direction direction = Direction::given;  ///< assumed: which errors are early is not known
  double error_crank_deg = 0.0;
  double error_own_deg = 0.0;  ///< up to half a turn: a whole turn of the shaft is none
  double error_teeth = 0.0;  ///< belt teeth at its pulley; of a geared shaft: at the one driving it
  /// Wrong ratio: the grooves of a wrong pulley stand anywhere against its mark, so that the error
  /// is known within half a tooth either way, own deg. Else empty.
  std::optional<double> known_within_own_deg;
  std::optional<double> error_edge_mm;  ///< at the mark's radius; empty where that is not known
  PinState pin = PinState::not_given;
  std::optional<double> miss_mm;  ///< at the pin's radius, before its play is taken off
  Unsure error_unsure;   ///< crank deg; by the numbers of [build] alone, for teeth are counted
  Unsure beyond_unsure;  ///< of the miss less the pin's play, mm
  bool pin_sure = true;  ///< that is what the pin shows 95 times in 100
  std::optional<double> mark_deg;     ///< where its first mark points, clock angle
  std::optional<double> belongs_deg;  ///< where that mark belongs after as many turns
  std::vector<double> marks_deg;      ///< all its marks
};

struct AfterTurns {
  int turns = 0;  ///< of the crank; negative: turned backwards
  std::vector<ShaftAfter> shafts;
};

enum class Pattern { right, repeats, wanders };

/// What would put one shaft right: whole belt teeth, then the rest that no tooth takes out.
struct Cure {
  int shaft = 0;
  int moved = 0;  ///< whose pulley the belt is moved on: its own, or of a geared one its driver's
  int teeth_on = 0;           ///< move that this many teeth on (+: in running direction)
  double rest_own_deg = 0.0;  ///< then turn the shaft this far on in its pulley
  double rest_crank_deg = 0.0;
  double rest_moved_deg = 0.0;            ///< the same in own deg of `moved`
  std::optional<double> slots_short_deg;  ///< `moved` is adjustable: 0 when its range suffices
  std::optional<double> key_offset_mm;    ///< at the stated key radius
};

/// Paint on belt and pulleys: where it stands after two turns, and when it meets again.
struct Paint {
  int belt_teeth = 0;
  int crank_teeth = 0;
  int teeth_further_on = 0;         ///< belt paint from the crank's after two turns, along travel
  long long crank_meets_turns = 0;  ///< crank turns until the crank's own paint meets the belt's
  /// Until the paint of every timed pulley does; empty beyond 2^53 turns, which is never in
  /// practice.
  std::optional<long long> all_meet_turns;
};

/// One stop on the way, for tables and pictures.
struct TurnStep {
  double crank_deg = 0.0;
  double belt_teeth = 0.0;              ///< travelled
  std::vector<double> shaft_deg;        ///< travelled, own deg, running direction
  std::vector<double> error_crank_deg;  ///< 0 for untimed shafts
};

struct BetweenMarks {
  std::string from;
  std::string to;
  TeethBetween count;
  std::string along;  ///< pulleys passed on the way, in words; empty: none
};

struct TurnsAnswer {
  Fit fit = Fit::as_fitted;
  Assembly assembly;
  std::vector<AfterTurns> after;
  std::vector<Pattern> patterns;  ///< one a shaft; untimed shafts: right
  std::vector<Cure> cures;        ///< one a timed shaft that is off by more than rounding
  std::optional<int>
      cure_at_crank;              ///< teeth on, where that brings every timed shaft right at once
  bool crank_once_round = false;  ///< a whole turn of the crank does
  Paint paint;
  std::vector<BetweenMarks> between_marks;
  double crank_play_deg = 0.0;  ///< of the crank's own pin, each side; the datum's give-or-take
  std::vector<TurnStep> steps;
};

/// The state after two turns of the crank, either way, where every 2:1 pin is due; nullptr where
/// the run did not stop there.
[[nodiscard]] const AfterTurns* after_two(const TurnsAnswer& answer);

}  // namespace twoturn
