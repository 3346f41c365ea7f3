// The least and the most of every key that has them, and the first number beyond each. The bounds
// are written here a second time, by hand.
#include <optional>
#include <vector>

#include "drive/bounds.hpp"

using namespace twoturn;
using namespace validated;

namespace {

PinSpec& pin(DriveSpec& spec) {
  spec.pulleys[2].pin = PinSpec{};
  return *spec.pulleys[2].pin;
}

MeasuredSpec& measured(DriveSpec& spec) {
  MeasuredSpec one;
  one.from = "crank";
  one.to = "cam";
  one.distance_mm = 100;
  spec.measured = {one};
  return spec.measured[0];
}

MeasuredSpec& belt_row(DriveSpec& spec) {
  MeasuredSpec one;
  one.belt_teeth = 111;
  one.roller_deg = 10;
  spec.measured = {one};
  return spec.measured[0];
}

// A pulley of which nothing is known but its place.
PulleySpec& bare(DriveSpec& spec) {
  PulleySpec pulley;
  pulley.name = "idler";
  spec.pulleys.push_back(pulley);
  return spec.pulleys.back();
}

PulleySpec& auxiliary(DriveSpec& spec) {
  spec.pulleys[1].role = Role::auxiliary_shaft;
  return spec.pulleys[1];
}

BeltSpec& own_belt(DriveSpec& spec) {
  spec.belt = {};
  return spec.belt;
}

MarkSpec& mark(DriveSpec& spec) {
  spec.pulleys[0].marks = {{"damper", 0.0, 70.0}};
  return spec.pulleys[0].marks[0];
}

}  // namespace

