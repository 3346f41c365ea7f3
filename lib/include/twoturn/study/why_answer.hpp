#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/seen_spec.hpp"
#include "twoturn/fault/bench.hpp"
#include "twoturn/fault/fault.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// One shaft under one fault, after so many turns of the crank. Errors are + early.
struct WhyStop {
  int turns = 0;
  double mark_crank_deg = 0.0;  ///< how far its mark is from where it belongs
  double mark_own_deg = 0.0;
  double mark_teeth = 0.0;
  std::optional<double> mark_mm;      ///< at the edge; empty: at no known radius
  std::optional<double> mark_at_deg;  ///< clock angle at which the mark stands
  std::optional<double> belongs_deg;  ///< clock angle at which it belongs after as many turns
  double shaft_crank_deg = 0.0;       ///< of the shaft itself: its lobes
  std::optional<PinFelt> pin;         ///< empty: no pin, or not due after so many turns
};
struct WhyShaft {
  std::string name;
  std::optional<Role> role;
  bool has_mark = false;
  std::vector<WhyStop> stops;  ///< after 0, 1, 2 and 4 turns
  bool same_each_time = true;  ///< its error is the same at all of them
};

/// A further mark of a shaft (damper, flywheel) after two turns.
struct WhyFurther {
  std::string name;
  double crank_deg = 0.0;
  std::optional<double> mm;
};

struct WhyCount {
  std::string from;
  std::string to;
  double teeth = 0.0;
  double should_be = 0.0;
  bool countable = false;
};

/// Everything that one fault, or two together, shows on this drive.
struct WhyFault {
  FaultCase suspect;
  std::string title;             ///< "the inlet cam 1 tooth late"; begins small
  double size = 0.0;             ///< that it is shown at; of no meaning without `unit`
  std::string unit;              ///< empty: it has no size
  bool goes_on = true;           ///< false: the belt cannot be put on so
  std::string none;              ///< then why
  std::vector<WhyShaft> shafts;  ///< timed ones, the crank first
  std::vector<WhyFurther> further;
  std::vector<WhyCount> counts;
  std::optional<double> pointer;  ///< clock deg or, of a slide, mm
  std::optional<double> pointer_should;
  std::optional<double> adjustment_left_mm;
  double loose_mm = 0.0;                  ///< belt over; below 0: stretched by that
  std::optional<double> rocks_crank_deg;  ///< lost motion at the crank that a loose belt gives
  bool wanders = false;                   ///< further out after every two turns
  bool same_each_try = true;
  std::vector<std::string> signs;  ///< what else shows: "the belt stands proud of the cam's pulley"
  std::vector<std::string> rubs;   ///< parts that the belt then rubs on or misses
  std::optional<std::vector<double>> stops_deg;  ///< solid stops, crank deg on from pins in
  std::string remedy;                            ///< what to do, a sentence
};

/// What slack on the way to a shaft comes to, and how to allow for it.
struct WhySlack {
  std::string shaft;
  double own_deg_a_mm = 0.0;
  double crank_deg_a_mm = 0.0;  ///< by which it goes late (early on the slack side) for each mm
  bool goes_late = true;
  double set_back_deg_a_mm = 0.0;  ///< crank turned back before the belt goes on, for each mm
};

/// A pointer and marks while a sprung tensioner gives way to turning backwards.
struct WhyBackwards {
  double gives_mm = 0.0;  ///< belt that the tensioner can give at most
  std::vector<std::string> shafts;
  std::vector<double> early_crank_deg;  ///< at most, of each
};

struct WhyPrior {
  FaultKind kind = FaultKind::eye;
  double weight = 1.0;
  bool given = false;
  double share = 0.0;  ///< of all suspects, those of two faults left out
};

struct WhyEvidence {
  std::string key;    ///< of the profile: "seen.pin.inlet cam"
  std::string what;   ///< "the pin of the inlet cam"
  std::string seen;   ///< "out"
  std::string would;  ///< what it would show: "in"
  double bits = 0.0;  ///< for it above 0
  enum class Weighs { for_it, against_it, neither } weighs = Weighs::neither;
};

struct WhyCandidate {
  WhyFault fault;  ///< at the size that explains best
  double probability = 0.0;
  std::vector<WhyEvidence> evidence;
  std::shared_ptr<const TurnsAnswer> turns;  ///< of the faulty build, for pictures
  std::optional<Fitted> fitted;              ///< the same drive
  std::optional<double> reading;             ///< where its tensioner then stands
};

/// Candidates that what was seen does not tell apart.
struct WhyGroup {
  double probability = 0.0;
  std::vector<WhyCandidate> members;  ///< the likeliest first; more are summed than are named
  int unnamed = 0;
};

/// The one further look that best tells the likeliest from the next with another remedy.
struct WhyNext {
  std::string look;   ///< "try the pin of the exhaust cam after two turns"
  std::string first;  ///< titles
  std::string second;
  std::string if_first;  ///< "it goes in"
  std::string if_second;
  double bits = 0.0;  ///< expected, of 1
};

struct WhySeen {
  std::string headline;   ///< "Seen: most likely (91 in 100) ..."
  std::string likeliest;  ///< "the cam is 1 tooth late; or the belt is out at the crank ..."
  bool explained = true;
  std::vector<WhyGroup> groups;
  std::vector<std::string> steps;  ///< what to do about the first, in order
  std::optional<WhyNext> next;
  std::vector<std::string> not_used;  ///< keys of what was seen that this drive has no use for
  double serious = 0.0;               ///< probability of all that a verdict would stop for
  bool turns_said = false;            ///< after how many turns it was looked at
  /// Timed shafts of which neither pin nor mark was seen.
  std::vector<std::string> not_seen;
  int datum = 0;  ///< shaft that all errors count from
  std::optional<LastTurned> turned;
};

struct WhyAnswer {
  Fit fit = Fit::as_fitted;
  Direction direction = Direction::given;
  BenchLayout layout;
  std::vector<WhyShaft> without;  ///< timed shafts without any fault: what [build] does shows too
  std::vector<WhyFurther> without_further;  ///< and further marks
  std::vector<WhyFault> catalogue;
  std::vector<WhySlack> slack;
  std::optional<WhyBackwards> backwards;
  std::vector<WhyPrior> priors;
  double two_together_share = 0.0;
  std::optional<WhySeen> seen;
};

/// Whether an exercise's answer is told with it.
enum class Solution { hidden, shown };

/// One fault hidden, for teachers.
struct Exercise {
  unsigned seed = 1;
  SeenSpec seen;                   ///< what shows, read off it as a person would
  std::vector<std::string> shows;  ///< the same in lines
  WhyFault hidden;
  WhyAnswer working;  ///< `why` of the same sights
};

}  // namespace twoturn
