#include "twoturn/drive/validate.hpp"

#include <cmath>
#include <functional>
#include <limits>

#include "support/catch.hpp"

using namespace twoturn;

namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();

PulleySpec toothed(const std::string& name, Role role, int teeth, const Vec2& at_mm) {
  PulleySpec pulley;
  pulley.name = name;
  pulley.role = role;
  pulley.teeth = teeth;
  pulley.at_mm = at_mm;
  return pulley;
}

SwingSpec& swing(DriveSpec& spec) { return std::get<SwingSpec>(spec.pulleys[3].tensioner->path); }

PulleySpec eccentric() {
  PulleySpec roller;
  roller.name = "roller";
  roller.diameter_mm = 60;
  roller.face = Face::back;
  SwingSpec path;
  path.pivot_mm = Vec2(-40, 170);
  path.arm_mm = 6;
  path.slack_deg = 300;
  path.tight_deg = 200;
  path.tightens = Turn::clockwise;
  roller.tensioner = TensionerSpec{path, 346.0, {}, {}, {}, {}};
  return roller;
}

// Crank, pump, cam and an eccentric on the back; a head, a geared shaft, a cover; nothing wrong.
DriveSpec sound() {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.section = "ZA";
  spec.belt.teeth = 111;
  spec.heads.push_back({"head", 0.0, 210.0});
  spec.pulleys.push_back(toothed("crank", Role::crankshaft, 20, Vec2(0, 0)));
  spec.pulleys.push_back(toothed("pump", Role::water_pump, 19, Vec2(62, 150)));
  spec.pulleys.push_back(toothed("cam", Role::camshaft, 40, Vec2(0, 375)));
  spec.pulleys.push_back(eccentric());
  spec.pulleys[2].mount = "head";
  spec.pulleys[2].pin = PinSpec{35.0, 0.15, {}, {}, {}};
  GearedSpec balance;
  balance.name = "balance";
  balance.from = "crank";
  balance.ratio = -2.0;
  balance.role = Role::balance_shaft;
  spec.geared.push_back(balance);
  spec.covers.push_back(
      {"cover", {Vec2(-80, -40), Vec2(0, -60), Vec2(80, -40)}, Outline::open, {}});
  spec.build.skim_mm["head"] = 0.3;
  return spec;
}

struct Case {
  const char* claim;
  std::function<void(DriveSpec&)> change;
  const char* key;
  const char* value;
  const char* rule;
  const char* nearest = "";
};

void check_each(const std::vector<Case>& cases) {
  for (const Case& bad : cases) {
    INFO(bad.claim);
    DriveSpec spec = sound();
    bad.change(spec);
    const std::vector<Problem> problems = validate(spec);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].key == bad.key);
    CHECK(problems[0].value == bad.value);
    CHECK(problems[0].rule == bad.rule);
    CHECK(problems[0].nearest == bad.nearest);
  }
}

void check_sound(const std::string& claim, const std::function<void(DriveSpec&)>& change) {
  INFO(claim);
  DriveSpec spec = sound();
  change(spec);
  const std::vector<Problem> problems = validate(spec);
  const std::string first = problems.empty() ? "" : problems[0].key + ": " + problems[0].rule;
  CHECK(first == "");
}

}  // namespace

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

