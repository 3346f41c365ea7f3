#include "drive/validate_sound.hpp"

using namespace twoturn;
using namespace validated;

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
      {"bar that turns in its slot",
       [](DriveSpec& s) {
         s.pulleys[2].pin = PinSpec{{}, {}, 3.0, 5.0, 4.0};
       },
       "pulley.cam.pin.slot_mm", "5 mm",
       "must be less than 5 mm, the bar from corner to corner: it would turn in the slot and hold "
       "nothing"},
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
       "cover.cover.points_mm", "2 points", "a closed outline needs 3 points or more"},
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
