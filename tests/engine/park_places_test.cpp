// Park and ways of the crank for engines of no symmetry, held against support/oracle_engine.hpp.
#include "twoturn/engine/park.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"

using namespace twoturn;

namespace {

constexpr double kThrow = 43.0, kRod = 143.0;
constexpr double kSpareMm = 1e-9;  // what the header promises

SliderCrank crank(double offset_mm = 0.0) {
  return *SliderCrank::of_throw(kThrow, kRod, offset_mm);
}

// The same engine by the oracle: what the piston with least to spare has, and the best place.
struct Engine {
  oracle::Piston piston;
  std::vector<ParkPiston> pistons;

  double spare(std::size_t k, double deg) const {
    const oracle::Real down = piston.depth(oracle::real(deg) - oracle::real(pistons[k].top_deg));
    return static_cast<double>(down) - pistons[k].need_mm;
  }
  double least(double deg) const {
    double found = spare(0, deg);
    for (std::size_t k = 1; k < pistons.size(); ++k) found = std::min(found, spare(k, deg));
    return found;
  }
  // A grid, and finer ones round its best place.
  double most() const {
    double best = least(0.0), at = 0.0;
    const auto look = [&](double from, double step, int count) {
      for (int k = 0; k <= count; ++k) {
        const double here = from + step * k;
        if (const double spare = least(here); spare > best) {
          best = spare;
          at = here;
        }
      }
    };
    look(0.0, 0.5, 720);
    for (const double step : {1e-2, 2e-4, 4e-6, 8e-8}) look(at - 60.0 * step, step, 120);
    return best;
  }
};

Engine engine_of(double offset_mm, std::vector<ParkPiston> pistons) {
  return {{oracle::real(kThrow), oracle::real(kRod), oracle::real(offset_mm)}, std::move(pistons)};
}

double turn_apart(double a, double b) { return std::abs(std::remainder(a - b, 360.0)); }

}  // namespace

TEST_CASE("The best place of any engine is that of an independent search, and is there") {
  std::mt19937 random(20260411);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int k = 0; k < 80; ++k) {
    const double offset = 16.0 * (share(random) - 0.5);
    std::vector<ParkPiston> pistons;
    for (int n = 0; n <= k % 6; ++n) {
      pistons.push_back({720.0 * (share(random) - 0.5), 40.0 * share(random) - 10.0});
    }
    const Engine same = engine_of(offset, pistons);
    const ParkFound found = find_park(crank(offset), pistons);
    CAPTURE(k, offset, found.best_deg);
    CHECK_THAT(found.best_spare_mm, WithinAbs(same.most(), 1e-6));  // as fine as the search's grid
    CHECK_THAT(same.least(found.best_deg), WithinAbs(found.best_spare_mm, kSpareMm));
    const auto tightest = static_cast<std::size_t>(found.best_piston);
    CHECK_THAT(same.spare(tightest, found.best_deg), WithinAbs(found.best_spare_mm, 1e-5));
    CHECK(found.best_deg >= 0.0);
    CHECK(found.best_deg < 360.0);
  }
}

TEST_CASE("The best place goes round with the engine, past 0 as well") {
  // Exact: dead centres turned by so much turn it by so much. A third piston keeps one place best.
  const std::vector<ParkPiston> plain{{0.0, 5.0}, {180.0, 5.0}, {265.0, 15.0}};
  const ParkFound first = find_park(crank(), plain);
  std::vector<double> turns;
  for (double turned = 0.0; turned < 360.0; turned += 1.25) turns.push_back(turned);
  // To within a step of the search from 0.
  for (double past = -0.6; past < 0.65; past += 0.1) turns.push_back(past - first.best_deg);
  for (const double turned : turns) {
    std::vector<ParkPiston> pistons = plain;
    for (ParkPiston& piston : pistons) piston.top_deg += turned;
    const ParkFound found = find_park(crank(), pistons);
    CAPTURE(turned);
    CHECK(turn_apart(found.best_deg, first.best_deg + turned) < 1e-6);
    CHECK_THAT(found.best_spare_mm, WithinAbs(first.best_spare_mm, kSpareMm));
  }
}

TEST_CASE("A ship's engine is parked as one of a tenth of its size is") {
  // Exact: every length ten times as long.
  std::mt19937 random(20260413);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int k = 0; k < 60; ++k) {
    const double offset = 16.0 * (share(random) - 0.5);
    const SliderCrank ship = *SliderCrank::of_throw(10.0 * kThrow, 10.0 * kRod, 10.0 * offset);
    std::vector<ParkPiston> small, big;
    for (int n = 0; n < 3 + k % 4; ++n) {
      small.push_back({360.0 * share(random), 20.0 * share(random)});
      big.push_back({small.back().top_deg, 10.0 * small.back().need_mm});
    }
    const ParkFound one = find_park(crank(offset), small), other = find_park(ship, big);
    CAPTURE(k);
    CHECK_THAT(other.best_spare_mm, WithinAbs(10.0 * one.best_spare_mm, 1e-8));
    CHECK(turn_apart(other.best_deg, one.best_deg) < 1e-6);
  }
}

