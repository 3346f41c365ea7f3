// What each measurement comes to, and what is told where centres cannot be placed. Evidence: two
// measurements of one thing meet in their middle; triangles by Pythagoras; the belt's way round
// solved anew.
#include <cmath>
#include <functional>
#include <utility>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

using namespace twoturn;

namespace {

MeasuredSpec between(const char* from, const char* to) {
  MeasuredSpec measured;
  measured.from = from;
  measured.to = to;
  return measured;
}

MeasuredSpec distance(const char* from, const char* to, double mm, double give_mm) {
  MeasuredSpec measured = between(from, to);
  measured.distance_mm = mm;
  measured.give_or_take_mm = give_mm;
  return measured;
}

MeasuredSpec bearing(const char* from, const char* to, double deg, double give_deg) {
  MeasuredSpec measured = between(from, to);
  measured.bearing_deg = deg;
  measured.give_or_take_deg = give_deg;
  return measured;
}

DriveSpec unplaced(std::initializer_list<const char*> names) {
  DriveSpec spec;
  for (const char* name : names) {
    PulleySpec pulley = drives::toothed(name, 20, 0, 0);
    pulley.at_mm.reset();
    pulley.role = Role::idler;
    spec.pulleys.push_back(pulley);
  }
  spec.pulleys.front().role = Role::crankshaft;
  return spec;
}

const MeasuredPoint& point(const MeasuredPlaces& places, std::string_view name) {
  for (const MeasuredPoint& one : places.points) {
    if (one.name == name) return one;
  }
  FAIL("no centre " << name);
  throw 0;
}

void check_at(const MeasuredPlaces& places, const char* name, const Vec2& expected) {
  CAPTURE(name);
  REQUIRE(places.placed());
  CHECK((point(places, name).at_mm.value() - expected).norm() < 1e-6);
}

std::optional<PlaceTrouble> trouble_of(const MeasuredPlaces& places) {
  return places.faults.empty() ? std::nullopt : std::optional(places.faults.front().trouble);
}

// Crank, and a cam 400 mm above it.
DriveSpec upright(std::initializer_list<const char*> names, double give_mm) {
  DriveSpec spec = unplaced(names);
  spec.measured = {distance("crank", "cam", 400, give_mm), bearing("crank", "cam", 0, 1.0)};
  return spec;
}

}  // namespace

TEST_CASE("Two measurements of one thing meet in the middle, each off by its half") {
  DriveSpec spec = unplaced({"crank", "cam"});
  spec.measured = {distance("crank", "cam", 400, 0.5), distance("crank", "cam", 400.4, 0.5),
                   bearing("crank", "cam", 10, 3.0), bearing("cam", "crank", 191, 3.0)};
  const MeasuredPlaces places = places_of(spec);
  const double way = 10.5 * kRadPerDeg;
  check_at(places, "cam", 400.2 * Vec2(std::sin(way), std::cos(way)));
  REQUIRE(places.rows.size() == 4);
  const double expected_off[] = {-0.2, 0.2, -0.5, 0.5};
  const double found[] = {400.2, 400.2, 10.5, 190.5};
  for (std::size_t k = 0; k < 4; ++k) {
    CAPTURE(k);
    const MeasuredRow& row = places.rows[k];
    CHECK_THAT(row.off, WithinAbs(expected_off[k], 1e-6));
    CHECK_THAT(row.found, WithinAbs(found[k], 1e-6));
    CHECK(row.number == static_cast<int>(k) + 1);
    CHECK_THAT(row.spare, WithinAbs(0.5, 1e-6));
    // Half the difference of two that are each known to sigma is known to sigma over root 2.
    const double sigma = sigma_of(k < 2 ? 0.5 : 3.0);
    CHECK_THAT(row.standardized, WithinAbs(expected_off[k] * std::sqrt(2.0) / sigma, 1e-5));
  }
  CHECK(point(places, "cam").measurements == 4);
  CHECK(point(places, "crank").measurements == 4);
}

