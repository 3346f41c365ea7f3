// Rules of one part between two of its numbers, either side of where they bite.
#include "drive/told_once.hpp"

using namespace twoturn;
using namespace validated;

namespace {

using Change = std::function<void(DriveSpec&)>;

Change walls(std::optional<double> arm, std::optional<double> thickest,
             std::optional<double> thinnest, std::optional<double> diameter = 60.0) {
  return [=](DriveSpec& s) {
    swing(s).arm_mm = arm;
    swing(s).thickest_mm = thickest;
    swing(s).thinnest_mm = thinnest;
    s.pulleys[3].diameter_mm = diameter;
  };
}

Change pin(const PinSpec& pin) {
  return [=](DriveSpec& s) { s.pulleys[2].pin = pin; };
}

Change slide(std::optional<Vec2> slack, std::optional<Vec2> tight,
             const std::function<void(TensionerSpec&)>& change = {}) {
  return [=](DriveSpec& s) {
    s.pulleys[3].tensioner = TensionerSpec{SlideSpec{slack, tight}, {}, {}, {}, {}, {}};
    if (change) change(*s.pulleys[3].tensioner);
  };
}

// A swing of which one thing is known, and a place beside it.
Change placed_swing(const std::function<void(SwingSpec&)>& change) {
  return [=](DriveSpec& s) {
    swing(s) = {};
    s.pulleys[3].tensioner->set_deg.reset();
    change(swing(s));
    s.pulleys[3].at_mm = Vec2(-40, 176);
  };
}

Change flanged(std::optional<double> pitch, std::optional<double> land, std::optional<int> teeth,
               double flange) {
  return [=](DriveSpec& s) {
    if (pitch) s.belt = {};
    s.belt.pitch_mm = pitch;
    s.belt.land_to_pitch_line_mm = land;
    s.pulleys[1].teeth = teeth;
    s.pulleys[1].flange_mm = flange;
  };
}

Change at(std::size_t pulley, double x, double y) {
  return [=](DriveSpec& s) { s.pulleys[pulley].at_mm = Vec2(x, y); };
}

}  // namespace

TEST_CASE("The walls of an eccentric are of two sizes, agree with the arm and fit in the roller") {
  check_all_sound({walls(6.0, 16.0, 4.01), walls(6.0, 16.0, 3.99), walls({}, 36.0, 23.9),
                   walls({}, 300.0, 100.0, {}), walls(6.0, 16.0, {}), walls(6.0, {}, 4.0)});
  check_told({
      {walls(6.0, 16.0, 4.03), "pulley.roller.tensioner.arm_mm", "(16 - 4.03)/2 = 5.985 mm"},
      {walls(6.0, 16.0, 3.97), "pulley.roller.tensioner.arm_mm", "(16 - 3.97)/2 = 6.015 mm"},
      {walls({}, 16.0, 16.0), "pulley.roller.tensioner.thickest_mm", "has no throw"},
      {walls({}, 36.0, 24.0), "pulley.roller.tensioner.thickest_mm", "diameter_mm = 60"},
  });
}

TEST_CASE("A tensioner has a travel, and the settings of its own kind") {
  check_all_sound({[](DriveSpec& s) { swing(s).tight_deg = 300.001; },
                   slide(Vec2(1, 2), Vec2(1, 2.0011)), slide(Vec2(1, 2), {}), slide({}, Vec2(1, 2)),
                   [](DriveSpec& s) { s.pulleys[3].tensioner->pointer_deg = 10; }});
  const Vec2 from(1, 2);
  const Vec2 to(1, 9);
  check_told({
      {slide(from, Vec2(1, 2.0009)), "pulley.roller.tensioner.tight_at_mm", "has no travel"},
      {[](DriveSpec& s) { s.pulleys[3].tensioner->set_give_mm = 1; },
       "pulley.roller.tensioner.set_give_mm", "belongs to a slide"},
      {slide(from, to, [](TensionerSpec& t) { t.set_give_deg = 1; }),
       "pulley.roller.tensioner.set_give_deg", "a slide has set_give_mm"},
      {slide(from, to, [](TensionerSpec& t) { t.pointer_deg = 1; }),
       "pulley.roller.tensioner.pointer_deg", "a slide has set_mm"},
  });
}

