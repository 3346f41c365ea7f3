#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

// At full size the belt has its own body: the pitch line in it is no more than a line.
Pen pen_of(Side side, BeltLook look) {
  const bool line = look == BeltLook::line;
  switch (side) {
    case Side::tight:
      return Pen::tight_run;
    case Side::slack:
      return line ? Pen::slack_run : Pen::hidden;
    case Side::between:
      break;
  }
  return line ? Pen::belt : Pen::outline;
}

std::string title_of(const BeltView& view, const SeenRun& run) {
  const std::string ends = view.pulleys[at(run.from)].name + " to " + view.pulleys[at(run.to)].name;
  if (run.side == Side::tight) return "tight side: " + ends;
  if (run.side == Side::slack) return "slack side: " + ends;
  return ends;
}

// The belt's outline at a distance to the left of its pitch line, all the way round.
Curve offset_line(const BeltView& view, const Placing& placing, double left_mm, Pen pen) {
  Curve curve;
  curve.pen = pen;
  curve.ends = Ends::joined;
  const auto beside = [&](const SeenRun& run, const Vec2& point) {
    const Vec2 along = (run.end_mm - run.start_mm).normalized();
    return placing.point(point + left_mm * Vec2(-along.y(), along.x()));
  };
  const SeenRun& last = view.runs.back();
  curve.start_mm = beside(last, last.end_mm);
  for (std::size_t i = 0; i < view.runs.size(); ++i) {
    const SeenPulley& pulley = view.pulleys[i];
    const SeenRun& run = view.runs[i];
    curve.pieces.push_back(
        {beside(run, run.start_mm), placing.point(pulley.centre_mm), pulley.sense});
    curve.pieces.push_back({beside(run, run.end_mm), std::nullopt, 1});
  }
  return curve;
}

// Paper along the middle of the band: all the way round but on the tight side.
Group inside_of(const BeltView& view, const Placing& placing) {
  Group group{"", {}, "belt-inside", std::nullopt};
  for (std::size_t i = 0; i < view.runs.size(); ++i) {
    const SeenPulley& pulley = view.pulleys[i];
    group.items.push_back(
        {Arc{placing.point(pulley.centre_mm), placing.length(pulley.pitch_radius_mm),
             placing.angle(pulley.entry), pulley.sense * pulley.wrap, Pen::inside, Arrow::none}});
    const SeenRun& run = view.runs[i];
    if (run.side == Side::tight) continue;
    group.items.push_back(
        {Line{placing.point(run.start_mm), placing.point(run.end_mm), Pen::inside, Arrow::none}});
  }
  return group;
}

Group run_group(const BeltView& view, const SeenRun& run, const Placing& placing, BeltLook look) {
  Group group{title_of(view, run), {}, "run", std::nullopt};
  group.items.push_back({Line{placing.point(run.start_mm), placing.point(run.end_mm),
                              pen_of(run.side, look), Arrow::none}});
  return group;
}

Group arc_group(const SeenPulley& pulley, const Placing& placing, BeltLook look) {
  Group group{"belt on " + pulley.name, {}, "contact", std::nullopt};
  group.items.push_back(
      {Arc{placing.point(pulley.centre_mm), placing.length(pulley.pitch_radius_mm),
           placing.angle(pulley.entry), pulley.sense * pulley.wrap, pen_of(Side::between, look),
           Arrow::none}});
  return group;
}

}  // namespace

double tooth_height_mm(const BeltView& view) {
  constexpr double kShareOfPitch = 0.36;  // where no section says
  return view.tooth_height_mm.value_or(kShareOfPitch * view.pitch_mm);
}

Group belt(const BeltView& view, const Placing& placing, BeltLook look) {
  Group group{
      view.is_belt ? "belt" : "the path drawn, which no belt can take", {}, "belt", std::nullopt};
  for (std::size_t i = 0; i < view.runs.size(); ++i) {
    group.items.push_back({arc_group(view.pulleys[i], placing, look)});
    group.items.push_back({run_group(view, view.runs[i], placing, look)});
  }
  if (look == BeltLook::line) group.items.push_back({inside_of(view, placing)});
  if (look == BeltLook::body && view.back_to_pitch_line_mm && view.land_to_pitch_line_mm) {
    const double to_left = view.teeth_on_left ? 1.0 : -1.0;
    group.items.push_back(
        {offset_line(view, placing, -to_left * *view.back_to_pitch_line_mm, Pen::thin)});
    group.items.push_back(
        {offset_line(view, placing, to_left * *view.land_to_pitch_line_mm, Pen::thin)});
  }
  return group;
}

