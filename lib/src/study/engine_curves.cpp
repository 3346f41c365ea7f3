#include "twoturn/study/engine_curves.hpp"

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

using study::EngineModel;
using study::ModelValve;

// In every turn, from pins in.
std::vector<CylinderTop> tops_of(const PistonsAnswer& pistons) {
  std::vector<CylinderTop> tops;
  for (std::size_t k = 0; k < pistons.phases.top_deg.size(); ++k) {
    const double after = pistons.phases.top_deg[k] - pistons.at_pins->crank_deg;
    tops.push_back({static_cast<int>(k) + 1, in_turn(after)});
  }
  return tops;
}

}  // namespace

EngineCurves engine_curves(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns, int cylinder,
                           double step_deg) {
  EngineCurves curves;
  curves.cylinder = cylinder;
  std::vector<Missing> ignored;
  const std::optional<EngineModel> model = study::engine_model(spec, fit, ignored);
  if (!model || cylinder < 1 || cylinder > model->pistons.cylinders) return curves;
  const int steps = static_cast<int>(std::lround(kTwoTurnsDeg / step_deg));
  for (int k = 0; k <= steps; ++k) {
    curves.crank_deg.push_back(k * kTwoTurnsDeg / steps);
  }
  const std::vector<double>& firing = model->pistons.phases.firing_deg;
  if (model->pistons.at_pins && !firing.empty()) {
    const double past =
        model->pistons.at_pins->crank_deg - firing[static_cast<std::size_t>(cylinder - 1)];
    curves.at_pins_deg = wrapped_deg(past, kTwoTurnsDeg);
    curves.tops = tops_of(model->pistons);
  }
  for (const ModelValve& valve : model->valves) {
    if (!valve.serves(cylinder)) continue;
    const Angle advance =
        Angle::degrees(study::cam_error(spec, fit, turns, valve.spec->cam.value_or("")).crank_deg);
    ValveCurve curve;
    curve.name = valve.spec->name;
    curve.side = *valve.spec->side;
    for (const double crank_deg : curves.crank_deg) {
      const Angle at = Angle::degrees(crank_deg - kTwoTurnsDeg / 2.0);
      curve.lift_mm.push_back(valve.over.lobe.lift_mm(at + advance));
      curve.room_mm.push_back(room_mm(model->crank, valve.fitted(), advance, at));
      curve.book_room_mm.push_back(room_mm(model->crank, valve.over, Angle(), at));
    }
    curves.valves.push_back(std::move(curve));
  }
  return curves;
}

}  // namespace twoturn
