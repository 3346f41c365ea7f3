#include "twoturn/study/feel.hpp"

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "engine_model.hpp"
#include "feel_steps.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/engine/compression.hpp"
#include "twoturn/study/pistons.hpp"

namespace twoturn {
namespace {

using study::CamLoads;
using study::LobeOnCam;

constexpr double kNmmPerNm = 1000.0;

double past_firing(const CamLoads& loads, double crank_deg) {
  return wrapped_deg(loads.start_deg + crank_deg, kTwoTurnsDeg);
}

// Whose springs pull at a place, the greatest first.
std::vector<FeelPart> parts_at(const CamLoads& loads, double crank_deg) {
  std::vector<FeelPart> parts;
  double sum = 0.0;
  for (const LobeOnCam& lobe : loads.lobes) {
    for (std::size_t k = 0; k < lobe.cylinders.size(); ++k) {
      const double own = torque_of(lobe, k, loads.start_deg + crank_deg).nmm;
      if (own <= 0.0) continue;
      sum += own;
      parts.push_back({lobe.valve, lobe.cylinders[k], own});
    }
  }
  constexpr double kMatters = 0.2;
  std::erase_if(parts, [sum](const FeelPart& part) { return part.share < kMatters * sum; });
  for (FeelPart& part : parts) part.share /= sum;
  std::stable_sort(parts.begin(), parts.end(),
                   [](const FeelPart& a, const FeelPart& b) { return a.share > b.share; });
  return parts;
}

// How far a hump stands above the higher of the two dips beside it; steps close into a ring.
double stands_above(const std::vector<double>& torques_nm, std::size_t peak) {
  const std::size_t count = torques_nm.size() - 1;  // the last one is the first
  const auto dip = [&](std::size_t stride) {
    double least = torques_nm[peak];
    for (std::size_t k = 1, i = peak; k < count; ++k) {
      i = (i + stride) % count;
      if (torques_nm[i] > torques_nm[peak]) break;
      least = std::min(least, torques_nm[i]);
    }
    return least;
  };
  return torques_nm[peak] - std::max(dip(1), dip(count - 1));
}

double deg_of(std::size_t step) { return static_cast<double>(step) * study::kFeelStepDeg; }

void find_humps(const CamLoads& loads, const std::vector<double>& torques_nm, FeelAnswer& answer) {
  constexpr double kFeltShare = 0.05;  // of the whole swing: less is not felt as a hump
  const std::size_t count = torques_nm.size() - 1;
  for (std::size_t k = 0; k < count; ++k) {
    const double here = torques_nm[k];
    const bool peak = here > torques_nm[(k + count - 1) % count] && here >= torques_nm[k + 1];
    if (!peak) continue;
    if (stands_above(torques_nm, k) < kFeltShare * (answer.greatest.nm - answer.least_nm)) continue;
    FeelHump hump;
    hump.crank_deg = deg_of(k);
    if (loads.start_known) hump.past_firing_deg = past_firing(loads, hump.crank_deg);
    if (answer.springs_known) hump.pull = hand_pull(here);
    hump.parts = parts_at(loads, hump.crank_deg);
    answer.humps.push_back(std::move(hump));
  }
}

// The first step at which a torque is as good as this one: of equal ones rounding would choose.
double first_at_deg(const std::vector<double>& torques_nm, double nm) {
  constexpr double kEqualNm = 1e-9;
  const auto found = std::find_if(torques_nm.begin(), torques_nm.end(), [nm](double torque) {
    return std::abs(torque - nm) <= kEqualNm;
  });
  return deg_of(static_cast<std::size_t>(found - torques_nm.begin()));
}

void find_extremes(const std::vector<double>& torques_nm, FeelAnswer& answer) {
  const auto [least, greatest] = std::minmax_element(torques_nm.begin(), torques_nm.end());
  answer.greatest = hand_pull(*greatest);
  answer.greatest_at_deg = first_at_deg(torques_nm, *greatest);
  answer.least_nm = *least;
  answer.least_at_deg = first_at_deg(torques_nm, *least);
  for (std::size_t k = 0; k < torques_nm.size(); ++k) {
    if (torques_nm[k] < 0.0) study::go_on(answer.runs_on, deg_of(k), study::kFeelStepDeg);
  }
}

// Where, turning on from pins in and coming back, a valve's first touch stands.
std::optional<FeelStop> stop_at(const DriveSpec& spec, const CamLoads& loads,
                                const ValveAnswer& valve, const ValveRoom& room) {
  if (!room.touches_from_deg || !room.touches_to_deg) return std::nullopt;
  const CylinderPhases phases = phases_of(layout_of(spec.engine));
  if (phases.firing_deg.empty()) return std::nullopt;
  std::optional<FeelStop> first;
  for (const int cylinder : valve.cylinders) {
    const double overlap = phases.firing_deg[at(cylinder - 1)] + kTwoTurnsDeg / 2.0;
    const double on = wrapped_deg(overlap + *room.touches_from_deg - loads.start_deg, kTwoTurnsDeg);
    if (first && first->forwards_deg <= on) continue;
    first = FeelStop{
        valve.name, cylinder,
        0,          false,
        on,         wrapped_deg(overlap + *room.touches_to_deg - loads.start_deg, kTwoTurnsDeg)};
  }
  return first;
}

// As fitted where it touches; else at the fewest teeth out, either way, at which it would.
void find_stops(const DriveSpec& spec, const CamLoads& loads, const ValvesAnswer& valves,
                FeelAnswer& answer) {
  answer.stops_known = true;
  for (const ValveAnswer& valve : valves.valves) {
    if (auto stop = stop_at(spec, loads, valve, valve.fitted)) {
      stop->as_fitted = true;
      stop->teeth_out = valve.fitted_teeth_out;
      answer.stops.push_back(*stop);
      continue;
    }
    for (const int way : {-1, 1}) {
      const ValveRoomAtTeeth* nearest = nullptr;
      for (const ValveRoomAtTeeth& out : valve.teeth) {
        const int off = way * (out.teeth_out - valve.fitted_teeth_out);
        if (off <= 0 || !out.room.touches_from_deg) continue;
        const int best = nearest ? way * (nearest->teeth_out - valve.fitted_teeth_out) : off + 1;
        if (off < best) nearest = &out;
      }
      if (nearest == nullptr) continue;
      if (auto stop = stop_at(spec, loads, valve, nearest->room)) {
        stop->teeth_out = nearest->teeth_out;
        answer.stops.push_back(*stop);
      }
    }
  }
}

// All cylinders together, each from bottom to top dead centre with its air kept, nothing given
// back.
std::optional<FeelCompression> compression_of(const DriveSpec& spec, Fit fit) {
  const std::optional<SliderCrank> crank = study::crank_of(spec.engine);
  const std::vector<CompressionAnswer> volumes = compression_answer(spec, fit);
  const CylinderPhases phases = phases_of(layout_of(spec.engine));
  if (!crank || volumes.empty() || phases.firing_deg.empty()) return std::nullopt;
  double ratio = 0.0;
  for (const CompressionAnswer& one : volumes) {
    ratio = std::max(ratio, one.ratio_after.value_or(one.ratio.value_or(0.0)));
  }
  if (ratio <= 1.0) return std::nullopt;
  const double left = volumes.front().swept_cc / (ratio - 1.0);
  const AirSqueezed air{*crank, volumes.front().bore_mm, left};
  FeelCompression found{ratio, {}, 0.0};
  const auto look_at = [&](double at_deg) {
    double sum = 0.0;
    double own = 0.0;
    double before = 0.0;
    for (const double firing : phases.firing_deg) {
      const double to_top = wrapped_deg(firing - at_deg, kTwoTurnsDeg);
      const double torque = air.torque_nmm(Angle::degrees(-to_top));
      sum += torque;
      if (torque <= own) continue;
      own = torque;
      before = to_top;
    }
    if (sum / kNmmPerNm <= found.greatest.nm) return false;
    found.greatest = hand_pull(sum / kNmmPerNm);
    found.before_top_deg = before;
    return true;
  };
  constexpr double kCoarseDeg = 4.0;
  constexpr double kFineDeg = 0.1;
  double best = 0.0;
  for (int k = 0; k * kCoarseDeg < kTwoTurnsDeg; ++k) {
    if (look_at(k * kCoarseDeg)) best = k * kCoarseDeg;
  }
  for (int k = 1; k * kFineDeg < 2.0 * kCoarseDeg; ++k) look_at(best - kCoarseDeg + k * kFineDeg);
  return found;
}

void add_belt(const DriveSpec& spec, const Fitted& fitted, const TurnsAnswer& turns,
              const CamLoads& loads, FeelAnswer& answer, std::vector<Missing>& missing) {
  auto model = study::belt_model(spec, fitted, turns, &loads, missing);
  const auto& assembly = turns.assembly;
  if (!model) return;
  if (!study::set_static_tension(spec, assembly.fitted, assembly.fitted_path, *model, missing)) {
    return;
  }
  answer.belt = study::turn_belt(*model, assembly.fitted, *spec.belt.stiffness_n, answer.steps);
}

}  // namespace

HandPull hand_pull(double nm) {
  constexpr double kMmPerM = 1000.0;
  return {nm, nm / kNmPerLbfFt, nm / (kSpannerMm / kMmPerM)};
}

std::optional<FeelAnswer> feel_answer(const DriveSpec& spec, const Fitted* fitted, Fit fit,
                                      const TurnsAnswer* turns, const ValvesAnswer* valves,
                                      std::vector<Missing>& missing, FeelLook look) {
  FeelAnswer answer;
  answer.fit = fit;
  const std::optional<CamLoads> loads = study::cam_loads(spec, fit, turns, missing);
  if (!loads) return std::nullopt;
  for (const LobeOnCam& lobe : loads->lobes) answer.valves_seen.push_back(lobe.valve);
  answer.springs_known = std::all_of(loads->lobes.begin(), loads->lobes.end(),
                                     [](const LobeOnCam& lobe) { return lobe.springs_known; });
  answer.at_engine_place = loads->start_known;
  const double drag = study::drag_nmm(spec, fitted != nullptr ? &fitted->drive() : nullptr);
  answer.drag_nm = drag / kNmmPerNm;
  answer.drag_known = drag > 0.0;
  const std::vector<double> torques = study::rigid_torques_nm(*loads, drag);
  find_extremes(torques, answer);
  find_humps(*loads, torques, answer);
  constexpr int kCoarsely = 12;
  if (answer.springs_known) {
    answer.steps = study::steps_of(torques, look == FeelLook::coarsely ? kCoarsely : 1);
    if (fitted != nullptr && turns != nullptr) {
      add_belt(spec, *fitted, *turns, *loads, answer, missing);
    }
  }
  if (valves != nullptr) find_stops(spec, *loads, *valves, answer);
  answer.compression = compression_of(spec, fit);
  return answer;
}

}  // namespace twoturn
