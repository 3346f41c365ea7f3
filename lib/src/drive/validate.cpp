#include "twoturn/drive/validate.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "validate_parts.hpp"

namespace twoturn {
namespace validation {

void Judge::add(std::string key, std::string value, std::string rule, std::string nearest) {
  problems.push_back(
      {std::move(key), std::move(value), std::move(rule), std::move(nearest), "", 0, 0});
}

void Judge::range(const Key& key, std::optional<double> value, const Range& range) {
  if (!value || (*value >= range.least && *value <= range.most)) return;
  add(key.whole(), shown(*value, range.unit),
      std::isfinite(*value)
          ? fmt::format("must be from {} to {}", shown(range.least), shown(range.most, range.unit))
          : "must be a finite number");
}

void Judge::positive(const Key& key, std::optional<double> value, double most,
                     std::string_view unit) {
  // Nothing that is measured is smaller; products of two such could be nothing.
  constexpr double kLeast = 1e-9;
  if (!value || (*value >= kLeast && *value <= most)) return;
  add(key.whole(), shown(*value, unit),
      !std::isfinite(*value) ? "must be a finite number"
      : *value > most        ? fmt::format("must be {} or less", shown(most, unit))
      : *value > 0.0         ? "is next to nothing; must be a number that can be measured"
                             : "must be more than 0");
}

void Judge::length(const Key& key, std::optional<double> value) {
  positive(key, value, kFarthestMm, "mm");
}

void Judge::clock(const Key& key, std::optional<double> value) {
  range(key, value, {-kWidestAngleDeg, kWidestAngleDeg, "deg"});
}

void Judge::position(const Key& key, const std::optional<Vec2>& value) {
  if (!value) return;
  const bool finite = std::isfinite(value->x()) && std::isfinite(value->y());
  if (finite && std::abs(value->x()) <= kFarthestMm && std::abs(value->y()) <= kFarthestMm) return;
  add(key.whole(), shown(*value),
      finite ? "must lie within 10 m of the crank each way" : "must be two finite numbers");
}

void Judge::count(const Key& key, std::optional<int> value, int least, int most) {
  if (!value || (*value >= least && *value <= most)) return;
  add(key.whole(), std::to_string(*value),
      *value < least ? fmt::format("must be {} or more", least)
                     : fmt::format("must be {} or less", most));
}

std::string shown(double value, std::string_view unit) {
  const std::string number = fmt::format("{}", value == 0.0 ? 0.0 : value);
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

std::string shown(const Vec2& value) {
  return fmt::format("[{}, {}] mm", shown(value.x()), shown(value.y()));
}

std::string path_of(std::string_view list, const std::string& name, std::size_t index) {
  return name.empty() ? fmt::format("{}.{}", list, index + 1) : fmt::format("{}.{}", list, name);
}

std::vector<std::string> pulley_names(const DriveSpec& spec) {
  std::vector<std::string> names;
  for (const PulleySpec& pulley : spec.pulleys) names.push_back(pulley.name);
  return names;
}

std::vector<std::string> head_names(const DriveSpec& spec) {
  std::vector<std::string> names;
  for (const HeadSpec& head : spec.heads) names.push_back(head.name);
  return names;
}

const TensionerSpec* tensioner_of(const DriveSpec& spec) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.tensioner) return &*pulley.tensioner;
  }
  return nullptr;
}

namespace {

void judge_heads(Judge& judge) {
  for (std::size_t i = 0; i < judge.spec.heads.size(); ++i) {
    const HeadSpec& head = judge.spec.heads[i];
    const std::string path = path_of("head", head.name, i);
    judge.clock({path, ".deck_deg"}, head.deck_deg);
    judge.length({path, ".deck_from_crank_mm"}, head.deck_from_crank_mm);
    if (head.name == "block") {
      judge.add(path + ".name", "\"block\"", "the block is no head; give the head another name");
    }
  }
}

void judge_limits(Judge& judge) {
  const LimitSpec& limits = judge.spec.limits;
  judge.positive("limits.phase_crank_deg", limits.phase_crank_deg, 180.0, "deg");
  judge.positive("limits.stop_teeth", limits.stop_teeth, 10.0, "");
  judge.range("limits.pin_tight_mm", limits.pin_tight_mm, {0.0, 10.0, "mm"});
  judge.range("limits.travel_end", limits.travel_end, {0.0, 0.5});
  judge.range("limits.adjustment_left_percent", limits.adjustment_left_percent, {0.0, 100.0, "%"});
  judge.range("limits.near_mm", limits.near_mm, {0.0, 100.0, "mm"});
  judge.range("limits.teeth_in_mesh", limits.teeth_in_mesh, {0.0, 100.0});
  judge.range("limits.inlet_room_mm", limits.inlet_room_mm, {0.0, 50.0, "mm"});
  judge.range("limits.exhaust_room_mm", limits.exhaust_room_mm, {0.0, 50.0, "mm"});
  judge.range("limits.valve_to_valve_mm", limits.valve_to_valve_mm, {0.0, 50.0, "mm"});
  judge.range("limits.park_room_mm", limits.park_room_mm, {0.0, 50.0, "mm"});
}

void judge_top(Judge& judge) {
  const DriveSpec& spec = judge.spec;
  judge.range("lean_deg", spec.lean_deg, {-180.0, 180.0, "deg"});
  judge.length("rough_centre_mm", spec.rough_centre_mm);
  for (const GivenValue& given : spec.given) {
    judge.range({given.key, " give_or_take"}, given.give_or_take, {0.0, kFarthestMm});
  }
}

}  // namespace
}  // namespace validation

std::vector<Problem> validate(const DriveSpec& spec) {
  validation::Judge judge(spec);
  validation::judge_top(judge);
  validation::judge_belt(judge);
  validation::judge_names(judge);
  validation::judge_heads(judge);
  validation::judge_pulleys(judge);
  validation::judge_tensioners(judge);
  validation::judge_geared(judge);
  validation::judge_measured(judge);
  validation::judge_covers(judge);
  validation::judge_build(judge);
  validation::judge_engine(judge);
  validation::judge_tension(judge);
  validation::judge_bolts(judge);
  validation::judge_access_holes(judge);
  validation::judge_trays(judge);
  validation::judge_limits(judge);
  validation::judge_seen(judge);
  return std::move(judge.problems);
}

}  // namespace twoturn
