#include "twoturn/engine/park.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"
#include "twoturn/engine/cylinders.hpp"

using namespace twoturn;

namespace {

SliderCrank crank(double offset_mm = 0.0) {
  return *SliderCrank::of_stroke(86.0, 143.0, offset_mm);
}

std::vector<ParkPiston> pistons(int cylinders, double need_mm) {
  CylinderLayout layout;
  layout.cylinders = cylinders;
  std::vector<ParkPiston> all;
  for (const double top : phases_of(layout).top_deg) all.push_back({top, need_mm});
  return all;
}

double half_gap(const CylinderLayout& layout) {
  return park_from_tops(phases_of(layout).top_deg).from_top_deg;
}

double half_gap(int cylinders, CrankLayout layout = CrankLayout::in_line, double bank = 0.0) {
  return half_gap(usual_layout(cylinders, layout, bank));
}

}  // namespace

TEST_CASE("Half the gap between dead centres is the trade's park angle") {
  // Common practice: four 90, three and six 60, V8 45, five 36.
  CHECK_THAT(half_gap(4), WithinAbs(90.0, 1e-9));
  CHECK_THAT(half_gap(3), WithinAbs(60.0, 1e-9));
  CHECK_THAT(half_gap(6), WithinAbs(60.0, 1e-9));
  CHECK_THAT(half_gap(8), WithinAbs(45.0, 1e-9));
  CHECK_THAT(half_gap(8, CrankLayout::vee, 90.0), WithinAbs(45.0, 1e-9));
  CHECK_THAT(half_gap(5), WithinAbs(36.0, 1e-9));
  CHECK_THAT(half_gap(4, CrankLayout::flat), WithinAbs(90.0, 1e-9));
  CHECK_THAT(half_gap(6, CrankLayout::flat), WithinAbs(60.0, 1e-9));
}

TEST_CASE("A V6 at 90 deg on three shared pins has uneven gaps, and the wider one counts") {
  // Exact: dead centres at 0, 120, 240 and 90, 210, 330.
  CHECK_THAT(half_gap(6, CrankLayout::vee, 90.0), WithinAbs(45.0, 1e-9));
  const CountedPark park =
      park_from_tops(phases_of(usual_layout(6, CrankLayout::vee, 90.0)).top_deg);
  REQUIRE(park.best_deg.size() == 3);
  CHECK_THAT(park.best_deg[0], WithinAbs(45.0, 1e-9));
}

TEST_CASE("A four in line has its pistons up in pairs, and its firing order tells them apart") {
  CylinderLayout layout;
  layout.cylinders = 4;
  layout.pins_deg = {0, 180, 180, 0};
  layout.firing_order = {1, 3, 4, 2};
  const CylinderPhases phases = phases_of(layout);
  CHECK(phases.top_deg == std::vector<double>{0, 180, 180, 0});
  CHECK(phases.firing_deg == std::vector<double>{0, 540, 180, 360});
  layout.firing_order = {1, 2, 4, 3};
  CHECK(phases_of(layout).firing_deg == std::vector<double>{0, 180, 540, 360});
}

TEST_CASE("A six-throw V6 at 60 deg fires every 120 deg") {
  // Exact: each pin in line with its bore when it fires.
  CylinderLayout layout;
  layout.cylinders = 6;
  layout.pins_deg = {0, 120, 240, 300, 60, 180};
  layout.bores_deg = {0, 0, 0, 60, 60, 60};
  layout.firing_order = {1, 4, 2, 5, 3, 6};
  CHECK(phases_of(layout).firing_deg == std::vector<double>{0, 240, 480, 120, 360, 600});
}

TEST_CASE("A flat four with opposed pins has all its pistons up or down together") {
  CylinderLayout layout;
  layout.cylinders = 4;
  layout.pins_deg = {0, 180, 180, 0};
  layout.bores_deg = {0, 180, 0, 180};
  layout.firing_order = {1, 3, 2, 4};
  const CylinderPhases phases = phases_of(layout);
  CHECK(phases.top_deg == std::vector<double>{0, 0, 180, 180});
  CHECK(phases.firing_deg == std::vector<double>{0, 360, 180, 540});
}

TEST_CASE("A firing order that the pins cannot have is a fault, with no order made up") {
  CylinderLayout layout;
  layout.cylinders = 4;
  layout.pins_deg = {0, 180, 180, 0};
  layout.firing_order = {1, 4, 2, 3};
  const CylinderPhases phases = phases_of(layout);
  CHECK_FALSE(phases.fault.empty());
  CHECK(phases.firing_deg.empty());
}

TEST_CASE("Without pins the firing is even") {
  CylinderLayout layout;
  layout.cylinders = 5;
  layout.firing_order = {1, 2, 4, 5, 3};
  const CylinderPhases phases = phases_of(layout);
  CHECK(phases.even);
  CHECK(phases.firing_deg == std::vector<double>{0, 144, 576, 288, 432});
}

