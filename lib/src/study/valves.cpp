#include "twoturn/study/valves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/limits.hpp"

namespace twoturn {
namespace {

constexpr double kHardlyAnyShare = 0.25;  // of the limit

using study::EngineModel;
using study::ModelValve;

double in_two_turns(double deg) { return wrapped_deg(deg, kTwoTurnsDeg); }

// Which cylinder comes to an angle of its own first, turning on from the timing position.
std::optional<CrankPlace> first_to_come(const EngineModel& model, const ModelValve& valve,
                                        double after_overlap_deg) {
  const std::vector<double>& firing = model.pistons.phases.firing_deg;
  if (firing.empty()) return std::nullopt;
  const double start = model.pistons.at_pins ? model.pistons.at_pins->crank_deg : 0.0;
  std::optional<CrankPlace> first;
  double soonest = 0.0;
  for (const int cylinder : valve.cylinders) {
    const double crank =
        firing[static_cast<std::size_t>(cylinder - 1)] + kTwoTurnsDeg / 2.0 + after_overlap_deg;
    const double ahead = in_two_turns(crank - start);
    if (first && ahead >= soonest) continue;
    first = CrankPlace{cylinder, in_two_turns(crank)};
    soonest = ahead;
  }
  return first;
}

ValveRoom room_of(const EngineModel& model, const ModelValve& valve, const LeastRoom& least_room,
                  double error_crank_deg) {
  const LeastFound found = least_room.at(Angle::degrees(error_crank_deg));
  ValveRoom room;
  room.error_crank_deg = error_crank_deg;
  room.least_mm = found.least.room_mm;
  room.at_deg = found.least.at.degrees();
  room.stands = room.least_mm < 0.0              ? RoomStands::touches
                : room.least_mm < valve.limit_mm ? RoomStands::below_limit
                                                 : RoomStands::clears;
  double place = room.at_deg;
  if (!found.touches.empty()) {
    room.touches_from_deg = found.touches.front().from.degrees();
    room.touches_to_deg = found.touches.front().to.degrees();
    place = *room.touches_from_deg;
  }
  room.where = first_to_come(model, valve, place);
  return room;
}

void add_teeth(const EngineModel& model, const ModelValve& valve, const LeastRoom& as_fitted,
               ValveAnswer& answer) {
  if (!answer.tooth_crank_deg) return;
  const double tooth = *answer.tooth_crank_deg;
  answer.fitted_teeth_out = static_cast<int>(std::lround(answer.fitted.error_crank_deg / tooth));
  answer.rest_crank_deg = answer.fitted.error_crank_deg - answer.fitted_teeth_out * tooth;
  for (int teeth = -kMostTeethOut; teeth <= kMostTeethOut; ++teeth) {
    const double error = answer.rest_crank_deg + teeth * tooth;
    answer.teeth.push_back({teeth, teeth == answer.fitted_teeth_out
                                       ? answer.fitted
                                       : room_of(model, valve, as_fitted, error)});
  }
}

ValveAnswer answer_of(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                      const EngineModel& model, const ModelValve& valve) {
  const ValveSpec& said = *valve.spec;
  const Lobe& lobe = valve.over.lobe;
  ValveAnswer answer;
  answer.name = said.name;
  answer.cam = said.cam.value_or("");
  answer.side = *said.side;
  answer.cylinders = valve.cylinders;
  answer.head = valve.head;
  answer.limit_mm = valve.limit_mm;
  answer.limit_given = valve.limit_given;
  answer.lash_mm = lobe.lash_mm;
  if (said.rows.empty()) answer.law = said.law.value_or(LiftLaw::cycloidal);
  answer.law_given = said.law.has_value() || !said.rows.empty();
  answer.crown = said.crown.value_or(CrownShape::pocket);
  answer.crown_given = said.crown.has_value();
  answer.valve_deg = said.valve_deg.value_or(0.0);
  answer.drop_a_lift = valve.over.drop_a_lift;
  answer.greatest_lift_mm = lobe.greatest_lift_mm();
  answer.greatest_drop_mm = valve.over.greatest_drop_mm();
  answer.opens_deg = lobe.opens().degrees();
  answer.centre_deg = lobe.centre().degrees();
  answer.closes_deg = lobe.closes().degrees();
  answer.room_tdc_mm = valve.over.room_tdc_mm;
  answer.room_from_clay = said.clay_mm.has_value();
  answer.nearer_mm = valve.nearer_mm;
  answer.least_any_cam_mm = room_any_cam_mm(model.crank, valve.fitted(), Angle());
  answer.tooth_crank_deg = study::tooth_crank_deg(spec, fit, answer.cam);
  const study::CamError error = study::cam_error(spec, fit, turns, answer.cam);
  answer.phase_from = error.from;
  answer.direction = error.direction;
  const LeastRoom as_fitted(model.crank, valve.fitted());
  answer.nearer = room_of(model, valve, as_fitted, 0.0);
  answer.book = valve.nearer_mm == 0.0
                    ? answer.nearer
                    : room_of(model, valve, LeastRoom(model.crank, valve.over), 0.0);
  answer.fitted =
      error.crank_deg == 0.0 ? answer.nearer : room_of(model, valve, as_fitted, error.crank_deg);
  add_teeth(model, valve, as_fitted, answer);
  return answer;
}

std::optional<ValveHead> head_across(const ValveSpec& valve) {
  if (!valve.head_mm || !valve.across_mm) return std::nullopt;
  return ValveHead{*valve.across_mm, *valve.head_mm, valve.valve_deg.value_or(0.0)};
}

bool share_a_cylinder(const ModelValve& first, const ModelValve& second) {
  return std::any_of(first.cylinders.begin(), first.cylinders.end(),
                     [&](int cylinder) { return second.serves(cylinder); });
}

void add_pairs(const DriveSpec& spec, const EngineModel& model, ValvesAnswer& answer) {
  for (std::size_t i = 0; i < model.valves.size(); ++i) {
    for (std::size_t j = 0; j < model.valves.size(); ++j) {
      const ModelValve& inlet = model.valves[i];
      const ModelValve& exhaust = model.valves[j];
      const bool sides =
          inlet.spec->side == ValveSide::inlet && exhaust.spec->side == ValveSide::exhaust;
      const auto first = head_across(*inlet.spec);
      const auto second = head_across(*exhaust.spec);
      if (!sides || !first || !second || !share_a_cylinder(inlet, exhaust)) continue;
      const auto gap = [&](double inlet_deg, double exhaust_deg) {
        return least_gap(*first, inlet.over.lobe, Angle::degrees(inlet_deg), *second,
                         exhaust.over.lobe, Angle::degrees(exhaust_deg));
      };
      const GapAt fitted =
          gap(answer.valves[i].fitted.error_crank_deg, answer.valves[j].fitted.error_crank_deg);
      ValvePairAnswer pair;
      pair.inlet = inlet.spec->name;
      pair.exhaust = exhaust.spec->name;
      pair.limit_mm = limits_of(spec.limits).valve_to_valve_mm;
      pair.limit_given = spec.limits.valve_to_valve_mm.has_value();
      pair.book_mm = gap(0.0, 0.0).gap_mm;
      pair.fitted_mm = fitted.gap_mm;
      pair.stands = pair.fitted_mm <= 0.0            ? RoomStands::touches
                    : pair.fitted_mm < pair.limit_mm ? RoomStands::below_limit
                                                     : RoomStands::clears;
      pair.at_deg = fitted.at.degrees();
      answer.pairs.push_back(pair);
    }
  }
}

}  // namespace

const ValveAnswer& tightest_valve(const ValvesAnswer& answer) {
  return *std::min_element(answer.valves.begin(), answer.valves.end(),
                           [](const ValveAnswer& a, const ValveAnswer& b) {
                             return a.fitted.least_mm < b.fitted.least_mm;
                           });
}

bool as_good_as_touching(const ValveAnswer& valve) {
  return valve.fitted.least_mm < kHardlyAnyShare * valve.limit_mm;
}

bool as_good_as_touching(const ValvePairAnswer& pair) {
  return pair.fitted_mm < kHardlyAnyShare * pair.limit_mm;
}

RoomStands worst_stand(const ValvesAnswer& answer) {
  RoomStands worst = RoomStands::clears;
  const auto see = [&](const auto& judged, RoomStands stands) {
    worst = std::max(worst, as_good_as_touching(judged) ? RoomStands::touches : stands);
  };
  for (const ValveAnswer& valve : answer.valves) see(valve, valve.fitted.stands);
  for (const ValvePairAnswer& pair : answer.pairs) see(pair, pair.stands);
  return worst;
}

std::optional<ValvesAnswer> valves_answer(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                                          std::vector<Missing>& missing) {
  const std::optional<EngineModel> model = study::engine_model(spec, fit, missing);
  if (!model || model->valves.empty()) return std::nullopt;
  ValvesAnswer answer;
  answer.fit = fit;
  answer.complete = study::covers_every_cylinder(*model);
  for (const ModelValve& valve : model->valves) {
    answer.valves.push_back(answer_of(spec, fit, turns, *model, valve));
    answer.can_meet = answer.can_meet || answer.valves.back().can_meet();
  }
  add_pairs(spec, *model, answer);
  return answer;
}

}  // namespace twoturn
