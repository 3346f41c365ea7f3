// A belt that is known to fit measures all centres at once: its way round them is its own length.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "base/at.hpp"
#include "place_rows.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/sections.hpp"

namespace twoturn::placing {
namespace {

// The way round at given centres, with the tensioner standing where it stood.
class BeltWay {
 public:
  BeltWay(Drive drive, const Points& points, double q) : drive_(std::move(drive)), q_(q) {
    for (const Pulley& pulley : drive_.pulleys) {
      const auto found =
          std::find_if(points.list.begin(), points.list.end(),
                       [&](const MeasuredPoint& point) { return point.listed == pulley.listed; });
      const bool measured = found != points.list.end();
      point_of_.push_back(measured ? static_cast<int>(found - points.list.begin()) : -1);
    }
    const TensionerPath& way = drive_.tensioner->path;
    if (const Swing* swing = way.swing()) arm_mm_ = way.centre_mm(q) - swing->pivot_mm;
  }

  double length(std::span<const Vec2> at_mm, std::span<Vec2> rates) const {
    TangentPath path;
    if (!solved(at_mm, path)) return std::numeric_limits<double>::quiet_NaN();
    for (std::size_t k = 0; k < point_of_.size(); ++k) {
      if (point_of_[k] < 0) continue;
      rates[at(point_of_[k])] += centre_gradient(path, static_cast<int>(k));
    }
    return path.length_mm;
  }

  // How much belt a unit of the tensioner's reading takes up; nothing where there is no way round.
  std::optional<double> rate_per_reading(std::span<const Vec2> at_mm) const {
    TangentPath path;
    if (!solved(at_mm, path)) return std::nullopt;
    const TensionerPath& way = drive_.tensioner->path;
    const Vec2 roller = centre_gradient(path, drive_.tensioner->pulley);
    return way.rate_per_reading(roller.dot(way.centre_rate(q_)));
  }

 private:
  bool solved(std::span<const Vec2> at_mm, TangentPath& path) const {
    std::vector<Wheel> wheels = placed_wheels(drive_, q_);
    for (std::size_t k = 0; k < wheels.size(); ++k) {
      if (point_of_[k] < 0) continue;
      const bool moves = static_cast<int>(k) == drive_.tensioner->pulley;
      wheels[k].centre_mm = at_mm[at(point_of_[k])] + (moves ? arm_mm_ : Vec2(Vec2::Zero()));
    }
    return solve_path(wheels, path).solved();
  }

  Drive drive_;
  double q_;
  std::vector<int> point_of_;  // of each pulley in order of travel
  Vec2 arm_mm_ = Vec2::Zero();
};

// Where the tensioner stood, as its own reading.
std::optional<double> reading_of(const MeasuredSpec& measured, const TensionerSpec& tensioner) {
  if (measured.roller_deg) return measured.roller_deg;
  if (measured.roller_mm) return measured.roller_mm;
  if (!measured.pointer_deg || !tensioner.pointer_deg || !tensioner.set_deg) return std::nullopt;
  return *tensioner.set_deg + *measured.pointer_deg - *tensioner.pointer_deg;
}

GiveOrTake reading_give(const MeasuredSpec& measured) {
  const std::optional<double>& stated =
      measured.roller_mm ? measured.give_or_take_mm : measured.give_or_take_deg;
  if (stated) return {*stated, TakenWith::eye, true};
  return usual_give_or_take(measured.roller_mm ? "measured.roller_mm" : "measured.roller_deg");
}

const TensionerSpec& tensioner_of(const DriveSpec& spec) {
  const auto found =
      std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                   [](const PulleySpec& pulley) { return pulley.tensioner.has_value(); });
  return *found->tensioner;
}

}  // namespace

void add_belts(const DriveSpec& placed, const Points& points, Rows& rows,
               std::vector<PlaceFault>& faults) {
  const std::optional<Drive> drive = build_drive(spec_for(placed, Fit::by_the_book)).drive;
  std::vector<Vec2> at_mm;
  for (const MeasuredPoint& point : points.list) {
    const PulleySpec& pulley = placed.pulleys[at(point.listed)];
    const auto place =
        point.pivot ? std::get<SwingSpec>(pulley.tensioner->path).pivot_mm : pulley.at_mm;
    at_mm.push_back(place.value_or(Vec2::Zero()));
  }
  for (std::size_t i = 0; i < placed.measured.size(); ++i) {
    const MeasuredSpec& measured = placed.measured[i];
    if (!measured.belt_teeth) continue;
    MeasuredRow row;
    row.number = static_cast<int>(i) + 1;
    row.kind = MeasuredKind::belt;
    row.from = fmt::format("belt of {} teeth", *measured.belt_teeth);
    const std::optional<double> reading =
        drive && drive->tensioner ? reading_of(measured, tensioner_of(placed)) : std::nullopt;
    if (!reading) {
      faults.push_back({PlaceTrouble::belt_sizes, row.from});
      continue;
    }
    row.to = drive->pulleys[at(drive->tensioner->pulley)].name;
    row.measured = drive->belt.length_mm(*measured.belt_teeth);
    const auto way = std::make_shared<const BeltWay>(*drive, points,
                                                     drive->tensioner->path.from_reading(*reading));
    const std::optional<double> rate = way->rate_per_reading(at_mm);
    if (!rate) {
      faults.push_back({PlaceTrouble::no_belt, row.from});
      continue;
    }
    // Belts of one count differ by their tolerance: this one is as long as any.
    row.give_or_take = reading_give(measured);
    const double tolerance = placed.belt.length_tolerance_mm.value_or(
        usual_length_tolerance_mm(row.measured).value_or(0.0));
    constexpr double kLeastMm = 1e-3;
    row.give_or_take.value =
        std::max(kLeastMm, std::hypot(*rate * row.give_or_take.value, tolerance));
    rows.rows.push_back(row);
    rows.seen.emplace_back(LengthSeen{[way](std::span<const Vec2> places, std::span<Vec2> moves) {
                                        return way->length(places, moves);
                                      },
                                      row.measured, sigma_of(row.give_or_take.value)});
  }
}

}  // namespace twoturn::placing