TEST_CASE("Coordinates that were measured are measurements too") {
  DriveSpec spec = unplaced({"crank", "cam"});
  spec.pulleys[1].at_mm = Vec2(0, 400.4);
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.5),
                drives::measured("pulley.cam.at_mm[1]", 0.5)};
  spec.measured = {distance("crank", "cam", 400, 0.5)};
  const MeasuredPlaces places = places_of(spec);
  check_at(places, "cam", Vec2(0, 400.2));
  REQUIRE(places.rows.size() == 2);
  CHECK(places.rows[0].kind == MeasuredKind::place);
  CHECK(places.rows[0].number == 0);
  CHECK_THAT(places.rows[0].off, WithinAbs(0.2, 1e-6));
  CHECK_FALSE(point(places, "cam").exact);
  CHECK(point(places, "cam").measurements == 2);
  spec.given = {};
  const MeasuredPlaces exact = places_of(spec);
  check_at(exact, "cam", Vec2(0, 400.4));
  CHECK(point(exact, "cam").exact);
  CHECK_FALSE(point(exact, "cam").ellipse.has_value());
}

TEST_CASE("A measurement is as good as it says, else as what it was taken with") {
  const auto give = [](const std::function<void(DriveSpec&)>& change) {
    DriveSpec spec = unplaced({"crank", "cam"});
    spec.measured = {between("crank", "cam")};
    spec.measured[0].distance_mm = 400;
    spec.measured.push_back(between("crank", "cam"));
    spec.measured[1].bearing_deg = 0;
    change(spec);
    const MeasuredPlaces places = places_of(spec);
    REQUIRE(places.rows.size() == 2);
    return std::pair(places.rows[0].give_or_take.value, places.rows[1].give_or_take.value);
  };
  const auto over = [](DriveSpec& s) {
    s.measured[0].across = Between::outside;
    s.measured[0].from_diameter_mm = 20;
    s.measured[0].to_diameter_mm = 20;
  };
  const auto said = [](const char* key, Origin origin, std::optional<double> stated) {
    GivenValue value = drives::measured(key, 0.0);
    value.origin = origin;
    value.give_or_take = stated;
    return value;
  };
  CHECK(give([](DriveSpec&) {}) == std::pair(0.5, 3.0));
  CHECK(give([](DriveSpec& s) {
          s.measured[0].give_or_take_mm = 0.2;
          s.measured[1].give_or_take_deg = 1.5;
        }) == std::pair(0.2, 1.5));
  CHECK(give([](DriveSpec& s) {
          s.measured[0].give_or_take_mm = 1e-9;
          s.measured[1].give_or_take_deg = 1e-9;
        }) == std::pair(1e-3, 1e-4));
  // Over round parts a calliper's 0.1, and half of each diameter's 0.1.
  CHECK_THAT(give(over).first, WithinAbs(std::hypot(0.1, 0.05, 0.05), 1e-12));
  CHECK_THAT(give([&](DriveSpec& s) {
               over(s);
               s.measured[0].give_or_take_mm = 0.4;
             }).first,
             WithinAbs(std::hypot(0.4, 0.05, 0.05), 1e-12));
  CHECK_THAT(give([&](DriveSpec& s) {
               over(s);
               s.given = {said("measured.1.from_diameter_mm", Origin::measured, 0.6),
                          said("measured.1.to_diameter_mm", Origin::measured, 0.8)};
             }).first,
             WithinAbs(std::hypot(0.1, 0.3, 0.4), 1e-12));
  const auto with = [&](const GivenValue& value) {
    return give([&](DriveSpec& s) { s.given = {value}; }).first;
  };
  CHECK(with(said("measured.1.distance_mm", Origin::measured, 0.25)) == 0.25);
  CHECK(with(said("measured.1.distance_mm", Origin::manual, {})) == 1e-3);
  CHECK(with(said("measured.1.distance_mm", Origin::assumed, {})) == 0.5);
}

TEST_CASE("A hint tells of two places where the other is twice as far from it, and a cm") {
  const auto hinted = [](double off_mm, double hint_mm) {
    DriveSpec spec = upright({"crank", "cam", "pump"}, 0.01);
    const double side = std::hypot(off_mm, 200.0);
    spec.measured.push_back(distance("crank", "pump", side, 0.01));
    spec.measured.push_back(distance("pump", "cam", side, 0.01));
    spec.pulleys[2].near_mm = Vec2(hint_mm, 200);
    return places_of(spec);
  };
  check_at(hinted(300, 101), "pump", Vec2(300, 200));
  check_at(hinted(300, -101), "pump", Vec2(-300, 200));
  CHECK(trouble_of(hinted(300, 99)) == PlaceTrouble::mirrored);
  CHECK(trouble_of(hinted(300, -99)) == PlaceTrouble::mirrored);
  check_at(hinted(5.5, 5.5), "pump", Vec2(5.5, 200));
  CHECK(trouble_of(hinted(4.5, 4.5)) == PlaceTrouble::mirrored);
}