TEST_CASE("One piston is best parked at its bottom dead centre, wherever that is") {
  for (const double offset : {0.0, 12.0, -12.0}) {
    const double bottom = crank(offset).bottom().degrees();
    // On a step of the search, just before and after 0, and at 0.
    for (const double best : {0.0, 0.25, 0.5, 359.5, 359.75, 352.0, 8.0, 123.4}) {
      const ParkFound found = find_park(crank(offset), {{best - bottom, 4.0}});
      CAPTURE(offset, best);
      CHECK(turn_apart(found.best_deg, best) < 1e-4);  // flat there: sqrt of what a double tells
      CHECK_THAT(found.best_spare_mm, WithinAbs(crank(offset).stroke_mm() - 4.0, kSpareMm));
    }
  }
}

TEST_CASE("Of two places equally good the first is named") {
  // Exact: pistons at 40 and 220 are level at 130 and at 310.
  CHECK_THAT(find_park(crank(), {{40.0, 5.0}, {220.0, 5.0}}).best_deg, WithinAbs(130.0, 1e-6));
  CHECK_THAT(find_park(crank(), {{220.0, 5.0}, {40.0, 5.0}}).best_deg, WithinAbs(130.0, 1e-6));
}

TEST_CASE("Of pistons on one dead centre the one that needs most counts") {
  for (const double there : {0.0, 360.0, -360.0}) {
    for (const bool later : {false, true}) {
      std::vector<ParkPiston> pistons{{0.0, 2.0}, {there, 9.0}};
      if (later) std::swap(pistons[0], pistons[1]);
      const ParkFound found = find_park(crank(), pistons);
      CHECK_THAT(found.best_spare_mm, WithinAbs(2.0 * kThrow - 9.0, kSpareMm));
      CHECK(found.best_piston == (later ? 0 : 1));
      REQUIRE(found.clear.size() == 1);
      CHECK_THAT(crank().depth_mm(Angle::degrees(found.clear[0].from_deg)), WithinAbs(9.0, 1e-9));
    }
  }
}

TEST_CASE("Of pistons that have equally little to spare the first is named") {
  CHECK(find_park(crank(), {{0.0, 5.0}, {0.0, 5.0}}).best_piston == 0);
}

TEST_CASE("A need of just nothing forbids the dead centre alone, one of all the stroke all") {
  const ParkFound open = find_park(crank(), {{30.0, 0.0}});
  REQUIRE(open.clear.size() == 1);
  CHECK_THAT(open.clear[0].from_deg, WithinAbs(30.0, 1e-12));
  CHECK_THAT(open.clear[0].to_deg, WithinAbs(390.0, 1e-12));
  for (const double offset : {0.0, 1.0, -2.0, 3.0, -5.0, 8.0}) {
    for (double top = 0.0; top < 360.0; top += 17.3) {
      CHECK(find_park(crank(offset), {{top, crank(offset).stroke_mm()}}).clear.empty());
    }
  }
}

TEST_CASE("Two forbidden spans that meet leave nothing between, a hair less leaves a hair") {
  // Without offset a piston 60 deg from its dead centre is as deep on either side.
  const double need = crank().depth_mm(Angle::degrees(60.0));
  const ParkFound apart = find_park(crank(), {{0.0, need - 1e-6}, {120.0, need - 1e-6}});
  REQUIRE(apart.clear.size() == 2);
  CHECK_THAT(0.5 * (apart.clear[0].from_deg + apart.clear[0].to_deg), WithinAbs(60.0, 1e-9));
  CHECK_THAT(apart.clear[1].from_deg, WithinAbs(180.0, 1e-4));
  CHECK_THAT(apart.clear[1].to_deg, WithinAbs(300.0, 1e-4));
  const ParkFound met = find_park(crank(), {{0.0, need + 1e-6}, {120.0, need + 1e-6}});
  CHECK(met.clear.size() == 1);
}

