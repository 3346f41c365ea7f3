// Centres from measurements. Evidence: right triangles with sides 3, 4 and 5 (Euclid, Elements I
// 47), and figures drawn the other way: places are chosen, distances taken from them by Pythagoras.
#include <cmath>
#include <random>

#include "drive/triangle.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/validate.hpp"

using namespace twoturn;
using namespace triangle_of_three;

namespace {

const PlaceFault& only_fault(const MeasuredPlaces& places, PlaceTrouble trouble) {
  REQUIRE(places.faults.size() == 1);
  CHECK(places.faults[0].trouble == trouble);
  return places.faults[0];
}

}  // namespace

TEST_CASE("three centres of a 3-4-5 triangle stand where Euclid has them") {
  const DriveSpec spec = triangle();
  REQUIRE(validate(spec).empty());
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.placed());
  check_at(places, "crank", 0, 0);
  check_at(places, "cam", 0, 400);
  check_at(places, "pump", 300, 0);
  CHECK(places.found.spare == 0);
  CHECK(point(places, "crank").exact);
  // The bearing by eye turns all of it by 3 deg, which no length feels. Half an mm is left along
  // the distance; in two dimensions 2.448 of 1.960.
  CHECK_THAT(places.turn_deg, WithinAbs(3.0, 1e-9));
  const Ellipse95 cam = point(places, "cam").ellipse.value();
  CHECK_THAT(cam.longer_mm, WithinAbs(0.5 * 2.44775 / 1.95996, 1e-3));
  CHECK_THAT(cam.shorter_mm, WithinAbs(0.0, 1e-6));
}

TEST_CASE("the hint alone says on which side") {
  DriveSpec spec = triangle();
  spec.pulleys[2].near_mm = Vec2(-250, 30);
  check_at(places_of(spec), "pump", -300, 0);

  spec.pulleys[2].near_mm.reset();
  const MeasuredPlaces open = places_of(spec);
  const PlaceFault& fault = only_fault(open, PlaceTrouble::mirrored);
  CHECK(fault.about == "pump");
  CHECK_THAT(std::abs(fault.at_mm.x()), WithinAbs(300, 1e-6));
  CHECK_THAT(fault.at_mm.x() + fault.other_mm.x(), WithinAbs(0, 1e-6));
  CHECK_THAT(told(fault).key, ContainsSubstring("pulley.pump.near_mm"));
  CHECK_THAT(told(fault).measure, ContainsSubstring("300.0, "));
  CHECK_FALSE(point(open, "pump").at_mm.has_value());
}

TEST_CASE("a third distance says on which side too") {
  DriveSpec spec = triangle();
  spec.pulleys[2].near_mm.reset();
  spec.pulleys.push_back(pulley("idler", Role::idler));
  spec.pulleys.back().at_mm = Vec2(120, 160);  // 200 from the crank
  // From (300, 0): 180 across, 160 up. From (-300, 0): 420 across.
  spec.measured.push_back(distance("idler", "pump", std::hypot(180, 160)));
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.placed());
  check_at(places, "pump", 300, 0);
}

TEST_CASE("the order in which pulleys are listed decides nothing") {
  // Crank to cam only by tape; the pump, without a hint or short of the line between them, stands
  // only by the idler, which stands by its own two distances.
  const auto listed = [](std::initializer_list<const char*> names, double base, double pump,
                         double idler) {
    DriveSpec spec;
    BeltSpec belt;
    belt.section = "ZA";
    spec.belt = belt;
    for (const char* name : names) {
      spec.pulleys.push_back(pulley(name, Role::idler));
      if (name == std::string_view("idler")) spec.pulleys.back().near_mm = Vec2(100, 100);
    }
    spec.pulleys.front().role = Role::crankshaft;
    const double side = std::hypot(100.0, 100.0);
    spec.measured = {distance("crank", "far", base),   bearing("crank", "far", 0),
                     distance("crank", "pump", pump),  distance("far", "pump", pump),
                     distance("crank", "idler", side), distance("far", "idler", side),
                     distance("pump", "idler", idler)};
    spec.measured[0].give_or_take_mm = 2.0;
    spec.measured[2].give_or_take_mm = spec.measured[3].give_or_take_mm = 0.1;
    return places_of(spec);
  };
  for (const auto& [base, pump, idler] :
       {std::tuple(200.0, std::hypot(60.0, 100.0), 40.0), std::tuple(201.0, 100.1, 95.5)}) {
    const MeasuredPlaces one = listed({"crank", "pump", "idler", "far"}, base, pump, idler);
    const MeasuredPlaces other = listed({"crank", "idler", "pump", "far"}, base, pump, idler);
    REQUIRE(one.placed());
    REQUIRE(other.placed());
    const Vec2 at = point(other, "pump").at_mm.value();
    check_at(one, "pump", at.x(), at.y());
    CHECK(at.x() > 0.0);  // on the idler's side
  }
}

