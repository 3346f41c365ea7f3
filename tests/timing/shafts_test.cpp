// Shafts and their pins. Evidence: chords by hand, the bar's own equation and its derivatives, gear
// trains by hand.
#include "twoturn/timing/shafts.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"

using namespace twoturn;
using turned_over::geared;

namespace {

constexpr double kSigmas = 1.959963984540054;  // 95 in 100 of a normal law, any table
constexpr double kStepShare = 1e-5;            // a difference for a slope, far below a sigma's bend

std::vector<Shaft> shafts_of(const DriveSpec& spec) {
  return list_shafts(spec, drives::built(spec));
}

std::optional<Pin> pin_of_cam(const PinSpec& pin, const std::vector<GivenValue>& given = {}) {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").pin = pin;
  spec.given = given;
  return shafts_of(spec).at(1).pin;
}

GivenValue cam_pin(const std::string& field, double give) {
  return drives::measured("pulley.cam.pin." + field, give);
}

// How far a bar in a slot lets its shaft turn: length sin t + bar cos t = slot, by bisection.
double bar_turns_rad(double bar, double slot, double length) {
  double low = 0.0;
  double high = 0.5;
  for (int k = 0; k < 80; ++k) {
    const double t = (low + high) / 2.0;
    (length * std::sin(t) + bar * std::cos(t) < slot ? low : high) = t;
  }
  return low;
}

}  // namespace

TEST_CASE("A round pin's play is a chord: its radius lets the shaft turn 60 degrees each side") {
  // Exact: the side of a hexagon is its radius; a diameter is half a turn, and no chord is longer.
  const auto play_deg = [](double radius, double play) {
    return pin_of_cam(PinSpec{radius, play, {}, {}, {}}).value().play_deg;
  };
  CHECK_THAT(play_deg(35.0, 35.0), WithinAbs(60.0, 1e-12));
  CHECK_THAT(play_deg(20.0, 20.0), WithinAbs(60.0, 1e-12));
  CHECK_THAT(play_deg(35.0, 35.0 * std::sqrt(2.0)), WithinAbs(90.0, 1e-12));
  CHECK_THAT(play_deg(35.0, 70.0), WithinAbs(180.0, 1e-5));
  CHECK_THAT(play_deg(35.0, 75.0), WithinAbs(180.0, 1e-12));
}

TEST_CASE("What the holes are apart is the chord of the angle that a shaft is out") {
  Pin pin;
  pin.radius_mm = 35.0;
  CHECK_THAT(pin.between_holes_mm(Angle::degrees(60.0)), WithinAbs(35.0, 1e-12));
  CHECK_THAT(pin.between_holes_mm(Angle::degrees(-60.0)), WithinAbs(35.0, 1e-12));
  CHECK_THAT(pin.between_holes_mm(Angle::degrees(180.0)), WithinAbs(70.0, 1e-12));
}

TEST_CASE("A pin needs its radius and its play, a bar all three of its numbers") {
  CHECK_FALSE(pin_of_cam(PinSpec{35.0, {}, {}, {}, {}}).has_value());
  CHECK_FALSE(pin_of_cam(PinSpec{{}, 0.15, {}, {}, {}}).has_value());
  CHECK_FALSE(pin_of_cam(PinSpec{{}, {}, 4.9, 5.0, {}}).has_value());
  const std::optional<double> none;
  // One or two numbers of a bar make none: the round pin beside them stays.
  for (const PinSpec& some :
       {PinSpec{35.0, 0.15, 4.9, none, none}, PinSpec{35.0, 0.15, none, 5.0, none},
        PinSpec{35.0, 0.15, none, none, 60.0}, PinSpec{35.0, 0.15, 4.9, 5.0, none},
        PinSpec{35.0, 0.15, 4.9, none, 60.0}, PinSpec{35.0, 0.15, none, 5.0, 60.0}}) {
    const std::optional<Pin> pin = pin_of_cam(some);
    REQUIRE(pin.has_value());
    CHECK_FALSE(pin->bar);
    CHECK(pin->radius_mm == 35.0);
    CHECK(pin->play_mm == 0.15);
  }
  CHECK(pin_of_cam(PinSpec{35.0, 0.15, 4.9, 5.0, 60.0}).value().bar);
  DriveSpec without = drives::worked_example();
  drives::named(without, "cam").pin.reset();
  CHECK_FALSE(shafts_of(without).at(1).pin.has_value());
}

TEST_CASE("A bar is read at half its length and turns until its corners touch") {
  const Pin pin = pin_of_bar(4.9, 5.0, 60.0);
  CHECK(pin.radius_mm == 30.0);
  const double t = bar_turns_rad(4.9, 5.0, 60.0);
  CHECK_THAT(Angle::degrees(pin.play_deg).radians(), WithinAbs(t, 1e-12));
  CHECK_THAT(pin.play_mm, WithinAbs(60.0 * std::sin(t / 2.0), 1e-11));
}

TEST_CASE("A measured radius moves a pin's radius, a measured play its play, each by its sigma") {
  const Pin pin = pin_of_cam(PinSpec{35.0, 0.15, {}, {}, {}},
                             {cam_pin("radius_mm", 0.5), cam_pin("play_mm", 0.04)})
                      .value();
  REQUIRE(pin.gives.size() == 2);
  CHECK(pin.gives[0].key == "pulley.cam.pin.radius_mm");
  CHECK_THAT(pin.gives[0].radius_mm, WithinRel(0.5 / kSigmas, 1e-9));
  CHECK(pin.gives[0].play_mm == 0.0);
  CHECK(pin.gives[1].key == "pulley.cam.pin.play_mm");
  CHECK(pin.gives[1].radius_mm == 0.0);
  CHECK_THAT(pin.gives[1].play_mm, WithinRel(0.04 / kSigmas, 1e-9));
}