TEST_CASE("A four is best parked half way between its dead centres, where all pistons are level") {
  // Exact: without offset the depth is symmetrical about its dead centre.
  const ParkFound found = find_park(crank(), pistons(4, 9.0));
  CHECK_THAT(found.best_deg, WithinAbs(90.0, 1e-5));
  CHECK_THAT(found.best_spare_mm, WithinAbs(crank().depth_mm(Angle::degrees(90.0)) - 9.0, 1e-6));
  REQUIRE(found.clear.size() == 2);
}

TEST_CASE("The ends of a clear interval are where the piston is just down far enough") {
  for (const double offset : {0.0, 3.0, -3.0}) {
    const SliderCrank piston = crank(offset);
    const ParkFound found = find_park(piston, pistons(4, 9.0));
    REQUIRE(found.clear.size() == 2);
    const ParkInterval first = found.clear[0];
    CHECK_THAT(piston.depth_mm(Angle::degrees(first.from_deg)), WithinAbs(9.0, 1e-9));
    CHECK_THAT(piston.depth_mm(Angle::degrees(first.to_deg - 180.0)), WithinAbs(9.0, 1e-9));
  }
}

TEST_CASE("With a pin offset the best place is not half way, and is better than half way") {
  const SliderCrank offset = crank(6.0);
  const ParkFound found = find_park(offset, pistons(4, 9.0));
  CHECK(std::abs(found.best_deg - 90.0) > 0.5);
  // Independent: least of the two pistons, over a dense grid, in long double.
  const oracle::Piston piston{oracle::real(offset.throw_mm()), 143.0L, 6.0L};
  oracle::Real best = 0;
  for (int k = 0; k < 360000; ++k) {
    const oracle::Real at = k * oracle::Real(0.001);
    best = std::max(best, std::min(piston.depth(at), piston.depth(at - 180)));
  }
  CHECK_THAT(found.best_spare_mm, WithinAbs(static_cast<double>(best) - 9.0, 1e-3));
  CHECK(found.best_spare_mm >= static_cast<double>(best) - 9.0 - 1e-9);
}

TEST_CASE("Every place in a clear interval is clear and every place outside is not") {
  for (const int cylinders : {3, 4, 5, 6, 7, 8}) {
    for (const double need : {2.0, 7.0, 11.0, 17.0}) {
      const SliderCrank piston = crank(1.5);
      const std::vector<ParkPiston> all = pistons(cylinders, need);
      const ParkFound found = find_park(piston, all);
      for (int k = 0; k < 720; ++k) {
        const double at = 0.5 * k + 0.2;
        bool clear = true;
        for (const ParkPiston& one : all) {
          const double down = piston.depth_mm(Angle::degrees(at - one.top_deg + 720.0));
          clear = clear && down > need;
        }
        bool inside = false;
        for (const ParkInterval& interval : found.clear) {
          const bool here = at > interval.from_deg && at < interval.to_deg;
          inside =
              inside || here || (at + 360.0 > interval.from_deg && at + 360.0 < interval.to_deg);
        }
        CAPTURE(cylinders, need, at);
        CHECK(clear == inside);
      }
    }
  }
}

TEST_CASE("Five cylinders have no place where four have one") {
  // Common practice, and exact here: 36 deg from its dead centre a piston of stroke 86 on a rod of
  // 143 is down 10.4 mm, less than the 11 it needs.
  CHECK(find_park(crank(), pistons(5, 11.0)).clear.empty());
  CHECK(find_park(crank(), pistons(5, 11.0)).best_spare_mm < 0.0);
  CHECK(find_park(crank(), pistons(4, 11.0)).clear.size() == 2);
  CHECK(find_park(crank(), pistons(5, 10.0)).clear.size() == 5);
}

TEST_CASE("A need below nothing is met everywhere, one beyond the stroke nowhere") {
  const ParkFound free = find_park(crank(), pistons(4, -0.5));
  REQUIRE(free.clear.size() == 1);
  CHECK(free.clear[0].to_deg - free.clear[0].from_deg == 360.0);
  CHECK(find_park(crank(), pistons(4, 90.0)).clear.empty());
}

TEST_CASE("A way over a dead centre meets the piston there, the other way round does not") {
  // Pistons 1 and 4 up at 0; a valve of cylinder 1 stands 3 mm below the deck, shut ones 5 above.
  std::vector<ParkPiston> all = pistons(4, -5.0);
  all[0].need_mm = 3.0;
  const CrankWay over = crank_way(crank(), all, 300.0, 60.0, TurnWay::forwards);
  CHECK_THAT(over.turn_deg, WithinAbs(120.0, 1e-12));
  CHECK_THAT(over.least_mm, WithinAbs(-3.0, 1e-12));
  CHECK(over.piston == 0);
  CHECK_THAT(over.at_deg, WithinAbs(0.0, 1e-12));
  CHECK_FALSE(over.clear());
  const CrankWay round = crank_way(crank(), all, 300.0, 60.0, TurnWay::backwards);
  CHECK_THAT(round.turn_deg, WithinAbs(240.0, 1e-12));
  CHECK(round.clear());
  CHECK_THAT(round.least_mm, WithinAbs(5.0, 1e-12));  // the others, at their dead centres
}