TEST_CASE("over round parts half of both diameters is in the way") {
  DriveSpec spec = triangle();
  MeasuredSpec& over = spec.measured[0];
  over.across = Between::outside;
  over.from_diameter_mm = 30;
  over.to_diameter_mm = 50;
  over.distance_mm = 440;
  MeasuredSpec& between = spec.measured[2];
  between.across = Between::inside;
  between.from_diameter_mm = 30;
  between.to_diameter_mm = 12;
  between.distance_mm = 279;
  REQUIRE(validate(spec).empty());
  const MeasuredPlaces places = places_of(spec);
  check_at(places, "cam", 0, 400);
  check_at(places, "pump", 300, 0);
  // Calliper 0.1, and half of 0.1 of each diameter.
  CHECK_THAT(places.rows[0].give_or_take.value, WithinAbs(std::sqrt(0.015), 1e-12));
}

TEST_CASE("what ties nothing down is named, with what would") {
  DriveSpec spec = triangle();
  SECTION("one distance is not enough") {
    spec.measured.pop_back();
    spec.pulleys[2].near_mm.reset();
    const MeasuredPlaces places = places_of(spec);
    const PlaceFault& fault = only_fault(places, PlaceTrouble::too_few);
    CHECK(fault.about == "pump");
    CHECK(fault.others == std::vector<std::string>{"crank"});
  }
  SECTION("nor is it with a hint, which measures nothing") {
    spec.measured.pop_back();
    const MeasuredPlaces places = places_of(spec);
    const PlaceFault& fault = only_fault(places, PlaceTrouble::too_few);
    CHECK(fault.about == "pump");
    CHECK(fault.best == "cam");  // the crank's distance is known, and only holds it to a circle
  }
  SECTION("without a direction all of it can turn") {
    spec.measured.erase(spec.measured.begin() + 1);
    const MeasuredPlaces places = places_of(spec);
    const PlaceFault& fault = only_fault(places, PlaceTrouble::unturned);
    CHECK(fault.about == "cam");
    CHECK_THAT(told(fault).measure, ContainsSubstring("bearing_deg"));
  }
  SECTION("two distances too short for the third side") {
    spec.measured[3].distance_mm = 90;
    const MeasuredPlaces places = places_of(spec);
    const PlaceFault& fault = only_fault(places, PlaceTrouble::no_triangle);
    CHECK(fault.about == "pump");
    CHECK_THAT(fault.short_mm, WithinAbs(10, 1e-6));  // 400 less 300 less 90
  }
}

TEST_CASE("a hint on the other side of what the measurements say is told") {
  DriveSpec spec = triangle();
  spec.pulleys.push_back(pulley("idler", Role::idler));
  spec.pulleys.back().at_mm = Vec2(120, 160);
  spec.measured.push_back(distance("idler", "pump", std::hypot(180, 160)));
  spec.pulleys[2].near_mm = Vec2(-250, 30);
  const MeasuredPlaces places = places_of(spec);
  const PlaceFault& fault = only_fault(places, PlaceTrouble::wrong_side);
  CHECK(fault.about == "pump");
  CHECK_THAT(told(fault).measure, ContainsSubstring("[-250.0, 30.0]"));
}

