// The centres as a whole: what turns together, and which of them is placed first.
#include <cmath>

#include "drive/triangle.hpp"
#include "twoturn/drive/validate.hpp"

using namespace twoturn;
using namespace triangle_of_three;

TEST_CASE("the whole turns about the crank, wherever that stands") {
  const Vec2 away(500, -80);
  DriveSpec spec = triangle();
  spec.pulleys[0].at_mm = away;
  *spec.pulleys[2].near_mm += away;
  REQUIRE(validate(spec).empty());
  const MeasuredPlaces there = places_of(spec);
  const MeasuredPlaces here = places_of(triangle());
  REQUIRE(there.placed());
  check_at(there, "pump", 800, -80);
  CHECK_THAT((there.turned_about_mm - away).norm(), WithinAbs(0.0, 1e-12));
  CHECK_THAT(there.turn_deg, WithinAbs(3.0, 1e-9));
  CHECK((there.found.covariance - here.found.covariance).norm() < 1e-6);
}

TEST_CASE("a centre that leaves no choice is placed first, though less is known of it") {
  // The idler is 200 from the line on which the crank, a shaft and the cam stand, to the left or to
  // the right of it: three distances do not tell, and the pump does once it stands.
  DriveSpec spec = triangle();
  spec.pulleys.push_back(pulley("idler", Role::idler));
  spec.pulleys.push_back(pulley("shaft", Role::auxiliary_shaft));
  spec.pulleys.back().at_mm = Vec2(0, 200);
  spec.pulleys[1].at_mm = Vec2(0, 400);
  spec.measured = {distance("crank", "pump", 300), distance("pump", "cam", 500)};
  for (const auto& [name, up] :
       {std::pair("crank", 0), std::pair("shaft", 200), std::pair("cam", 400)}) {
    spec.measured.push_back(distance(name, "idler", std::hypot(200, 150 - up)));
  }
  spec.measured.push_back(distance("pump", "idler", std::hypot(500, 150)));
  REQUIRE(validate(spec).empty());
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.placed());
  check_at(places, "pump", 300, 0);
  check_at(places, "idler", -200, 150);
}
