// Small drives built in code, for tests that want one number to move.
#pragma once

#include <stdexcept>
#include <string>

#include "twoturn/drive/build_drive.hpp"

namespace drives {

using namespace twoturn;

inline PulleySpec toothed(std::string name, int teeth, double x, double y) {
  PulleySpec pulley;
  pulley.name = std::move(name);
  pulley.teeth = teeth;
  pulley.at_mm = Vec2(x, y);
  return pulley;
}

inline PulleySpec back_roller(std::string name, double diameter_mm, double x, double y) {
  PulleySpec pulley;
  pulley.name = std::move(name);
  pulley.diameter_mm = diameter_mm;
  pulley.face = Face::back;
  pulley.at_mm = Vec2(x, y);
  return pulley;
}

inline TensionerSpec swing(const Vec2& pivot_mm, double arm_mm, double slack_deg, double tight_deg,
                           Turn tightens) {
  SwingSpec path;
  path.pivot_mm = pivot_mm;
  path.arm_mm = arm_mm;
  path.slack_deg = slack_deg;
  path.tight_deg = tight_deg;
  path.tightens = tightens;
  TensionerSpec tensioner;
  tensioner.path = path;
  return tensioner;
}

/// A number that was measured, and how far off it may be.
inline GivenValue measured(std::string key, double give_or_take) {
  GivenValue value;
  value.key = std::move(key);
  value.origin = Origin::measured;
  value.give_or_take = give_or_take;
  return value;
}

inline HeadSpec head(std::string name, double deck_deg) {
  HeadSpec head;
  head.name = std::move(name);
  head.deck_deg = deck_deg;
  return head;
}

/// A drive worked out by hand (support/worked_values.hpp): crank 20, tensioner on the back, cam 40,
/// water pump 19, a ZA belt of 111 teeth; clockwise, the right-hand run tight.
inline DriveSpec worked_example() {
  DriveSpec spec;
  spec.title = "worked example";
  spec.crank_turns = Turn::clockwise;
  spec.belt.section = "ZA";
  spec.belt.teeth = 111;
  spec.heads = {head("head", 0.0)};
  PulleySpec crank = toothed("crank", 20, 0, 0);
  crank.role = Role::crankshaft;
  crank.mark_deg = 180.0;
  PulleySpec tensioner;
  tensioner.name = "tensioner";
  tensioner.diameter_mm = 60.0;
  tensioner.face = Face::back;
  tensioner.tensioner = swing(Vec2(-40, 170), 6.0, 300.0, 200.0, Turn::clockwise);
  tensioner.tensioner->set_deg = 346.0;
  PulleySpec cam = toothed("cam", 40, 0, 375);
  cam.role = Role::camshaft;
  cam.mount = "head";
  cam.fixing = Fixing::keyed;
  cam.mark_deg = 0.0;
  cam.pin = PinSpec{35.0, 0.15, {}, {}, {}};
  PulleySpec pump = toothed("water pump", 19, 62, 150);
  spec.pulleys = {crank, tensioner, cam, pump};
  return spec;
}

/// Two toothed pulleys a stated way apart, the cam in line above the crank, no tensioner.
inline DriveSpec two_pulleys(double pitch_mm, int crank, int cam, double centre_mm, int belt) {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.pitch_mm = pitch_mm;
  spec.belt.teeth = belt;
  spec.heads = {head("head", 0.0)};
  PulleySpec small = toothed("crank", crank, 0, 0);
  small.role = Role::crankshaft;
  small.mark_deg = 180.0;
  PulleySpec large = toothed("cam", cam, 0, centre_mm);
  large.role = Role::camshaft;
  large.mount = "head";
  large.mark_deg = 0.0;
  spec.pulleys = {small, large};
  return spec;
}

/// All valves of one side, timed as the trade does: inlet 12/52, exhaust 52/12, 9 mm of lift.
inline ValveSpec valve(const char* name, ValveSide side) {
  ValveSpec spec;
  spec.name = name;
  spec.cam = "cam";
  spec.side = side;
  spec.lift_mm = 9.0;
  spec.opens_deg = side == ValveSide::inlet ? 12.0 : 52.0;
  spec.closes_deg = side == ValveSide::inlet ? 52.0 : 12.0;
  spec.law = LiftLaw::polynomial_345;
  spec.crown = CrownShape::flat;
  spec.room_tdc_mm = 5.0;
  return spec;
}

/// The worked example with a four-cylinder engine under it.
inline DriveSpec four() {
  DriveSpec spec = worked_example();
  spec.engine.cylinders = 4;
  spec.engine.stroke_mm = 86.0;
  spec.engine.rod_mm = 143.0;
  spec.engine.crank_pins_deg = {0, 180, 180, 0};
  spec.engine.firing_order = {1, 3, 4, 2};
  spec.engine.timing_position_deg = 90.0;
  spec.valves = {valve("inlet", ValveSide::inlet), valve("exhaust", ValveSide::exhaust)};
  return spec;
}

inline PulleySpec& named(DriveSpec& spec, std::string_view name) {
  for (PulleySpec& pulley : spec.pulleys) {
    if (pulley.name == name) return pulley;
  }
  throw std::out_of_range("no pulley is named " + std::string(name));
}

inline Fitted fitted(const DriveSpec& spec, Fit fit = Fit::by_the_book) {
  return fitted_for(spec, fit).fitted.value();
}

inline Drive built(const DriveSpec& spec) { return fitted(spec).drive(); }

}  // namespace drives
