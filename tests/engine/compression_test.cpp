#include "twoturn/engine/compression.hpp"

#include "support/catch.hpp"

using namespace twoturn;

TEST_CASE("A square cylinder of 100 mm sweeps its cylinder's volume") {
  // Exact: pi/4 x 100^3 mm3.
  CHECK_THAT(swept_cc(100.0, 100.0), WithinAbs(785.39816339744831, 1e-10));
}

TEST_CASE("The ratio and the room left say the same") {
  const double left = left_cc_of_ratio(500.0, 11.0);
  CHECK_THAT(left, WithinAbs(50.0, 1e-12));  // exact: (500 + 50)/50
  CHECK_THAT((CylinderVolumes{500.0, left}.ratio()), WithinAbs(11.0, 1e-12));
}

TEST_CASE("A tenth of the stroke's height taken off takes a tenth of the sweep from what is left") {
  // Exact: sweep 10 mm high a tenth; left 0.2 of the sweep, then 0.1: ratio 6 to 11.
  const double swept = swept_cc(80.0, 10.0);
  const auto after = brought_nearer({swept, 0.2 * swept}, 80.0, 1.0);
  REQUIRE(after);
  CHECK_THAT(after->ratio(), WithinAbs(11.0, 1e-9));
  const auto thicker = brought_nearer({swept, 0.2 * swept}, 80.0, -2.0);
  CHECK_THAT(thicker->ratio(), WithinAbs(3.5, 1e-9));
}

TEST_CASE("With all of the room taken off there is no ratio") {
  CHECK_FALSE(brought_nearer({500.0, 50.0}, 100.0, 20.0));
}

TEST_CASE(
    "With just all of the room taken off there is no ratio either, with a hair less there is") {
  const double left = swept_cc(80.0, 1.0);  // a disc of 1 mm
  CHECK_FALSE(brought_nearer({500.0, left}, 80.0, 1.0));
  CHECK(brought_nearer({500.0, left}, 80.0, 0.999));
}

TEST_CASE("Air asks for torque on the whole way up and nowhere else, pin offset or not") {
  for (const double offset : {0.0, 9.0, -9.0}) {
    const SliderCrank crank = *SliderCrank::of_stroke(85.0, 141.0, offset);
    const AirSqueezed air{crank, 83.0, 50.0};
    const double bottom = crank.bottom().degrees() - 360.0;
    CAPTURE(offset, bottom);
    for (const double deg : {bottom - 90.0, bottom - 0.1, 0.1, 90.0, 300.0}) {
      CHECK(air.torque_nmm(Angle::degrees(deg)) == 0.0);
    }
    for (const double deg : {bottom + 0.1, -90.0, -0.1}) {
      CHECK(air.torque_nmm(Angle::degrees(deg)) > 0.0);
    }
  }
}
