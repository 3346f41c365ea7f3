// Bolts, holes, trays, tension and what is built otherwise.
#include "drive/told_once.hpp"

using namespace twoturn;
using namespace validated;

namespace {

BoltsSpec& bolts(DriveSpec& spec) {
  BoltsSpec one;
  one.name = "head bolts";
  spec.bolts.push_back(one);
  return spec.bolts.back();
}

std::function<void(DriveSpec&)> ordered(std::optional<int> count, std::vector<Vec2> positions,
                                        std::vector<int> order) {
  return [=](DriveSpec& s) {
    BoltsSpec& some = bolts(s);
    some.count = count;
    some.positions_mm = positions;
    some.order = order;
  };
}

std::function<void(DriveSpec&)> staged(std::vector<BoltStageSpec> stages) {
  return [=](DriveSpec& s) { bolts(s).stages = stages; };
}

std::function<void(DriveSpec&)> holding(const char* what) {
  return [=](DriveSpec& s) { bolts(s).holds = what; };
}

std::function<void(DriveSpec&)> pulled(const TensionSpec& tension) {
  return [=](DriveSpec& s) { s.tension = tension; };
}

std::function<void(DriveSpec&)> renewed(const char* name, const RenewedSpec& part) {
  return [=](DriveSpec& s) {
    bare(s);
    s.build.renewed[name] = part;
  };
}

const std::vector<Vec2> kThree{Vec2(0, 0), Vec2(50, 0), Vec2(0, 50)};

}  // namespace

TEST_CASE("An order of bolts names each once, of as many as there are") {
  const char* key = "bolts.head bolts.order";
  check_all_sound({ordered(3, {}, {2, 1, 3}), ordered({}, kThree, {3, 2, 1}),
                   ordered(3, kThree, {1, 2, 3}), ordered(3, {}, {}), ordered({}, {}, {})});
  check_told({
      {ordered(3, {}, {1, 2, 2}), key, "each bolt from 1 to 3 once"},
      {ordered(3, {}, {0, 1, 2}), key, "each bolt from 1 to 3 once"},
      {ordered(3, {}, {2, 3, 4}), key, "each bolt from 1 to 3 once"},
      {ordered(3, {}, {1, 2}), key, "each bolt from 1 to 3 once"},
      {ordered({}, kThree, {1, 2, 3, 4}), key, "each bolt from 1 to 3 once"},
      {ordered({}, {}, {1, 2}), key, "say how many bolts there are"},
      {ordered(2, kThree, {1, 2, 3}), "bolts.head bolts.count", "positions_mm has 3 places"},
  });
}

TEST_CASE("Two bolts do not stand in one place") {
  check_all_sound({ordered({}, {Vec2(0, 0), Vec2(0.001, 0), Vec2(5, 5), Vec2(5.0011, 5)}, {})});
  check_told({{ordered({}, {Vec2(0, 0), Vec2(5, 5), Vec2(5.0009, 5)}, {}),
               "bolts.head bolts.positions_mm[2]", "two bolts in one place"}});
}

TEST_CASE("A stage is a torque or an angle, and bolts hold what there is") {
  check_all_sound(
      {staged({{60.0, {}}, {{}, 90.0}}), holding("head"), holding("cam"), holding("balance")});
  check_told({
      {staged({{60.0, {}}, {60.0, 90.0}}), "bolts.head bolts.stage.2", "make two stages of it"},
      {staged({{}}), "bolts.head bolts.stage.1", "needs torque_nm"},
      {holding("camm"), "bolts.head bolts.holds", "must name a [[head]]", "cam"},
  });
}

TEST_CASE("Bolts alone make a job card, nothing at all makes none") {
  check_all_sound({[](DriveSpec& s) {
    s = DriveSpec{};
    bolts(s);
  }});
  check_told({{[](DriveSpec& s) { s = DriveSpec{}; }, "pulley", "two pulleys or more, not 0"}});
}

TEST_CASE("Bolts, holes and trays have names of their own") {
  const char* twice = "stands twice: give each its own name";
  check_told({
      {[](DriveSpec& s) {
         bolts(s);
         bolts(s);
       },
       "bolts.head bolts.name", twice},
      {[](DriveSpec& s) { bolts(s).name = ""; }, "bolts.1.name", "needs a name"},
      {[](DriveSpec& s) {
         s.access_holes = {{"plug", {}, {}}, {"plug", {}, {}}};
       },
       "access_hole.plug.name", twice},
      {[](DriveSpec& s) {
         s.access_holes = {{"plug", {}, {}}, {"none", {}, {}}};
       },
       "access_hole.none.name", "goes through no hole; give the hole another name"},
      {[](DriveSpec& s) {
         s.trays = {{"lifters", 2, 8}, {"", 2, 8}};
       },
       "tray.2.name", "needs a name"},
      {[](DriveSpec& s) {
         s.trays = {{"lifters", 2, {}}};
       },
       "tray.lifters.columns", "columns = 8"},
  });
}

