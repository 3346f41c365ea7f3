// Valve springs and drags as torque at the crank.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"
#include "feel_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::study {
namespace {

constexpr const char* kFelt = "what the spanner feels over two turns";

// The pulley on the belt that turns a shaft; empty: none of that name.
std::string belt_pulley_of(const DriveSpec& spec, std::string name) {
  for (std::size_t step = 0; step <= spec.geared.size(); ++step) {
    for (const PulleySpec& pulley : spec.pulleys) {
      if (pulley.name == name) return name;
    }
    for (const GearedSpec& geared : spec.geared) {
      if (geared.name == name) name = geared.from;
    }
  }
  return "";
}

std::optional<ValveSprings> springs_of(const ValveSpec& valve, std::vector<Missing>& missing) {
  const auto ask = [&](const char* key, const char* measure) {
    missing.push_back({"how hard the spanner pulls at each hump",
                       fmt::format("valve.{}.{}", valve.name, key), measure});
  };
  if (!valve.spring_n) {
    ask("spring_n", "take the pull of one valve's springs, fitted and shut, from the manual");
  }
  if (!valve.spring_rate_n_mm) {
    ask("spring_rate_n_mm",
        "take it from the manual: pull at full lift less pull fitted, over the lift");
  }
  if (!valve.spring_n || !valve.spring_rate_n_mm) return std::nullopt;
  const double count = valve.per_cylinder.value_or(1);
  return ValveSprings{count * *valve.spring_n, count * *valve.spring_rate_n_mm};
}

// Where springs are not known, order and place of the humps hang on the lobes all the same.
constexpr ValveSprings kAnySprings{200.0, 30.0};

std::vector<int> cylinders_of(const ValveSpec& valve, int count) {
  if (!valve.cylinders.empty()) return valve.cylinders;
  std::vector<int> all;
  for (int cylinder = 1; cylinder <= count; ++cylinder) all.push_back(cylinder);
  return all;
}

std::optional<LobeOnCam> lobe_on_cam(const DriveSpec& spec, const ValveSpec& valve,
                                     const CylinderPhases& phases, std::vector<Missing>& missing) {
  const std::optional<Lobe> lobe = lobe_if_said(valve);
  if (!lobe) {
    missing.push_back(
        {kFelt, fmt::format("valve.{}.opens_deg", valve.name),
         fmt::format("give lift and timing of {}", the(sentences::valve(valve.name)))});
    return std::nullopt;
  }
  const std::string pulley = valve.cam ? belt_pulley_of(spec, *valve.cam) : std::string();
  if (pulley.empty()) {
    missing.push_back(
        {kFelt, fmt::format("valve.{}.cam", valve.name), "name the camshaft that opens it"});
    return std::nullopt;
  }
  LobeOnCam on{valve.name, pulley, *lobe, kAnySprings, false, 0.0, {}, {}};
  if (const auto springs = springs_of(valve, missing)) {
    on.springs = *springs;
    on.springs_known = true;
  }
  on.cylinders = cylinders_of(valve, *spec.engine.cylinders);
  for (const int cylinder : on.cylinders) {
    const double firing = phases.firing_deg[static_cast<std::size_t>(cylinder - 1)];
    on.overlap_deg.push_back(firing + kTwoTurnsDeg / 2.0);
  }
  return on;
}

// Which cylinder comes when; asks for what keeps that open.
std::optional<CylinderPhases> known_phases(const EngineSpec& engine,
                                           std::vector<Missing>& missing) {
  if (!engine.cylinders) {
    missing.push_back({kFelt, "engine.cylinders", "count the cylinders"});
    return std::nullopt;
  }
  CylinderPhases phases = phases_of(layout_of(engine));
  if (!phases.firing_deg.empty()) return phases;
  missing.push_back({kFelt, "engine.firing_order", "take the firing order from the manual"});
  return std::nullopt;
}

}  // namespace

SpringTorque torque_of(const LobeOnCam& lobe, std::size_t cylinder, double crank_deg) {
  const double after = crank_deg - lobe.overlap_deg[cylinder] + lobe.error_crank_deg;
  return spring_torque(lobe.lobe, lobe.springs, Angle::degrees(after));
}

SpringTorque CamLoads::torque(double crank_deg) const {
  SpringTorque sum;
  for (const LobeOnCam& lobe : lobes) {
    for (std::size_t k = 0; k < lobe.cylinders.size(); ++k) {
      const SpringTorque one = torque_of(lobe, k, crank_deg);
      sum.nmm += one.nmm;
      sum.rate_nmm_per_rad += one.rate_nmm_per_rad;
    }
  }
  return sum;
}

std::optional<CamLoads> cam_loads(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                                  std::vector<Missing>& missing) {
  if (spec.valves.empty()) {
    missing.push_back({kFelt, "valve.inlet.opens_deg",
                       "give each kind of valve a [[valve]]: lift, timing and its cam"});
    return std::nullopt;
  }
  const std::optional<CylinderPhases> phases = known_phases(spec.engine, missing);
  if (!phases) return std::nullopt;
  CamLoads loads;
  for (const ValveSpec& valve : spec.valves) {
    std::optional<LobeOnCam> on = lobe_on_cam(spec, valve, *phases, missing);
    if (!on) continue;
    on->error_crank_deg = cam_error(spec, fit, turns, *valve.cam).crank_deg;
    loads.lobes.push_back(std::move(*on));
  }
  loads.start_known = spec.engine.timing_position_deg.has_value();
  loads.start_deg = spec.engine.timing_position_deg.value_or(0.0);
  if (!loads.start_known) {
    missing.push_back({"where pins in is among the humps", "engine.timing_position_deg",
                       "find cylinder 1's firing top dead centre, and how far past it pins go in"});
  }
  if (loads.lobes.empty()) return std::nullopt;
  return loads;
}

double drag_nmm(const DriveSpec& spec, const Drive* drive) {
  const PulleySpec* crank = nullptr;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.role == Role::crankshaft) crank = &pulley;
  }
  double sum = 0.0;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (!pulley.drag_nm || !pulley.teeth || crank == nullptr || !crank->teeth) continue;
    double teeth = *pulley.teeth;
    if (drive != nullptr) {
      const int index = drive->index_of(pulley.name);
      if (index >= 0) teeth = drive->pulleys[static_cast<std::size_t>(index)].teeth;
    }
    sum += kMmPerM * *pulley.drag_nm * *crank->teeth / teeth;
  }
  return sum;
}

}  // namespace twoturn::study
