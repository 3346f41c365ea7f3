#include <algorithm>
#include <cmath>
#include <set>

#include "base/at.hpp"
#include "twoturn/study/pistons.hpp"
#include "why_parts.hpp"

namespace twoturn::study {

SolidStops::SolidStops(const DriveSpec& spec) {
  std::vector<Missing> missing;
  const std::optional<EngineModel> model = engine_model(spec, Fit::as_fitted, missing);
  if (!model || !spec.engine.timing_position_deg) return;
  phases_ = phases_of(layout_of(spec.engine));
  if (phases_.firing_deg.empty()) return;
  start_deg_ = *spec.engine.timing_position_deg;
  for (const ModelValve& valve : model->valves) {
    if (!valve.spec->cam) continue;
    valves_.push_back(
        {*valve.spec->cam, valve.cylinders, LeastRoom(model->crank, valve.fitted()), {}});
  }
}

std::vector<double> SolidStops::of(const BenchLayout& layout, const Bench& bench) const {
  std::set<double> stops;
  for (const Valve& valve : valves_) {
    double error_deg = 0.0;
    for (std::size_t i = 0; i < layout.shafts.size(); ++i) {
      if (layout.shafts[i].name != valve.cam) continue;
      error_deg = bench.shafts[i].shaft_deg[2] / layout.shafts[i].turns_per_crank;
    }
    constexpr double kSteps = 1000.0;
    const long rounded = std::lround(error_deg * kSteps);
    auto [known, added] = valve.touches.try_emplace(rounded);
    if (added) {
      const Angle error = Angle::degrees(static_cast<double>(rounded) / kSteps);
      for (const TouchSpan& span : valve.room.at(error).touches) {
        known->second.push_back(span.from.degrees());
      }
    }
    for (const int cylinder : valve.cylinders) {
      const double overlap = phases_.firing_deg[at(cylinder - 1)] + kTwoTurnsDeg / 2.0;
      for (const double from : known->second) {
        stops.insert(wrapped_deg(overlap + from - start_deg_, kTwoTurnsDeg));
      }
    }
  }
  return {stops.begin(), stops.end()};
}

std::vector<double> SolidStops::near_top(int cylinder) const {
  constexpr double kBeforeTopDeg = 15.0;
  std::vector<double> places;
  for (const double turn : {0.0, kTurnDeg}) {
    const double top = phases_.firing_deg[at(cylinder - 1)] + turn;
    places.push_back(wrapped_deg(top - kBeforeTopDeg - start_deg_, kTwoTurnsDeg));
  }
  std::sort(places.begin(), places.end());
  return places;
}

void add_stops(const SolidStops& stops, const BenchLayout& layout, const FaultCase& suspect,
               Bench& bench) {
  if (!stops.known()) return;
  bench.stops_deg = stops.of(layout, bench);
  for (const Fault& fault : suspect.faults) {
    if (fault.kind != FaultKind::tool_in_hole) continue;
    const std::vector<double> near = stops.near_top(std::stoi(fault.about));
    bench.stops_deg->insert(bench.stops_deg->end(), near.begin(), near.end());
    bench.stop_give_deg = kInTheWaySigmaDeg;
  }
}

}  // namespace twoturn::study
