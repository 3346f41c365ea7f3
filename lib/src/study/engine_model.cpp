#include "engine_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/drive/fitted_spec.hpp"
#include "twoturn/drive/limits.hpp"
#include "words/sentences.hpp"

namespace twoturn::study {
namespace {

Law law_of(LiftLaw law) {
  switch (law) {
    case LiftLaw::cycloidal:
      return Law::cycloidal;
    case LiftLaw::harmonic:
      return Law::harmonic;
    case LiftLaw::polynomial_345:
      return Law::polynomial_345;
    case LiftLaw::polynomial_4567:
      return Law::polynomial_4567;
    case LiftLaw::modified_sine:
      return Law::modified_sine;
  }
  return Law::cycloidal;
}

std::optional<Angle> degrees(std::optional<double> value, double sign, double offset) {
  if (!value) return std::nullopt;
  return Angle::degrees(sign * *value + offset);
}

// What the trade says, as angles after the dead centre between exhaust and inlet stroke.
LobeQuestion question_of(const ValveSpec& valve) {
  const bool inlet = *valve.side == ValveSide::inlet;
  constexpr double kStrokeDeg = 180.0;
  LobeQuestion question;
  question.opens = degrees(valve.opens_deg, -1.0, inlet ? 0.0 : -kStrokeDeg);
  question.closes = degrees(valve.closes_deg, 1.0, inlet ? kStrokeDeg : 0.0);
  question.centre = degrees(valve.lobe_centre_deg, inlet ? 1.0 : -1.0, 0.0);
  question.duration = degrees(valve.duration_deg, 1.0, 0.0);
  const double ratio = valve.rocker_ratio.value_or(1.0);
  question.lash_mm = valve.lash_mm.value_or(0.0);
  if (!valve.rows.empty()) {
    const bool at_cam = valve.rows_at == LiftAtPart::cam;
    if (!at_cam) question.lash_mm = 0.0;  // the gauge on the valve has taken it off
    std::vector<LiftPoint> points;
    for (const LiftRow& row : valve.rows) {
      points.push_back({row.crank_deg, row.lift_mm * (at_cam ? ratio : 1.0)});
    }
    question.shape = points;
  } else {
    question.shape = law_of(valve.law.value_or(LiftLaw::cycloidal));
    question.height_mm =
        valve.cam_lift_mm ? *valve.cam_lift_mm * ratio : *valve.lift_mm + question.lash_mm;
  }
  const double stated = valve.timed_at_lift_mm.value_or(0.0);
  const bool at_cam = valve.timed_at == LiftAtPart::cam;
  question.at_lift_mm = at_cam ? stated * ratio : stated + question.lash_mm;
  return question;
}

class Asked {
 public:
  Asked(const ValveSpec& valve, std::vector<Missing>& missing)
      : key_(fmt::format("valve.{}.", valve.name)),
        answer_(fmt::format("whether {} clears its piston", the(sentences::valve(valve.name)))),
        missing_(missing) {}

  void for_want_of(const char* key, std::string measure) {
    missing_.push_back({answer_, key_ + key, std::move(measure)});
    whole_ = false;
  }
  bool whole() const { return whole_; }