TEST_CASE("A hint within 2 mm of a line says nothing of its sides, nor does a place so near it") {
  // A third centre tells on which side of the line from crank to cam the pump stands.
  const auto placed = [](double off_mm, double hint_mm) {
    DriveSpec spec = upright({"crank", "cam", "pump", "idler"}, 0.1);
    spec.pulleys[3].at_mm = Vec2(120, 160);
    spec.measured.push_back(distance("crank", "pump", std::hypot(off_mm, 200), 0.1));
    spec.measured.push_back(distance("cam", "pump", std::hypot(off_mm, 200), 0.1));
    spec.measured.push_back(distance("idler", "pump", std::hypot(120 - off_mm, 40), 0.1));
    spec.pulleys[2].near_mm = Vec2(hint_mm, 200);
    return places_of(spec);
  };
  check_at(placed(50, -1.9), "pump", Vec2(50, 200));
  CHECK(trouble_of(placed(50, -2.1)) == PlaceTrouble::wrong_side);
  CHECK(placed(1.9, -50).placed());
  CHECK(trouble_of(placed(2.1, -50)) == PlaceTrouble::wrong_side);
}

TEST_CASE("Two distances close a triangle within three standard deviations of all three") {
  // Each known to sigma: 3 x root 3 of it. The base exact: 3 x root 2.
  const double sigma = sigma_of(0.5);
  const auto placed = [](double base_give, double one, double other) {
    DriveSpec spec = upright({"crank", "cam", "pump"}, base_give);
    spec.pulleys[2].near_mm = Vec2(5, 200);
    spec.measured.push_back(distance("crank", "pump", one, 0.5));
    spec.measured.push_back(distance("pump", "cam", other, 0.5));
    return places_of(spec);
  };
  const double three = 3.0 * std::sqrt(3.0) * sigma;
  CHECK(trouble_of(placed(0.5, 150, 250 - 1.02 * three)) == PlaceTrouble::no_triangle);
  CHECK(trouble_of(placed(0.5, 150, 250 - 0.98 * three)) != PlaceTrouble::no_triangle);
  CHECK(trouble_of(placed(0.5, 150, 550 + 1.02 * three)) == PlaceTrouble::no_triangle);
  CHECK(trouble_of(placed(0.5, 150, 550 + 0.98 * three)) != PlaceTrouble::no_triangle);
  CHECK(trouble_of(placed(0.5, 550 + 1.02 * three, 150)) == PlaceTrouble::no_triangle);
  const MeasuredPlaces off = placed(0.5, 150, 240);
  REQUIRE(off.faults.size() == 1);
  CHECK(off.faults[0].about == "pump");
  CHECK_THAT(off.faults[0].short_mm, WithinAbs(10.0, 1e-6));
  CHECK(off.faults[0].others == std::vector<std::string>{"crank", "cam"});
  const auto exact = [](double other) {
    DriveSpec spec = unplaced({"crank", "cam", "pump"});
    spec.pulleys[1].at_mm = Vec2(0, 400);
    spec.pulleys[2].near_mm = Vec2(5, 200);
    spec.measured = {distance("crank", "pump", 150, 0.5), distance("pump", "cam", other, 0.5)};
    return places_of(spec);
  };
  const double two = 3.0 * std::sqrt(2.0) * sigma;
  CHECK(trouble_of(exact(250 - 1.02 * two)) == PlaceTrouble::no_triangle);
  CHECK(trouble_of(exact(250 - 0.98 * two)) != PlaceTrouble::no_triangle);
}

TEST_CASE("A base that nobody measured is as good as the worst that placed its ends") {
  // The cam stands by a tape, 2 mm; the idler exactly. From both the pump is measured to 0.1.
  const auto placed = [](double short_mm) {
    DriveSpec spec = upright({"crank", "cam", "pump", "idler"}, 2.0);
    spec.pulleys[3].at_mm = Vec2(120, 160);
    spec.pulleys[2].near_mm = Vec2(60, 280);
    const double base = std::hypot(120, 240);
    spec.measured.push_back(distance("cam", "pump", 100, 0.1));
    spec.measured.push_back(distance("idler", "pump", base - 100 - short_mm, 0.1));
    return places_of(spec);
  };
  const double three = 3.0 * sigma_of(std::sqrt(2.0 * 2.0 + 0.1 * 0.1 + 0.1 * 0.1));
  CHECK(trouble_of(placed(0.98 * three)) != PlaceTrouble::no_triangle);
  CHECK(trouble_of(placed(1.02 * three)) == PlaceTrouble::no_triangle);
}