TEST_CASE("Numbers at the top of the file and of the belt have their bounds") {
  check_bounds({
      {"lean_deg", -180, 180, [](DriveSpec& s, double v) { s.lean_deg = v; }},
      {"rough_centre_mm", kOverNothing, kMm, [](DriveSpec& s, double v) { s.rough_centre_mm = v; }},
      {"belt.teeth give_or_take", 0, kMm,
       [](DriveSpec& s, double v) {
         s.given = {{"belt.teeth", "111", 111, Origin::measured, v, 3}};
       }},
      {"belt.pitch_mm", 0.5, 32.5, [](DriveSpec& s, double v) { own_belt(s).pitch_mm = v; }},
      {"belt.tooth_height_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { own_belt(s).tooth_height_mm = v; }},
      {"belt.thickness_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { own_belt(s).thickness_mm = v; }},
      {"belt.land_to_pitch_line_mm", 0, 20,
       [](DriveSpec& s, double v) { own_belt(s).land_to_pitch_line_mm = v; }},
      {"belt.least_roller_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.belt.least_roller_mm = v; }},
      {"belt.length_tolerance_mm", 0, 100,
       [](DriveSpec& s, double v) { s.belt.length_tolerance_mm = v; }},
      {"belt.reference_tension_n", 0, 1e5,
       [](DriveSpec& s, double v) { s.belt.reference_tension_n = v; }},
      {"belt.width_mm", kOverNothing, 500, [](DriveSpec& s, double v) { s.belt.width_mm = v; }},
      {"belt.mass_g_per_m", kOverNothing, 1e4,
       [](DriveSpec& s, double v) { s.belt.mass_g_per_m = v; }},
      {"belt.weighed_g", kOverNothing, 1e5, [](DriveSpec& s, double v) { s.belt.weighed_g = v; }},
      {"belt.stiffness_n", kOverNothing, 1e8,
       [](DriveSpec& s, double v) { s.belt.stiffness_n = v; }},
      {"head.head.deck_deg", -720, 720, [](DriveSpec& s, double v) { s.heads[0].deck_deg = v; }},
      {"head.head.deck_from_crank_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.heads[0].deck_from_crank_mm = v; }},
  });
  check_counts({
      {"belt.teeth", 10, 2000, [](DriveSpec& s, double v) { s.belt.teeth = whole(v); }},
      {"belt.least_teeth", 1, 200, [](DriveSpec& s, double v) { s.belt.least_teeth = whole(v); }},
  });
}

TEST_CASE("Over ten teeth the greatest pitch is the most, and none as small as the least is one") {
  const Bound bound{"belt.over_10_teeth_mm", 5.5, 325,
                    [](DriveSpec& s, double v) { own_belt(s).over_10_teeth_mm = v; }};
  CHECK_FALSE(refused(bound, bound.least));
  CHECK_FALSE(refused(bound, bound.most));
  CHECK(refused(bound, std::nextafter(bound.most, kInfinite)));
  CHECK(refused(bound, 4.9));
  CHECK(refused(bound, 0.0));
}

TEST_CASE("Numbers of pulleys and shafts have their bounds") {
  check_bounds({
      {"pulley.roller.diameter_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.pulleys[3].diameter_mm = v; }},
      {"pulley.idler.flange_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { bare(s).flange_mm = v; }},
      {"pulley.idler.at_mm", -kMm, kMm, [](DriveSpec& s, double v) { bare(s).at_mm = Vec2(v, 1); }},
      {"pulley.idler.at_mm", -kMm, kMm, [](DriveSpec& s, double v) { bare(s).at_mm = Vec2(1, v); }},
      {"pulley.idler.near_mm", -kMm, kMm,
       [](DriveSpec& s, double v) { bare(s).near_mm = Vec2(v, v); }},
      {"pulley.cam.range_deg", kOverNothing, 180,
       [](DriveSpec& s, double v) {
         s.pulleys[2].fixing = Fixing::adjustable;
         s.pulleys[2].range_deg = v;
       }},
      {"pulley.cam.key_radius_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.pulleys[2].key_radius_mm = v; }},
      {"pulley.pump.turns_per_crank", -100, 100,
       [](DriveSpec& s, double v) { auxiliary(s).turns_per_crank = v; }},
      {"pulley.cam.mark_deg", -720, 720, [](DriveSpec& s, double v) { s.pulleys[2].mark_deg = v; }},
      {"pulley.cam.mark_radius_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.pulleys[2].mark_radius_mm = v; }},
      {"pulley.crank.mark.damper.at_deg", -720, 720,
       [](DriveSpec& s, double v) { mark(s).at_deg = v; }},
      {"pulley.crank.mark.damper.radius_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { mark(s).radius_mm = v; }},
      {"pulley.cam.drag_nm", 0, 1000, [](DriveSpec& s, double v) { s.pulleys[2].drag_nm = v; }},
      {"pulley.cam.pin.radius_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { pin(s).radius_mm = v; }},
      {"pulley.cam.pin.play_mm", 0, 10, [](DriveSpec& s, double v) { pin(s).play_mm = v; }},
      {"pulley.cam.pin.bar_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { pin(s).bar_mm = v; }},
      {"pulley.cam.pin.slot_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { pin(s).slot_mm = v; }},
      {"pulley.cam.pin.length_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { pin(s).length_mm = v; }},
      {"geared.balance.ratio", -100, 100, [](DriveSpec& s, double v) { s.geared[0].ratio = v; }},
      {"geared.balance.mark_deg", -720, 720,
       [](DriveSpec& s, double v) { s.geared[0].mark_deg = v; }},
      {"geared.balance.mark_radius_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { s.geared[0].mark_radius_mm = v; }},
      {"geared.balance.pin.play_mm", 0, 10,
       [](DriveSpec& s, double v) {
         s.geared[0].pin = PinSpec{{}, v, {}, {}, {}};
       }},
      {"cover.cover.points_mm[1]", -kMm, kMm,
       [](DriveSpec& s, double v) { s.covers[0].points_mm[1] = Vec2(0, v); }},
  });
  check_counts({
      {"pulley.pump.teeth", 3, 1000, [](DriveSpec& s, double v) { s.pulleys[1].teeth = whole(v); }},
      {"geared.balance.teeth", 3, 1000,
       [](DriveSpec& s, double v) {
         s.geared[0].gear_teeth = GearTeeth{whole(v), 20};
       }},
      {"geared.balance.teeth", 3, 1000,
       [](DriveSpec& s, double v) {
         s.geared[0].gear_teeth = GearTeeth{20, whole(v)};
       }},
  });
}

TEST_CASE("Numbers of a tensioner have their bounds") {
  check_bounds({
      {"pulley.roller.tensioner.pivot_mm", -kMm, kMm,
       [](DriveSpec& s, double v) { swing(s).pivot_mm = Vec2(v, v); }},
      {"pulley.roller.tensioner.arm_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { swing(s).arm_mm = v; }},
      {"pulley.roller.tensioner.thickest_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { swing(s).thickest_mm = v; }},
      {"pulley.roller.tensioner.thinnest_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { swing(s).thinnest_mm = v; }},
      {"pulley.roller.tensioner.slack_deg", -720, 720,
       [](DriveSpec& s, double v) { swing(s).slack_deg = v; }},
      {"pulley.roller.tensioner.tight_deg", -720, 720,
       [](DriveSpec& s, double v) { swing(s).tight_deg = v; }},
      {"pulley.roller.tensioner.set_deg", -720, 720,
       [](DriveSpec& s, double v) { s.pulleys[3].tensioner->set_deg = v; }},
      {"pulley.roller.tensioner.pointer_deg", -720, 720,
       [](DriveSpec& s, double v) { s.pulleys[3].tensioner->pointer_deg = v; }},
      {"pulley.roller.tensioner.set_give_deg", kOverNothing, 180,
       [](DriveSpec& s, double v) { s.pulleys[3].tensioner->set_give_deg = v; }},
      {"pulley.roller.tensioner.slack_at_mm", -kMm, kMm,
       [](DriveSpec& s, double v) { slide(s).slack_at_mm = Vec2(v, 2); }},
      {"pulley.roller.tensioner.tight_at_mm", -kMm, kMm,
       [](DriveSpec& s, double v) { slide(s).tight_at_mm = Vec2(v, 9); }},
      {"pulley.roller.tensioner.set_mm", 0, kMm,
       [](DriveSpec& s, double v) {
         slide(s);
         s.pulleys[3].tensioner->set_mm = v;
       }},
      {"pulley.roller.tensioner.set_give_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) {
         slide(s);
         s.pulleys[3].tensioner->set_give_mm = v;
       }},
  });
}

TEST_CASE("Numbers of a measurement have their bounds") {
  check_bounds({
      {"measured.1.distance_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { measured(s).distance_mm = v; }},
      {"measured.1.give_or_take_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { measured(s).give_or_take_mm = v; }},
      {"measured.1.bearing_deg", -720, 720,
       [](DriveSpec& s, double v) { measured(s).bearing_deg = v; }},
      {"measured.1.give_or_take_deg", kOverNothing, 180,
       [](DriveSpec& s, double v) {
         measured(s).bearing_deg = 0;
         s.measured[0].give_or_take_deg = v;
       }},
      {"measured.1.from_diameter_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) {
         measured(s).across = Between::inside;
         s.measured[0].from_diameter_mm = v;
       }},
      {"measured.1.to_diameter_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) {
         measured(s).across = Between::inside;
         s.measured[0].to_diameter_mm = v;
       }},
      {"measured.1.roller_deg", -720, 720,
       [](DriveSpec& s, double v) { belt_row(s).roller_deg = v; }},
      {"measured.1.pointer_deg", -720, 720,
       [](DriveSpec& s, double v) {
         s.pulleys[3].tensioner->pointer_deg = 90;
         belt_row(s).roller_deg.reset();
         s.measured[0].pointer_deg = v;
       }},
      {"measured.1.roller_mm", 0, kMm,
       [](DriveSpec& s, double v) {
         slide(s);
         belt_row(s).roller_deg.reset();
         s.measured[0].roller_mm = v;
       }},
      {"measured.1.give_or_take_deg", kOverNothing, 180,
       [](DriveSpec& s, double v) { belt_row(s).give_or_take_deg = v; }},
      {"measured.1.give_or_take_mm", kOverNothing, kMm,
       [](DriveSpec& s, double v) { belt_row(s).give_or_take_mm = v; }},
  });
  check_counts({
      {"measured.1.belt_teeth", 3, 10000,
       [](DriveSpec& s, double v) { belt_row(s).belt_teeth = whole(v); }},
  });
}

TEST_CASE("A place needs both its numbers, and nought is written without a sign") {
  for (const Vec2& at : {Vec2(kNan, 1), Vec2(1, kNan), Vec2(kInfinite, 1), Vec2(1, -kInfinite)}) {
    DriveSpec spec = sound();
    bare(spec).near_mm = at;
    const std::vector<Problem> problems = validate(spec);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].rule == "must be two finite numbers");
  }
  DriveSpec spec = sound();
  spec.rough_centre_mm = -0.0;
  REQUIRE(validate(spec).size() == 1);
  CHECK(validate(spec)[0].value == "0 mm");
}