 private:
  std::string key_;
  std::string answer_;
  std::vector<Missing>& missing_;
  bool whole_ = true;
};

bool enough_said(const ValveSpec& valve, std::vector<Missing>& missing) {
  Asked asked(valve, missing);
  const bool places = valve.opens_deg && valve.closes_deg;
  const bool centred = valve.lobe_centre_deg && (valve.duration_deg || !valve.rows.empty());
  if (!valve.side) asked.for_want_of("side", "say whether it is an inlet or an exhaust valve");
  if (!valve.lift_mm && !valve.cam_lift_mm && valve.rows.empty()) {
    asked.for_want_of("lift_mm",
                      "measure how far the valve opens, with a gauge on it over two turns of the "
                      "crank, or take it from the manual");
  }
  if (!places && !centred) {
    asked.for_want_of(valve.lobe_centre_deg ? "duration_deg" : "opens_deg",
                      "take opening and closing, or lobe centre and duration, from the manual, or "
                      "measure them with a degree wheel");
  }
  if (!valve.room_tdc_mm && !valve.clay_mm) {
    asked.for_want_of("room_tdc_mm",
                      "piston at top dead centre, valve shut: push the valve down on to the piston "
                      "and read how far it goes, or press clay over two turns (clay_mm)");
  }
  return asked.whole();
}

std::vector<int> all_cylinders(int count) {
  std::vector<int> all;
  for (int cylinder = 1; cylinder <= count; ++cylinder) all.push_back(cylinder);
  return all;
}

std::optional<ModelValve> model_of(const DriveSpec& spec, const ValveSpec& valve, Fit fit,
                                   const EngineModel& engine, std::vector<Missing>& missing) {
  if (!enough_said(valve, missing)) return std::nullopt;
  const std::optional<Lobe> lobe = lobe_of(valve);
  if (!lobe) {
    missing.push_back(
        {fmt::format("whether {} clears its piston", the(sentences::valve(valve.name))),
         fmt::format("valve.{}.opens_deg", valve.name),
         "measure its opening, closing and lift again: no lobe does all of them"});
    return std::nullopt;
  }
  ModelValve model{
      &valve,
      {*lobe, drop_a_lift(crown_of(valve), valve.valve_deg.value_or(0.0)), 0.0},
      valve.cylinders.empty() ? all_cylinders(engine.pistons.cylinders) : valve.cylinders,
      head_of(spec, valve)};
  model.over.room_tdc_mm = valve.room_tdc_mm.value_or(0.0);
  if (valve.clay_mm) {
    const RoomAt pressed = room_tdc_of_least(engine.crank, model.over, clay_along_bore_mm(valve));
    model.over.room_tdc_mm = pressed.room_mm;
    model.clay_at = pressed.at;
  }
  model.nearer_mm = head_nearer_mm(spec, model.head, fit);
  const Limits limits = limits_of(spec.limits);
  const bool inlet = *valve.side == ValveSide::inlet;
  model.limit_mm = inlet ? limits.inlet_room_mm : limits.exhaust_room_mm;
  model.limit_given =
      inlet ? spec.limits.inlet_room_mm.has_value() : spec.limits.exhaust_room_mm.has_value();
  return model;
}

const PulleySpec* pulley_named(const DriveSpec& spec, const std::string& name) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.name == name) return &pulley;
  }
  return nullptr;
}

// The pulley itself, or the one that drives it by gears.
const PulleySpec* driving_pulley(const DriveSpec& spec, std::string name) {
  for (std::size_t step = 0; step <= spec.geared.size(); ++step) {
    if (const PulleySpec* pulley = pulley_named(spec, name)) return pulley;
    for (const GearedSpec& geared : spec.geared) {
      if (geared.name == name) name = geared.from;
    }
  }
  return nullptr;
}

int teeth_out(const DriveSpec& spec, const std::string& name) {
  const auto found = spec.build.teeth_out.find(name);
  return found == spec.build.teeth_out.end() ? 0 : found->second;
}

// The name of the head whose deck stands so, or empty.
std::string head_facing(const DriveSpec& spec, Angle deck) {
  for (const HeadSpec& head : spec.heads) {
    constexpr double kSameWayDeg = 5.0;
    if (!head.deck_deg) return "";
    const Angle apart = (Angle::clock(*head.deck_deg) - deck).wrapped_half();
    if (std::abs(apart.degrees()) <= kSameWayDeg) return head.name;
  }
  return "";
}

// Each cylinder's head by the angles of bores and decks, where they fit together in one way only;
// else empty. Bores are counted in the running direction.
std::vector<std::string> heads_by_bank(const DriveSpec& spec) {
  std::vector<std::string> found;
  if (!spec.crank_turns || spec.engine.bores_deg.empty()) return found;
  const double sense = *spec.crank_turns == Turn::anticlockwise ? 1.0 : -1.0;
  for (const HeadSpec& first : spec.heads) {
    if (!first.deck_deg) return {};
    std::vector<std::string> heads;
    for (const double bore : spec.engine.bores_deg) {
      heads.push_back(
          head_facing(spec, Angle::clock(*first.deck_deg) + sense * Angle::degrees(bore)));
    }
    if (std::find(heads.begin(), heads.end(), "") != heads.end()) continue;
    if (!found.empty() && found != heads) return {};  // either way round fits
    found = heads;
  }
  return found;
}

std::string mount_of(const DriveSpec& spec, const std::optional<std::string>& cam) {
  const PulleySpec* pulley = cam ? driving_pulley(spec, *cam) : nullptr;
  if (pulley == nullptr || !pulley->mount || *pulley->mount == "block") return "";
  return *pulley->mount;
}

}  // namespace

std::string head_of(const DriveSpec& spec, const ValveSpec& valve) {
  if (valve.head) return *valve.head;
  if (spec.heads.size() == 1) return spec.heads.front().name;
  if (std::string mount = mount_of(spec, valve.cam); !mount.empty()) return mount;
  const std::vector<std::string> banks = heads_by_bank(spec);
  std::string head;
  for (const int cylinder : valve.cylinders) {
    const auto at = static_cast<std::size_t>(cylinder - 1);
    if (at >= banks.size() || (!head.empty() && head != banks[at])) return "";
    head = banks[at];
  }
  return head;
}