TEST_CASE("A centre stands where a distance and a way, or two ways, meet") {
  // (300, 0): 3-4-5 with the cam; from the crank at 3 o'clock.
  DriveSpec spec = upright({"crank", "cam", "pump"}, 0.5);
  spec.measured.push_back(distance("cam", "pump", 500, 0.5));
  spec.measured.push_back(bearing("crank", "pump", 90, 0.1));
  check_at(places_of(spec), "pump", Vec2(300, 0));
  spec.measured.back() = bearing("pump", "crank", 270, 0.1);  // the other way round
  check_at(places_of(spec), "pump", Vec2(300, 0));
  // From the cam the way is atan 3/4 before half past: clock 180 - 36.87.
  const double way = 180.0 - std::atan2(3.0, 4.0) / kRadPerDeg;
  spec.measured[2] = bearing("cam", "pump", way, 0.1);
  check_at(places_of(spec), "pump", Vec2(300, 0));
  // Two ways along one line meet nowhere.
  spec.measured[2] = bearing("cam", "pump", 0.0, 0.1);
  spec.measured[3] = bearing("crank", "pump", 0.0, 0.1);
  CHECK_FALSE(places_of(spec).placed());
  // A distance crosses a way twice where it starts outside: the hint tells.
  spec.measured[2] = distance("cam", "pump", 250, 0.5);
  spec.measured[3] = bearing("crank", "pump", std::atan2(3.0, 4.0) / kRadPerDeg, 0.1);
  CHECK(trouble_of(places_of(spec)) == PlaceTrouble::mirrored);
  // Along (0.6, 0.8) t: t^2 - 640 t + 160000 = 62500, so 390 or 250.
  spec.pulleys[2].near_mm = Vec2(235, 310);
  check_at(places_of(spec), "pump", 390.0 * Vec2(0.6, 0.8));
  spec.pulleys[2].near_mm = Vec2(150, 200);
  check_at(places_of(spec), "pump", 250.0 * Vec2(0.6, 0.8));
}

TEST_CASE("A centre that is listed before the crank is placed as any other") {
  DriveSpec spec = upright({"crank", "cam", "pump"}, 0.5);
  spec.measured.push_back(distance("cam", "pump", 500, 0.5));
  spec.measured.push_back(bearing("crank", "pump", 90, 0.1));
  std::swap(spec.pulleys[0], spec.pulleys[2]);
  check_at(places_of(spec), "pump", Vec2(300, 0));
  check_at(places_of(spec), "cam", Vec2(0, 400));
}

TEST_CASE("Two centres that are tied together stand on the side that their hints say") {
  // Pump and idler: each measured from one known centre, and the way from one to the other. So the
  // pump lies on a circle about the crank and on one about the cam less that way: two places.
  const Vec2 pump(150, 100);
  const Vec2 idler(200, 330);
  const Vec2 way = idler - pump;
  const Vec2 line = (Vec2(0, 400) - way).normalized();
  const Vec2 mirrored = 2.0 * pump.dot(line) * line - pump;
  const auto placed = [&](const Vec2& hint) {
    DriveSpec spec = upright({"crank", "cam", "pump", "idler"}, 0.5);
    spec.measured.push_back(distance("crank", "pump", pump.norm(), 0.5));
    spec.measured.push_back(distance("cam", "idler", (idler - Vec2(0, 400)).norm(), 0.5));
    spec.measured.push_back(distance("pump", "idler", way.norm(), 0.5));
    spec.measured.push_back(
        bearing("pump", "idler", std::atan2(way.x(), way.y()) / kRadPerDeg, 0.2));
    spec.pulleys[2].near_mm = hint;
    spec.pulleys[3].near_mm = hint + way;
    return places_of(spec);
  };
  for (const Vec2& off : {Vec2(0, 0), Vec2(9, -8), Vec2(-20, 15)}) {
    check_at(placed(pump + off), "pump", pump);
    check_at(placed(pump + off), "idler", idler);
    check_at(placed(mirrored + off), "pump", mirrored);
    check_at(placed(mirrored + off), "idler", mirrored + way);
  }
  // In the middle no hint tells.
  const MeasuredPlaces open = placed((pump + mirrored) / 2.0 + Vec2(3, 2));
  CHECK(trouble_of(open) == PlaceTrouble::mirrored);
}

