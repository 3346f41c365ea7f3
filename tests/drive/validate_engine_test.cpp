#include "drive/validate_sound.hpp"

using namespace twoturn;
using namespace validated;

namespace {

ValveSpec& add_valve(DriveSpec& spec) {
  ValveSpec valve;
  valve.name = "inlet";
  valve.cam = "cam";
  valve.side = ValveSide::inlet;
  valve.lift_mm = 9.0;
  valve.opens_deg = 10.0;
  valve.closes_deg = 50.0;
  spec.valves.push_back(valve);
  return spec.valves.back();
}

}  // namespace

TEST_CASE("Engines and valves that can be are taken") {
  check_sound("sizes alone", [](DriveSpec& s) {
    s.engine.stroke_mm = 86;
    s.engine.rod_mm = 143;
  });
  check_sound("a whole four", [](DriveSpec& s) {
    s.engine.cylinders = 4;
    s.engine.crank_pins_deg = {0, 180, 180, 0};
    s.engine.bores_deg = {0, 0, 0, 0};
    s.engine.firing_order = {1, 3, 4, 2};
    s.engine.timing_position_deg = -30;
    add_valve(s).cylinders = {1, 2};
  });
  check_sound("a valve of which nothing but the name is known",
              [](DriveSpec& s) { s.valves.push_back({}), s.valves.back().name = "inlet"; });
}

TEST_CASE("Engine sizes that cannot be are refused") {
  check_each({
      {"no cylinders", [](DriveSpec& s) { s.engine.cylinders = 0; }, "engine.cylinders", "0",
       "must be 1 or more"},
      {"stroke and throw",
       [](DriveSpec& s) {
         s.engine.stroke_mm = 86;
         s.engine.throw_mm = 43;
       },
       "engine.throw_mm", "43 mm", "the stroke says it already; keep one of the two"},
      {"a rod shorter than the throw",
       [](DriveSpec& s) {
         s.engine.stroke_mm = 86;
         s.engine.rod_mm = 43;
       },
       "engine.rod_mm", "43 mm",
       "must be longer than half the stroke and the pin offset, 43 mm; measure it from centre to "
       "centre"},
      {"chamber and ratio",
       [](DriveSpec& s) {
         s.engine.chamber_cc = 50;
         s.engine.compression_ratio = 9;
       },
       "engine.compression_ratio", "9", "chamber_cc says it already; keep one of the two"},
      {"a ratio of one", [](DriveSpec& s) { s.engine.compression_ratio = 1; },
       "engine.compression_ratio", "1", "must be from 1.5 to 50"},
      {"no stroke", [](DriveSpec& s) { s.engine.stroke_mm = 0; }, "engine.stroke_mm", "0 mm",
       "must be more than 0"},
      {"a bore that is no number", [](DriveSpec& s) { s.engine.bore_mm = kNan; }, "engine.bore_mm",
       "nan mm", "must be a finite number"},
  });
}

TEST_CASE("Lists that are not one a cylinder are refused") {
  check_each({
      {"too few pins",
       [](DriveSpec& s) {
         s.engine.cylinders = 4;
         s.engine.crank_pins_deg = {0, 180};
       },
       "engine.crank_pins_deg", "", "must have one number for each cylinder, 4 and not 2"},
      {"pins of nobody knows how many",
       [](DriveSpec& s) {
         s.engine.crank_pins_deg = {0, 180};
       },
       "engine.crank_pins_deg", "",
       "says nothing without the number of cylinders; give engine.cylinders"},
      {"a cylinder that fires twice",
       [](DriveSpec& s) {
         s.engine.cylinders = 4;
         s.engine.firing_order = {1, 3, 3, 2};
       },
       "engine.firing_order", "", "must name each cylinder from 1 to 4 once"},
      {"an order that begins elsewhere",
       [](DriveSpec& s) {
         s.engine.cylinders = 4;
         s.engine.firing_order = {3, 4, 2, 1};
       },
       "engine.firing_order", "", "must begin with cylinder 1: turn it round"},
  });
}