namespace {

// Teeth are seen beside the band at any scale; in a pulley's grooves they are no deeper than these.
double least_tip_mm(const BeltView& view, const SeenTooth& tooth, const Placing& placing) {
  constexpr double kLeastOnPaperMm = 1.3;
  constexpr double kBesideMm = 1.8;
  constexpr double kShareOfPitch = 0.6;
  constexpr double kLongOfPitch = 0.85;
  constexpr double kOnIt = 1.001;
  const bool on_pulley =
      std::any_of(view.pulleys.begin(), view.pulleys.end(), [&](const SeenPulley& pulley) {
        return (tooth.at_mm - pulley.centre_mm).norm() < kOnIt * pulley.pitch_radius_mm;
      });
  const double least = (on_pulley ? kLeastOnPaperMm : kBesideMm) / placing.scale;
  return std::min(least, (on_pulley ? kShareOfPitch : kLongOfPitch) * view.pitch_mm);
}

}  // namespace

Group belt_teeth(const BeltView& view, const Placing& placing) {
  Group group{"belt teeth, on the belt's tooth side", {}, "belt-teeth", std::nullopt};
  const double land = view.land_to_pitch_line_mm.value_or(0.0);
  const double pitch = placing.length(view.pitch_mm);
  for (const SeenTooth& tooth : view.teeth) {
    const Vec2 out = towards(placing.angle(tooth.towards));
    const Vec2 beside(-out.y(), out.x());
    const auto place = [&](double side, double depth_mm) -> Vec2 {
      return placing.point(tooth.at_mm) + placing.length(depth_mm) * out + side * pitch * beside;
    };
    const double tip = std::max(land + tooth_height_mm(view), least_tip_mm(view, tooth, placing));
    std::vector<Vec2> outline{place(kToothFoot, 0.0), place(kToothTip, tip), place(-kToothTip, tip),
                              place(-kToothFoot, 0.0)};
    if (view.double_sided) {
      for (const double side : {-kToothTip, kToothTip}) outline.push_back(place(side, -tip));
    }
    group.items.push_back({Area{{std::move(outline)}, Fill::ink, std::nullopt}});
  }
  return group;
}

std::vector<Group> paint(const BeltView& view, const Placing& placing) {
  std::vector<Group> groups;
  for (const SeenTooth& tooth : view.teeth) {
    if (!tooth.paint) continue;
    const std::string& name = view.pulleys[at(*tooth.paint)].name;
    Group group{"paint put on the belt at the mark of " + name, {}, "paint", std::nullopt};
    const Vec2 back = -towards(placing.angle(tooth.towards));
    const Vec2 root = placing.point(tooth.at_mm);
    group.items.push_back({Line{root, root + kPaintMm * back, Pen::outline, Arrow::none}});
    group.items.push_back({Circle{root + kPaintMm * back, kPaintDotMm, Pen::thin, Fill::ink}});
    groups.push_back(std::move(group));
  }
  return groups;
}

Group belt_path(const BeltView& view, const Placing& placing) {
  Group group{"", {}, "belt-path", std::nullopt};
  Curve curve;
  curve.pen = Pen::thin;
  const SeenRun& last = view.runs.back();
  curve.start_mm = placing.point(last.end_mm);
  for (std::size_t i = 0; i < view.runs.size(); ++i) {
    const SeenPulley& pulley = view.pulleys[i];
    curve.pieces.push_back(
        {placing.point(view.runs[i].start_mm), placing.point(pulley.centre_mm), pulley.sense});
    curve.pieces.push_back({placing.point(view.runs[i].end_mm), std::nullopt, 1});
  }
  group.items.push_back({std::move(curve)});
  return group;
}

Group gasket(const SeenGasket& seen, const Placing& placing) {
  Group group{"gasket face of " + seen.name, {}, "gasket", std::nullopt};
  group.items.push_back(
      {Line{placing.point(seen.from_mm), placing.point(seen.to_mm), Pen::guide, Arrow::none}});
  return group;
}

Group cover(const CoverSpec& cover, const Placing& placing) {
  Group group{cover.name, {}, "cover", std::nullopt};
  std::vector<Vec2> points;
  for (const Vec2& point : cover.points_mm) points.push_back(placing.point(point));
  const Ends ends = cover.kind == Outline::closed ? Ends::joined : Ends::open;
  group.items.push_back({Polyline{std::move(points), Pen::hidden, ends}});
  return group;
}

}  // namespace twoturn::draw