TEST_CASE("Each number of a bar gives as the bar's equation has it") {
  const double bar = 4.9;
  const double slot = 5.2;
  const double length = 40.0;
  const Pin pin =
      pin_of_cam(PinSpec{{}, {}, bar, slot, length},
                 {cam_pin("bar_mm", 0.02), cam_pin("slot_mm", 0.03), cam_pin("length_mm", 2.0)})
          .value();
  // By differences of the equation itself, solved by bisection: the play is length sin(t / 2).
  const auto play = [](double b, double s, double l) {
    return l * std::sin(bar_turns_rad(b, s, l) / 2.0);
  };
  const double h = kStepShare;
  const double by_bar = (play(bar + h, slot, length) - play(bar - h, slot, length)) / (2.0 * h);
  const double by_slot = (play(bar, slot + h, length) - play(bar, slot - h, length)) / (2.0 * h);
  const double by_length = (play(bar, slot, length + h) - play(bar, slot, length - h)) / (2.0 * h);
  REQUIRE(pin.gives.size() == 3);
  CHECK_THAT(pin.gives[0].play_mm, WithinRel(by_bar * 0.02 / kSigmas, 1e-5));
  CHECK(pin.gives[0].radius_mm == 0.0);
  CHECK_THAT(pin.gives[1].play_mm, WithinRel(by_slot * 0.03 / kSigmas, 1e-5));
  CHECK_THAT(pin.gives[2].play_mm, WithinRel(by_length * 2.0 / kSigmas, 1e-3));
  CHECK_THAT(pin.gives[2].radius_mm, WithinRel(1.0 / kSigmas, 1e-9));
}

TEST_CASE("A number of a pin that is exact, or that the pin does not go by, gives nothing") {
  const PinSpec round{35.0, 0.15, {}, {}, {}};
  CHECK(pin_of_cam(round).value().gives.empty());
  GivenValue manual = cam_pin("play_mm", 0.0);
  manual.origin = Origin::manual;
  manual.give_or_take.reset();
  CHECK(pin_of_cam(round, {manual}).value().gives.empty());
  const PinSpec bar{35.0, 0.15, 4.9, 5.0, 60.0};
  CHECK(pin_of_cam(bar, {cam_pin("radius_mm", 0.5)}).value().gives.empty());
}

TEST_CASE("A geared shaft's pin gives under its own key") {
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("distributor", "cam", 1.0, Role::auxiliary_shaft)};
  spec.geared[0].turns_per_crank = 0.5;
  spec.geared[0].pin = PinSpec{10.0, 0.1, {}, {}, {}};
  spec.given = {drives::measured("geared.distributor.pin.play_mm", 0.05)};
  const Shaft shaft = shafts_of(spec).back();
  REQUIRE(shaft.pin.has_value());
  REQUIRE(shaft.pin->gives.size() == 1);
  CHECK(shaft.pin->gives[0].key == "geared.distributor.pin.play_mm");
}

TEST_CASE("A train of gears turns as its ratios say, each mesh the other way round") {
  // By hand: cam half a turn; balance shaft at -4 of it; a shaft off that at -1/4.
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft),
                 geared("off that", "balance shaft", -0.25, Role::auxiliary_shaft),
                 geared("beside", "cam", 2.0, Role::auxiliary_shaft),
                 geared("off the crank", "crank", -1.0, Role::auxiliary_shaft),
                 geared("off nothing", "no such shaft", 1.0, Role::auxiliary_shaft)};
  spec.geared[1].turns_per_crank = 0.5;
  const std::vector<Shaft> shafts = shafts_of(spec);
  REQUIRE(shafts.size() == 7);  // crank, cam, water pump, and four that hang on them
  const int crank = shafts[0].sense;
  CHECK(crank == -1);  // clockwise
  CHECK(shafts[1].sense == crank);
  CHECK(shafts[3].name == "balance shaft");
  CHECK(shafts[3].turns_made == 2.0);
  CHECK(shafts[3].sense == -crank);
  CHECK(shafts[4].turns_made == 0.5);
  CHECK(shafts[4].sense == crank);
  CHECK_FALSE(shafts[4].wrong_ratio());
  CHECK(shafts[5].turns_made == 1.0);
  CHECK(shafts[5].sense == crank);
  CHECK_FALSE(shafts[5].wrong_ratio());  // untimed: nothing is wrong
  CHECK(shafts[6].name == "off the crank");
  CHECK(shafts[6].from == 0);
  CHECK(shafts[6].turns_made == 1.0);
  CHECK(shafts[6].sense == -crank);
  CHECK(belt_shaft_of(shafts, 0) == 0);
  CHECK(belt_shaft_of(shafts, 1) == 1);
  CHECK(belt_shaft_of(shafts, 4) == 1);
  CHECK(belt_shaft_of(shafts, 6) == 0);
  CHECK(tooth_own_deg(shafts, 0) == 18.0);
  CHECK(tooth_own_deg(shafts, 1) == 9.0);
  CHECK(tooth_own_deg(shafts, 3) == 36.0);
  CHECK(tooth_own_deg(shafts, 4) == 9.0);
}

TEST_CASE("A gear that makes its shaft turn at another rate than it must is a wrong ratio") {
  DriveSpec spec = drives::worked_example();
  spec.geared = {geared("balance shaft", "cam", -3.0, Role::balance_shaft)};
  CHECK(shafts_of(spec).back().wrong_ratio());
  spec.geared[0].ratio = -4.0;
  CHECK_FALSE(shafts_of(spec).back().wrong_ratio());
}
