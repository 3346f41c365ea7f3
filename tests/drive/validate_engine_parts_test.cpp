// Rules of the engine between two numbers, either side of where they bite.
#include "drive/told_once.hpp"

using namespace twoturn;
using namespace validated;

namespace {

using Change = std::function<void(DriveSpec&)>;

Change rod(std::optional<double> stroke, std::optional<double> thrown, double offset, double mm) {
  return [=](DriveSpec& s) {
    s.engine.stroke_mm = stroke;
    s.engine.throw_mm = thrown;
    s.engine.pin_offset_mm = offset;
    s.engine.rod_mm = mm;
  };
}

Change events(std::optional<ValveSide> side, double opens, double closes,
              std::optional<double> centre = {}) {
  return [=](DriveSpec& s) {
    ValveSpec valve;
    valve.name = "valve";
    valve.side = side;
    valve.opens_deg = opens;
    valve.closes_deg = closes;
    valve.lobe_centre_deg = centre;
    s.valves = {valve};
  };
}

Change lifted(const std::function<void(ValveSpec&)>& change) {
  return [=](DriveSpec& s) {
    ValveSpec valve;
    valve.name = "valve";
    change(valve);
    s.valves = {valve};
  };
}

Change lash(double cam_lift, std::optional<double> ratio, double lash_mm) {
  return lifted([=](ValveSpec& v) {
    v.cam_lift_mm = cam_lift;
    v.rocker_ratio = ratio;
    v.lash_mm = lash_mm;
  });
}

Change timed(std::optional<double> lift, std::optional<double> cam_lift, std::vector<double> rows,
             double at_mm) {
  return lifted([=](ValveSpec& v) {
    v.lift_mm = lift;
    v.cam_lift_mm = cam_lift;
    if (cam_lift) v.timed_at = LiftAtPart::cam;
    for (const double row : rows) v.rows.push_back({0.0, row});
    v.timed_at_lift_mm = at_mm;
  });
}

}  // namespace

TEST_CASE("A rod is longer than the stroke, and reaches over the pin's offset") {
  const char* key = "engine.rod_mm";
  check_all_sound({rod(86, {}, 0, 86.5), rod({}, 43, 0, 86.5), rod({}, {}, 0, 5)});
  check_told({
      {rod(86, {}, 0, 86), key, "must be longer than the stroke, 86 mm"},
      {rod({}, 43, 0, 86), key, "must be longer than the stroke, 86 mm"},
      {rod({}, 43, 0, 43), key, "half the stroke and the pin offset, 43 mm"},
      {rod({}, 43, -2, 45), key, "half the stroke and the pin offset, 45 mm"},
      {rod({}, 43, 2, 45), key, "half the stroke and the pin offset, 45 mm"},
      {rod({}, 43, -2, 45.5), key, "must be longer than the stroke, 86 mm"},
      {rod(10, {}, 50, 54), key, "half the stroke and the pin offset, 55 mm"},
      {rod(0, {}, 10, 5), "engine.stroke_mm", "must be more than 0"},
  });
}

TEST_CASE("A lobe's centre lies between opening and closing") {
  const char* key = "valve.valve.lobe_centre_deg";
  const auto inlet = ValveSide::inlet;
  const auto exhaust = ValveSide::exhaust;
  // By hand: an inlet opens 100 deg after top where it opens -100 before it; it closes 120 after
  // top where it closes -60 after bottom. An exhaust lies the other way round.
  check_all_sound({events(inlet, -100, 0, 101), events(inlet, 0, -60, 119), events({}, 0, -60, 119),
                   events(exhaust, 0, -100, 101), events(exhaust, -60, 0, 119)});
  check_told({
      {events(inlet, -100, 0, 100), key, "between opening and closing"},
      {events(inlet, 0, -60, 120), key, "between opening and closing"},
      {events({}, -100, 0, 100), key, "between opening and closing"},
      {events(exhaust, 0, -100, 100), key, "between opening and closing"},
      {events(exhaust, -60, 0, 120), key, "between opening and closing"},
  });
}

TEST_CASE("A valve closes well after it opens") {
  check_all_sound({events({}, -100, -49)});
  check_told({{events({}, -100, -50), "valve.valve.closes_deg", "well after the opening"}});
  check_all_sound({lifted([](ValveSpec& v) {
                     v.duration_deg = 240;
                     v.opens_deg = 10;
                   }),
                   lifted([](ValveSpec& v) {
                     v.duration_deg = 240;
                     v.closes_deg = 10;
                   }),
                   lifted([](ValveSpec& v) {
                     v.opens_deg = 10;
                     v.lobe_centre_deg = 110;
                   })});
}

