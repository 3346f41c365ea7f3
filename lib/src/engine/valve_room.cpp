#include "twoturn/engine/valve_room.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace twoturn {
namespace {

constexpr double kMissableMm = 1e-8;  // a wiggle of the room that no cell need show
constexpr double kSameRad = 1e-12;
constexpr int kHalvings = 60;

// Looks for the places where a slope is zero, given a bound of the second derivative.
template <class Slope>
class Stationary {
 public:
  Stationary(const Slope& slope, double bound, std::vector<double>& found)
      : slope_(slope), bound_(bound), found_(found) {}

  void search(double from, double to) const {
    if (!(to > from)) return;
    constexpr double kCellRad = 8.0 * kRadPerDeg;
    const int cells = static_cast<int>(std::ceil((to - from) / kCellRad));
    double low = from;
    double at_low = slope_(low);
    for (int k = 1; k <= cells; ++k) {
      const double high = k == cells ? to : from + (to - from) * k / cells;
      const double at_high = slope_(high);
      cell(low, high, at_low, at_high);
      low = high;
      at_low = at_high;
    }
  }

 private:
  void cell(double low, double high, double at_low, double at_high) const {
    const double width = high - low;
    const bool crosses = (at_low < 0.0) != (at_high < 0.0);
    if (!crosses && std::abs(at_low) + std::abs(at_high) > bound_ * width) return;
    if (bound_ * width * width / 8.0 < kMissableMm) {
      found_.push_back(crosses ? halved(low, high, at_low) : 0.5 * (low + high));
      return;
    }
    const double middle = 0.5 * (low + high);
    const double at_middle = slope_(middle);
    cell(low, middle, at_low, at_middle);
    cell(middle, high, at_middle, at_high);
  }

  double halved(double low, double high, double at_low) const {
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = 0.5 * (low + high);
      ((slope_(middle) < 0.0) == (at_low < 0.0) ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }

  const Slope& slope_;
  double bound_;
  std::vector<double>& found_;
};

// Two turns from the valve's shutting to its next: angles after overlap where the room may turn,
// sorted; between neighbours it only rises or only falls.
std::vector<double> turning_places(const SliderCrank& piston, const ValveOverPiston& valve,
                                   Angle advance) {
  const Lobe& lobe = valve.lobe;
  const double shift = (lobe.placed - advance).radians();  // of the curve's zero
  const double opens = lobe.curve.rises_through(lobe.lash_mm).radians() + shift;
  const double fully = lobe.curve.greatest_at().radians() + shift;
  const double shuts = lobe.curve.falls_through(lobe.lash_mm).radians() + shift;
  std::vector<double> places{shuts - kCycleRad, opens, fully, shuts};
  // Shut, only the piston moves.
  const double bottom = piston.bottom().radians();
  const double first = std::floor((shuts - kCycleRad) / kFullTurn) * kFullTurn;
  for (int k = 0; k < 4; ++k) {
    for (const double place : {first + k * kFullTurn, first + k * kFullTurn + bottom}) {
      if (place > shuts - kCycleRad && place < opens) places.push_back(place);
    }
  }
  const auto slope = [&](double at) {
    return piston.slope_mm(Angle::radians(at)) -
           valve.drop_a_lift * lobe.curve.at(at - shift).slope_mm;
  };
  const double bound =
      piston.curvature_bound_mm() + valve.drop_a_lift * lobe.curve.curvature_bound_mm();
  const Stationary search(slope, bound, places);
  search.search(opens, fully);
  search.search(fully, shuts);
  std::sort(places.begin(), places.end());
  const auto same = [](double a, double b) { return b - a < kSameRad; };
  places.erase(std::unique(places.begin(), places.end(), same), places.end());
  return places;
}

// Where the room goes below 0 and comes back: at most once each between two turning places.
template <class Room>
std::vector<TouchSpan> touch_spans(const Room& room, const std::vector<double>& places,
                                   const std::vector<double>& rooms) {
  std::vector<double> enters;
  std::vector<double> leaves;
  for (std::size_t k = 0; k + 1 < places.size(); ++k) {
    const bool clear = rooms[k] >= 0.0;
    if (clear == (rooms[k + 1] >= 0.0)) continue;
    double low = places[k];
    double high = places[k + 1];
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = 0.5 * (low + high);
      ((room(middle) >= 0.0) == clear ? low : high) = middle;
    }
    (clear ? enters : leaves).push_back(0.5 * (low + high));
  }
  std::vector<TouchSpan> spans;
  for (const double enter : enters) {
    const auto leave = std::upper_bound(leaves.begin(), leaves.end(), enter);
    const double to = leave != leaves.end() ? *leave : leaves.front() + kCycleRad;
    const double from = wrapped_cycle(enter);
    spans.push_back({Angle::radians(from), Angle::radians(from + to - enter)});
  }
  std::sort(spans.begin(), spans.end(),
            [](const TouchSpan& a, const TouchSpan& b) { return a.from < b.from; });
  return spans;
}

}  // namespace

double drop_a_lift(Crown crown, double valve_deg) {
  const double cosine = std::cos(valve_deg * kRadPerDeg);
  return crown == Crown::flat ? cosine : 1.0 / cosine;
}

double room_mm(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
               Angle after_overlap) {
  return valve.room_tdc_mm + piston.depth_mm(after_overlap) -
         valve.drop_a_lift * valve.lobe.lift_mm(after_overlap + advance);
}

RoomFound examine_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance) {
  const std::vector<double> places = turning_places(piston, valve, advance);
  const auto room = [&](double at) { return room_mm(piston, valve, advance, Angle::radians(at)); };
  std::vector<double> rooms;
  for (const double place : places) rooms.push_back(room(place));
  // The last place is the first one two turns on.
  const std::size_t count = places.size() - 1;
  RoomFound found;
  for (std::size_t k = 0; k < count; ++k) {
    const double before = rooms[k == 0 ? count - 1 : k - 1];
    if (rooms[k] > before || rooms[k] >= rooms[k + 1]) continue;
    found.minima.push_back({rooms[k], Angle::radians(wrapped_cycle(places[k]))});
  }
  const auto earlier = [](const RoomAt& a, const RoomAt& b) { return a.at < b.at; };
  std::sort(found.minima.begin(), found.minima.end(), earlier);
  const auto less = [](const RoomAt& a, const RoomAt& b) { return a.room_mm < b.room_mm; };
  found.least = *std::min_element(found.minima.begin(), found.minima.end(), less);
  found.touches = touch_spans(room, places, rooms);
  if (found.touches.empty() && found.least.room_mm < 0.0) {
    found.touches.push_back({Angle::radians(-kFullTurn), Angle::radians(kFullTurn)});
  }
  return found;
}

void sample_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
                 std::span<double> rooms_mm) {
  const double step = kCycleRad / static_cast<double>(rooms_mm.size());
  for (std::size_t k = 0; k < rooms_mm.size(); ++k) {
    rooms_mm[k] = room_mm(piston, valve, advance, Angle::radians(static_cast<double>(k) * step));
  }
}

double room_tdc_of_least(const SliderCrank& piston, const ValveOverPiston& valve, double least_mm) {
  ValveOverPiston with_none = valve;
  with_none.room_tdc_mm = 0.0;
  return least_mm - examine_room(piston, with_none, Angle()).least.room_mm;
}

double room_any_cam_mm(const SliderCrank& piston, const ValveOverPiston& valve, Angle after_tdc) {
  return valve.room_tdc_mm + piston.depth_mm(after_tdc) - valve.greatest_drop_mm();
}

}  // namespace twoturn