TEST_CASE("A tensioner with any of a path has no one place, without any it may") {
  const char* key = "pulley.roller.at_mm";
  const char* rule = "a tensioner has no one place";
  check_all_sound({placed_swing([](SwingSpec&) {}), [](DriveSpec& s) {
                     slide({}, {})(s);
                     s.pulleys[3].at_mm = Vec2(-40, 176);
                   }});
  const auto placed_slide = [](std::optional<Vec2> slack, std::optional<Vec2> tight) {
    return [=](DriveSpec& s) {
      slide(slack, tight)(s);
      s.pulleys[3].at_mm = Vec2(-40, 176);
    };
  };
  check_told({
      {placed_swing([](SwingSpec& w) { w.pivot_mm = Vec2(1, 1); }), key, rule},
      {placed_swing([](SwingSpec& w) { w.arm_mm = 6; }), key, rule},
      {placed_swing([](SwingSpec& w) { w.slack_deg = 300; }), key, rule},
      {placed_swing([](SwingSpec& w) { w.tight_deg = 200; }), key, rule},
      {placed_slide(Vec2(1, 2), {}), key, rule},
      {placed_slide({}, Vec2(1, 2)), key, rule},
      {[](DriveSpec& s) {
         s.pulleys[0].tensioner = s.pulleys[3].tensioner;
         s.pulleys[0].at_mm.reset();
         s.pulleys[3].tensioner.reset();
         s.pulleys[3].at_mm = Vec2(-40, 176);
       },
       "pulley.crank.tensioner", "the crankshaft cannot be the tensioner"},
  });
}

TEST_CASE("A pin is round or a bar, goes in and holds") {
  check_all_sound({pin({{}, {}, 3.0, 5.0, 4.1}), pin({{}, {}, 4.9, 5.0, {}}),
                   pin({{}, {}, 6.0, {}, 4.0}), pin({{}, {}, {}, 6.0, 4.0}),
                   pin({3.0, 2.9, {}, {}, {}}), pin({3.0, {}, {}, {}, {}}),
                   pin({{}, 3.0, {}, {}, {}})});
  const char* key = "pulley.cam.pin";
  const char* rule = "keep the keys of one of the two";
  check_told({
      {pin({3.0, {}, 3.0, {}, {}}), key, rule},
      {pin({3.0, {}, {}, 3.0, {}}), key, rule},
      {pin({3.0, {}, {}, {}, 3.0}), key, rule},
      {pin({{}, 0.1, 3.0, {}, {}}), key, rule},
      {pin({3.0, 3.0, {}, {}, {}}), "pulley.cam.pin.play_mm", "less than radius_mm = 3"},
      {pin({0.0, 0.1, {}, {}, {}}), "pulley.cam.pin.radius_mm", "must be more than 0"},
      {pin({{}, {}, 5.0, 5.0, {}}), "pulley.cam.pin.bar_mm", "less than slot_mm = 5"},
      {pin({{}, {}, 3.0, 5.1, 4.0}), "pulley.cam.pin.slot_mm", "less than 5 mm"},
  });
}

TEST_CASE("A flange is no smaller than its pulley") {
  // By hand: 19 x 9.525 / pi - 2 x 0.686 = 56.234; with a land of 2, 53.606; at a pitch of 8 with a
  // tenth of it, 19 x 8 / pi - 1.6 = 46.783.
  check_all_sound({flanged({}, {}, 19, 56.24), flanged({}, 2.0, 19, 53.61),
                   flanged(8.0, {}, 19, 46.79), flanged(8.0, {}, {}, 1.0),
                   [](DriveSpec& s) {
                     s.belt = {};
                     s.pulleys[1].flange_mm = 1.0;
                   },
                   [](DriveSpec& s) {
                     s.belt = {};
                     s.belt.over_10_teeth_mm = 80;
                     s.pulleys[1].flange_mm = 46.79;
                   },
                   [](DriveSpec& s) { s.pulleys[3].flange_mm = 60; }});
  const char* key = "pulley.pump.flange_mm";
  check_told({
      {flanged({}, {}, 19, 56.23), key, "56.2 mm across"},
      {flanged({}, 2.0, 19, 53.6), key, "53.6 mm across"},
      {flanged(8.0, {}, 19, 46.78), key, "46.8 mm across"},
      {[](DriveSpec& s) {
         s.belt = {};
         s.belt.over_10_teeth_mm = 80;
         s.pulleys[1].flange_mm = 46.78;
       },
       key, "46.8 mm across"},
      {[](DriveSpec& s) { s.pulleys[3].flange_mm = 0.0; }, "pulley.roller.flange_mm",
       "more than 0"},
      {[](DriveSpec& s) { s.pulleys[3].flange_mm = 59.9; }, "pulley.roller.flange_mm",
       "60.0 mm across"},
      {flanged({}, {}, 19, -1.0), key, "must be more than 0"},
  });
}