TEST_CASE(
    "Three that contradict each other leave a centre known as badly as they miss each other") {
  DriveSpec spec = unplaced({"crank", "cam"});
  spec.measured = {distance("crank", "cam", 420, 0.5), distance("crank", "cam", 400, 0.5),
                   distance("crank", "cam", 400, 0.5), bearing("crank", "cam", 0, 1.0)};
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.placed());
  CHECK(places.suspect.seen == 0);
  // Off by 40/3, -20/3 and -20/3: a sigma of 20 over root 3, of their mean 20/3; 2.4477 of it in
  // two dimensions.
  CHECK_THAT(point(places, "cam").ellipse->longer_mm, WithinAbs(2.4477 * 20.0 / 3.0, 1e-3));
}

TEST_CASE("What turns as a whole is best tied to what does not turn with it") {
  // Pump and idler hold each other at their distances from the crank; the cam stands fast. The
  // idler, farthest out, moves straight up: to the cam it goes by 4/5 of that, to the pump by none.
  DriveSpec spec = unplaced({"crank", "cam", "pump", "idler"});
  spec.pulleys[1].at_mm = Vec2(0, 400);
  spec.pulleys[2].near_mm = Vec2(250, -100);
  spec.pulleys[3].near_mm = Vec2(300, 0);
  spec.measured = {distance("crank", "pump", std::hypot(250, 100), 0.5),
                   distance("crank", "idler", 300, 0.5),
                   distance("pump", "idler", std::hypot(50, 100), 0.5)};
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.faults.size() == 1);
  CHECK(places.faults[0].trouble == PlaceTrouble::too_few);
  CHECK(places.faults[0].about == "idler");
  CHECK(places.faults[0].best == "cam");
}

TEST_CASE("Without a direction the farthest centre is the one to look at") {
  DriveSpec spec = unplaced({"crank", "near", "far", "middle"});
  spec.measured = {distance("crank", "near", 150, 0.5), distance("crank", "far", 400, 0.5),
                   distance("middle", "crank", 300, 0.5), distance("near", "far", 300, 0.5)};
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.faults.size() == 1);
  CHECK(places.faults[0].trouble == PlaceTrouble::unturned);
  CHECK(places.faults[0].about == "far");
}

TEST_CASE("What is told of centres that cannot be placed names them and their numbers") {
  PlaceFault fault{PlaceTrouble::too_few, "pump"};
  CHECK_THAT(told(fault).measure, ContainsSubstring("two other centres"));
  CHECK(told(fault).key == "measured");
  fault.others = {"crank"};
  CHECK_THAT(told(fault).measure, ContainsSubstring("one more centre than the crank"));
  fault.best = "cam";
  CHECK_THAT(told(fault).measure,
             ContainsSubstring("from the pump to the cam, which ties it best"));
  fault = {PlaceTrouble::mirrored, "pump", {"crank", "cam", "idler"}};
  fault.at_mm = Vec2(10, 20);
  fault.other_mm = Vec2(-10, 20);
  CHECK_THAT(told(fault).measure,
             ContainsSubstring(" from the crank, the cam and the idler it may be at [10.0, 20.0] "
                               "or at [-10.0, 20.0]"));
  CHECK(told(fault).key == "pulley.pump.near_mm");
  fault.others = {"crank", "cam"};
  CHECK_THAT(told(fault).measure, ContainsSubstring(" from the crank and the cam it may"));
  fault.others = {};
  CHECK_THAT(told(fault).measure, ContainsSubstring("by what is measured it may"));
  fault = {PlaceTrouble::wrong_side, "pump", {"crank", "cam"}};
  fault.other_mm = Vec2(-10, 20);
  CHECK_THAT(told(fault).measure,
             ContainsSubstring("line from the crank to the cam the pump stands: near_mm says about "
                               "[-10.0, 20.0]"));
  fault = {PlaceTrouble::no_belt, "belt of 106 teeth", {}};
  CHECK_THAT(told(fault).measure, ContainsSubstring("where its tensioner stood"));
  fault.trouble = PlaceTrouble::belt_sizes;
  CHECK_THAT(told(fault).measure, ContainsSubstring("measures nothing"));
  fault = {PlaceTrouble::no_triangle, "pump", {"crank", "cam"}};
  fault.short_mm = 10.04;
  CHECK_THAT(told(fault).measure, ContainsSubstring("by 10.0 mm at least"));
}

