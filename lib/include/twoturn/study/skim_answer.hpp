#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/pistons_answer.hpp"
#include "twoturn/timing/marks_answer.hpp"

namespace twoturn {

struct SkimQuestion {
  std::string head;          ///< of the profile; may be empty where it has only one, or none
  double skim_mm = 0.0;      ///< to come off, on top of what [build] says already
  Fit fit = Fit::as_fitted;  ///< by the book: without what [build] says
};

/// How one timed shaft stands after the skim, and what would put it back. Errors + early.
struct SkimmedShaft {
  std::string name;
  std::optional<Role> role;
  std::optional<Fixing> fixing;
  Direction direction = Direction::given;
  double before_crank_deg = 0.0;  ///< without this skim
  double before_own_deg = 0.0;
  double error_crank_deg = 0.0;  ///< with it
  double error_own_deg = 0.0;
  double error_teeth = 0.0;
  std::optional<double> error_edge_mm;
  PinState pin = PinState::not_given;
  std::optional<double> miss_mm;     ///< at the pin's radius
  std::optional<double> play_mm;     ///< of the pin, each side
  double turned_on_shaft_deg = 0.0;  ///< pulley ahead of its shaft: free or adjusted pulleys
  std::optional<Cure> cure;          ///< empty where it is right
  std::optional<double> range_deg;   ///< of an adjustable pulley, each way
  std::optional<double> key_radius_mm;
  std::optional<double> gasket_mm;  ///< a gasket thicker by this takes out the cure's rest: solved
};

/// What a skimmed head does to the drive, through the same chain as everything else.
struct SkimAnswer {
  std::string head;
  double skim_mm = 0.0;
  double already_mm = 0.0;  ///< in [build]
  bool reaches = true;      ///< false: it is not given how the head carries it to the drive
  std::vector<SkimmedShaft> shafts;
  std::optional<TurnsAnswer> turns;  ///< with the skim; empty where they cannot be told
  std::optional<Setting> tensioner_before;
  std::optional<Setting> tensioner_after;
  std::optional<NoAssembly> none;         ///< with the skim the belt cannot be put on
  std::optional<Drive> drive;             ///< that `none` is about
  Verdict verdict = Verdict::look_again;  ///< of the whole drive with the skim
  std::string headline;
  std::vector<Finding> findings;                 ///< of level stop and look
  std::optional<CompressionAnswer> compression;  ///< of the head; after: with this skim
  std::optional<double> ratio_before;            ///< with what [build] takes off already
  std::vector<SkimShift> rough;  ///< where coordinates are missing: over one straight run
  std::vector<Missing> missing;

  double total_mm() const { return already_mm + skim_mm; }
};

}  // namespace twoturn
