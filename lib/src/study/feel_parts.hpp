// What feel and tension share: who loads the belt, and with what.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/engine/lobe.hpp"
#include "twoturn/engine/spring_torque.hpp"
#include "twoturn/load/elastic_belt.hpp"
#include "twoturn/study/feel_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn::study {

inline constexpr double kMmPerM = 1000.0;

/// All valves of one line of the profile on their cam.
struct LobeOnCam {
  std::string valve;
  std::string pulley;  ///< on the belt, that turns its cam
  Lobe lobe;
  ValveSprings springs;  ///< of all such valves of one cylinder
  bool springs_known = false;
  double error_crank_deg = 0.0;  ///< of its cam, + early
  std::vector<int> cylinders;
  std::vector<double> overlap_deg;  ///< of each cylinder: past cylinder 1's firing dead centre
};

/// Who asks for torque. The crank's angle counts past cylinder 1's firing dead centre.
struct CamLoads {
  std::vector<LobeOnCam> lobes;
  double start_deg = 0.0;  ///< the crank with pins in
  bool start_known = false;

  /// Torque at the crank of all of them.
  SpringTorque torque(double crank_deg) const;
};

/// Empty where no valve's lobe, cam and dead centres are known.
std::optional<CamLoads> cam_loads(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                                  std::vector<Missing>& missing);

/// Torque of a valve line in one cylinder, at the crank.
SpringTorque torque_of(const LobeOnCam& lobe, std::size_t cylinder, double crank_deg);

/// What hangs on the crank besides springs, N mm, each shaft's drag at its rate.
double drag_nmm(const DriveSpec& spec, const Drive* drive);

/// An elastic run: from one toothed pulley to the next, with what plain ones carry between.
struct GivingRun {
  int from = 0;  ///< in the order of travel
  int to = 0;
  double length_mm = 0.0;  ///< without the arcs on the two
  bool tensioner = false;  ///< its roller works on it
};
std::vector<GivingRun> giving_runs(const Drive& drive, const PlacedPath& placed);

/// The drive as the elastic solver takes it: toothed pulleys, their loads by their own angle from
/// pins in, N mm.
struct BeltModel {
  ElasticBelt belt;
  std::vector<int> pulleys;  ///< in the order of travel, of each shaft
  std::vector<GivingRun> runs;
  std::vector<ShaftLoad> loads;
  std::vector<double> rate;  ///< own turns a turn of the crank

  std::vector<double> rigid(double turned_rad) const;
};
/// Empty where stiffness, or what a sprung tensioner needs, is not known. `loads` is kept alive by
/// the caller; nullptr: shafts ask for their drag alone.
std::optional<BeltModel> belt_model(const DriveSpec& spec, const Fitted& fitted,
                                    const TurnsAnswer& turns, const CamLoads* loads,
                                    std::vector<Missing>& missing);

/// Sets the model's tension without a load so that the run that is meant has its target where it is
/// read; false where the target is not known.
bool set_static_tension(const DriveSpec& spec, const Drive& drive, const PlacedPath& placed,
                        BeltModel& model, std::vector<Missing>& missing);

/// The tension that [tension] asks of its run, N; empty where it says too little.
std::optional<double> target_n(const DriveSpec& spec, const Drive& drive, const PlacedPath& placed,
                               std::vector<Missing>& missing);
/// Mass of the belt, kg a metre; empty where it is not known.
std::optional<double> mass_kg_per_m(const DriveSpec& spec, const Drive& drive);
/// The straight between two neighbouring pulleys, by its first in travel; -1: they are none.
int span_between(const Drive& drive, const std::string& a, const std::string& b);
/// The elastic run that a straight lies in, as an index of `runs`.
int run_of_span(const Drive& drive, const std::vector<GivingRun>& runs, int span);

}  // namespace twoturn::study
