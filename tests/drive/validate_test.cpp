#include "drive/validate_sound.hpp"

using namespace twoturn;
using namespace validated;

TEST_CASE("A sound drive has no problem, and what is merely missing is none") {
  check_sound("as it is", [](DriveSpec&) {});
  check_sound("no belt numbers", [](DriveSpec& s) { s.belt = {}; });
  check_sound("no size", [](DriveSpec& s) { s.pulleys[1].teeth.reset(); });
  check_sound("no place", [](DriveSpec& s) { s.pulleys[1].at_mm.reset(); });
  check_sound("empty path", [](DriveSpec& s) { s.pulleys[3].tensioner = TensionerSpec{}; });
  check_sound("no pivot", [](DriveSpec& s) { swing(s).pivot_mm.reset(); });
  check_sound("no ratio", [](DriveSpec& s) { s.geared[0].ratio.reset(); });
  check_sound("skim without a direction", [](DriveSpec& s) { s.heads[0].deck_deg.reset(); });
  check_sound("adjustable without a range",
              [](DriveSpec& s) { s.pulleys[2].fixing = Fixing::adjustable; });
  check_sound("set beyond the travel, which is a finding",
              [](DriveSpec& s) { s.pulleys[3].tensioner->set_deg = 250; });
  check_sound("no crankshaft where nothing has a place", [](DriveSpec& s) {
    s = DriveSpec{};
    s.pulleys.resize(2);
    s.pulleys[0].name = "a";
    s.pulleys[1].name = "b";
  });
}

TEST_CASE("Belts that cannot be are refused") {
  check_each({
      {"few teeth", [](DriveSpec& s) { s.belt.teeth = 9; }, "belt.teeth", "9",
       "must be 10 or more"},
      {"many teeth", [](DriveSpec& s) { s.belt.teeth = 2001; }, "belt.teeth", "2001",
       "must be 2000 or less"},
      {"zero pitch",
       [](DriveSpec& s) {
         s.belt.section.reset();
         s.belt.pitch_mm = 0;
       },
       "belt.pitch_mm", "0 mm", "must be more than 0"},
      {"a pitch too small to be one",
       [](DriveSpec& s) {
         s.belt.section.reset();
         s.belt.pitch_mm = 1e-6;
       },
       "belt.pitch_mm", "1e-06 mm", "must be 0.5 mm or more"},
      {"ten teeth too short",
       [](DriveSpec& s) {
         s.belt.section.reset();
         s.belt.over_10_teeth_mm = 1e-6;
       },
       "belt.over_10_teeth_mm", "1e-06 mm", "must be from 5 to 325 mm"},
      {"no number", [](DriveSpec& s) { s.belt.least_roller_mm = kNan; }, "belt.least_roller_mm",
       "nan mm", "must be a finite number"},
      {"no back left", [](DriveSpec& s) { s.belt.tooth_height_mm = 3.5; }, "belt.tooth_height_mm",
       "3.5 mm",
       "tooth height 3.5 and land to pitch line 0.686 mm must together be less than the belt's "
       "whole thickness 4.1 mm"},
      {"pitch beside the section's", [](DriveSpec& s) { s.belt.pitch_mm = 9.53; }, "belt.pitch_mm",
       "9.53 mm", "section ZA has a pitch of 9.525 mm; leave one of the two out"},
      {"minus tension", [](DriveSpec& s) { s.belt.reference_tension_n = -1; },
       "belt.reference_tension_n", "-1 N", "must be from 0 to 100000 N"},
      {"minus tolerance", [](DriveSpec& s) { s.belt.length_tolerance_mm = -1; },
       "belt.length_tolerance_mm", "-1 mm", "must be from 0 to 100 mm"},
  });
  check_sound("own numbers over a section's", [](DriveSpec& s) {
    s.belt.pitch_mm = 9.525;
    s.belt.thickness_mm = 4.5;
    s.belt.least_teeth = 14;
  });
  check_sound("a pitch nobody sells", [](DriveSpec& s) {
    s.belt.section.reset();
    s.belt.pitch_mm = 7.3;
  });
}

