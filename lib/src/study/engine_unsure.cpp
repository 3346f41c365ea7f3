#include "engine_unsure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <tuple>
#include <utility>

#include "twoturn/drive/known.hpp"

namespace twoturn::study {
namespace {

// Small beside what is known, large beside rounding: the third derivative adds a millionth of what
// it would over a whole sigma, rounding some 1e-12 mm.
constexpr double kStepSigmas = 1e-3;
constexpr double kBothSteps = 2.0 * kStepSigmas;

struct ValveNumber {
  const char* field;
  std::optional<double> ValveSpec::*value;
  bool in_lobe;
};
constexpr std::array<ValveNumber, 14> kValveNumbers{{
    {"lift_mm", &ValveSpec::lift_mm, true},
    {"cam_lift_mm", &ValveSpec::cam_lift_mm, true},
    {"rocker_ratio", &ValveSpec::rocker_ratio, true},
    {"lash_mm", &ValveSpec::lash_mm, true},
    {"opens_deg", &ValveSpec::opens_deg, true},
    {"closes_deg", &ValveSpec::closes_deg, true},
    {"lobe_centre_deg", &ValveSpec::lobe_centre_deg, true},
    {"duration_deg", &ValveSpec::duration_deg, true},
    {"timed_at_lift_mm", &ValveSpec::timed_at_lift_mm, true},
    {"valve_deg", &ValveSpec::valve_deg, false},
    {"room_tdc_mm", &ValveSpec::room_tdc_mm, false},
    {"clay_mm", &ValveSpec::clay_mm, false},
    {"head_mm", &ValveSpec::head_mm, false},
    {"across_mm", &ValveSpec::across_mm, false},
}};

struct EngineNumber {
  const char* field;
  std::optional<double> EngineSpec::*value;
};
constexpr std::array<EngineNumber, 4> kCrankNumbers{
    {{"stroke_mm", &EngineSpec::stroke_mm},
     {"throw_mm", &EngineSpec::throw_mm},
     {"rod_mm", &EngineSpec::rod_mm},
     {"pin_offset_mm", &EngineSpec::pin_offset_mm}}};

bool is_of_engine(std::string_view key) {
  constexpr std::array<std::string_view, 3> kStarts{"valve.", "engine.", "build."};
  return std::any_of(kStarts.begin(), kStarts.end(), [key](std::string_view start) {
    return key.substr(0, start.size()) == start;
  });
}

// Room at top dead centre from the clay: pressed at one place, it follows piston and valve there.
double room_tdc_of_clay(const SliderCrank& crank, const ValveOverPiston& valve, double along_bore,
                        Angle pressed_at) {
  ValveOverPiston with_none = valve;
  with_none.room_tdc_mm = 0.0;
  return along_bore - room_mm(crank, with_none, Angle(), pressed_at);
}

// What the room gains as the cam goes a degree earlier.
double room_a_deg_early(const ValveOverPiston& valve, Angle on_lobe) {
  const Lobe& lobe = valve.lobe;
  const double rad = wrapped_cycle((on_lobe - lobe.placed).radians());
  if (lobe.curve.lift_mm(rad) <= lobe.lash_mm) return 0.0;
  return -valve.drop_a_lift * lobe.curve.at(rad).slope_mm * kRadPerDeg;
}

void add(std::vector<Effect>& effects, std::string_view key, double by) {
  if (by == 0.0) return;
  const auto same =
      std::find_if(effects.begin(), effects.end(), [key](const Effect& e) { return e.key == key; });
  if (same == effects.end()) {
    effects.push_back({key, by});
  } else {
    same->by += by;  // one number that acts in two ways
  }
}

}  // namespace

EngineUnsure::EngineUnsure(const DriveSpec& spec, const EngineModel& model)
    : spec_(spec), model_(model) {
  exact_ = std::none_of(spec.given.begin(), spec.given.end(), [](const GivenValue& given) {
    return is_of_engine(given.key) && give_or_take(given).value > 0.0;
  });
  if (exact_) return;
  move_crank();
  valves_.reserve(model.valves.size());
  for (const ModelValve& valve : model.valves) move_valve(valve);
  add_head_numbers();
}

double EngineUnsure::sigma(std::string_view key) const {
  const GivenValue* given = find_given(spec_, key);
  return given == nullptr ? 0.0 : sigma_of(give_or_take(*given).value);
}

void EngineUnsure::move_crank() {
  for (const EngineNumber& number : kCrankNumbers) {
    const std::optional<double>& said = spec_.engine.*number.value;
    std::string key = fmt::format("engine.{}", number.field);
    const double off = said ? kStepSigmas * sigma(key) : 0.0;
    if (off == 0.0) continue;
    EngineSpec moved = spec_.engine;
    moved.*number.value = *said + off;
    const std::optional<SliderCrank> up = crank_of(moved);
    moved.*number.value = *said - off;
    const std::optional<SliderCrank> down = crank_of(moved);
    if (up && down) cranks_.push_back({std::move(key), *up, *down});
  }
}

void EngineUnsure::move_valve(const ModelValve& valve) {
  std::vector<MovedValve>& all = valves_.emplace_back();
  ValveSpec moved = *valve.spec;
  const auto build = [&](bool new_lobe) {
    std::optional<ValveOverPiston> over;
    const std::optional<Lobe> lobe = new_lobe ? lobe_of(moved) : valve.over.lobe;
    if (!lobe) return over;
    over = ValveOverPiston{*lobe, drop_a_lift(crown_of(moved), moved.valve_deg.value_or(0.0)),
                           moved.room_tdc_mm.value_or(0.0)};
    if (valve.clay_at) {
      over->room_tdc_mm =
          room_tdc_of_clay(model_.crank, *over, clay_along_bore_mm(moved), *valve.clay_at);
    }
    return over;
  };
  for (const ValveNumber& number : kValveNumbers) {
    const std::optional<double> said = (*valve.spec).*number.value;
    std::string key = fmt::format("valve.{}.{}", valve.spec->name, number.field);
    const double off = said ? kStepSigmas * sigma(key) : 0.0;
    if (off == 0.0) continue;
    moved.*number.value = *said + off;
    std::optional<ValveOverPiston> up = build(number.in_lobe);
    const std::optional<ValveHead> head_up = head_across(moved);
    moved.*number.value = *said - off;
    std::optional<ValveOverPiston> down = build(number.in_lobe);
    if (up && down) {
      all.push_back(
          {std::move(key), std::move(*up), std::move(*down), head_up, head_across(moved)});
    }
    moved.*number.value = said;
  }
}

void EngineUnsure::add_head_numbers() {
  const BuildSpec& build = spec_.build;
  for (const auto& [list, field, nearer] :
       {std::tuple(&build.skim_mm, "skim_mm", 1.0),
        std::tuple(&build.block_skim_mm, "block_skim_mm", 1.0),
        std::tuple(&build.gasket_change_mm, "gasket_change_mm", -1.0)}) {
    for (const auto& [head, mm] : *list) {
      std::string key = fmt::format("build.{}.{}", field, head);
      const double off = sigma(key);
      if (off > 0.0) heads_.push_back({std::move(key), head, nearer * off});
    }
  }
}

const std::vector<EngineUnsure::MovedValve>& EngineUnsure::moved(const ModelValve& valve) const {
  return valves_[static_cast<std::size_t>(&valve - model_.valves.data())];
}

// The valve over another crank: clay is pressed again.
ValveOverPiston EngineUnsure::over(const ModelValve& valve, const SliderCrank& crank) const {
  ValveOverPiston over = valve.over;
  if (valve.clay_at) {
    over.room_tdc_mm =
        room_tdc_of_clay(crank, over, clay_along_bore_mm(*valve.spec), *valve.clay_at);
  }
  return over;
}

Unsure EngineUnsure::room(const ModelValve& valve, Angle at, const CamError& cam,
                          Fit heights) const {
  if (exact_ && cam.effects.empty()) return {};
  std::vector<Effect> effects;
  const Angle early = Angle::degrees(cam.crank_deg);
  if (!exact_) {
    for (const MovedValve& number : moved(valve)) {
      const double more = room_mm(model_.crank, number.up, early, at) -
                          room_mm(model_.crank, number.down, early, at);
      add(effects, number.key, more / kBothSteps);
    }
    for (const MovedCrank& number : cranks_) {
      const double more = room_mm(number.up, over(valve, number.up), early, at) -
                          room_mm(number.down, over(valve, number.down), early, at);
      add(effects, number.key, more / kBothSteps);
    }
  }
  for (const HeadNumber& number : heads_) {
    const bool counts = heights == Fit::as_fitted && number.head == valve.head;
    if (counts) add(effects, number.key, -number.nearer_mm);
  }
  const double a_deg = room_a_deg_early(valve.over, at + early);
  for (const Effect& effect : cam.effects) add(effects, effect.key, a_deg * effect.by);
  return unsure_of(effects);
}

namespace {

double parted_mm(const ValveHead& first, double first_mm, const ValveHead& second,
                 double second_mm) {
  const double gap = head_gap_mm(first, first_mm, second, second_mm);
  return gap > 0.0 ? gap : -head_overlap_mm(first, first_mm, second, second_mm);
}

}  // namespace

Unsure EngineUnsure::gap(const ModelValve& inlet, const CamError& inlet_cam,
                         const ModelValve& exhaust, const CamError& exhaust_cam, Angle at) const {
  std::vector<Effect> effects;
  const ValveHead first = *head_across(*inlet.spec);
  const ValveHead second = *head_across(*exhaust.spec);
  const Angle inlet_at = at + Angle::degrees(inlet_cam.crank_deg);
  const Angle exhaust_at = at + Angle::degrees(exhaust_cam.crank_deg);
  const double first_mm = inlet.over.lobe.lift_mm(inlet_at);
  const double second_mm = exhaust.over.lobe.lift_mm(exhaust_at);
  if (!exact_) {
    for (const MovedValve& number : moved(inlet)) {
      const double up =
          parted_mm(*number.head_up, number.up.lobe.lift_mm(inlet_at), second, second_mm);
      const double down =
          parted_mm(*number.head_down, number.down.lobe.lift_mm(inlet_at), second, second_mm);
      add(effects, number.key, (up - down) / kBothSteps);
    }
    for (const MovedValve& number : moved(exhaust)) {
      const double up =
          parted_mm(first, first_mm, *number.head_up, number.up.lobe.lift_mm(exhaust_at));
      const double down =
          parted_mm(first, first_mm, *number.head_down, number.down.lobe.lift_mm(exhaust_at));
      add(effects, number.key, (up - down) / kBothSteps);
    }
  }
  // The same number of [build] may turn both cams.
  constexpr double kStepDeg = 1e-3;
  const auto turned = [&](double inlet_deg, double exhaust_deg) {
    return parted_mm(first, inlet.over.lobe.lift_mm(inlet_at + Angle::degrees(inlet_deg)), second,
                     exhaust.over.lobe.lift_mm(exhaust_at + Angle::degrees(exhaust_deg)));
  };
  for (const Effect& effect : inlet_cam.effects) {
    const double a_deg = (turned(kStepDeg, 0.0) - turned(-kStepDeg, 0.0)) / (2.0 * kStepDeg);
    add(effects, effect.key, a_deg * effect.by);
  }
  for (const Effect& effect : exhaust_cam.effects) {
    const double a_deg = (turned(0.0, kStepDeg) - turned(0.0, -kStepDeg)) / (2.0 * kStepDeg);
    add(effects, effect.key, a_deg * effect.by);
  }
  return unsure_of(effects);
}

// Crank pins and bores are counted; where one is stated to be measured it moves its cylinder's top
// dead centre against the first.
void EngineUnsure::add_layout(const ParkNeed& need, double mm_a_deg,
                              std::vector<Effect>& effects) const {
  const auto k = static_cast<std::size_t>(need.cylinder - 1);
  const auto add_list = [&](std::vector<double> EngineSpec::*list, const char* field) {
    for (std::size_t i = 0; i < (spec_.engine.*list).size(); ++i) {
      const GivenValue* given = find_given(spec_, fmt::format("engine.{}[{}]", field, i));
      const double off = given ? kStepSigmas * sigma_of(give_or_take(*given).value) : 0.0;
      if (off == 0.0) continue;
      EngineSpec moved = spec_.engine;
      (moved.*list)[i] += off;
      const double up = phases_of(layout_of(moved)).top_deg[k];
      (moved.*list)[i] -= 2.0 * off;
      const double down = phases_of(layout_of(moved)).top_deg[k];
      const double turned = Angle::degrees(up - down).wrapped_half().degrees() / kBothSteps;
      effects.push_back(
          {std::string_view(given->key).substr(0, given->key.find('[')), -mm_a_deg * turned});
    }
  };
  add_list(&EngineSpec::crank_pins_deg, "crank_pins_deg");
  add_list(&EngineSpec::bores_deg, "bores_deg");
}

Unsure EngineUnsure::spare(const ParkNeed& need, Fit heights, double crank_deg,
                           ParkedAt where) const {
  if (exact_) return {};
  const auto valve =
      std::find_if(model_.valves.begin(), model_.valves.end(),
                   [&](const ModelValve& one) { return one.spec->name == need.valve; });
  const auto k = static_cast<std::size_t>(need.cylinder - 1);
  const Angle at = Angle::degrees(crank_deg - model_.pistons.phases.top_deg[k]);
  std::vector<Effect> effects;
  for (const MovedValve& number : moved(*valve)) {
    const double more = (number.up.room_tdc_mm - number.up.greatest_drop_mm()) -
                        (number.down.room_tdc_mm - number.down.greatest_drop_mm());
    add(effects, number.key, more / kBothSteps);
  }
  for (const MovedCrank& number : cranks_) {
    const double more = number.up.depth_mm(at) + over(*valve, number.up).room_tdc_mm -
                        number.down.depth_mm(at) - over(*valve, number.down).room_tdc_mm;
    add(effects, number.key, more / kBothSteps);
  }
  for (const HeadNumber& number : heads_) {
    const bool counts = heights == Fit::as_fitted && number.head == valve->head;
    if (counts) add(effects, number.key, -number.nearer_mm);
  }
  const double mm_a_deg = model_.crank.slope_mm(at) * kRadPerDeg;
  if (where == ParkedAt::timing_position) {
    const std::string_view key = "engine.timing_position_deg";
    add(effects, key, mm_a_deg * sigma(key));
  }
  add_layout(need, mm_a_deg, effects);
  return unsure_of(effects);
}

}  // namespace twoturn::study
