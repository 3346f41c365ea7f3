#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/limits.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/study/finding.hpp"
#include "twoturn/study/parking.hpp"
#include "twoturn/study/pistons.hpp"
#include "twoturn/study/unused.hpp"
#include "twoturn/study/valves.hpp"
#include "twoturn/timing/turns.hpp"

namespace twoturn {

enum class Verdict { agrees, look_again, stop };

/// What a verdict rests on: the drive as stated, what was seen at the engine, or a record of it.
enum class Basis { paper, seen, record };

std::string word(Verdict verdict);
std::string word(Basis basis);

/// Everything one fit of the drive gives, as far as the profile goes.
struct FitAnswer {
  Fit fit = Fit::as_fitted;
  std::optional<Drive> drive;
  std::optional<RouteAnswer> route;
  std::optional<TeethAnswer> teeth;
  std::optional<TensionerAnswer> tensioner;
  std::optional<TurnsAnswer> turns;
  std::optional<NoAssembly> no_turns;  ///< why there are no two turns although there is a drive
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
  std::vector<Missing> not_checked;
  FitAnswer judged;  ///< the fit that the verdict is about
  EngineAnswers engine;
  std::optional<FitAnswer> book;  ///< beside it, where [build] says anything
  std::optional<Paint> paint;     ///< from tooth counts alone, where there are no two turns
  std::vector<std::string> cautions;
  std::vector<GivenValue> given;
  std::vector<UnusedKey> unused;  ///< given numbers that nothing hangs on
};

/// Runs everything that a spec which passed `validate` allows, and judges it.
[[nodiscard]] CheckAnswer check_drive(const DriveSpec& spec, Fit fit = Fit::as_fitted);

/// One fit of the drive, every answer that can be had; what is missing is added to `missing`.
FitAnswer answer_fit(const DriveSpec& spec, Fit fit, std::vector<Missing>& missing);

/// The parts of the judgement, each from answers and stated facts alone.
void find_in_route(const DriveSpec& spec, const FitAnswer& answer, std::vector<Finding>& findings);
void find_in_tensioner(const DriveSpec& spec, const CheckAnswer& answer,
                       std::vector<Finding>& findings);
void find_in_timing(const DriveSpec& spec, const FitAnswer& answer, std::vector<Finding>& findings);
void find_in_numbers(const DriveSpec& spec, std::vector<Finding>& findings);
void find_in_engine(const DriveSpec& spec, const EngineAnswers& engine,
                    std::vector<Finding>& findings);

/// Pistons, valves, park and compression; what is missing is added to `missing`.
EngineAnswers answer_engine(const DriveSpec& spec, const FitAnswer& fitted,
                            std::vector<Missing>& missing);

/// What a profile leaves open beyond its geometry, each with the one measurement that closes it.
void add_open_questions(const DriveSpec& spec, const CheckAnswer& answer,
                        std::vector<Missing>& missing);

/// The usual cautions, chosen by what the drive is; the short form of the sheet's.
std::vector<std::string> cautions_for(const DriveSpec& spec);

/// The cautions of a sheet for the bench that do not stand in its order of work.
std::vector<std::string> sheet_cautions(const DriveSpec& spec);

/// Whether the cautions of an engine are due: it has a head, or a camshaft and nobody says that
/// nothing can meet in it.
bool may_be_engine(const DriveSpec& spec);

}  // namespace twoturn
