#include "twoturn/timing/way.hpp"

#include <cmath>

#include "base/at.hpp"

namespace twoturn {
namespace {

double arc_mm(const PlacedPath& placed, int pulley) {
  return placed.wheels[at(pulley)].radius_mm * placed.path.wraps[at(pulley)].radians();
}

// Whether the pulleys strictly after `from` and up to but not including `to`, along travel, hold
// the tensioner.
bool holds_tensioner(const Drive& drive, int from, int to) {
  if (!drive.tensioner) return false;
  const int count = static_cast<int>(drive.pulleys.size());
  for (int i = (from + 1) % count; i != to; i = (i + 1) % count) {
    if (i == drive.tensioner->pulley) return true;
  }
  return false;
}

}  // namespace

OnArc on_arc(const PlacedPath& placed, int pulley, Angle point) {
  const Wheel& wheel = placed.wheels[at(pulley)];
  const Angle half = placed.path.wraps[at(pulley)] / 2.0;
  const Angle middle = entry_angle(wheel, placed.path, pulley) + wheel.sense * half;
  const Angle off = (wheel.sense * (point - middle)).wrapped_half();
  return {wheel.radius_mm * (half + off).radians(), arc_mm(placed, pulley)};
}

double entry_to_entry_mm(const PlacedPath& placed, int from, int to) {
  const int count = static_cast<int>(placed.wheels.size());
  double sum = 0.0;
  for (int i = from; i != to; i = (i + 1) % count) {
    sum += arc_mm(placed, i) + placed.path.spans[at(i)].length_mm;
  }
  return sum;
}

Way reference_way(const Drive& drive, int pulley) {
  if (!drive.tensioner || drive.tensioner->pulley == pulley) return Way::against_travel;
  return holds_tensioner(drive, 0, pulley) ? Way::against_travel : Way::with_travel;
}

double crank_to_mark_mm(const PlacedPath& placed, int pulley, Way way, double crank_from_entry_mm,
                        double mark_from_entry_mm) {
  const double entry = way == Way::with_travel ? entry_to_entry_mm(placed, 0, pulley)
                                               : -entry_to_entry_mm(placed, pulley, 0);
  return entry + mark_from_entry_mm - crank_from_entry_mm;
}

double way_gain_mm(const PlacedPath& placed, int pulley, Way way, int moved, const Vec2& by_mm,
                   double radius_mm) {
  const bool with_travel = way == Way::with_travel;
  const int start = with_travel ? 0 : pulley;
  const int end = with_travel ? pulley : 0;
  const int count = static_cast<int>(placed.wheels.size());
  const int from_start = (moved - start + count) % count;
  const int whole = (end - start + count) % count;
  if (from_start > whole) return 0.0;
  const std::vector<Span>& spans = placed.path.spans;
  double gain = 0.0;
  if (from_start > 0) gain += spans[at((moved - 1 + count) % count)].direction.dot(by_mm);
  if (from_start < whole) gain -= spans[at(moved)].direction.dot(by_mm);
  const bool between = from_start > 0 && from_start < whole;
  if (between) gain += placed.path.wraps[at(moved)].radians() * radius_mm;
  return with_travel ? gain : -gain;
}

bool TeethBetween::countable() const {
  constexpr double kCountable = 0.05;
  return from_in_mesh && to_in_mesh && std::abs(teeth - std::round(teeth)) <= kCountable;
}

TeethBetween teeth_between(const Drive& drive, const PlacedPath& placed, int from, Angle from_at,
                           int to, Angle to_at) {
  TeethBetween result;
  result.from = from;
  result.to = to;
  // Without a tensioner the mismatch lies on the slack side, the belt that leaves the crank.
  const bool tensioner_ahead = holds_tensioner(drive, from, to);
  const bool slack_side_ahead = !drive.tensioner && from == 0;
  result.way = tensioner_ahead || slack_side_ahead ? Way::against_travel : Way::with_travel;
  const bool with_travel = result.way == Way::with_travel;
  const int start = with_travel ? from : to;
  const int end = with_travel ? to : from;
  OnArc start_mark = on_arc(placed, start, with_travel ? from_at : to_at);
  OnArc end_mark = on_arc(placed, end, with_travel ? to_at : from_at);
  (with_travel ? result.from_in_mesh : result.to_in_mesh) = start_mark.in_mesh();
  (with_travel ? result.to_in_mesh : result.from_in_mesh) = end_mark.in_mesh();
  const bool whole = start_mark.in_mesh() && end_mark.in_mesh();
  if (!start_mark.in_mesh()) start_mark.from_entry_mm = start_mark.arc_mm;
  if (!end_mark.in_mesh()) end_mark.from_entry_mm = 0.0;
  const double mm =
      entry_to_entry_mm(placed, start, end) - start_mark.from_entry_mm + end_mark.from_entry_mm;
  result.teeth = mm / drive.belt.tooth_mm();
  if (whole && drive.belt.teeth) result.other_way = *drive.belt.teeth - result.teeth;
  return result;
}

}  // namespace twoturn
