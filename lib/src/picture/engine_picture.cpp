#include "twoturn/picture/engine_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn {

using namespace scene;

namespace {

constexpr double kFiguresDeg = 90.0;
constexpr double kShownMm = 12.0;  // more room than this is as good as any

PlotLine line_of(const std::string& name, const std::vector<double>& x,
                 const std::vector<double>& y, double most) {
  PlotLine line;
  line.name = name;
  for (std::size_t k = 0; k < x.size() && k < y.size(); ++k) {
    line.points.emplace_back(x[k], std::min(most, y[k]));
  }
  return line;
}

// One lobe with its follower, in a cell of its own.
Group lobe_group(const LobeCurve& lobe, const Vec2& centre, double sense, double scale,
                 double base_mm) {
  Group group{"lobe of " + lobe.name, {}, "lobe", centre};
  std::vector<Vec2> outline;
  for (std::size_t k = 0; k < lobe.cam_deg.size(); ++k) {
    // The nose has gone past the follower at the top; the flanks lie about it against the turning.
    const Angle at = Angle::degrees(90.0 + sense * (lobe.nose_deg - lobe.cam_deg[k]));
    outline.emplace_back(centre + (base_mm + scale * lobe.lift_mm[k]) * draw::towards(at));
  }
  group.items.push_back({Polyline{std::move(outline), Pen::outline, Ends::joined}});
  group.items.push_back({Circle{centre, 1.0, Pen::thin, Fill::ink}});
  const Vec2 follower = centre + Vec2(0.0, base_mm + 0.6);
  group.items.push_back(
      {Line{follower - Vec2(7.0, 0.0), follower + Vec2(7.0, 0.0), Pen::thin, Arrow::none}});
  return group;
}

Group piston_group(const PistonPlace& place, const Vec2& foot, double scale, double stroke_mm) {
  Group group{fmt::format("piston {}", place.cylinder), {}, "piston", std::nullopt};
  constexpr double kHalfMm = 6.0;
  constexpr double kHighMm = 7.0;
  const double top = foot.y() + scale * stroke_mm;
  for (const double side : {-kHalfMm, kHalfMm}) {
    group.items.push_back({Line{Vec2(foot.x() + side, foot.y() - kHighMm),
                                Vec2(foot.x() + side, top), Pen::outline, Arrow::none}});
  }
  const double crown = top - scale * place.depth_mm;
  group.items.push_back(
      {Area{{{Vec2(foot.x() - kHalfMm + 0.5, crown), Vec2(foot.x() + kHalfMm - 0.5, crown),
              Vec2(foot.x() + kHalfMm - 0.5, crown - kHighMm),
              Vec2(foot.x() - kHalfMm + 0.5, crown - kHighMm)}},
            Fill::light_hatch,
            Pen::thin}});
  Label number =
      draw::text_at(Vec2(foot.x(), top + 2.5), std::to_string(place.cylinder), Across::middle);
  number.weight = Weight::bold;
  group.items.push_back({std::move(number)});
  group.items.push_back({draw::text_at(Vec2(foot.x(), foot.y() - kHighMm - 5.0),
                                       fixed(place.depth_mm, 1), Across::middle)});
  return group;
}

}  // namespace

std::optional<Plot> room_plot(const EngineCurves& curves) {
  if (curves.valves.empty() || curves.crank_deg.size() < 2) return std::nullopt;
  Plot plot;
  plot.title = fmt::format("Room between valve and piston, cylinder {}", curves.cylinder);
  plot.x_words =
      fmt::format("crank deg past the top dead centre at which cylinder {} fires", curves.cylinder);
  plot.y_words = fmt::format("mm along the bore, no more than {} shown", shortest(kShownMm, 0));
  plot.x_step = kFiguresDeg;
  for (const ValveCurve& valve : curves.valves) {
    plot.lines.push_back(line_of(valve.name, curves.crank_deg, valve.room_mm, kShownMm));
  }
  plot.rules.push_back({PlotRule::Across::y, 0.0, "touches"});
  return plot;
}

std::optional<Plot> motion_plot(const EngineCurves& curves) {
  if (curves.crank_deg.size() < 2 || curves.depth_mm.size() < 2) return std::nullopt;
  Plot plot;
  plot.title = fmt::format("Piston and valves, cylinder {}", curves.cylinder);
  plot.x_words =
      fmt::format("crank deg past the top dead centre at which cylinder {} fires", curves.cylinder);
  plot.y_words = "mm: piston below top dead centre, valve lift";
  plot.x_step = kFiguresDeg;
  constexpr double kAll = 1e6;
  plot.lines.push_back(line_of("piston", curves.crank_deg, curves.depth_mm, kAll));
  for (const ValveCurve& valve : curves.valves) {
    plot.lines.push_back(line_of(valve.name, curves.crank_deg, valve.lift_mm, kAll));
  }
  return plot;
}

std::optional<Scene> timing_position_scene(const EngineCurves& first,
                                           const std::optional<PistonsAnswer>& pistons,
                                           std::optional<Turn> crank_turns) {
  const bool pistons_known = pistons && pistons->at_pins;
  if (first.lobes.empty() && !pistons_known) return std::nullopt;
  Scene scene;
  scene.title = "At the timing position: lobes of cylinder 1, pistons";
  const double sense = crank_turns == Turn::anticlockwise ? 1.0 : -1.0;
  double most = 1.0;
  for (const LobeCurve& lobe : first.lobes) {
    for (const double lift : lobe.lift_mm) most = std::max(most, lift);
  }
  constexpr double kBaseMm = 9.0;
  constexpr double kLiftMm = 8.0;  // of the highest lobe, on paper
  constexpr double kCellMm = 42.0;
  constexpr double kMiddleMm = 24.0;
  double x = kCellMm / 2.0;
  for (const LobeCurve& lobe : first.lobes) {
    scene.add(lobe_group(lobe, Vec2(x, kMiddleMm), sense, kLiftMm / most, kBaseMm));
    for (const std::string& words : lines_within(lobe.name, kCellMm - 2.0, kLeastTextMm)) {
      scene.add(draw::text_at(Vec2(x, 47.0), words, Across::middle));
      break;
    }
    x += kCellMm;
  }
  double width = x - kCellMm / 2.0;
  if (pistons_known) {
    constexpr double kBoreMm = 16.0;
    constexpr double kStrokeMm = 24.0;
    const double scale = kStrokeMm / std::max(1.0, pistons->stroke_mm);
    double at = width + kBoreMm / 2.0 + 4.0;
    for (const PistonPlace& place : pistons->at_pins->places) {
      scene.add(piston_group(place, Vec2(at, 15.0), scale, pistons->stroke_mm));
      at += kBoreMm;
    }
    width = at;
    scene.add(draw::text_at(Vec2(width - kBoreMm / 2.0, 47.0), "pistons, mm below top dead centre",
                            Across::right));
  }
  scene.corner_mm = Vec2::Zero();
  scene.size_mm = Vec2(std::max(width, 80.0), 52.0);
  return scene;
}

}  // namespace twoturn