TEST_CASE("Pulleys that cannot be are refused") {
  check_each({
      {"two teeth", [](DriveSpec& s) { s.pulleys[1].teeth = 2; }, "pulley.pump.teeth", "2",
       "must be 3 or more"},
      {"no diameter", [](DriveSpec& s) { s.pulleys[3].diameter_mm = 0; },
       "pulley.roller.diameter_mm", "0 mm", "must be more than 0"},
      {"infinite diameter", [](DriveSpec& s) { s.pulleys[3].diameter_mm = kInfinite; },
       "pulley.roller.diameter_mm", "inf mm", "must be a finite number"},
      {"teeth and diameter", [](DriveSpec& s) { s.pulleys[1].diameter_mm = 57; },
       "pulley.pump.diameter_mm", "57 mm",
       "19 teeth and the belt's pitch already make its size; leave one of the two out (a smooth "
       "pulley has no teeth; flange_mm is the rim)"},
      {"rim given as a radius", [](DriveSpec& s) { s.pulleys[1].flange_mm = 30; },
       "pulley.pump.flange_mm", "30 mm",
       "a flange cannot be smaller than its pulley, 56.2 mm across; is it the radius? Give the "
       "diameter"},
      {"teeth on the back", [](DriveSpec& s) { s.pulleys[1].face = Face::back; },
       "pulley.pump.face", "\"back\"",
       "19 teeth on the belt's back need a belt with teeth on both sides: double_sided = true "
       "under "
       "[belt], or is this a smooth roller (diameter_mm)?"},
      {"smooth camshaft",
       [](DriveSpec& s) {
         s.pulleys[2].teeth.reset();
         s.pulleys[2].diameter_mm = 120;
         s.pulleys[2].pin.reset();
       },
       "pulley.cam.role", "\"camshaft\"", "keeps time, so its pulley needs teeth, not diameter_mm"},
      {"mark on a roller", [](DriveSpec& s) { s.pulleys[3].mark_deg = 10; },
       "pulley.roller.mark_deg", "10 deg",
       "a smooth pulley keeps no time, so a mark on it says "
       "nothing"},
      {"far away", [](DriveSpec& s) { s.pulleys[2].at_mm = Vec2(0, 10001); }, "pulley.cam.at_mm",
       "[0, 10001] mm", "must lie within 10 m of the crank each way"},
      {"nowhere", [](DriveSpec& s) { s.pulleys[2].at_mm = Vec2(kNan, 0); }, "pulley.cam.at_mm",
       "[nan, 0] mm", "must be two finite numbers"},
      {"two in one place", [](DriveSpec& s) { s.pulleys[2].at_mm = Vec2(62, 150); },
       "pulley.cam.at_mm", "[62, 150] mm", "pulley.pump has its centre there too"},
      {"on the crank, which is at the origin unless said",
       [](DriveSpec& s) {
         s.pulleys[0].at_mm.reset();
         s.pulleys[2].at_mm = Vec2(0, 0);
       },
       "pulley.cam.at_mm", "[0, 0] mm", "pulley.crank has its centre there too"},
      {"unknown mount", [](DriveSpec& s) { s.pulleys[2].mount = "heat"; }, "pulley.cam.mount",
       "\"heat\"", "must be \"block\" or the name of a [[head]]", "head"},
      {"range without adjustment", [](DriveSpec& s) { s.pulleys[2].range_deg = 5; },
       "pulley.cam.range_deg", "5 deg", "only a pulley with fixing = \"adjustable\" has a range"},
      {"loose crank", [](DriveSpec& s) { s.pulleys[0].fixing = Fixing::free_until_tightened; },
       "pulley.crank.fixing", "\"free until tightened\"",
       "the crank pulley is always \"keyed\": every other shaft is timed from it"},
      {"ratio of a camshaft", [](DriveSpec& s) { s.pulleys[2].turns_per_crank = 0.5; },
       "pulley.cam.turns_per_crank", "0.5",
       "the role \"camshaft\" says that already; it is for role = \"auxiliary shaft\" alone"},
      {"wild angle", [](DriveSpec& s) { s.pulleys[2].mark_deg = 1000; }, "pulley.cam.mark_deg",
       "1000 deg", "must be from -720 to 720 deg"},
      {"mark at no radius",
       [](DriveSpec& s) {
         s.pulleys[2].marks = {{"rim", 0.0, -1.0}};
       },
       "pulley.cam.mark.rim.radius_mm", "-1 mm", "must be more than 0"},
      {"nameless mark",
       [](DriveSpec& s) {
         s.pulleys[2].marks = {{"", 0.0, 1.0}};
       },
       "pulley.cam.mark.1.name", "", "each mark needs a name"},
      {"one pulley",
       [](DriveSpec& s) {
         s.pulleys.resize(1);
         s.build = {};
       },
       "pulley", "", "a belt runs on two pulleys or more, not 1; write [[pulley]] for each"},
  });
  check_sound("teeth on the back of a double belt", [](DriveSpec& s) {
    s.belt.double_sided = true;
    s.pulleys[1].face = Face::back;
  });
  check_sound("a smooth water pump", [](DriveSpec& s) {
    s.pulleys[1].teeth.reset();
    s.pulleys[1].diameter_mm = 57;
  });
  check_sound("a standing auxiliary shaft's ratio", [](DriveSpec& s) {
    s.pulleys[1].role = Role::auxiliary_shaft;
    s.pulleys[1].turns_per_crank = -0.5;
  });
}

