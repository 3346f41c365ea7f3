// What is measured between two centres, or by a belt that is known to fit: what goes together.
#include "drive/told_once.hpp"

using namespace twoturn;
using namespace validated;

namespace {

using Change = std::function<void(DriveSpec&)>;

Change between(const std::function<void(MeasuredSpec&)>& change) {
  return [=](DriveSpec& s) {
    MeasuredSpec one;
    one.from = "crank";
    one.to = "cam";
    one.distance_mm = 375;
    change(one);
    s.measured = {one};
  };
}

Change across(Between way, double distance, double from, double to) {
  return between([=](MeasuredSpec& m) {
    m.across = way;
    m.distance_mm = distance;
    m.from_diameter_mm = from;
    m.to_diameter_mm = to;
  });
}

void make_slide(DriveSpec& spec) {
  spec.pulleys[3].tensioner = TensionerSpec{SlideSpec{Vec2(1, 2), Vec2(1, 9)}, {}, {}, {}, {}, {}};
}

enum class Kind { swing, slide };

Change belt(Kind kind, std::optional<double> roller_deg, std::optional<double> pointer_deg,
            std::optional<double> roller_mm) {
  return [=](DriveSpec& s) {
    s.pulleys[3].tensioner->pointer_deg = 90;
    if (kind == Kind::slide) make_slide(s);
    MeasuredSpec one;
    one.belt_teeth = 111;
    one.roller_deg = roller_deg;
    one.pointer_deg = pointer_deg;
    one.roller_mm = roller_mm;
    s.measured = {one};
  };
}

Change belt_with(const std::function<void(MeasuredSpec&)>& change) {
  return [=](DriveSpec& s) {
    belt(Kind::swing, 10.0, {}, {})(s);
    change(s.measured[0]);
  };
}

}  // namespace

TEST_CASE("What is measured between two centres says how far or which way, of pulleys that stay") {
  check_all_sound({
      between([](MeasuredSpec&) {}),
      between([](MeasuredSpec& m) { m.bearing_deg = 0; }),
      between([](MeasuredSpec& m) {
        m.distance_mm.reset();
        m.bearing_deg = 0;
        m.give_or_take_deg = 1;
      }),
      between([](MeasuredSpec& m) { m.to = "roller"; }),
  });
  check_told({
      {between([](MeasuredSpec& m) { m.from = ""; }), "measured.1.from", "must name the pulley"},
      {between([](MeasuredSpec& m) { m.to = "camm"; }), "measured.1.to", "no pulley has this name",
       "cam"},
      {between([](MeasuredSpec& m) { m.distance_mm.reset(); }), "measured.1.distance_mm",
       "so is bearing_deg"},
      {between([](MeasuredSpec& m) { m.give_or_take_deg = 1; }), "measured.1.give_or_take_deg",
       "belongs to a bearing_deg"},
      {between([](MeasuredSpec& m) {
         m.distance_mm.reset();
         m.bearing_deg = 0;
         m.give_or_take_mm = 1;
       }),
       "measured.1.give_or_take_mm", "belongs to a distance_mm"},
      {between([](MeasuredSpec& m) {
         m.distance_mm.reset();
         m.bearing_deg = 0;
         m.across = Between::inside;
       }),
       "measured.1.across", "belongs to a distance_mm"},
      {[](DriveSpec& s) {
         make_slide(s);
         between([](MeasuredSpec& m) { m.to = "roller"; })(s);
       },
       "measured.1.to", "it slides in a slot"},
  });
}

TEST_CASE("Over the outside of two parts it is farther than half of both") {
  check_all_sound({across(Between::outside, 60.1, 50, 70), across(Between::inside, 30, 50, 70)});
  check_told({
      {across(Between::outside, 60, 50, 70), "measured.1.distance_mm",
       "half of both diameters, 60"},
      {between([](MeasuredSpec& m) {
         m.across = Between::inside;
         m.to_diameter_mm = 20;
       }),
       "measured.1.from_diameter_mm", "is needed"},
      {between([](MeasuredSpec& m) { m.from_diameter_mm = 20; }), "measured.1.from_diameter_mm",
       "says nothing of a distance between centres"},
      {between([](MeasuredSpec& m) {
         m.across = Between::centres;
         m.to_diameter_mm = 20;
       }),
       "measured.1.to_diameter_mm", "says nothing of a distance between centres"},
  });
}

TEST_CASE("Where the tensioner stood with a belt is said once, as it is read") {
  const char* deg = "measured.1.roller_deg";
  const char* mm = "measured.1.roller_mm";
  check_all_sound({belt(Kind::swing, 10.0, {}, {}), belt(Kind::swing, {}, 10.0, {}),
                   belt(Kind::slide, {}, {}, 3.0)});
  check_told({
      {belt(Kind::swing, {}, {}, {}), deg, "one of the two"},
      {belt(Kind::swing, 10.0, 10.0, {}), deg, "one of the two"},
      {belt(Kind::swing, {}, {}, 3.0), deg, "one of the two"},
      {belt(Kind::swing, 10.0, {}, 3.0), deg, "one of the two"},
      {belt(Kind::slide, {}, {}, {}), mm, "from the slack end"},
      {belt(Kind::slide, 10.0, {}, {}), mm, "from the slack end"},
      {belt(Kind::slide, {}, 10.0, {}), mm, "from the slack end"},
      {belt(Kind::slide, 10.0, {}, 3.0), mm, "from the slack end"},
      {[](DriveSpec& s) {
         belt(Kind::swing, {}, 10.0, {})(s);
         s.pulleys[3].tensioner->pointer_deg.reset();
       },
       "measured.1.pointer_deg", "are not both given"},
      {[](DriveSpec& s) {
         belt(Kind::swing, 10.0, {}, {})(s);
         s.pulleys[3].tensioner.reset();
         s.pulleys[3].at_mm = Vec2(-40, 176);
       },
       "measured.1.belt_teeth", "only where a tensioner shows it"},
  });
}

TEST_CASE("A belt that fits stands in a measurement of its own") {
  const char* key = "measured.1.belt_teeth";
  const char* rule = "give it a [[measured]] of its own";
  check_told({
      {belt_with([](MeasuredSpec& m) { m.from = "crank"; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.to = "cam"; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.distance_mm = 375; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.bearing_deg = 0; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.across = Between::inside; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.from_diameter_mm = 20; }), key, rule},
      {belt_with([](MeasuredSpec& m) { m.to_diameter_mm = 20; }), key, rule},
  });
  const char* without = "only with the belt that it stands so for";
  check_told({
      {between([](MeasuredSpec& m) { m.roller_deg = 10; }), key, without},
      {between([](MeasuredSpec& m) { m.pointer_deg = 10; }), key, without},
      {between([](MeasuredSpec& m) { m.roller_mm = 10; }), key, without},
  });
}
