// Three centres at the corners of a right triangle with sides 3, 4 and 5 (Euclid, Elements I 47),
// and what measures them.
#pragma once

#include <string>

#include "support/catch.hpp"
#include "twoturn/drive/place.hpp"

namespace triangle_of_three {

using namespace twoturn;

inline PulleySpec pulley(std::string name, Role role) {
  PulleySpec pulley;
  pulley.name = std::move(name);
  pulley.role = role;
  pulley.teeth = 20;
  return pulley;
}

inline MeasuredSpec distance(std::string from, std::string to, double mm) {
  MeasuredSpec measured;
  measured.from = std::move(from);
  measured.to = std::move(to);
  measured.distance_mm = mm;
  return measured;
}

inline MeasuredSpec bearing(std::string from, std::string to, double clock_deg) {
  MeasuredSpec measured;
  measured.from = std::move(from);
  measured.to = std::move(to);
  measured.bearing_deg = clock_deg;
  return measured;
}

// Crank, cam 400 mm straight above it, pump 300 from the crank and 500 from the cam: to the right
// or to the left of the crank.
inline DriveSpec triangle() {
  DriveSpec spec;
  spec.belt.section = "ZA";
  spec.pulleys = {pulley("crank", Role::crankshaft), pulley("cam", Role::camshaft),
                  pulley("pump", Role::water_pump)};
  spec.measured = {distance("crank", "cam", 400), bearing("crank", "cam", 0),
                   distance("crank", "pump", 300), distance("pump", "cam", 500)};
  spec.pulleys[2].near_mm = Vec2(250, 30);
  return spec;
}

inline const MeasuredPoint& point(const MeasuredPlaces& places, std::string_view name) {
  for (const MeasuredPoint& point : places.points) {
    if (point.name == name) return point;
  }
  FAIL("no centre " << name);
  throw 0;
}

inline void check_at(const MeasuredPlaces& places, std::string_view name, double right, double up) {
  INFO(name);
  REQUIRE(point(places, name).at_mm.has_value());
  CHECK_THAT(point(places, name).at_mm->x(), WithinAbs(right, 1e-6));
  CHECK_THAT(point(places, name).at_mm->y(), WithinAbs(up, 1e-6));
}

}  // namespace triangle_of_three
