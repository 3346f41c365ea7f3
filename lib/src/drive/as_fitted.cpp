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

// Where the points of a block and its heads go as they warm.
class Grown {
 public:
  Grown(const DriveSpec& cold, const Growth& growth) : cold_(cold), growth_(growth) {
    for (const PulleySpec& pulley : cold.pulleys) {
      if (pulley.role == Role::crankshaft && pulley.at_mm) crank_mm_ = *pulley.at_mm;
    }
  }

  Vec2 at(const Vec2& point, const std::optional<std::string>& mount) const {
    for (const HeadSpec& head : cold_.heads) {
      if (mount != head.name || !head.deck_deg || !head.deck_from_crank_mm) continue;
      const Angle deck = Angle::clock(*head.deck_deg);
      const Vec2 face =
          *head.deck_from_crank_mm * Vec2(std::cos(deck.radians()), std::sin(deck.radians()));
      return point + growth_.block * face + growth_.head * (point - crank_mm_ - face);
    }
    return point + growth_.block * (point - crank_mm_);
  }
  void move(std::optional<Vec2>& point, const std::optional<std::string>& mount) const {
    if (point) point = at(*point, mount);
  }

 private:
  const DriveSpec& cold_;
  Growth growth_;
  Vec2 crank_mm_ = Vec2::Zero();
};

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

bool changes_the_drive(const BuildSpec& build) {
  BuildSpec cold = build;
  cold.warm.reset();
  return !(cold == BuildSpec{});
}

Growth growth_of(const WarmSpec& warm) {
  constexpr double kPpm = 1e-6;
  const auto grown = [&](const std::optional<double>& at_c, const std::optional<double>& ppm) {
    return kPpm * *ppm * (*at_c - *warm.cold_c);
  };
  return {grown(warm.block_c, warm.block_ppm_per_c), grown(warm.head_c, warm.head_ppm_per_c),
          grown(warm.belt_c, warm.belt_ppm_per_c)};
}

FittedSpec warmed_spec(const FittedSpec& cold, const Growth& growth, double belt_stretch) {
  constexpr double kPercent = 100.0;
  DriveSpec result = cold.spec();
  const Grown grown(cold.spec(), growth);
  for (PulleySpec& pulley : result.pulleys) {
    grown.move(pulley.at_mm, pulley.mount);
    if (!pulley.tensioner) continue;
    if (auto* swing = std::get_if<SwingSpec>(&pulley.tensioner->path)) {
      grown.move(swing->pivot_mm, pulley.mount);
    }
    if (auto* slide = std::get_if<SlideSpec>(&pulley.tensioner->path)) {
      grown.move(slide->slack_at_mm, pulley.mount);
      grown.move(slide->tight_at_mm, pulley.mount);
    }
  }
  for (CoverSpec& cover : result.covers) {
    for (Vec2& point : cover.points_mm) point = grown.at(point, cover.mount);
  }
  result.build.stretch_percent = kPercent * belt_stretch;
  return {std::move(result), cold.fit()};
}

}  // namespace twoturn
