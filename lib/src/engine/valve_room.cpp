#include "twoturn/engine/valve_room.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "closing_in.hpp"

namespace twoturn {
namespace {

constexpr double kMissableMm = 1e-8;  // a wiggle of the room that no cell need show
constexpr double kSameRad = 1e-12;

// Looks for the places where a slope is zero, given a bound of the second derivative.
template <class Slope>
class Stationary {
 public:
  Stationary(const Slope& slope, std::vector<double>& found) : slope_(slope), found_(found) {}

  // Stretches in order; one that begins where the last ended is not looked at there again.
  void search(double from, double to, double bound) {
    if (!(to > from)) return;
    constexpr double kCellRad = 16.0 * kRadPerDeg;
    const int cells = static_cast<int>(std::ceil((to - from) / kCellRad));
    Seen low = from == last_.place ? last_ : see(from);
    for (int k = 1; k <= cells; ++k) {
      const Seen high = see(k == cells ? to : from + (to - from) * k / cells);
      cell(low, high, bound);
      low = high;
    }
    last_ = low;
  }

 private:
  struct Seen {
    double place;
    double slope;
  };

  Seen see(double place) const { return {place, slope_(place)}; }

  void cell(const Seen& low, const Seen& high, double bound) const {
    const double width = high.place - low.place;
    const bool crosses = (low.slope < 0.0) != (high.slope < 0.0);
    if (!crosses && std::abs(low.slope) + std::abs(high.slope) > bound * width) return;
    const double middle = 0.5 * (low.place + high.place);
    if (bound * width * width / 8.0 < kMissableMm) {
      found_.push_back(crosses ? place_of_zero(slope_, low.place, high.place, low.slope, high.slope)
                               : middle);
      return;
    }
    const Seen between = see(middle);
    cell(low, between, bound);
    cell(between, high, bound);
  }

  const Slope& slope_;
  std::vector<double>& found_;
  Seen last_{std::numeric_limits<double>::infinity(), 0.0};
};

// What is looked at round each top dead centre.
struct Near {
  double from;
  double to;
};

constexpr Near kWholeTurn{-kFullTurn / 2.0, kFullTurn / 2.0};

// Two turns from the valve's shutting to its next: angles after overlap where the room may turn,
// sorted; between neighbours it only rises or only falls, within what is looked at.
std::vector<double> turning_places(const SliderCrank& piston, const ValveOverPiston& valve,
                                   Angle advance, Near near) {
  const Lobe& lobe = valve.lobe;
  const double shift = (lobe.placed - advance).radians();  // of the curve's zero
  const double opens = lobe.curve.rises_through(lobe.lash_mm).radians() + shift;
  const double fully = lobe.curve.greatest_at().radians() + shift;
  const double shuts = lobe.curve.falls_through(lobe.lash_mm).radians() + shift;
  std::vector<double> places;
  constexpr std::size_t kUsual = 32;
  places.reserve(kUsual);
  places = {shuts - kCycleRad, opens, fully, shuts};
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
  Stationary search(slope, places);
  for (const LiftPiece& piece : lobe.curve.pieces()) {
    const double from = std::max(piece.from_rad + shift, opens);
    const double to = std::min(piece.to_rad + shift, shuts);
    const double bound = piston.curvature_bound_mm() + valve.drop_a_lift * piece.curvature_mm;
    const double last = std::ceil(to / kFullTurn) * kFullTurn;
    for (double top = std::floor(from / kFullTurn) * kFullTurn; top <= last; top += kFullTurn) {
      search.search(std::max(from, top + near.from), std::min(to, top + near.to), bound);
    }
  }
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
    (clear ? enters : leaves)
        .push_back(place_of_zero(room, places[k], places[k + 1], rooms[k], rooms[k + 1]));
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

namespace {

RoomFound found_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
                     Near near) {
  const std::vector<double> places = turning_places(piston, valve, advance, near);
  const auto room = [&](double at) { return room_mm(piston, valve, advance, Angle::radians(at)); };
  std::vector<double> rooms;
  rooms.reserve(places.size());
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

}  // namespace

RoomFound examine_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance) {
  return found_room(piston, valve, advance, kWholeTurn);
}

LeastRoom::LeastRoom(const SliderCrank& piston, ValveOverPiston valve)
    : piston_(piston),
      valve_(std::move(valve)),
      near_from_(Angle::radians(kWholeTurn.from)),
      near_to_(Angle::radians(kWholeTurn.to)) {
  if (!(valve_.room_tdc_mm > 0.0) || valve_.greatest_drop_mm() >= piston_.stroke_mm()) return;
  near_from_ = piston_.coming_up(valve_.greatest_drop_mm()) - Angle::radians(kFullTurn);
  near_to_ = piston_.going_down(valve_.greatest_drop_mm());
}

LeastFound LeastRoom::at(Angle advance) const {
  return found_room(piston_, valve_, advance, {near_from_.radians(), near_to_.radians()});
}

void sample_room(const SliderCrank& piston, const ValveOverPiston& valve, Angle advance,
                 std::span<double> rooms_mm) {
  const double step = kCycleRad / static_cast<double>(rooms_mm.size());
  for (std::size_t k = 0; k < rooms_mm.size(); ++k) {
    rooms_mm[k] = room_mm(piston, valve, advance, Angle::radians(static_cast<double>(k) * step));
  }
}

RoomAt room_tdc_of_least(const SliderCrank& piston, const ValveOverPiston& valve, double least_mm) {
  ValveOverPiston with_none = valve;
  with_none.room_tdc_mm = 0.0;
  const RoomAt least = examine_room(piston, with_none, Angle()).least;
  return {least_mm - least.room_mm, least.at};
}

double room_any_cam_mm(const SliderCrank& piston, const ValveOverPiston& valve, Angle after_tdc) {
  return valve.room_tdc_mm + piston.depth_mm(after_tdc) - valve.greatest_drop_mm();
}

}  // namespace twoturn