TEST_CASE("A belt that fits is as long as the way round where its tensioner stood") {
  struct Stood {
    const char* as;
    double reading;
  };
  for (const Stood& stood :
       {Stood{"roller_deg", 10.0}, Stood{"pointer_deg", 10.0}, Stood{"roller_mm", 6.0}}) {
    const std::string as = stood.as;
    DriveSpec spec = drives::worked_example();
    TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
    MeasuredSpec belt;
    belt.belt_teeth = 111;
    belt.give_or_take_deg = 2.0;
    if (as == "roller_deg") belt.roller_deg = 10.0;
    if (as == "pointer_deg") {
      tensioner.pointer_deg = 90.0;  // at 346: 24 on from there is 10
      belt.pointer_deg = 114.0;
    }
    if (as == "roller_mm") {
      tensioner = {};
      tensioner.path = SlideSpec{Vec2(-46, 168), Vec2(-35, 174)};
      belt.give_or_take_deg.reset();
      belt.give_or_take_mm = 2.0;
      belt.roller_mm = 6.0;
    }
    spec.belt.length_tolerance_mm = 0.3;
    const Fitted fitted = drives::fitted(spec);
    const double q = fitted.drive().tensioner->path.from_reading(stood.reading);
    const LengthAt there = fitted.curve()->at(q).value();
    spec.measured = {belt};
    const MeasuredPlaces places = places_of(spec);
    CAPTURE(as);
    REQUIRE(places.placed());
    REQUIRE(places.rows.size() == 1);
    const MeasuredRow& row = places.rows[0];
    CHECK(row.kind == MeasuredKind::belt);
    CHECK(row.from == "belt of 111 teeth");
    CHECK(row.to == "tensioner");
    CHECK(row.number == 1);
    CHECK_THAT(row.measured, WithinAbs(111 * 9.525, 1e-9));
    CHECK_THAT(row.found, WithinAbs(there.length_mm, 1e-6));
    CHECK_THAT(row.off, WithinAbs(111 * 9.525 - there.length_mm, 1e-6));
    const double rate = fitted.drive().tensioner->path.rate_per_reading(there.rate);
    CHECK_THAT(row.give_or_take.value, WithinRel(std::hypot(2.0 * rate, 0.3), 1e-6));
  }
}

TEST_CASE(
    "Where the tensioner stood is usually seen to 3 deg, and a belt is as long as its standard") {
  DriveSpec spec = drives::worked_example();
  MeasuredSpec belt;
  belt.belt_teeth = 111;
  belt.roller_deg = 10.0;
  spec.measured = {belt};
  const Fitted fitted = drives::fitted(spec);
  const TensionerPath& path = fitted.drive().tensioner->path;
  const double rate = path.rate_per_reading(fitted.curve()->at(path.from_reading(10.0))->rate);
  // 0.76 mm of a belt of 1057 (ISO 5296, from memory).
  CHECK_THAT(places_of(spec).rows.at(0).give_or_take.value,
             WithinRel(std::hypot(3.0 * rate, 0.76), 1e-6));
}

TEST_CASE("A belt measures nothing without sizes, or where no way goes round") {
  MeasuredSpec belt;
  belt.belt_teeth = 111;
  belt.roller_deg = 10.0;
  DriveSpec spec = drives::worked_example();
  spec.measured = {belt};
  drives::named(spec, "water pump").teeth.reset();
  CHECK(trouble_of(places_of(spec)) == PlaceTrouble::belt_sizes);
  spec = drives::worked_example();
  spec.measured = {belt};
  std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path).pivot_mm = Vec2(-5, 20);
  CHECK(trouble_of(places_of(spec)) == PlaceTrouble::no_belt);
  spec = drives::worked_example();
  belt.roller_deg.reset();
  belt.pointer_deg = 100.0;
  spec.measured = {belt};
  CHECK(trouble_of(places_of(spec)) == PlaceTrouble::belt_sizes);
}
