// Rooms of valves at places that a coarse look would miss.
#include "twoturn/engine/valve_room.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>
#include <vector>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"

using namespace twoturn;

namespace {

Lobe lobe(Law law, double height, double lash, double centre, double opening, double closing) {
  return {LiftCurve::of_law({law, height, opening * kRadPerDeg, closing * kRadPerDeg}),
          Angle::degrees(centre), lash};
}

// Open for 120 deg about bottom dead centre: shut at both top dead centres.
Lobe shut_at_top() { return lobe(Law::cycloidal, 8.0, 0.0, 180.0, 60.0, 60.0); }

}  // namespace

TEST_CASE("A sharp step of a lift table does not hide the least room at its end") {
  // Two rows 2 deg apart lift by 2.4 mm, their neighbours hardly. Where the step ends, the room is
  // least: the lift there by hand, the piston by the oracle. The tables turn the step about, so
  // that it begins before, at and after top dead centre.
  const SliderCrank crank = *SliderCrank::of_throw(43.0, 143.0);
  const oracle::Piston piston{43.0L, 143.0L, 0.0L};
  for (const double starts : {4.0, 7.5, 11.0, 16.0}) {
    const std::vector<LiftPoint> rows{
        {starts - 30.0, 0},   {starts - 10.0, 0.5}, {starts, 0.8},     {starts + 2.0, 3.2},
        {starts + 4.0, 3.25}, {starts + 60.0, 4.5}, {starts + 90.0, 0}};
    const ValveOverPiston valve{{*LiftCurve::of_table(rows), Angle(), 0.0}, 1.0, 5.0};
    // Every 0.001 deg of the step and of what comes after it.
    double least = 5.0;
    for (int k = 0; k <= 4000; ++k) {
      const double deg = starts + 0.001 * k;
      const double down = static_cast<double>(piston.depth(oracle::real(deg)));
      least = std::min(least, 5.0 + down - valve.lobe.lift_mm(Angle::degrees(deg)));
    }
    CAPTURE(starts);
    const double at_end = 5.0 + static_cast<double>(piston.depth(oracle::real(starts + 2.0))) - 3.2;
    CHECK(least <= at_end);
    CHECK(least >= at_end - 0.1);
    CHECK_THAT(examine_room(crank, valve, Angle()).least.room_mm, WithinAbs(least, 1e-5));
    CHECK_THAT(LeastRoom(crank, valve).at(Angle()).least.room_mm, WithinAbs(least, 1e-5));
  }
}

TEST_CASE("With a cam any way out the least room is that of an independent dense search") {
  std::mt19937 random(20260601);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  const auto from = [&](double low, double high) { return low + (high - low) * share(random); };
  for (int k = 0; k < 40; ++k) {
    const double a = from(30.0, 55.0), l = from(2.9, 4.0) * a, e = from(-8.0, 8.0);
    const double height = from(6.0, 12.0), lash = from(0.0, 0.5), centre = from(-120.0, 120.0);
    const double opening = from(60.0, 150.0), closing = from(60.0, 150.0);
    const double drop = from(0.9, 1.2), room = from(0.5, 8.0), early = from(-360.0, 360.0);
    const SliderCrank crank = *SliderCrank::of_throw(a, l, e);
    const ValveOverPiston valve{lobe(Law::cycloidal, height, lash, centre, opening, closing), drop,
                                room};
    using oracle::real;
    const oracle::Least expected =
        oracle::least_room({real(a), real(l), real(e)},
                           {oracle::cycloidal, real(height), real(lash), real(centre),
                            real(opening), real(closing), real(drop), real(room)},
                           real(early));
    const double least = static_cast<double>(expected.room);
    CAPTURE(k, e, centre, early);
    CHECK_THAT(examine_room(crank, valve, Angle::degrees(early)).least.room_mm,
               WithinAbs(least, 1e-6));
    CHECK_THAT(LeastRoom(crank, valve).at(Angle::degrees(early)).least.room_mm,
               WithinAbs(least, 1e-6));
  }
}