TEST_CASE("Valves that contradict themselves are refused") {
  check_each({
      {"no such cam", [](DriveSpec& s) { add_valve(s).cam = "camm"; }, "valve.inlet.cam",
       "\"camm\"", "no [[pulley]] or [[geared]] is named \"camm\"", "cam"},
      {"a cam that is none", [](DriveSpec& s) { add_valve(s).cam = "pump"; }, "valve.inlet.cam",
       "\"pump\"", "must be a shaft with role = \"camshaft\""},
      {"a cylinder that is not there",
       [](DriveSpec& s) {
         s.engine.cylinders = 4;
         add_valve(s).cylinders = {1, 5};
       },
       "valve.inlet.cylinders", "5", "must be cylinders from 1 to 4"},
      {"a cylinder twice",
       [](DriveSpec& s) {
         add_valve(s).cylinders = {2, 2};
       },
       "valve.inlet.cylinders", "", "must name each cylinder once"},
      {"two lifts", [](DriveSpec& s) { add_valve(s).cam_lift_mm = 8; }, "valve.inlet.cam_lift_mm",
       "8 mm", "lift_mm says it already; keep one of the two"},
      {"no lift at the cam, and no lash",
       [](DriveSpec& s) {
         add_valve(s).lift_mm.reset();
         s.valves[0].lash_mm.reset();
         s.valves[0].cam_lift_mm = 0;
       },
       "valve.inlet.cam_lift_mm", "0 mm", "must be more than 0"},
      {"more lash than lift",
       [](DriveSpec& s) {
         add_valve(s).lift_mm.reset();
         s.valves[0].cam_lift_mm = 0.5;
         s.valves[0].lash_mm = 0.6;
       },
       "valve.inlet.lash_mm", "0.6 mm",
       "must be less than the cam gives, 0.5 mm: the valve would stay shut"},
      {"a law beside a table",
       [](DriveSpec& s) {
         add_valve(s).lift_mm.reset();
         s.valves[0].law = LiftLaw::harmonic;
         s.valves[0].table = "inlet.csv";
       },
       "valve.inlet.law", "\"harmonic\"", "the table shows the lift already; keep one of the two"},
      {"ends and a duration", [](DriveSpec& s) { add_valve(s).duration_deg = 240; },
       "valve.inlet.duration_deg", "240 deg",
       "opens_deg and closes_deg say it already; leave it out"},
      {"a centre after the closing",
       [](DriveSpec& s) {
         add_valve(s).closes_deg = -100;
         s.valves[0].lobe_centre_deg = 100;
       },
       "valve.inlet.lobe_centre_deg", "100 deg", "must lie between opening and closing"},
      {"timed above its lift", [](DriveSpec& s) { add_valve(s).timed_at_lift_mm = 9; },
       "valve.inlet.timed_at_lift_mm", "9 mm", "must be less than the greatest lift of it, 9 mm"},
      {"room and clay",
       [](DriveSpec& s) {
         add_valve(s).room_tdc_mm = 4;
         s.valves[0].clay_mm = 2;
       },
       "valve.inlet.clay_mm", "2 mm", "room_tdc_mm says it already; keep one of the two"},
      {"a valve lying down", [](DriveSpec& s) { add_valve(s).valve_deg = 90; },
       "valve.inlet.valve_deg", "90 deg", "must be from 0 to 70 deg"},
      {"one name for two",
       [](DriveSpec& s) {
         add_valve(s);
         add_valve(s);
       },
       "valve.inlet.name", "\"inlet\"", "two valves have this name; each needs its own"},
      {"no name", [](DriveSpec& s) { add_valve(s).name = ""; }, "valve.1.name", "",
       "give it a name: it is spoken of by it"},
      {"a limit below nothing", [](DriveSpec& s) { s.limits.inlet_room_mm = -1; },
       "limits.inlet_room_mm", "-1 mm", "must be from 0 to 50 mm"},
  });
}
