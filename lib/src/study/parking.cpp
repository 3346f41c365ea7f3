#include "twoturn/study/parking.hpp"

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"
#include "engine_unsure.hpp"
#include "twoturn/drive/limits.hpp"

namespace twoturn {
namespace {

using study::EngineModel;
using study::EngineUnsure;
using study::ModelValve;

std::vector<ParkNeed> needs_of(const EngineModel& model, std::optional<double> margin_mm) {
  std::vector<ParkNeed> needs;
  for (int cylinder = 1; cylinder <= model.pistons.cylinders; ++cylinder) {
    ParkNeed deepest;
    for (const ModelValve& valve : model.valves) {
      if (!valve.serves(cylinder)) continue;
      ParkNeed need{cylinder, valve.spec->name};
      need.greatest_drop_mm = valve.over.greatest_drop_mm();
      need.room_tdc_mm = valve.fitted().room_tdc_mm;
      need.margin_mm = margin_mm.value_or(valve.limit_mm);
      need.need_mm = need.greatest_drop_mm + need.margin_mm - need.room_tdc_mm;
      if (deepest.cylinder == 0 || need.need_mm > deepest.need_mm) deepest = need;
    }
    needs.push_back(deepest);
  }
  return needs;
}

// What each piston would meet with the cams standing where their pins hold them.
std::vector<ParkPiston> at_pins(const EngineModel& model, double timing_deg) {
  std::vector<ParkPiston> pistons;
  for (int cylinder = 1; cylinder <= model.pistons.cylinders; ++cylinder) {
    const auto k = static_cast<std::size_t>(cylinder - 1);
    const double after_overlap = timing_deg - model.pistons.phases.firing_deg[k] - kTurnDeg;
    ParkPiston piston;
    piston.top_deg = model.pistons.phases.top_deg[k];
    bool any = false;
    for (const ModelValve& valve : model.valves) {
      if (!valve.serves(cylinder)) continue;
      const ValveOverPiston fitted = valve.fitted();
      const double meets = fitted.drop_a_lift * fitted.lobe.lift_mm(Angle::degrees(after_overlap)) -
                           fitted.room_tdc_mm;
      piston.need_mm = any ? std::max(piston.need_mm, meets) : meets;
      any = true;
    }
    pistons.push_back(piston);
  }
  return pistons;
}

void add_timing_spare(const EngineModel& model, const EngineUnsure& unsure, ParkAnswer& answer) {
  if (!model.pistons.at_pins) return;
  const PistonsAt& at = *model.pistons.at_pins;
  answer.timing_position_deg = in_turn(at.crank_deg);
  const ParkNeed* nearest = nullptr;
  for (const PistonPlace& place : at.places) {
    const ParkNeed& need = answer.needs[static_cast<std::size_t>(place.cylinder - 1)];
    const double spare = place.depth_mm - need.need_mm;
    if (nearest != nullptr && spare >= *answer.timing_spare_mm) continue;
    answer.timing_spare_mm = spare;
    nearest = &need;
  }
  if (nearest == nullptr) return;
  answer.timing_unsure =
      unsure.spare(*nearest, answer.fit, at.crank_deg, EngineUnsure::ParkedAt::timing_position);
}

void add_ways(const EngineModel& model, ParkAnswer& answer) {
  if (!model.pistons.at_pins || model.pistons.phases.firing_deg.empty()) return;
  if (!answer.best_is_clear) return;
  const double timing = model.pistons.at_pins->crank_deg;
  constexpr double kSameDeg = 0.01;
  const double apart = in_turn(timing - answer.best_deg);
  answer.best_is_timing = std::min(apart, kTurnDeg - apart) < kSameDeg;
  if (answer.best_is_timing) return;
  const std::vector<ParkPiston> pistons = at_pins(model, timing);
  for (const TurnWay way : {TurnWay::forwards, TurnWay::backwards}) {
    const CrankWay found = crank_way(model.crank, pistons, answer.best_deg, timing, way);
    answer.ways.push_back(
        {way, found.turn_deg, found.least_mm, found.piston + 1, found.at_deg, found.clear()});
  }
}

}  // namespace

const ParkWay* way_to_take(const ParkAnswer& answer) {
  const ParkWay* shorter = nullptr;
  for (const ParkWay& way : answer.ways) {
    if (way.clear && (shorter == nullptr || way.turn_deg < shorter->turn_deg)) shorter = &way;
  }
  return shorter;
}

CountedParkAnswer counted_park(const CylinderLayout& layout) {
  CountedParkAnswer answer;
  answer.cylinders = layout.cylinders;
  answer.phases = phases_of(layout);
  answer.park = park_from_tops(answer.phases.top_deg);
  answer.enough = answer.park.stroke_share > kTakenLiftShare;
  return answer;
}

std::optional<ParkAnswer> park_answer(const DriveSpec& spec, Fit fit,
                                      std::optional<double> margin_mm,
                                      std::vector<Missing>& missing) {
  const std::optional<EngineModel> model = study::engine_model(spec, fit, missing);
  if (!model) return std::nullopt;
  if (!study::covers_every_cylinder(*model)) {
    missing.push_back({"where to park the crank clear of every valve", "valve",
                       "say of an inlet and an exhaust valve of every cylinder how far they open, "
                       "when, and how much room there is at top dead centre"});
    return std::nullopt;
  }
  if (!margin_mm) margin_mm = spec.limits.park_room_mm;
  ParkAnswer answer;
  answer.fit = fit;
  answer.needs = needs_of(*model, margin_mm);
  std::vector<ParkPiston> pistons;
  for (const ParkNeed& need : answer.needs) {
    const auto k = static_cast<std::size_t>(need.cylinder - 1);
    pistons.push_back({model->pistons.phases.top_deg[k], need.need_mm});
  }
  const ParkFound found = find_park(model->crank, pistons);
  answer.clear = found.clear;
  answer.best_deg = found.best_deg;
  answer.best_spare_mm = found.best_spare_mm;
  answer.best_cylinder = found.best_piston + 1;
  answer.best_is_clear = !found.clear.empty() && found.best_spare_mm > 0.0;
  answer.at_best = pistons_at(model->pistons, answer.best_deg);
  const EngineUnsure unsure(spec, *model);
  answer.best_unsure = unsure.spare(answer.needs[static_cast<std::size_t>(found.best_piston)], fit,
                                    answer.best_deg, EngineUnsure::ParkedAt::any_angle);
  add_timing_spare(*model, unsure, answer);
  add_ways(*model, answer);
  return answer;
}

}  // namespace twoturn
