// Which order of the pulleys is the belt's, and what parts beside it have no say in that.
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/route.hpp"

using namespace twoturn;

namespace {

// Two toothed pulleys upright, two rollers on the back pressing the runs in. Worked by hand: the
// runs of the bare belt stand at 24 x 8 / 2 pi = 30.56 mm beside the line of centres, its back 1.93
// mm further out.
DriveSpec pressed_in(double roller_x_mm) {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.section = "H8M";
  PulleySpec crank = drives::toothed("crank", 24, 0, 0);
  crank.role = Role::crankshaft;
  PulleySpec cam = drives::toothed("cam", 24, 0, 120);
  spec.pulleys = {crank, drives::back_roller("left", 60, -roller_x_mm, 60), cam,
                  drives::back_roller("right", 60, roller_x_mm, 60)};
  return spec;
}

}  // namespace

TEST_CASE("Rollers that press the runs in make one belt, not two") {
  for (const Turn turn : {Turn::clockwise, Turn::anticlockwise}) {
    DriveSpec spec = pressed_in(60.0);
    spec.crank_turns = turn;
    const RouteAnswer route = route_of(drives::fitted(spec));
    INFO((route.refused.empty() ? "" : route.refused.front().text));
    CHECK(route.is_belt);
  }
}

TEST_CASE("Rollers that the runs do not reach are missed by the belt") {
  // At 65 mm a roller of 60 begins 35 mm out; the belt's back stands at 32.49.
  const RouteAnswer route = route_of(drives::fitted(pressed_in(65.0)));
  CHECK_FALSE(route.is_belt);
}

TEST_CASE("A cover in the belt's way does not turn the order of the pulleys round") {
  DriveSpec spec = drives::worked_example();
  const Order order = drives::built(spec).order;
  CoverSpec cover;
  cover.name = "cover";
  cover.points_mm = {Vec2(-80, 250), Vec2(80, 250)};
  spec.covers = {cover};
  const Fitted fitted = drives::fitted(spec);
  CHECK(fitted.drive().order == order);
  const RouteAnswer route = route_of(fitted);
  CHECK_FALSE(route.is_belt);
  CHECK_THAT(route.refused.front().text, ContainsSubstring("cover"));
}

TEST_CASE("A cover given in cm lies inside a pulley and is refused by both names") {
  DriveSpec spec = drives::worked_example();
  CoverSpec cover;
  cover.name = "lower cover";
  cover.points_mm = {Vec2(-6, -6), Vec2(6, -6)};  // meant: 60 mm
  spec.covers = {cover};
  const RouteAnswer route = route_of(drives::fitted(spec));
  CHECK_FALSE(route.is_belt);
  CHECK_THAT(route.refused.front().about, ContainsSubstring("crank"));
  CHECK_THAT(route.refused.front().about, ContainsSubstring("lower cover"));
}