TEST_CASE("Tensioners that cannot be are refused") {
  check_each({
      {"no travel", [](DriveSpec& s) { swing(s).tight_deg = 300; },
       "pulley.roller.tensioner.tight_deg", "300 deg",
       "slack_deg = 300 is the same place: the tensioner has no travel"},
      {"a full circle", [](DriveSpec& s) { swing(s).tight_deg = -60; },
       "pulley.roller.tensioner.tight_deg", "-60 deg",
       "slack_deg = 300 is the same place: the tensioner has no travel"},
      {"no arm", [](DriveSpec& s) { swing(s).arm_mm = 0; }, "pulley.roller.tensioner.arm_mm",
       "0 mm", "must be more than 0: the roller would turn about its own centre, with no travel"},
      {"walls the wrong way round",
       [](DriveSpec& s) {
         swing(s).arm_mm.reset();
         swing(s).thickest_mm = 4;
         swing(s).thinnest_mm = 16;
       },
       "pulley.roller.tensioner.thickest_mm", "4 mm",
       "must be more than thinnest_mm = 16, or the eccentric has no throw"},
      {"arm against walls",
       [](DriveSpec& s) {
         swing(s).thickest_mm = 16;
         swing(s).thinnest_mm = 5;
       },
       "pulley.roller.tensioner.arm_mm", "6 mm",
       "the walls give (16 - 5)/2 = 5.500 mm; leave one of the two out"},
      {"walls thicker than the roller",
       [](DriveSpec& s) {
         swing(s).thickest_mm = 36;
         swing(s).thinnest_mm = 24;
       },
       "pulley.roller.tensioner.thickest_mm", "36 mm",
       "both walls together are as thick as the whole roller, diameter_mm = 60; is that its "
       "radius?"},
      {"a place and a path", [](DriveSpec& s) { s.pulleys[3].at_mm = Vec2(-40, 176); },
       "pulley.roller.at_mm", "[-40, 176] mm",
       "a tensioner has no one place: its path, under [pulley.tensioner], says where it can be; "
       "take at_mm out"},
      {"a pointer alone",
       [](DriveSpec& s) {
         s.pulleys[3].tensioner->set_deg.reset();
         s.pulleys[3].tensioner->pointer_deg = 10;
       },
       "pulley.roller.tensioner.pointer_deg", "10 deg",
       "says where the pointer stands when the roller is at set_deg, so it needs set_deg"},
      {"a slide's setting", [](DriveSpec& s) { s.pulleys[3].tensioner->set_mm = 3; },
       "pulley.roller.tensioner.set_mm", "3 mm",
       "belongs to a slide; a tensioner that swings has set_deg"},
      {"two",
       [](DriveSpec& s) {
         PulleySpec second = eccentric();
         second.name = "other";
         s.pulleys.push_back(second);
       },
       "pulley.other.tensioner", "",
       "pulley.roller is a tensioner already and a profile has one; give this pulley the place "
       "where it is fixed (at_mm), or make a second belt a second profile"},
      {"a slide without travel",
       [](DriveSpec& s) {
         s.pulleys[3].tensioner =
             TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 2)}, {}, {}, {}, {}, {}};
       },
       "pulley.roller.tensioner.tight_at_mm", "[1, 2] mm",
       "slack_at_mm is the same place: the tensioner has no travel"},
      {"a swing's setting",
       [](DriveSpec& s) {
         s.pulleys[3].tensioner =
             TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 9)}, 5.0, {}, {}, {}, {}};
       },
       "pulley.roller.tensioner.set_deg", "5 deg",
       "belongs to a tensioner that swings; a slide has set_mm, from the slack end"},
      {"give of nothing", [](DriveSpec& s) { s.pulleys[3].tensioner->set_give_deg = 0; },
       "pulley.roller.tensioner.set_give_deg", "0 deg", "must be more than 0"},
  });
  check_sound("walls that agree with the arm", [](DriveSpec& s) {
    swing(s).thickest_mm = 16;
    swing(s).thinnest_mm = 4.01;
  });
  check_sound("a slide", [](DriveSpec& s) {
    s.pulleys[3].tensioner = TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 9)}, {}, 3.0, {}, 0.5, {}};
  });
}

TEST_CASE("Pins, geared shafts and covers that cannot be are refused") {
  check_each({
      {"pin and bar", [](DriveSpec& s) { s.pulleys[2].pin->bar_mm = 5; }, "pulley.cam.pin", "",
       "a pin has radius_mm and play_mm, a bar has bar_mm, slot_mm and length_mm; keep the keys of "
       "one of the two"},
      {"bar as wide as its slot",
       [](DriveSpec& s) {
         s.pulleys[2].pin = PinSpec{{}, {}, 5.0, 5.0, 30.0};
       },
       "pulley.cam.pin.bar_mm", "5 mm", "must be less than slot_mm = 5, or it does not go in"},
      {"minus play", [](DriveSpec& s) { s.pulleys[2].pin->play_mm = -0.1; },
       "pulley.cam.pin.play_mm", "-0.1 mm", "must be from 0 to 10 mm"},
      {"play beyond the radius",
       [](DriveSpec& s) {
         s.pulleys[2].pin = PinSpec{3.0, 4.0, {}, {}, {}};
       },
       "pulley.cam.pin.play_mm", "4 mm",
       "must be less than radius_mm = 3: the play is at the pin, each side of centre"},
      {"driven by nobody", [](DriveSpec& s) { s.geared[0].from = "crnak"; }, "geared.balance.from",
       "\"crnak\"", "no pulley and no shaft above has this name", "crank"},
      {"driven by itself", [](DriveSpec& s) { s.geared[0].from = "balance"; },
       "geared.balance.from", "\"balance\"", "must name a shaft that stands above it in the file"},
      {"standing", [](DriveSpec& s) { s.geared[0].ratio = 0; }, "geared.balance.ratio", "0",
       "must not be 0"},
      {"racing", [](DriveSpec& s) { s.geared[0].ratio = -101; }, "geared.balance.ratio", "-101",
       "must be from -100 to 100"},
      {"second crank", [](DriveSpec& s) { s.geared[0].role = Role::crankshaft; },
       "geared.balance.role", "\"crankshaft\"",
       "the crankshaft is the pulley that drives the belt, no geared shaft"},
      {"one point", [](DriveSpec& s) { s.covers[0].points_mm.resize(1); }, "cover.cover.points_mm",
       "1 point", "a line needs 2 points or more"},
      {"open outline of two",
       [](DriveSpec& s) {
         s.covers[0].points_mm.resize(2);
         s.covers[0].kind = Outline::closed;
       },
       "cover.cover.points_mm", "2 point", "a closed outline needs 3 points or more"},
      {"crossed outline",
       [](DriveSpec& s) {
         s.covers[0].points_mm = {Vec2(0, -50), Vec2(10, -60), Vec2(10, -50), Vec2(0, -60)};
         s.covers[0].kind = Outline::closed;
       },
       "cover.cover.points_mm", "4 points",
       "its line crosses or retraces itself; list the points in order along it"},
      {"point at no place", [](DriveSpec& s) { s.covers[0].points_mm[1].x() = kNan; },
       "cover.cover.points_mm[1]", "[nan, -60] mm", "must be two finite numbers"},
  });
  check_sound("a shaft geared off another", [](DriveSpec& s) {
    GearedSpec second = s.geared[0];
    second.name = "second";
    second.from = "balance";
    second.ratio = -1;
    s.geared.push_back(second);
  });
}