TEST_CASE("What keeps time has teeth, and what is smooth keeps none") {
  const auto smooth = [](std::optional<Role> role, const std::function<void(PulleySpec&)>& change) {
    return [=](DriveSpec& s) {
      PulleySpec& idler = bare(s);
      idler.diameter_mm = 50;
      idler.role = role;
      change(idler);
    };
  };
  const auto nothing = [](PulleySpec&) {};
  check_all_sound({smooth({}, nothing), smooth(Role::water_pump, nothing),
                   smooth(Role::idler, nothing), smooth(Role::oil_pump, nothing)});
  const char* teeth = "keeps time, so its pulley needs teeth";
  check_told({
      {smooth(Role::camshaft, nothing), "pulley.idler.role", teeth},
      {smooth(Role::injection_pump, nothing), "pulley.idler.role", teeth},
      {smooth(Role::balance_shaft, nothing), "pulley.idler.role", teeth},
      {[](DriveSpec& s) {
         s.pulleys[0].teeth.reset();
         s.pulleys[0].diameter_mm = 60;
         s.geared.clear();
       },
       "pulley.crank.role", teeth},
      {smooth({}, [](PulleySpec& p) { p.mark_deg = 0; }), "pulley.idler.mark_deg", "keeps no time"},
      {smooth({}, [](PulleySpec& p) { p.pin = PinSpec{}; }), "pulley.idler.pin", "keeps no time"},
      {smooth({}, [](PulleySpec& p) { p.drag_nm = 1; }), "pulley.idler.drag_nm", "turn freely"},
      {[](DriveSpec& s) { s.geared[0].from = "roller"; }, "geared.balance.from", "smooth pulley"},
  });
  check_all_sound({[](DriveSpec& s) {
                     bare(s).drag_nm = 1;
                     s.pulleys[1].drag_nm = 1;
                   },
                   [](DriveSpec& s) { s.geared[0].from = bare(s).name; },
                   [](DriveSpec& s) { bare(s).pin = PinSpec{}; }});
}

TEST_CASE("Ratios and gears are said once") {
  check_told({
      {[](DriveSpec& s) {
         s.geared[0].gear_teeth = GearTeeth{40, 20};
       },
       "geared.balance.ratio", "teeth of both gears say that already"},
      {[](DriveSpec& s) { s.geared[0].from = ""; }, "geared.balance.from", "must name the pulley"},
      {[](DriveSpec& s) { s.geared[0].turns_per_crank = 2; }, "geared.balance.turns_per_crank",
       "\"balance shaft\" says that already"},
      {[](DriveSpec& s) { bare(s).turns_per_crank = 2; }, "pulley.idler.turns_per_crank",
       "is for role = \"auxiliary shaft\" alone"},
      {[](DriveSpec& s) {
         s.pulleys[1].role = Role::auxiliary_shaft;
         s.pulleys[1].turns_per_crank = 0;
       },
       "pulley.pump.turns_per_crank", "must not be 0"},
      {[](DriveSpec& s) { s.pulleys[0].fixing = Fixing::adjustable; }, "pulley.crank.fixing",
       "always \"keyed\""},
      {[](DriveSpec& s) { s.covers[0].mount = "haed"; }, "cover.cover.mount", "\"block\"", "head"},
  });
  check_all_sound({[](DriveSpec& s) { s.pulleys[0].fixing = Fixing::keyed; },
                   [](DriveSpec& s) { s.covers[0].mount = "block"; },
                   [](DriveSpec& s) { s.covers[0].mount = "head"; }});
}

TEST_CASE("No two pulleys have their centre in one place, and the crank stands at the origin") {
  check_all_sound({at(1, 0.0011, 375), [](DriveSpec& s) { s.pulleys[0].at_mm.reset(); }});
  check_told({
      {at(1, 0.0009, 375), "pulley.cam.at_mm", "pulley.pump has its centre there too"},
      {at(1, 0, 0), "pulley.pump.at_mm", "pulley.crank has its centre there too"},
      {[](DriveSpec& s) {
         s.pulleys[0].at_mm.reset();
         s.pulleys[1].at_mm = Vec2(0, 0);
       },
       "pulley.pump.at_mm", "pulley.crank has its centre there too"},
      {[](DriveSpec& s) {
         s.pulleys[0].at_mm.reset();
         s.pulleys[1].at_mm = Vec2(0, 0);
         std::swap(s.pulleys[0], s.pulleys[1]);
       },
       "pulley.pump.at_mm", "pulley.crank has its centre there too"},
  });
}