TEST_CASE("Lash is less than what the cam and its rocker give") {
  const char* key = "valve.valve.lash_mm";
  check_all_sound({lash(0.5, 1.5, 0.74), lash(0.5, {}, 0.49)});
  check_told({{lash(0.5, 1.5, 0.75), key, "0.75 mm"}, {lash(0.5, {}, 0.5), key, "0.5 mm"}});
}

TEST_CASE("What a valve is timed at is less than its greatest lift") {
  const char* key = "valve.valve.timed_at_lift_mm";
  check_all_sound({timed(9.0, {}, {}, 8.9), timed({}, 7.0, {}, 6.9), timed({}, {}, {1, 3, 2}, 2.9),
                   timed({}, {}, {}, 30.0)});
  check_told({
      {timed(9.0, {}, {}, 9.0), key, "the greatest lift of it, 9 mm"},
      {timed({}, 7.0, {}, 7.0), key, "the greatest lift there, 7 mm"},
      {timed({}, {}, {1, 3, 2}, 3.0), key, "the greatest lift of it, 3 mm"},
  });
}

TEST_CASE("A table holds the lift that is given beside it") {
  const auto beside = [](std::optional<double> ValveSpec::*part) {
    return lifted([part](ValveSpec& v) {
      v.table = "lift.csv";
      v.*part = 9.0;
    });
  };
  check_told({
      {beside(&ValveSpec::lift_mm), "valve.valve.lift_mm", "the table holds its own lift"},
      {beside(&ValveSpec::cam_lift_mm), "valve.valve.cam_lift_mm", "the table holds its own lift"},
  });
  check_all_sound({lifted([](ValveSpec& v) { v.law = LiftLaw::harmonic; }),
                   lifted([](ValveSpec& v) { v.table = "lift.csv"; }),
                   lifted([](ValveSpec& v) { v.room_tdc_mm = 4.0; })});
}

TEST_CASE("A valve's cam is a camshaft, driven by belt or gear, and its head is one of the drive") {
  const auto on = [](const char* cam) { return lifted([cam](ValveSpec& v) { v.cam = cam; }); };
  const auto in = [](const char* head) { return lifted([head](ValveSpec& v) { v.head = head; }); };
  check_all_sound({on("cam"), on("roller"), in("head"), [&](DriveSpec& s) {
                     s.geared[0].role = Role::camshaft;
                     on("balance")(s);
                   }});
  check_told({
      {on("balance"), "valve.valve.cam", "must be a shaft with role = \"camshaft\""},
      {on("crank"), "valve.valve.cam", "must be a shaft with role = \"camshaft\""},
      {on("cma"), "valve.valve.cam", "no [[pulley]] or [[geared]] is named \"cma\"", "cam"},
      {in("haed"), "valve.valve.head", "no [[head]] has this name", "head"},
  });
}

TEST_CASE("A list has one number for each cylinder, whichever list it is") {
  const auto lists = [](std::optional<int> cylinders, std::vector<double> pins,
                        std::vector<double> bores, std::vector<int> order) {
    return [=](DriveSpec& s) {
      s.engine.cylinders = cylinders;
      s.engine.crank_pins_deg = pins;
      s.engine.bores_deg = bores;
      s.engine.firing_order = order;
    };
  };
  check_all_sound({lists(2, {0, 180}, {0, 0}, {1, 2}), lists(3, {}, {}, {1, 3, 2})});
  check_told({
      {lists(3, {}, {0, 0}, {}), "engine.bores_deg", "each cylinder, 3 and not 2"},
      {lists(3, {}, {}, {1, 2}), "engine.firing_order", "each cylinder, 3 and not 2"},
      {lists({}, {}, {0, 0}, {}), "engine.bores_deg", "says nothing without"},
      {lists(3, {}, {}, {1, 2, 4}), "engine.firing_order", "from 1 to 3 once"},
      {lists(3, {}, {}, {0, 1, 2}), "engine.firing_order", "from 1 to 3 once"},
      {lists(3, {}, {}, {2, 3, 1}), "engine.firing_order", "must begin with cylinder 1"},
  });
}