TEST_CASE("A pin goes through a hole that there is, or through none") {
  const auto through = [](const char* hole) {
    return [hole](DriveSpec& s) {
      s.access_holes = {{"plug", {}, {}}, {"cap", {}, {}}};
      s.pulleys[2].pin->access_hole = hole;
    };
  };
  check_all_sound({through("cap"), through("none"), through("plug")});
  check_told({{through("plgu"), "pulley.cam.pin.access_hole", "an [[access_hole]]", "plug"}});
}

TEST_CASE("A belt's tension has one target, on one run of two neighbours") {
  check_all_sound(
      {pulled({{}, {}, 200.0, {}, {}, {}, {}}), pulled({"crank", "cam", {}, 80.0, {}, {}, {}}),
       pulled({"crank", "cam", {}, {}, 5.0, 20.0, {}}), pulled({{}, {}, {}, {}, {}, 20.0, {}}),
       pulled({"crank", {}, {}, {}, {}, {}, {}})});
  check_told({
      {pulled({"crank", "cam", 200.0, 80.0, {}, {}, {}}), "tension", "one target is enough"},
      {pulled({"crank", "cam", 200.0, {}, 5.0, 20.0, {}}), "tension", "one target is enough"},
      {pulled({"crank", "cam", {}, 80.0, 5.0, 20.0, {}}), "tension", "one target is enough"},
      {pulled({"crank", "cam", {}, {}, 5.0, {}, {}}), "tension.give_mm", "push_n"},
      {pulled({"crank", {}, {}, 80.0, {}, {}, {}}), "tension", "which run is meant"},
      {pulled({{}, "cam", {}, 80.0, {}, {}, {}}), "tension", "which run is meant"},
      {pulled({"crank", {}, {}, {}, 5.0, 20.0, {}}), "tension", "which run is meant"},
      {pulled({"cam", "cam", {}, {}, {}, {}, {}}), "tension.to", "from one pulley to another"},
      {pulled({"crnk", {}, {}, {}, {}, {}, {}}), "tension.from", "must name a pulley", "crank"},
  });
}

TEST_CASE("What is renewed is of the old one's kind") {
  RenewedSpec teeth, diameter, place;
  teeth.teeth = 21;
  diameter.diameter_mm = 61.0;
  place.at_mm = Vec2(60, 151);
  check_all_sound({renewed("idler", teeth), renewed("idler", diameter), renewed("pump", teeth),
                   renewed("pump", place), renewed("roller", diameter)});
  check_told({
      {renewed("roller", place), "build.renewed.roller.at_mm", "a tensioner has no one place"},
      {renewed("roller", teeth), "build.renewed.roller.teeth", "a smooth pulley"},
      {renewed("pump", diameter), "build.renewed.pump.diameter_mm", "pump has teeth"},
  });
}

TEST_CASE("What is built otherwise is of a part by its name, where all parts have names") {
  check_all_sound({[](DriveSpec& s) {
                     bare(s);
                     s.build.teeth_out["idler"] = 1000;
                   },
                   [](DriveSpec& s) {
                     s = DriveSpec{};
                     bolts(s);
                     s.build.teeth_out["ghost"] = 1;
                   }});
  check_told({
      {[](DriveSpec& s) {
         bare(s).name = "";
         s.build.teeth_out["ghost"] = 1;
       },
       "pulley.5.name", "needs a name"},
      {[](DriveSpec& s) {
         s.pulleys[1].teeth = 0;
         s.build.teeth_out["pump"] = 1;
       },
       "pulley.pump.teeth", "3 or more"},
      {[](DriveSpec& s) { s.build.adjusted_deg["ghost"] = 1; }, "build.adjusted_deg.ghost",
       "no [[pulley]] is named"},
      {[](DriveSpec& s) { s.build.adjusted_deg["cam"] = kNan; }, "build.adjusted_deg.cam",
       "must be a finite number"},
      {[](DriveSpec& s) { s.build.warm.emplace(); }, "build.warm", "says nothing"},
      {[](DriveSpec& s) {
         s.heads.clear();
         s.pulleys[2].mount.reset();
       },
       "build.skim_mm.head", "no [[head]] is named \"head\"; say which head it is"},
      {[](DriveSpec& s) {
         s.build.skim_mm = {{"haed", 0.3}};
       },
       "build.skim_mm.haed", "no [[head]] is named \"haed\"", "head"},
  });
}