TEST_CASE("A name is one line of 60 letters, and a mark has its own") {
  const auto named = [](const std::string& name) {
    return [name](DriveSpec& s) { bare(s).name = name; };
  };
  check_all_sound({named(std::string(60, 'a')), named("a b ~")});
  check_told({
      {named(std::string(61, 'a')), "pulley.5.name", "60 letters at most"},
      {named("a\x1f"), "pulley.5.name", "must be one line"},
      {named("a\x7f"), "pulley.5.name", "must be one line"},
      {named("\t "), "pulley.5.name", "needs a name"},
      {[](DriveSpec& s) {
         s.pulleys[0].marks = {{"dot", {}, {}}, {"dot", {}, {}}};
       },
       "pulley.crank.mark.2.name", "taken by another mark"},
  });
  DriveSpec spec = sound();
  spec.pulleys[0].marks = {{"", {}, {}}, {"", {}, {}}};
  CHECK(validate(spec).size() == 2);
}

TEST_CASE("Where anything has a place some pulley is the crankshaft") {
  const auto two = [](const std::function<void(DriveSpec&)>& change) {
    return [change](DriveSpec& s) {
      s = DriveSpec{};
      bare(s).name = "one";
      bare(s).name = "other";
      change(s);
    };
  };
  MeasuredSpec measured;
  measured.from = "one";
  measured.to = "other";
  measured.distance_mm = 100;
  check_told({
      {two([](DriveSpec& s) { s.pulleys[1].at_mm = Vec2(0, 100); }), "pulley.*.role", "no pulley"},
      {two([](DriveSpec& s) { s.pulleys[1].tensioner.emplace(); }), "pulley.*.role", "no pulley"},
      {two([&](DriveSpec& s) { s.measured = {measured}; }), "pulley.*.role", "no pulley"},
  });
}

TEST_CASE("Covers have points enough for their kind") {
  const auto points = [](std::size_t count, Outline kind) {
    return [=](DriveSpec& s) {
      s.covers[0].points_mm = {Vec2(-80, -40), Vec2(0, -60), Vec2(80, -40)};
      s.covers[0].points_mm.resize(count);
      s.covers[0].kind = kind;
    };
  };
  check_all_sound({points(2, Outline::open), points(3, Outline::closed)});
  check_told({
      {points(0, Outline::open), "cover.cover.points_mm", "2 points or more"},
      {points(2, Outline::closed), "cover.cover.points_mm", "3 points or more"},
  });
}

TEST_CASE("What may be timed may have been seen, what cannot may not") {
  const auto pin_of = [](const char* name) {
    return [name](DriveSpec& s) { s.seen.pin[name] = PinFelt::in; };
  };
  check_all_sound({[&](DriveSpec& s) {
                     bare(s);
                     pin_of("idler")(s);
                   },
                   [&](DriveSpec& s) {
                     s.geared[0].role.reset();
                     pin_of("balance")(s);
                   },
                   [&](DriveSpec& s) {
                     s = DriveSpec{};
                     s.bolts = {{}};
                     s.bolts[0].name = "bolts";
                     pin_of("ghost")(s);
                   }});
  check_told({
      {[&](DriveSpec& s) {
         s.geared[0].role = Role::oil_pump;
         pin_of("balance")(s);
       },
       "seen.pin.balance", "is no timed shaft"},
      {[&](DriveSpec& s) {
         s.pulleys[3].diameter_mm.reset();
         s.pulleys[3].face.reset();
         s.pulleys[3].teeth = 20;
         pin_of("roller")(s);
       },
       "seen.pin.roller", "is no timed shaft"},
      {[&](DriveSpec& s) {
         bare(s).diameter_mm = 50;
         pin_of("idler")(s);
       },
       "seen.pin.idler", "is no timed shaft"},
      {[&](DriveSpec& s) {
         s.geared[0].name = "";
         pin_of("ghost")(s);
       },
       "geared.1.name", "needs a name"},
  });
}