TEST_CASE("of a swinging tensioner the pivot is placed") {
  DriveSpec spec = triangle();
  PulleySpec roller;
  roller.name = "roller";
  roller.diameter_mm = 60;
  roller.face = Face::back;
  SwingSpec swing;
  swing.arm_mm = 6;
  roller.tensioner = TensionerSpec{swing, {}, {}, {}, {}, {}};
  roller.near_mm = Vec2(-100, 200);
  spec.pulleys.push_back(roller);
  spec.measured.push_back(distance("crank", "roller", 250));  // (-150, 200)
  spec.measured.push_back(distance("cam", "roller", 250));
  const DriveSpec there = with_places(spec);
  REQUIRE(there.places);
  REQUIRE(there.places->placed());
  CHECK(point(*there.places, "roller").pivot);
  const Vec2 pivot = std::get<SwingSpec>(there.pulleys[3].tensioner->path).pivot_mm.value();
  CHECK_THAT(pivot.x(), WithinAbs(-150, 1e-6));
  CHECK_THAT(pivot.y(), WithinAbs(200, 1e-6));
  CHECK_FALSE(there.pulleys[3].at_mm.has_value());
  CHECK_THAT(there.pulleys[2].at_mm.value().x(), WithinAbs(300, 1e-6));
}

TEST_CASE("among enough distances a wrong one is found, and told from the others") {
  const std::vector<std::pair<std::string, Vec2>> truth{{"crank", {0, 0}},
                                                        {"cam", {5, 390}},
                                                        {"pump", {150, 120}},
                                                        {"idler", {-110, 210}},
                                                        {"second", {90, 300}}};
  DriveSpec spec;
  for (const auto& [name, place] : truth) {
    spec.pulleys.push_back(pulley(name, name == "crank" ? Role::crankshaft : Role::idler));
    spec.pulleys.back().near_mm = place + Vec2(12, -9);
  }
  spec.pulleys[0].near_mm.reset();
  for (std::size_t i = 0; i < truth.size(); ++i) {
    for (std::size_t j = i + 1; j < truth.size(); ++j) {
      spec.measured.push_back(
          distance(truth[i].first, truth[j].first, (truth[i].second - truth[j].second).norm()));
    }
  }
  spec.measured.push_back(bearing("crank", "cam", std::atan2(5, 390) / kRadPerDeg));
  const MeasuredPlaces right = places_of(spec);
  REQUIRE(right.placed());
  CHECK(right.suspect.seen == -1);
  CHECK(right.found.spare == 3);  // ten distances and a bearing for four places
  for (const auto& [name, place] : truth) check_at(right, name, place.x(), place.y());

  for (std::size_t wrong = 0; wrong < 10; ++wrong) {
    DriveSpec misread = spec;
    *misread.measured[wrong].distance_mm += 10;  // a cm misread
    const MeasuredPlaces places = places_of(misread);
    REQUIRE(places.placed());
    INFO(misread.measured[wrong].from << " to " << misread.measured[wrong].to);
    CHECK(places.suspect.seen == static_cast<int>(wrong));
    CHECK(places.suspect.told);
  }
}

