#include "place_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"

namespace twoturn::placing {
namespace {

// No rule and no book is better than this.
constexpr double kLeastMm = 1e-3;
constexpr double kLeastDeg = 1e-4;

GiveOrTake known(const DriveSpec& spec, const std::string& key) {
  // What is set for the occasion stands for a measurement here, taken as well as usual.
  const GivenValue* given = find_given(spec, key);
  const bool said = given != nullptr && given->origin != Origin::assumed;
  return said ? give_or_take(*given) : usual_give_or_take(key);
}

const std::optional<Vec2>& place_of(const PulleySpec& pulley) {
  static const std::optional<Vec2> kNone;
  if (!pulley.tensioner) return pulley.at_mm;
  const SwingSpec* swing = std::get_if<SwingSpec>(&pulley.tensioner->path);
  return swing != nullptr ? swing->pivot_mm : kNone;
}

// Between centres, of what was measured across two round parts.
double between_centres(const MeasuredSpec& spec) {
  const double both =
      (spec.from_diameter_mm.value_or(0.0) + spec.to_diameter_mm.value_or(0.0)) / 2.0;
  switch (spec.across.value_or(Between::centres)) {
    case Between::outside:
      return *spec.distance_mm - both;
    case Between::inside:
      return *spec.distance_mm + both;
    case Between::centres:
      break;
  }
  return *spec.distance_mm;
}

GiveOrTake distance_give(const DriveSpec& spec, std::size_t index) {
  const MeasuredSpec& measured = spec.measured[index];
  const std::string path = fmt::format("measured.{}", index + 1);
  const bool centres = measured.across.value_or(Between::centres) == Between::centres;
  GiveOrTake give = known(spec, path + ".distance_mm");
  if (measured.give_or_take_mm) {
    give = {*measured.give_or_take_mm, give.with, true};
  } else if (!centres && give.with == TakenWith::shaft_to_shaft && !give.stated) {
    give = usual_give_or_take(path + ".from_diameter_mm");
  }
  if (!centres) {
    const double from = known(spec, path + ".from_diameter_mm").value / 2.0;
    const double to = known(spec, path + ".to_diameter_mm").value / 2.0;
    give.value = std::hypot(give.value, from, to);
  }
  give.value = std::max(give.value, kLeastMm);
  return give;
}

GiveOrTake bearing_give(const DriveSpec& spec, std::size_t index) {
  const MeasuredSpec& measured = spec.measured[index];
  GiveOrTake give = known(spec, fmt::format("measured.{}.bearing_deg", index + 1));
  if (measured.give_or_take_deg) give = {*measured.give_or_take_deg, give.with, true};
  give.value = std::max(give.value, kLeastDeg);
  return give;
}

void add_place(const DriveSpec& spec, Points& points, int index, Rows& rows) {
  MeasuredPoint& point = points.list[at(index)];
  if (!points.given[at(index)]) return;
  const PulleySpec& pulley = spec.pulleys[at(point.listed)];
  const std::string key =
      fmt::format("pulley.{}.{}[0]", pulley.name, point.pivot ? "tensioner.pivot_mm" : "at_mm");
  const GivenValue* given = find_given(spec, key);
  const GiveOrTake give = given != nullptr ? give_or_take(*given) : GiveOrTake{};
  point.exact = give.value < kLeastMm || pulley.role == Role::crankshaft;
  if (point.exact) return;
  ++point.measurements;
  MeasuredRow row;
  row.kind = MeasuredKind::place;
  row.from = row.to = point.name;
  row.give_or_take = give;
  rows.rows.push_back(row);
  rows.seen.emplace_back(PlaceSeen{index, *points.given[at(index)], sigma_of(give.value)});
}

void add_measured(const DriveSpec& spec, Points& points, std::size_t index, Rows& rows) {
  const MeasuredSpec& measured = spec.measured[index];
  const int from = points.index_of(measured.from);
  const int to = points.index_of(measured.to);
  MeasuredRow row;
  row.number = static_cast<int>(index) + 1;
  row.from = measured.from;
  row.to = measured.to;
  if (measured.distance_mm) {
    row.kind = MeasuredKind::distance;
    row.measured = between_centres(measured);
    row.give_or_take = distance_give(spec, index);
    rows.rows.push_back(row);
    rows.seen.emplace_back(DistanceSeen{from, to, row.measured, sigma_of(row.give_or_take.value)});
  }
  if (measured.bearing_deg) {
    row.kind = MeasuredKind::bearing;
    row.measured = *measured.bearing_deg;
    row.give_or_take = bearing_give(spec, index);
    rows.rows.push_back(row);
    rows.seen.emplace_back(BearingSeen{from, to, Angle::clock(row.measured),
                                       sigma_of(row.give_or_take.value) * kRadPerDeg});
  }
  const int count = (measured.distance_mm ? 1 : 0) + (measured.bearing_deg ? 1 : 0);
  points.list[at(from)].measurements += count;
  points.list[at(to)].measurements += count;
}

}  // namespace

int Points::index_of(std::string_view name) const {
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

Points points_of(const DriveSpec& spec) {
  Points points;
  for (std::size_t i = 0; i < spec.pulleys.size(); ++i) {
    const PulleySpec& pulley = spec.pulleys[i];
    const bool slides =
        pulley.tensioner && !std::holds_alternative<SwingSpec>(pulley.tensioner->path);
    if (slides) continue;
    MeasuredPoint point;
    point.name = pulley.name;
    point.listed = static_cast<int>(i);
    point.pivot = pulley.tensioner.has_value();
    std::optional<Vec2> given = place_of(pulley);
    if (!given && pulley.role == Role::crankshaft) given = Vec2::Zero();
    points.list.push_back(point);
    points.given.push_back(given);
    points.near.push_back(pulley.near_mm);
  }
  return points;
}

Rows rows_of(const DriveSpec& spec, Points& points) {
  Rows rows;
  for (std::size_t i = 0; i < points.list.size(); ++i) {
    if (points.given[i]) add_place(spec, points, static_cast<int>(i), rows);
  }
  for (std::size_t i = 0; i < spec.measured.size(); ++i) {
    if (!spec.measured[i].belt_teeth) add_measured(spec, points, i, rows);
  }
  return rows;
}

Ends ends_of(const Seen& seen) {
  if (const auto* distance = std::get_if<DistanceSeen>(&seen))
    return {distance->from, distance->to};
  if (const auto* bearing = std::get_if<BearingSeen>(&seen)) return {bearing->from, bearing->to};
  const auto* place = std::get_if<PlaceSeen>(&seen);
  const int point = place != nullptr ? place->point : 0;
  return {point, point};
}

}  // namespace twoturn::placing