TEST_CASE("What is built otherwise must be of this drive") {
  check_each({
      {"skim of no head",
       [](DriveSpec& s) {
         s.build.skim_mm = {{"haed", 0.3}};
       },
       "build.skim_mm.haed", "0.3 mm", "no [[head]] is named \"haed\"", "head"},
      {"thick gasket", [](DriveSpec& s) { s.build.gasket_change_mm["head"] = 6; },
       "build.gasket_change_mm.head", "6 mm",
       "must be from -5 to 5 mm; hundredths of a mm, or thou taken for mm?"},
      {"skim of no number", [](DriveSpec& s) { s.build.block_skim_mm["head"] = kNan; },
       "build.block_skim_mm.head", "nan mm", "must be a finite number"},
      {"nothing renewed", [](DriveSpec& s) { s.build.renewed["pump"] = {}; }, "build.renewed.pump",
       "", "says nothing; give the new part's teeth, diameter_mm or at_mm"},
      {"teeth for a roller", [](DriveSpec& s) { s.build.renewed["roller"].teeth = 20; },
       "build.renewed.roller.teeth", "20", "roller is a smooth pulley; give the new diameter_mm"},
      {"diameter for teeth", [](DriveSpec& s) { s.build.renewed["pump"].diameter_mm = 60; },
       "build.renewed.pump.diameter_mm", "60 mm", "pump has teeth; give the new number of teeth"},
      {"renewed stranger", [](DriveSpec& s) { s.build.renewed["pum"].teeth = 20; },
       "build.renewed.pum", "", "no [[pulley]] is named \"pum\"", "pump"},
      {"teeth out of a stranger", [](DriveSpec& s) { s.build.teeth_out["cma"] = -1; },
       "build.teeth_out.cma", "-1", "no [[pulley]] is named \"cma\"", "cam"},
      {"teeth out of a free pulley",
       [](DriveSpec& s) {
         s.pulleys[2].fixing = Fixing::free_until_tightened;
         s.build.teeth_out["cam"] = 1;
       },
       "build.teeth_out.cam", "1",
       "cam is free until tightened: it takes its place when it is tightened, so it cannot be "
       "teeth "
       "out"},
      {"teeth out of a roller", [](DriveSpec& s) { s.build.teeth_out["roller"] = 1; },
       "build.teeth_out.roller", "1", "roller is a smooth pulley, without teeth to be out"},
      {"a turn out", [](DriveSpec& s) { s.build.teeth_out["cam"] = -40; }, "build.teeth_out.cam",
       "-40", "must be less than a whole turn of cam, 40 teeth"},
      {"adjusted but fixed", [](DriveSpec& s) { s.build.adjusted_deg["cam"] = 1; },
       "build.adjusted_deg.cam", "1 deg",
       "cam cannot be adjusted unless it has fixing = \"adjustable\""},
      {"adjusted too far",
       [](DriveSpec& s) {
         s.pulleys[2].fixing = Fixing::adjustable;
         s.pulleys[2].range_deg = 5;
         s.build.adjusted_deg["cam"] = -5.5;
       },
       "build.adjusted_deg.cam", "-5.5 deg", "must be within its range, 5 deg each way"},
  });
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
         s.given.push_back({"belt.teeth", "111", 111, Origin::measured, -1.0, 3});
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
