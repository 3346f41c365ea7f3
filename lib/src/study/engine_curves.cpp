#include "twoturn/study/engine_curves.hpp"

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"

namespace twoturn {
namespace {

using study::EngineModel;
using study::ModelValve;

LobeCurve lobe_curve(const EngineModel& model, const ModelValve& valve, int cylinder) {
  LobeCurve curve;
  curve.name = valve.spec->name;
  curve.side = *valve.spec->side;
  const double centre = valve.over.lobe.centre().degrees();
  const std::vector<double>& firing = model.pistons.phases.firing_deg;
  if (model.pistons.at_pins && !firing.empty()) {
    const double after_overlap = model.pistons.at_pins->crank_deg -
                                 firing[static_cast<std::size_t>(cylinder - 1)] -
                                 kTwoTurnsDeg / 2.0;
    curve.nose_deg = wrapped_cycle((after_overlap - centre) * kRadPerDeg) / kRadPerDeg / 2.0;
  }
  for (int cam_deg = -180; cam_deg <= 180; ++cam_deg) {
    curve.cam_deg.push_back(cam_deg);
    curve.lift_mm.push_back(valve.over.lobe.lift_mm(Angle::degrees(centre + 2.0 * cam_deg)));
  }
  return curve;
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
    curves.depth_mm.push_back(model->crank.depth_mm(Angle::degrees(curves.crank_deg.back())));
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
    curves.lobes.push_back(lobe_curve(*model, valve, cylinder));
  }
  return curves;
}

}  // namespace twoturn