TEST_CASE("A drive has one crankshaft, and says which ones claim to be") {
  check_each({
      {"two", [](DriveSpec& s) { s.pulleys[1].role = Role::crankshaft; }, "pulley.pump.role",
       "\"crankshaft\"", "pulley.crank is the crankshaft already; a drive has one"},
      {"none", [](DriveSpec& s) { s.pulleys[0].role.reset(); }, "pulley.*.role", "",
       "no pulley is the crankshaft; write role = \"crankshaft\" on the one that is"},
  });
}

TEST_CASE("Names are there, short and unique") {
  check_each({
      {"none", [](DriveSpec& s) { s.pulleys[1].name = ""; }, "pulley.2.name", "",
       "each pulley needs a name to be spoken of"},
      {"blank", [](DriveSpec& s) { s.pulleys[1].name = "  "; }, "pulley.2.name", "\"  \"",
       "each pulley needs a name to be spoken of"},
      {"twice", [](DriveSpec& s) { s.pulleys[1].name = "cam"; }, "pulley.3.name", "\"cam\"",
       "the name is taken by pulley.2; give each its own"},
      {"geared like a pulley", [](DriveSpec& s) { s.geared[0].name = "cam"; }, "geared.1.name",
       "\"cam\"", "the name is taken by pulley.3; give each its own"},
      {"heads", [](DriveSpec& s) { s.heads.push_back(s.heads[0]); }, "head.2.name", "\"head\"",
       "the name is taken by head.1; give each its own"},
      {"covers", [](DriveSpec& s) { s.covers.push_back(s.covers[0]); }, "cover.2.name", "\"cover\"",
       "the name is taken by cover.1; give each its own"},
      {"two lines", [](DriveSpec& s) { s.covers[0].name = "a\nb"; }, "cover.1.name", "\"a\nb\"",
       "must be one line of 60 letters at most"},
      {"a head called block",
       [](DriveSpec& s) {
         s.heads.push_back({"block", {}, {}});
       },
       "head.block.name", "\"block\"", "the block is no head; give the head another name"},
  });
  check_sound("a cover may be called like a pulley",
              [](DriveSpec& s) { s.covers[0].name = "cam"; });
}

TEST_CASE("Limits and the top of the file keep within reason") {
  check_each({
      {"lean", [](DriveSpec& s) { s.lean_deg = 181; }, "lean_deg", "181 deg",
       "must be from -180 to 180 deg"},
      {"rough centre", [](DriveSpec& s) { s.rough_centre_mm = -375; }, "rough_centre_mm", "-375 mm",
       "must be more than 0"},
      {"phase", [](DriveSpec& s) { s.limits.phase_crank_deg = 0; }, "limits.phase_crank_deg",
       "0 deg", "must be more than 0"},
      {"travel end", [](DriveSpec& s) { s.limits.travel_end = 0.6; }, "limits.travel_end", "0.6",
       "must be from 0 to 0.5"},
      {"near", [](DriveSpec& s) { s.limits.near_mm = kInfinite; }, "limits.near_mm", "inf mm",
       "must be a finite number"},
      {"mesh", [](DriveSpec& s) { s.limits.teeth_in_mesh = -1; }, "limits.teeth_in_mesh", "-1",
       "must be from 0 to 100"},
      {"give or take",
       [](DriveSpec& s) {
         s.given = {{"belt.teeth", "111", 111, Origin::measured, -1.0, 3}};
       },
       "belt.teeth give_or_take", "-1", "must be from 0 to 10000"},
  });
}

TEST_CASE("All that is wrong is told at once") {
  DriveSpec spec = sound();
  spec.belt.teeth = 0;
  spec.pulleys[1].teeth = -19;
  spec.pulleys[2].at_mm = Vec2(62, 150);
  swing(spec).tight_deg = 300;
  spec.build.teeth_out["nobody"] = 1;
  CHECK(validate(spec).size() == 5);
}

TEST_CASE("A spec of nothing but bad numbers is judged without harm") {
  DriveSpec spec = sound();
  for (PulleySpec& pulley : spec.pulleys) {
    pulley.at_mm = Vec2(kNan, kInfinite);
    pulley.diameter_mm = kNan;
    pulley.flange_mm = kNan;
    pulley.mark_deg = kNan;
    pulley.range_deg = kNan;
    pulley.turns_per_crank = kNan;
    pulley.pin = PinSpec{kNan, kNan, kNan, kNan, kNan};
  }
  swing(spec) = SwingSpec{Vec2(kNan, kNan), kNan, kNan, kNan, kNan, kNan, {}};
  spec.covers[0].points_mm.assign(5, Vec2(kNan, kNan));
  spec.belt.pitch_mm = kNan;
  spec.belt.over_10_teeth_mm = kNan;
  spec.belt.thickness_mm = kNan;
  spec.lean_deg = kNan;
  CHECK(validate(spec).size() > 30);
}