std::optional<Lobe> lobe_if_said(const ValveSpec& valve) {
  std::vector<Missing> missing;
  ValveSpec timed = valve;
  timed.room_tdc_mm = 0.0;  // asked of a valve over its piston, not of its lobe
  if (!enough_said(timed, missing)) return std::nullopt;
  return solve_lobe(question_of(valve));
}

std::optional<Lobe> lobe_of(const ValveSpec& valve) { return solve_lobe(question_of(valve)); }

Crown crown_of(const ValveSpec& valve) {
  return valve.crown == CrownShape::flat ? Crown::flat : Crown::pocket;
}

double clay_along_bore_mm(const ValveSpec& valve) {
  if (crown_of(valve) == Crown::flat) return *valve.clay_mm;
  return *valve.clay_mm / std::cos(valve.valve_deg.value_or(0.0) * kRadPerDeg);
}

std::optional<ValveHead> head_across(const ValveSpec& valve) {
  if (!valve.head_mm || !valve.across_mm) return std::nullopt;
  return ValveHead{*valve.across_mm, *valve.head_mm, valve.valve_deg.value_or(0.0)};
}

std::optional<SliderCrank> crank_of(const EngineSpec& engine) {
  if (!engine.rod_mm || (!engine.stroke_mm && !engine.throw_mm)) return std::nullopt;
  const double offset = engine.pin_offset_mm.value_or(0.0);
  return engine.throw_mm ? SliderCrank::of_throw(*engine.throw_mm, *engine.rod_mm, offset)
                         : SliderCrank::of_stroke(*engine.stroke_mm, *engine.rod_mm, offset);
}

std::optional<EngineModel> engine_model(const DriveSpec& spec, Fit fit,
                                        std::vector<Missing>& missing) {
  std::optional<PistonsAnswer> pistons = pistons_answer(spec, missing);
  const std::optional<SliderCrank> crank = crank_of(spec.engine);
  if (!pistons || !crank) return std::nullopt;
  EngineModel model{*pistons, *crank, {}};
  for (const ValveSpec& valve : spec.valves) {
    if (auto solved = model_of(spec, valve, fit, model, missing)) {
      model.valves.push_back(std::move(*solved));
    }
  }
  return model;
}

bool covers_every_cylinder(const EngineModel& model) {
  for (int cylinder = 1; cylinder <= model.pistons.cylinders; ++cylinder) {
    for (const ValveSide side : {ValveSide::inlet, ValveSide::exhaust}) {
      const auto covers = [&](const ModelValve& valve) {
        return valve.spec->side == side && valve.serves(cylinder);
      };
      if (std::none_of(model.valves.begin(), model.valves.end(), covers)) return false;
    }
  }
  return model.pistons.cylinders > 0;
}

std::optional<double> tooth_crank_deg(const DriveSpec& spec, Fit fit, const std::string& cam) {
  const PulleySpec* pulley = driving_pulley(spec, cam);
  if (pulley == nullptr) return std::nullopt;
  const std::optional<int> teeth = teeth_for(spec, *pulley, fit);
  const std::optional<double> turns = turns_per_crank(*pulley);
  if (!teeth || !turns || *turns == 0.0) return std::nullopt;
  return 360.0 / *teeth / std::abs(*turns);
}

CamError cam_error(const DriveSpec& spec, Fit fit, const TurnsAnswer* turns,
                   const std::string& cam) {
  CamError error;
  if (turns != nullptr) {
    for (const AfterTurns& after : turns->after) {
      for (const ShaftAfter& seen : after.shafts) {
        const auto& shaft = turns->assembly.shafts[static_cast<std::size_t>(seen.shaft)];
        if (after.turns != 2 || shaft.name != cam) continue;
        error.crank_deg = seen.error_crank_deg;
        error.from = PhaseFrom::two_turns;
        error.direction = seen.direction;
        const auto& stands = turns->assembly.fits[static_cast<std::size_t>(seen.shaft)];
        for (const PhaseEffect& effect : stands.effects) {
          error.effects.push_back({effect.key, effect.own_deg / *shaft.turns_per_crank});
        }
      }
    }
  }
  if (error.from == PhaseFrom::two_turns || fit == Fit::by_the_book) return error;
  const PulleySpec* pulley = driving_pulley(spec, cam);
  const std::optional<double> tooth = tooth_crank_deg(spec, fit, cam);
  if (pulley == nullptr || !tooth) return error;
  int teeth = teeth_out(spec, pulley->name);
  for (const PulleySpec& crank : spec.pulleys) {
    if (crank.role == Role::crankshaft) teeth -= teeth_out(spec, crank.name);
  }
  error.crank_deg = teeth * *tooth;
  error.from = PhaseFrom::counts;
  return error;
}

}  // namespace twoturn::study
