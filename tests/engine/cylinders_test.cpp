// Which cylinder is up and which one fires, at bounds that drawings come near. Whole engines: see
// park_test.cpp.
#include "twoturn/engine/cylinders.hpp"

#include <utility>
#include <vector>

#include "support/catch.hpp"

using namespace twoturn;

namespace {

CylinderPhases of_pins(std::vector<double> pins_deg, std::vector<int> firing_order = {}) {
  CylinderLayout layout;
  layout.cylinders = static_cast<int>(pins_deg.size());
  layout.pins_deg = std::move(pins_deg);
  layout.firing_order = std::move(firing_order);
  return phases_of(layout);
}

}  // namespace

TEST_CASE("A dead centre a hair before a whole turn is at 0, a thousandth of a degree is told") {
  // By hand: a pin so much ahead comes to its bore so much sooner.
  CHECK(of_pins({0.0, 1e-10}).top_deg == std::vector<double>{0.0, 0.0});
  CHECK(of_pins({0.0, 0.9e-6}).top_deg == std::vector<double>{0.0, 0.0});
  CHECK_THAT(of_pins({0.0, 1.1e-6}).top_deg.at(1), WithinAbs(360.0 - 1.1e-6, 1e-9));
  CHECK_THAT(of_pins({0.0, 1e-3}).top_deg.at(1), WithinAbs(359.999, 1e-9));
  CHECK_THAT(of_pins({0.0, -1e-3}).top_deg.at(1), WithinAbs(0.001, 1e-9));
}

TEST_CASE("A cylinder is up when its pin has come to its bore") {
  // By hand: pin 2 is 90 deg ahead of pin 1 and bore 2 60 deg on from bore 1, so it is up 30 deg
  // sooner; pin 3 150 deg behind, bore 3 60 deg back: up 90 deg later. Only what lies between
  // counts.
  for (const double all : {0.0, 25.0}) {
    CylinderLayout layout;
    layout.cylinders = 3;
    layout.pins_deg = {all, all + 90.0, all - 150.0};
    layout.bores_deg = {2.0 * all, 2.0 * all + 60.0, 2.0 * all - 60.0};
    const std::vector<double> tops = phases_of(layout).top_deg;
    REQUIRE(tops.size() == 3);
    CHECK(tops[0] == 0.0);
    CHECK_THAT(tops[1], WithinAbs(330.0, 1e-9));
    CHECK_THAT(tops[2], WithinAbs(90.0, 1e-9));
  }
}

TEST_CASE("Of pistons up together only two can have a turn of their own") {
  // Exact: two turns hold two of their dead centres.
  CHECK(of_pins({0.0, 0.0}, {1, 2}).firing_deg == std::vector<double>{0.0, 360.0});
  const CylinderPhases three = of_pins({0.0, 0.0, 0.0}, {1, 2, 3});
  CHECK_FALSE(three.fault.empty());
  CHECK(three.firing_deg.empty());
  // Uneven, and just within two turns: 1 at 0, 2 at 190, 3 at 359.9, 4 at 719.8.
  const CylinderPhases late = of_pins({0.0, -190.0, 0.1, 0.2}, {1, 2, 3, 4});
  CHECK(late.fault.empty());
  REQUIRE(late.firing_deg.size() == 4);
  CHECK_THAT(late.firing_deg[2], WithinAbs(359.9, 1e-9));
  CHECK_THAT(late.firing_deg[3], WithinAbs(719.8, 1e-9));
  CHECK_FALSE(late.even);
}

TEST_CASE("Even firing without an order names dead centres and no cylinder") {
  CylinderLayout layout;
  layout.cylinders = 3;
  const CylinderPhases phases = phases_of(layout);
  CHECK(phases.top_deg == std::vector<double>{0.0, 240.0, 120.0});  // by hand: 720/3 apart
  CHECK(phases.firing_deg.empty());
  CHECK(phases.even);
}

TEST_CASE("A usual V has each pin twice, once for either bank") {
  // Common practice: V8 of 90 deg, pins a quarter of a turn apart.
  const CylinderLayout vee = usual_layout(8, CrankLayout::vee, 90.0);
  CHECK(vee.pins_deg == std::vector<double>{0, 90, 180, 270, 0, 90, 180, 270});
  CHECK(vee.bores_deg == std::vector<double>{0, 0, 0, 0, 90, 90, 90, 90});
  CHECK(vee.cylinders == 8);
  for (const CrankLayout plain : {CrankLayout::in_line, CrankLayout::flat}) {
    CHECK(usual_layout(6, plain, 60.0).pins_deg.empty());
    CHECK(usual_layout(6, plain, 60.0).bores_deg.empty());
  }
}
