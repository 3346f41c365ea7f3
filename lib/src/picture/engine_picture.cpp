#include "twoturn/picture/engine_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/base/numbers.hpp"

namespace twoturn {

using scene::Fill;

namespace {

constexpr double kTwoTurns = 720.0;
constexpr double kShownMm = 12.0;  // more room than this is as good as any
constexpr double kOutMm = 11.0;    // on paper
constexpr double kInMm = 8.0;

// Sorted by the way from pins in, once each.
std::vector<Vec2> from_pins(const EngineCurves& curves, const std::vector<double>& values) {
  std::vector<Vec2> points;
  for (std::size_t k = 0; k + 1 < curves.crank_deg.size() && k < values.size(); ++k) {
    const double from = curves.crank_deg[k] - *curves.at_pins_deg;
    points.emplace_back(from - kTwoTurns * std::floor(from / kTwoTurns), values[k]);
  }
  std::sort(points.begin(), points.end(),
            [](const Vec2& one, const Vec2& other) { return one.x() < other.x(); });
  return points;
}

const Vec2& least_of(const std::vector<Vec2>& points) {
  return *std::min_element(points.begin(), points.end(),
                           [](const Vec2& one, const Vec2& other) { return one.y() < other.y(); });
}

const Vec2& greatest_of(const std::vector<Vec2>& points) {
  return *std::max_element(points.begin(), points.end(),
                           [](const Vec2& one, const Vec2& other) { return one.y() < other.y(); });
}

// Pistons that come up together share a tick.
std::vector<TwoTurns::Tick> ticks_of(const std::vector<CylinderTop>& tops) {
  std::vector<TwoTurns::Tick> ticks;
  constexpr double kTogetherDeg = 1.0;
  for (const CylinderTop& top : tops) {
    const auto same = std::find_if(ticks.begin(), ticks.end(), [&](const TwoTurns::Tick& tick) {
      return std::abs(std::remainder(tick.crank_deg - top.crank_deg, kTwoTurns / 2.0)) <
             kTogetherDeg;
    });
    if (same == ticks.end()) {
      ticks.push_back({top.crank_deg, fmt::format("top of {}", top.cylinder)});
    } else {
      same->words += fmt::format(", {}", top.cylinder);
    }
  }
  return ticks;
}

TwoTurns empty_round(const EngineCurves& curves, const CrankMark& mark, std::string title) {
  TwoTurns round;
  round.title = std::move(title);
  round.start = mark.pins_in;
  round.sense = mark.sense;
  round.outwards_mm = kOutMm;
  round.inwards_mm = kInMm;
  round.ticks = ticks_of(curves.tops);
  return round;
}

}  // namespace

std::optional<TwoTurns> room_round(const EngineCurves& curves, const CrankMark& mark) {
  if (curves.valves.empty() || curves.crank_deg.size() < 3 || !curves.at_pins_deg) {
    return std::nullopt;
  }
  TwoTurns round =
      empty_round(curves, mark, fmt::format("Valves and piston of cylinder {}", curves.cylinder));
  double most_lift = 1.0;
  for (const ValveCurve& valve : curves.valves) {
    most_lift = std::max(most_lift, greatest_of(from_pins(curves, valve.lift_mm)).y());
  }
  for (const ValveCurve& valve : curves.valves) {
    const bool inlet = valve.side == ValveSide::inlet;
    std::vector<double> shown = valve.room_mm;
    for (double& room : shown) room = std::clamp(room, 0.0, kShownMm);
    const std::vector<Vec2> room = from_pins(curves, shown);
    const double least = least_of(from_pins(curves, valve.room_mm)).y();
    const Vec2 nearest = least_of(room);
    if (nearest.y() < kShownMm) {
      round.words.push_back({round.tracks.size(), nearest.x(), nearest.y(),
                             least <= 0.0 ? valve.name + " touches"
                                          : fmt::format("{}: {} mm", valve.name, fixed(least, 1))});
    }
    round.tracks.push_back({"room at " + valve.name, room, kShownMm, kOutMm / kShownMm,
                            inlet ? Fill::dense_hatch : Fill::light_hatch});
    const std::vector<Vec2> lift = from_pins(curves, valve.lift_mm);
    const Vec2 open = greatest_of(lift);
    round.words.push_back({round.tracks.size(), open.x(), open.y(), valve.name + " open"});
    round.tracks.push_back(
        {valve.name + " open", lift, 0.0, -kInMm / most_lift, inlet ? Fill::dots : Fill::none});
  }
  return round;
}

std::optional<TwoTurns> torque_round(const FeelAnswer& feel, const EngineCurves& curves,
                                     const CrankMark& mark) {
  if (feel.steps.size() < 3 || !feel.at_engine_place || feel.greatest.nm <= 0.0) {
    return std::nullopt;
  }
  TwoTurns round = empty_round(curves, mark, "What the spanner feels, plugs out");
  std::vector<Vec2> points;
  for (const FeelStep& step : feel.steps) {
    if (step.crank_deg < kTwoTurns) points.emplace_back(step.crank_deg, step.crank_nm);
  }
  const double scale = kOutMm / feel.greatest.nm;
  round.inwards_mm = std::clamp(-scale * feel.least_nm, 0.0, kInMm);
  constexpr std::size_t kNamed = 8;
  for (const FeelHump& hump : feel.humps) {
    if (round.words.size() == kNamed || hump.parts.empty() || !hump.pull) break;
    round.words.push_back({0, hump.crank_deg, hump.pull->nm,
                           fmt::format("{} {}: {} Nm", hump.parts[0].valve, hump.parts[0].cylinder,
                                       fixed(hump.pull->nm, 0))});
  }
  round.tracks.push_back({"torque at the crank", std::move(points), 0.0, scale, Fill::light_hatch});
  return round;
}

}  // namespace twoturn
