#include "twoturn/study/valves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine_model.hpp"
#include "engine_unsure.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/limits.hpp"

namespace twoturn {
namespace {

using study::CamError;
using study::EngineModel;
using study::EngineUnsure;
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

// One valve, and the rooms it is looked at for.
struct Looked {
  const EngineModel& model;
  const ModelValve& valve;
  const EngineUnsure& unsure;
  const CamError& cam;
  Fit fit;

  ValveRoom at(const LeastRoom& least_room, Fit heights, double error_crank_deg,
               const std::vector<Effect>& effects) const;
  ValveRoom fitted_at(const LeastRoom& as_fitted, double error_crank_deg) const {
    return at(as_fitted, fit, error_crank_deg, cam.effects);
  }
};

ValveRoom Looked::at(const LeastRoom& least_room, Fit heights, double error_crank_deg,
                     const std::vector<Effect>& effects) const {
  const LeastFound found = least_room.at(Angle::degrees(error_crank_deg));
  ValveRoom room;
  room.error_crank_deg = error_crank_deg;
  room.least_mm = found.least.room_mm;
  room.at_deg = found.least.at.degrees();
  room.stands = room.least_mm < 0.0              ? RoomStands::touches
                : room.least_mm < valve.limit_mm ? RoomStands::below_limit
                                                 : RoomStands::clears;
  const CamError turned{error_crank_deg, cam.from, cam.direction, effects};
  room.unsure = unsure.room(valve, found.least.at, turned, heights);
  double place = room.at_deg;
  if (!found.touches.empty()) {
    room.touches_from_deg = found.touches.front().from.degrees();
    room.touches_to_deg = found.touches.front().to.degrees();
    place = *room.touches_from_deg;
  }
  room.where = first_to_come(model, valve, place);
  return room;
}

void add_teeth(const Looked& looked, const LeastRoom& as_fitted, ValveAnswer& answer) {
  if (!answer.tooth_crank_deg) return;
  const double tooth = *answer.tooth_crank_deg;
  answer.fitted_teeth_out = static_cast<int>(std::lround(answer.fitted.error_crank_deg / tooth));
  answer.rest_crank_deg = answer.fitted.error_crank_deg - answer.fitted_teeth_out * tooth;
  for (int teeth = -kMostTeethOut; teeth <= kMostTeethOut; ++teeth) {
    const double error = answer.rest_crank_deg + teeth * tooth;
    answer.teeth.push_back({teeth, teeth == answer.fitted_teeth_out
                                       ? answer.fitted
                                       : looked.fitted_at(as_fitted, error)});
  }
}

// What is told of a valve before any room is looked for.
ValveAnswer told_of(const EngineModel& model, const ModelValve& valve) {
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
  return answer;
}

ValveAnswer answer_of(const DriveSpec& spec, Fit fit, const CamError& error,
                      const EngineModel& model, const ModelValve& valve,
                      const EngineUnsure& unsure) {
  ValveAnswer answer = told_of(model, valve);
  answer.tooth_crank_deg = study::tooth_crank_deg(spec, fit, answer.cam);
  answer.phase_from = error.from;
  answer.direction = error.direction;
  const Looked looked{model, valve, unsure, error, fit};
  const LeastRoom as_fitted(model.crank, valve.fitted());
  answer.nearer = looked.at(as_fitted, fit, 0.0, {});
  if (valve.nearer_mm == 0.0) {
    answer.book = answer.nearer;  // its heights are the book's, and known as the book's are
    answer.book.unsure =
        unsure.room(valve, Angle::degrees(answer.book.at_deg), {}, Fit::by_the_book);
  } else {
    answer.book = looked.at(LeastRoom(model.crank, valve.over), Fit::by_the_book, 0.0, {});
  }
  const bool in_place = error.crank_deg == 0.0 && error.effects.empty();
  answer.fitted =
      in_place ? answer.nearer : looked.at(as_fitted, fit, error.crank_deg, error.effects);
  add_teeth(looked, as_fitted, answer);
  return answer;
}

bool share_a_cylinder(const ModelValve& first, const ModelValve& second) {
  return std::any_of(first.cylinders.begin(), first.cylinders.end(),
                     [&](int cylinder) { return second.serves(cylinder); });
}

// Two heads of one chamber, each with its valve and how far its cam is out.
struct Chamber {
  const ModelValve& inlet;
  const CamError& inlet_cam;
  const ModelValve& exhaust;
  const CamError& exhaust_cam;
};

ValvePairAnswer pair_of(const DriveSpec& spec, const Chamber& of, const EngineUnsure& unsure) {
  const ValveHead first = *study::head_across(*of.inlet.spec);
  const ValveHead second = *study::head_across(*of.exhaust.spec);
  const auto look = [&](const auto& at, double inlet_deg, double exhaust_deg) {
    return at(first, of.inlet.over.lobe, Angle::degrees(inlet_deg), second, of.exhaust.over.lobe,
              Angle::degrees(exhaust_deg));
  };
  const GapAt book = look(least_gap, 0.0, 0.0);
  const GapAt fitted = look(least_gap, of.inlet_cam.crank_deg, of.exhaust_cam.crank_deg);
  ValvePairAnswer pair;
  pair.inlet = of.inlet.spec->name;
  pair.exhaust = of.exhaust.spec->name;
  pair.limit_mm = limits_of(spec.limits).valve_to_valve_mm;
  pair.limit_given = spec.limits.valve_to_valve_mm.has_value();
  pair.book_mm = book.gap_mm;
  pair.fitted_mm = fitted.gap_mm;
  pair.stands = pair.fitted_mm <= 0.0            ? RoomStands::touches
                : pair.fitted_mm < pair.limit_mm ? RoomStands::below_limit
                                                 : RoomStands::clears;
  pair.at_deg = fitted.at.degrees();
  Angle at = fitted.at;
  if (pair.stands == RoomStands::touches) {
    const GapAt deepest = look(deepest_overlap, of.inlet_cam.crank_deg, of.exhaust_cam.crank_deg);
    pair.overlap_mm = -deepest.gap_mm;
    at = deepest.at;
  }
  pair.book_unsure = unsure.gap(of.inlet, {}, of.exhaust, {}, book.at);
  pair.fitted_unsure = unsure.gap(of.inlet, of.inlet_cam, of.exhaust, of.exhaust_cam, at);
  return pair;
}

void add_pairs(const DriveSpec& spec, const EngineModel& model, const std::vector<CamError>& cams,
               const EngineUnsure& unsure, ValvesAnswer& answer) {
  for (std::size_t i = 0; i < model.valves.size(); ++i) {
    for (std::size_t j = 0; j < model.valves.size(); ++j) {
      const ModelValve& inlet = model.valves[i];
      const ModelValve& exhaust = model.valves[j];
      const bool sides =
          inlet.spec->side == ValveSide::inlet && exhaust.spec->side == ValveSide::exhaust;
      const bool heads = study::head_across(*inlet.spec) && study::head_across(*exhaust.spec);
      if (!sides || !heads || !share_a_cylinder(inlet, exhaust)) continue;
      answer.pairs.push_back(pair_of(spec, {inlet, cams[i], exhaust, cams[j]}, unsure));
    }
  }
}

RoomStands surely(double room_mm, double limit_mm, const Unsure& unsure) {
  if (certainly_beyond(kHardlyAnyShare * limit_mm - room_mm, unsure)) return RoomStands::touches;
  return certainly_beyond(limit_mm - room_mm, unsure) ? RoomStands::below_limit
                                                      : RoomStands::clears;
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

RoomStands surely_stands(const ValveAnswer& valve) {
  return surely(valve.fitted.least_mm, valve.limit_mm, valve.fitted.unsure);
}

RoomStands surely_stands(const ValvePairAnswer& pair) {
  return surely(pair.room_mm(), pair.limit_mm, pair.fitted_unsure);
}

bool may_touch(const ValvesAnswer& answer) {
  const auto valve = [](const ValveAnswer& one) {
    return one.fitted.least_mm - one.fitted.unsure.give_or_take < 0.0;
  };
  const auto pair = [](const ValvePairAnswer& one) {
    return one.room_mm() - one.fitted_unsure.give_or_take < 0.0;
  };
  return std::any_of(answer.valves.begin(), answer.valves.end(), valve) ||
         std::any_of(answer.pairs.begin(), answer.pairs.end(), pair);
}

RoomStands worst_stand(const ValvesAnswer& answer) {
  RoomStands worst = RoomStands::clears;
  const auto see = [&](const auto& judged, RoomStands stands) {
    const bool sure = surely_stands(judged) == RoomStands::touches;
    worst = std::max(worst, sure ? RoomStands::touches : std::min(stands, RoomStands::below_limit));
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
  const EngineUnsure unsure(spec, *model);
  std::vector<CamError> cams;
  for (const ModelValve& valve : model->valves) {
    cams.push_back(study::cam_error(spec, fit, turns, valve.spec->cam.value_or("")));
    answer.valves.push_back(answer_of(spec, fit, cams.back(), *model, valve, unsure));
    answer.can_meet = answer.can_meet || answer.valves.back().can_meet();
  }
  add_pairs(spec, *model, cams, unsure, answer);
  return answer;
}

}  // namespace twoturn