TEST_CASE("Any way's least room is that of an independent search along it") {
  std::mt19937 random(20260412);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int k = 0; k < 120; ++k) {
    const double offset = 16.0 * (share(random) - 0.5);
    std::vector<ParkPiston> pistons;
    for (int n = 0; n <= k % 4; ++n) {
      pistons.push_back({720.0 * (share(random) - 0.5), 20.0 * share(random)});
    }
    const double from = 360.0 * share(random), to = 360.0 * share(random);
    const bool forwards = k % 2 == 0;
    const CrankWay way = crank_way(crank(offset), pistons, from, to,
                                   forwards ? TurnWay::forwards : TurnWay::backwards);
    const double ahead = forwards ? to - from : from - to;
    const double turn = ahead < 0.0 ? ahead + 360.0 : ahead;
    const Engine same = engine_of(offset, pistons);
    double least = same.least(to);
    constexpr int kLooks = 2000;
    for (int look = 0; look <= kLooks; ++look) {
      const double gone = turn * look / kLooks;
      least = std::min(least, same.least(forwards ? from + gone : from - gone));
    }
    CAPTURE(k, from, to, forwards);
    CHECK_THAT(way.turn_deg, WithinAbs(turn, 1e-10));
    CHECK(way.least_mm <= least + kSpareMm);
    CHECK(way.least_mm >= least - 1e-3);  // a look every 0.18 deg, flat at a dead centre
    const auto piston = static_cast<std::size_t>(way.piston);
    CHECK_THAT(same.spare(piston, way.at_deg), WithinAbs(way.least_mm, kSpareMm));
    const double reached = forwards ? way.at_deg - from : from - way.at_deg;
    CHECK(std::remainder(reached - 0.5 * turn, 360.0) <= 0.5 * turn + 1e-9);
    CHECK(std::remainder(reached - 0.5 * turn, 360.0) >= -0.5 * turn - 1e-9);
  }
}

TEST_CASE(
    "A way that ends at a dead centre meets the piston there, one that ends before does not") {
  const std::vector<ParkPiston> one{{200.0, 3.0}};
  for (const TurnWay way : {TurnWay::forwards, TurnWay::backwards}) {
    const double side = way == TurnWay::forwards ? 1.0 : -1.0;
    const CrankWay met = crank_way(crank(), one, 200.0 - side * 100.0, 200.0, way);
    CHECK_THAT(met.least_mm, WithinAbs(-3.0, 1e-12));
    CHECK_THAT(met.at_deg, WithinAbs(200.0, 1e-9));
    const double end = 200.0 - side * 40.0;
    const CrankWay free = crank_way(crank(), one, 200.0 - side * 100.0, end, way);
    CHECK_THAT(free.least_mm, WithinAbs(crank().depth_mm(Angle::degrees(40.0)) - 3.0, 1e-9));
    CHECK_THAT(free.at_deg, WithinAbs(end, 1e-9));
    CHECK(free.clear());
  }
}

TEST_CASE("Of pistons equally near on a way the first is named") {
  const CrankWay way = crank_way(crank(), {{0.0, 3.0}, {0.0, 3.0}}, 300.0, 60.0, TurnWay::forwards);
  CHECK(way.piston == 0);
  // And a way that just touches is not clear.
  CHECK_FALSE(crank_way(crank(), {{0.0, 0.0}}, 300.0, 60.0, TurnWay::forwards).clear());
}

TEST_CASE("From dead centres alone: every widest gap's middle, and how far down that is") {
  // By hand; endless rod: (1 - cos)/2 of 90, 60, 45 and 180 deg.
  const CountedPark four = park_from_tops({0.0, 180.0, 180.0, 0.0});
  CHECK(four.best_deg == std::vector<double>{90.0, 270.0});
  CHECK_THAT(four.stroke_share, WithinAbs(0.5, 1e-15));
  const CountedPark three = park_from_tops({0.0, 240.0, 120.0});
  CHECK(three.best_deg == std::vector<double>{60.0, 180.0, 300.0});
  CHECK_THAT(three.stroke_share, WithinAbs(0.25, 1e-15));
  const CountedPark eight = park_from_tops({0.0, 90.0, 180.0, 270.0});
  CHECK_THAT(eight.stroke_share, WithinAbs(0.14644660940672624, 1e-15));
  const CountedPark one = park_from_tops({30.0});
  CHECK(one.best_deg == std::vector<double>{210.0});
  CHECK_THAT(one.stroke_share, WithinAbs(1.0, 1e-15));
  // The widest gap lies over 0: from 300 to 70.
  const CountedPark over = park_from_tops({70.0, 150.0, 220.0, 300.0});
  CHECK(over.best_deg == std::vector<double>{5.0});
  CHECK(over.from_top_deg == 65.0);
  // Gaps that differ by rounding are alike, by a thousandth of a degree are not.
  CHECK(park_from_tops({0.0, 180.0 + 1e-9}).best_deg.size() == 2);
  CHECK(park_from_tops({0.0, 180.001}).best_deg.size() == 1);
}
