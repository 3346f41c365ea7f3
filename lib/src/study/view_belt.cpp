#include "view_belt.hpp"

#include <cmath>

#include "base/at.hpp"

namespace twoturn {
namespace {

double arc_mm(const PlacedPath& placed, std::size_t wheel) {
  return placed.wheels[wheel].radius_mm * placed.path.wraps[wheel].radians();
}

// From belt teeth to mm along the path: the same, but for the run that leaves the crank.
class AlongPath {
 public:
  explicit AlongPath(const Assembly& assembly)
      : pitch_(assembly.fitted.belt.pitch_mm),
        belt_mm_(pitch_ * assembly.belt_teeth),
        path_mm_(assembly.fitted_path.path.length_mm),
        crank_mm_(arc_mm(assembly.fitted_path, 0)),
        run_mm_(assembly.fitted_path.path.spans.front().length_mm) {}

  /// `mm` of belt from the crank's entry, in [0, belt).
  double on_path(double mm) const {
    const double longer = belt_mm_ - path_mm_;
    if (mm <= crank_mm_) return mm;
    const double on_run = run_mm_ + longer;
    if (mm >= crank_mm_ + on_run) return mm - longer;
    return crank_mm_ + (mm - crank_mm_) * run_mm_ / on_run;
  }

  double pitch() const { return pitch_; }

 private:
  double pitch_;
  double belt_mm_;
  double path_mm_;
  double crank_mm_;
  double run_mm_;
};

double around(double value, double whole) { return value - whole * std::floor(value / whole); }

// The belt tooth that lies nearest a shaft's mark with pins in, counted from that of tooth 0.
long tooth_over_mark(const Assembly& assembly, std::size_t shaft) {
  const ShaftFit& fit = assembly.fits[shaft];
  const RunState start = start_of_run(assembly);
  const double mark = fit.arc_start_teeth + fit.mark_from_entry_mm / assembly.fitted.belt.pitch_mm;
  return std::lround(mark - first_belt_tooth(assembly, start));
}

SeenTooth tooth_at(const PlacedPath& placed, double mm, BeltSide side, long number) {
  const BeltPoint point = point_along(placed, mm);
  const Angle along = Angle::radians(std::atan2(point.along.y(), point.along.x()));
  const Angle to_teeth = Angle::degrees(side == BeltSide::left ? 90.0 : -90.0);
  return {number, point.at_mm, along + to_teeth, std::nullopt};
}

}  // namespace

BeltPoint point_along(const PlacedPath& placed, double mm) {
  double left = around(mm, placed.path.length_mm);
  for (std::size_t i = 0; i < placed.wheels.size(); ++i) {
    const Wheel& wheel = placed.wheels[i];
    const double arc = arc_mm(placed, i);
    if (left <= arc) {
      const Angle angle = entry_angle(wheel, placed.path, static_cast<int>(i)) +
                          Angle::radians(wheel.sense * left / wheel.radius_mm);
      const Vec2 out(std::cos(angle.radians()), std::sin(angle.radians()));
      return {wheel.centre_mm + wheel.radius_mm * out, wheel.sense * Vec2(-out.y(), out.x())};
    }
    left -= arc;
    const Span& span = placed.path.spans[i];
    if (left <= span.length_mm) return {span.start_mm + left * span.direction, span.direction};
    left -= span.length_mm;
  }
  return {placed.path.spans.back().end_mm, placed.path.spans.back().direction};
}

double first_belt_tooth(const Assembly& assembly, const RunState& state) {
  const ShaftFit& crank = assembly.fits[0];
  return crank.arc_start_teeth + crank.mark_from_entry_mm / assembly.fitted.belt.pitch_mm -
         crank.groove_phase + belt_travel_teeth(assembly, state);
}

std::vector<SeenTooth> belt_teeth_along(const Assembly& assembly, const RunState& state) {
  const AlongPath along(assembly);
  const Pulley& crank = assembly.fitted.pulleys.front();
  const bool on_left = (crank.face == Face::tooth) == (crank.wheel.sense > 0);
  const BeltSide side = on_left ? BeltSide::left : BeltSide::right;
  const double first = first_belt_tooth(assembly, state);
  std::vector<SeenTooth> teeth;
  for (int k = 0; k < assembly.belt_teeth; ++k) {
    const double mm = around(first + k, assembly.belt_teeth) * along.pitch();
    teeth.push_back(tooth_at(assembly.fitted_path, along.on_path(mm), side, k));
  }
  for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
    const Shaft& shaft = assembly.shafts[i];
    if (shaft.pulley < 0 || !shaft.timed() || shaft.marks.empty()) continue;
    const long count = assembly.belt_teeth;
    const long tooth = ((tooth_over_mark(assembly, i) % count) + count) % count;
    teeth[at(static_cast<int>(tooth))].paint = shaft.pulley;
  }
  return teeth;
}

std::vector<SeenTooth> drawn_teeth(const PlacedPath& placed, double pitch_mm, BeltSide side) {
  std::vector<SeenTooth> teeth;
  const long count = std::lround(std::floor(placed.path.length_mm / pitch_mm));
  for (long k = 0; k < count; ++k) {
    teeth.push_back(tooth_at(placed, static_cast<double>(k) * pitch_mm, side, k));
  }
  return teeth;
}

}  // namespace twoturn
