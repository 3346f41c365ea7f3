#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/limits.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/feel_answer.hpp"
#include "twoturn/study/finding.hpp"
#include "twoturn/study/parking.hpp"
#include "twoturn/study/pistons_answer.hpp"
#include "twoturn/study/record_answer.hpp"
#include "twoturn/study/tension_answer.hpp"
#include "twoturn/study/unused.hpp"
#include "twoturn/study/valves.hpp"
#include "twoturn/study/why_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

enum class Verdict { agrees, look_again, stop };

/// What a verdict rests on: the drive as stated, what was seen at the engine, or a record of it.
enum class Basis { paper, seen, record };

std::string word(Verdict verdict);
std::string word(Basis basis);

/// Everything one fit of the drive gives, as far as the profile goes.
struct FitAnswer {
  Fit fit = Fit::as_fitted;
  std::optional<Fitted> fitted;  ///< what the answers were asked of
  std::optional<RouteAnswer> route;
  std::optional<TeethAnswer> teeth;
  std::optional<TensionerAnswer> tensioner;
  std::optional<TurnsAnswer> turns;
  std::optional<NoAssembly> no_turns;  ///< why there are no two turns although there is a drive

  /// nullptr where the profile says too little for a drive.
  const Drive* drive() const { return fitted ? &fitted->drive() : nullptr; }
};

/// What the profile says of the engine round the drive, as far as it goes; for the judged fit.
struct EngineAnswers {
  std::optional<PistonsAnswer> pistons;
  std::vector<CompressionAnswer> compression;
  std::optional<ValvesAnswer> valves;
  std::optional<ParkAnswer> park;
  std::optional<CountedParkAnswer> counted;  ///< from the number of cylinders alone
};

/// What `check` found: the verdict, why, what could not be judged, and every answer behind it.
struct CheckAnswer {
  std::string title;
  Verdict verdict = Verdict::look_again;
  Basis basis = Basis::paper;
  std::string headline;  ///< the verdict in one line, with what to do
  bool route_judged = false;
  bool fit_judged = false;
  bool phasing_judged = false;
  std::vector<Finding> findings;
  /// How a belt is moved to put the timing right, from parking the crank to two turns again, in
  /// order; empty where no whole tooth and no slot does.
  std::vector<std::string> whole_move;
  std::vector<Missing> not_checked;
  std::vector<std::string> outside;  ///< what no number of a profile would let it judge
  FitAnswer judged;                  ///< the fit that the verdict is about
  EngineAnswers engine;
  std::optional<FitAnswer> book;   ///< beside it, where [build] says anything; its route not looked
                                   ///< at along the tensioner's travel
  std::optional<FeelAnswer> feel;  ///< where the profile says anything of forces
  std::optional<TensionAnswer> tension;
  std::optional<RecordAnswer> record;  ///< where one was given: what the job has left done
  std::optional<WhySeen> seen;         ///< where the profile says what was seen
  /// Where to go with marks and pins that do not come back; empty where nothing disagrees.
  std::string next_command;
  std::optional<Paint> paint;  ///< from tooth counts alone, where there are no two turns
  std::vector<std::string> cautions;
  SharedList<GivenValue> given;
  std::shared_ptr<const MeasuredPlaces> places;  ///< of measured centres; nullptr where none are
  std::vector<UnusedKey> unused;                 ///< given numbers that nothing hangs on
};

}  // namespace twoturn