TEST_CASE("A room of just nothing does not touch, one a hair below does at both dead centres") {
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  ValveOverPiston valve{shut_at_top(), 1.0, 0.0};
  const RoomFound none = examine_room(crank, valve, Angle());
  CHECK(none.least.room_mm == 0.0);
  CHECK(none.touches.empty());
  // Both are as near: the first of the two turns is told.
  CHECK_THAT(none.least.at.degrees(), WithinAbs(-360.0, 1e-9));
  valve.room_tdc_mm = -1e-6;
  CHECK(examine_room(crank, valve, Angle()).touches.size() == 2);
  CHECK(LeastRoom(crank, valve).at(Angle()).touches.size() == 2);
}

TEST_CASE("Where there is room only about bottom dead centre, pin offset or not, it is found") {
  // The valve is shut there after overlap; before it, open. Ends: where the piston is so deep.
  for (const double offset : {0.0, 14.0, -14.0}) {
    const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0, offset);
    const double need = 86.0 - 0.01;
    const ValveOverPiston valve{lobe(Law::cycloidal, 8.0, 0.0, -180.0, 60.0, 60.0), 1.0, -need};
    const RoomFound found = examine_room(crank, valve, Angle());
    CAPTURE(offset);
    REQUIRE(found.touches.size() == 1);
    CHECK_THAT(found.touches[0].from.degrees(), WithinAbs(crank.coming_up(need).degrees(), 1e-6));
    CHECK_THAT(found.touches[0].to.degrees(),
               WithinAbs(crank.going_down(need).degrees() + 720.0, 1e-6));
  }
}

TEST_CASE("Without any room at top dead centre both ways of looking still tell the same touches") {
  std::mt19937 random(20260602);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  const auto from = [&](double low, double high) { return low + (high - low) * share(random); };
  for (int k = 0; k < 100; ++k) {
    const double stroke = from(60.0, 110.0);
    const SliderCrank crank = *SliderCrank::of_stroke(stroke, 1.7 * stroke, from(-6.0, 6.0));
    const ValveOverPiston valve{lobe(Law::polynomial_345, from(5.0, 12.0), 0.1, from(-300.0, 300.0),
                                     from(40.0, 90.0), from(40.0, 90.0)),
                                1.0, -from(0.6, 1.0) * stroke};
    const RoomFound all = examine_room(crank, valve, Angle());
    const LeastFound least = LeastRoom(crank, valve).at(Angle());
    // Independent: how often the room comes up through nothing, every tenth of a degree.
    std::vector<double> rooms(7200);
    sample_room(crank, valve, Angle(), rooms);
    int leaves = 0;
    for (std::size_t step = 0; step < rooms.size(); ++step) {
      leaves += rooms[step] < 0.0 && rooms[(step + 1) % rooms.size()] >= 0.0 ? 1 : 0;
    }
    CAPTURE(k);
    CHECK(static_cast<int>(all.touches.size()) == std::max(leaves, 1));
    REQUIRE(least.touches.size() == all.touches.size());
    for (std::size_t t = 0; t < all.touches.size(); ++t) {
      CHECK_THAT(least.touches[t].from.degrees(), WithinAbs(all.touches[t].from.degrees(), 1e-6));
      CHECK_THAT(least.touches[t].to.degrees(), WithinAbs(all.touches[t].to.degrees(), 1e-6));
    }
  }
}

TEST_CASE("Whatever the cam does the room is that of the valve fully open") {
  // By hand: 90 deg after top dead centre a piston of throw 3 on a rod of 5 is down by 4; the valve
  // opens by 2 - 0.5, and 1.1 of that comes down the bore.
  const SliderCrank crank = *SliderCrank::of_throw(3.0, 5.0);
  const ValveOverPiston valve{lobe(Law::harmonic, 2.0, 0.5, 100.0, 120.0, 120.0), 1.1, 0.75};
  CHECK_THAT(room_any_cam_mm(crank, valve, Angle::degrees(90.0)),
             WithinAbs(0.75 + 4.0 - 1.65, 1e-12));
  CHECK_THAT(room_any_cam_mm(crank, valve, Angle()), WithinAbs(0.75 - 1.65, 1e-12));
}

TEST_CASE("Clay is least where the room with no room is least") {
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const ValveOverPiston valve{lobe(Law::cycloidal, 9.2, 0.0, 108.0, 130.0, 135.0), 1.05, 6.0};
  const RoomAt clay = room_tdc_of_least(crank, valve, 1.7);
  CHECK_THAT(clay.at.degrees(),
             WithinAbs(examine_room(crank, valve, Angle()).least.at.degrees(), 1e-6));
}