// Places thrown, distances and bearings taken from them, some of each: whatever is placed stands
// where it was thrown, and what is not is told.
TEST_CASE("exact measurements put random centres where they are, or say what they lack") {
  std::mt19937 random(20261129);
  const auto share = [&] { return std::uniform_real_distribution<double>(0.0, 1.0)(random); };
  int placed = 0;
  int told_of = 0;
  for (int k = 0; k < 1000; ++k) {
    DriveSpec spec;
    std::vector<Vec2> truth;
    const int count = 2 + static_cast<int>(5 * share());
    for (int i = 0; i < count; ++i) {
      const double right = 600 * share() - 300;
      const double up = 600 * share() - 100;
      truth.emplace_back(i == 0 ? Vec2(0, 0) : Vec2(right, up));
      spec.pulleys.push_back(
          pulley("p" + std::to_string(i), i == 0 ? Role::crankshaft : Role::idler));
      if (i > 0 && share() < 0.7) {
        const double off_right = 8 * share() - 4;
        const double off_up = 8 * share() - 4;
        spec.pulleys.back().near_mm = truth.back() + Vec2(off_right, off_up);
      }
    }
    const double density = share();
    for (int i = 0; i < count; ++i) {
      for (int j = i + 1; j < count; ++j) {
        const Vec2 arm = truth[static_cast<std::size_t>(j)] - truth[static_cast<std::size_t>(i)];
        const std::string from = spec.pulleys[static_cast<std::size_t>(i)].name;
        const std::string to = spec.pulleys[static_cast<std::size_t>(j)].name;
        if (share() < density) spec.measured.push_back(distance(from, to, arm.norm()));
        if (share() < 0.3 * density) {
          const double clock = std::atan2(arm.x(), arm.y()) / kRadPerDeg;
          spec.measured.push_back(bearing(from, to, clock));
        }
      }
    }
    const MeasuredPlaces places = places_of(spec);
    if (!places.placed()) {
      ++told_of;
      for (const PlaceFault& fault : places.faults) CHECK_FALSE(told(fault).measure.empty());
      continue;
    }
    ++placed;
    INFO("drive " << k);
    for (std::size_t i = 0; i < truth.size(); ++i) {
      REQUIRE(places.points[i].at_mm.has_value());
      CHECK_THAT((*places.points[i].at_mm - truth[i]).norm(), WithinAbs(0.0, 1e-4));
    }
  }
  CHECK(placed > 200);
  CHECK(told_of > 200);
}

// The worked drive (support/worked_values.hpp) with its places thrown by what is said of them, and
// the old belt of 111 teeth with the roller where it truly stands for that.
TEST_CASE("a belt that is known to fit makes the places better, and a wrong one is found out") {
  const DriveSpec truth = drives::worked_example();
  const Fitted exact = drives::fitted(truth);
  const auto stands = [](const Fitted& fitted) {
    const double length = fitted.drive().belt.length_mm(111);
    const std::vector<Setting> settings = fitted.curve()->settings_for(length);
    return meant_setting(settings, *fitted.drive().tensioner)->reading.value;
  };
  const double true_deg = stands(exact);
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  double without = 0.0;
  double with = 0.0;
  int told_wrong = 0;
  constexpr int kThrows = 100;
  constexpr double kGive = 0.3;
  for (int k = 0; k < kThrows; ++k) {
    DriveSpec seen = truth;
    std::vector<GivenValue> values;
    for (PulleySpec& pulley : seen.pulleys) {
      if (pulley.role == Role::crankshaft) continue;
      const bool pivot = pulley.tensioner.has_value();
      Vec2& place = pivot ? *std::get<SwingSpec>(pulley.tensioner->path).pivot_mm : *pulley.at_mm;
      const double right = normal(random);
      const double up = normal(random);
      place += sigma_of(kGive) * Vec2(right, up);
      for (const char* end : {"[0]", "[1]"}) {
        values.push_back(drives::measured(
            "pulley." + pulley.name + (pivot ? ".tensioner.pivot_mm" : ".at_mm") + end, kGive));
      }
    }
    seen.given = values;
    without += std::pow(stands(drives::fitted(seen)) - true_deg, 2);
    MeasuredSpec belt;
    belt.belt_teeth = 111;
    belt.roller_deg = true_deg;
    belt.give_or_take_deg = 1.0;
    seen.measured = {belt};
    REQUIRE(validate(seen).empty());
    const DriveSpec there = with_places(seen);
    REQUIRE(there.places->placed());
    with += std::pow(stands(drives::fitted(there)) - true_deg, 2);
    seen.measured[0].belt_teeth = 112;
    const MeasuredPlaces wrong = places_of(seen);
    REQUIRE(wrong.rows.back().kind == MeasuredKind::belt);
    CHECK(wrong.rows.back().off > 5.0);
    if (wrong.suspect.seen >= 0) ++told_wrong;
  }
  CHECK(std::sqrt(with / without) < 0.8);
  CHECK(told_wrong == kThrows);
}

