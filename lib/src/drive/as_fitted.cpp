#include <cmath>
#include <string>

#include "twoturn/drive/fitted_spec.hpp"

namespace twoturn {
namespace {

double value_or_zero(const std::map<std::string, double>& by_name, const std::string& name) {
  const auto found = by_name.find(name);
  return found == by_name.end() ? 0.0 : found->second;
}

// How far everything mounted on a head moves, mm: along its deck, the way it lifts off.
Vec2 head_shift(const HeadSpec& head, const BuildSpec& build) {
  if (!head.deck_deg) return Vec2::Zero();
  const double lift = head_lift_mm(build, head.name);
  const Angle deck = Angle::clock(*head.deck_deg);
  return lift * Vec2(std::cos(deck.radians()), std::sin(deck.radians()));
}

void shift(std::optional<Vec2>& point, const Vec2& by) {
  if (point) *point += by;
}

void shift(TensionerSpec& tensioner, const Vec2& by) {
  if (auto* swing = std::get_if<SwingSpec>(&tensioner.path)) shift(swing->pivot_mm, by);
  if (auto* slide = std::get_if<SlideSpec>(&tensioner.path)) {
    shift(slide->slack_at_mm, by);
    shift(slide->tight_at_mm, by);
  }
}

void renew(PulleySpec& pulley, const RenewedSpec& with) {
  if (with.teeth) pulley.teeth = with.teeth;
  if (with.diameter_mm) pulley.diameter_mm = with.diameter_mm;
  if (with.at_mm) pulley.at_mm = with.at_mm;
}

}  // namespace

double head_lift_mm(const BuildSpec& build, const std::string& head) {
  return value_or_zero(build.gasket_change_mm, head) - value_or_zero(build.skim_mm, head) -
         value_or_zero(build.block_skim_mm, head);
}

std::optional<int> teeth_for(const DriveSpec& spec, const PulleySpec& pulley, Fit fit) {
  if (fit == Fit::by_the_book) return pulley.teeth;
  const auto renewed = spec.build.renewed.find(pulley.name);
  if (renewed == spec.build.renewed.end() || !renewed->second.teeth) return pulley.teeth;
  return renewed->second.teeth;
}

FittedSpec spec_for(const DriveSpec& spec, Fit fit) {
  DriveSpec result = spec;
  if (fit == Fit::by_the_book) {
    result.build = {};
    return {std::move(result), fit};
  }
  for (PulleySpec& pulley : result.pulleys) {
    const auto renewed = spec.build.renewed.find(pulley.name);
    if (renewed != spec.build.renewed.end()) renew(pulley, renewed->second);
  }
  for (const HeadSpec& head : spec.heads) {
    const Vec2 by = head_shift(head, spec.build);
    for (PulleySpec& pulley : result.pulleys) {
      if (pulley.mount != head.name) continue;
      shift(pulley.at_mm, by);
      if (pulley.tensioner) shift(*pulley.tensioner, by);
    }
    for (CoverSpec& cover : result.covers) {
      if (cover.mount != head.name) continue;
      for (Vec2& point : cover.points_mm) point += by;
    }
  }
  return {std::move(result), fit};
}

}  // namespace twoturn