TEST_CASE("measurements that contradict each other leave the places as badly known as that") {
  DriveSpec spec = triangle();
  spec.pulleys.push_back(pulley("idler", Role::idler));
  spec.pulleys.back().at_mm = Vec2(120, 160);
  spec.measured.push_back(distance("idler", "pump", std::hypot(180, 160)));
  const double known = point(places_of(spec), "pump").ellipse->longer_mm;
  *spec.measured.back().distance_mm += 20;
  const MeasuredPlaces places = places_of(spec);
  REQUIRE(places.placed());
  REQUIRE(places.suspect.seen >= 0);
  CHECK_FALSE(places.suspect.told);  // one to spare
  CHECK(point(places, "pump").ellipse->longer_mm > 3.0 * known);
}

TEST_CASE("a belt that measures nothing is told") {
  DriveSpec spec = triangle();
  MeasuredSpec belt;
  belt.belt_teeth = 100;
  belt.roller_deg = 90;
  spec.measured.push_back(belt);
  const std::vector<Problem> problems = validate(spec);
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0].rule, ContainsSubstring("only where a tensioner shows it"));
  spec.measured.back().belt_teeth.reset();
  REQUIRE(validate(spec).size() == 1);
  CHECK_THAT(validate(spec)[0].rule, ContainsSubstring("only with the belt"));
}

TEST_CASE("the distance advised next does what is said of it") {
  DriveSpec spec = triangle();
  spec.pulleys.push_back(pulley("idler", Role::idler));
  spec.pulleys.back().near_mm = Vec2(100, 390);
  spec.measured[1].give_or_take_deg = 0.01;
  // Long arms from nearly one direction: badly tied across.
  spec.measured.push_back(distance("crank", "idler", std::hypot(100, 390)));
  spec.measured.push_back(distance("pump", "idler", std::hypot(200, 390)));
  const MeasuredPlaces before = places_of(spec);
  REQUIRE(before.placed());
  REQUIRE(before.next.has_value());
  const NextMeasurement next = *before.next;
  const double apart = (*point(before, next.from).at_mm - *point(before, next.to).at_mm).norm();
  spec.measured.push_back(distance(next.from, next.to, apart));
  const MeasuredPlaces after = places_of(spec);
  double worst = 0.0;
  for (const MeasuredPoint& point : after.points) {
    if (point.ellipse) worst = std::max(worst, point.ellipse->longer_mm);
  }
  CHECK_THAT(worst, WithinAbs(next.then_mm, 1e-3));
  CHECK(next.then_mm < next.now_mm);
}

TEST_CASE("what cannot be measured is refused") {
  DriveSpec spec = triangle();
  const auto rule_of = [&] {
    const std::vector<Problem> problems = validate(spec);
    REQUIRE(problems.size() == 1);
    return problems[0].key + ": " + problems[0].rule;
  };
  MeasuredSpec& first = spec.measured[0];
  SECTION("no such pulley") {
    first.to = "cm";
    CHECK_THAT(rule_of(), ContainsSubstring("measured.1.to: no pulley has this name"));
  }
  SECTION("itself") {
    first.to = "crank";
    CHECK_THAT(rule_of(), ContainsSubstring("name two pulleys"));
  }
  SECTION("nothing") {
    first.distance_mm.reset();
    CHECK_THAT(rule_of(), ContainsSubstring("bearing_deg"));
  }
  SECTION("over round parts without their diameters") {
    first.across = Between::outside;
    first.from_diameter_mm = 20;
    CHECK_THAT(rule_of(), ContainsSubstring("measured.1.to_diameter_mm"));
  }
  SECTION("a diameter between centres") {
    first.to_diameter_mm = 20;
    CHECK_THAT(rule_of(), ContainsSubstring("across"));
  }
  SECTION("no give or take at all") {
    first.give_or_take_mm = 0.0;
    CHECK_THAT(rule_of(), ContainsSubstring("give_or_take_mm: must be more than 0"));
  }
  SECTION("over the outside less than the parts themselves") {
    first.across = Between::outside;
    first.from_diameter_mm = 500;
    first.to_diameter_mm = 500;
    CHECK_THAT(rule_of(), ContainsSubstring("500 mm"));
  }
}
