// Ways along the belt and the teeth on them. Evidence: two pulleys in closed form, differences of a
// way measured along its own tangents, and drives counted by hand.
#include "twoturn/timing/way.hpp"

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "timing/turned.hpp"

using namespace twoturn;
using turned_over::belt_on;
using turned_over::six;

namespace {

// Crank 22 and cam 44, 8 mm, one above the other, clockwise: the right-hand run is taut.
constexpr double kApartMm = 300.0;
const double kMoreMm = 22 * 8.0 / (2.0 * kPi);  // by which the cam's radius is the larger
const double kSpanMm = std::sqrt(kApartMm * kApartMm - kMoreMm * kMoreMm);

DriveSpec two(double crank_deg, double cam_deg) {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 44, kApartMm, 108);
  drives::named(spec, "crank").mark_deg = crank_deg;
  drives::named(spec, "cam").mark_deg = cam_deg;
  return spec;
}

TeethBetween between(const DriveSpec& spec, int from, int to) {
  const Assembly assembly = belt_on(spec);
  const auto mark = [&](int pulley) {
    for (const Shaft& shaft : assembly.shafts) {
      if (shaft.pulley == pulley) return Angle::clock(shaft.marks.at(0).at_deg);
    }
    return Angle();
  };
  return teeth_between(assembly.fitted, assembly.fitted_path, from, mark(from), to, mark(to));
}

// A belt's way from a mark on wheel `from`, along travel, to a mark on wheel `to`: lines and arcs
// from tangents alone, the arcs counted from where each mark stood at first.
double way_mm(const std::vector<Wheel>& wheels, std::size_t from, double from_mark, std::size_t to,
              double to_mark) {
  struct Line {
    double along = 0.0;  // polar angle of travel
    double length = 0.0;
  };
  const auto line = [&](std::size_t i) {
    const Wheel& a = wheels[i];
    const Wheel& b = wheels[(i + 1) % wheels.size()];
    const Vec2 d = b.centre_mm - a.centre_mm;
    const double more = b.signed_radius_mm() - a.signed_radius_mm();
    // The line runs with wheel a on its left at distance +r where a turns anticlockwise.
    const double along = std::atan2(d.y(), d.x()) - std::asin(more / d.norm());
    return Line{along, std::sqrt(d.squaredNorm() - more * more)};
  };
  const auto turn = [](double angle) { return std::remainder(angle, 2.0 * kPi); };
  // Contact of a line that runs at `along`: the radius square to it.
  const auto contact = [](const Wheel& wheel, double along) {
    return along - wheel.sense * kPi / 2.0;
  };
  double sum = 0.0;
  for (std::size_t i = from; i != to; i = (i + 1) % wheels.size()) {
    const Wheel& wheel = wheels[i];
    const double out = contact(wheel, line(i).along);
    if (i == from) {
      sum += wheel.radius_mm * turn(wheel.sense * (out - from_mark));
    } else {
      const Line before = line((i + wheels.size() - 1) % wheels.size());
      double wrap = wheel.sense * (out - contact(wheel, before.along));
      wrap -= 2.0 * kPi * std::floor(wrap / (2.0 * kPi));
      sum += wheel.radius_mm * wrap;
    }
    sum += line(i).length;
  }
  const Line last = line((to + wheels.size() - 1) % wheels.size());
  return sum + wheels[to].radius_mm *
                   turn(wheels[to].sense * (to_mark - contact(wheels[to], last.along)));
}

double middle_of(const Assembly& assembly, std::size_t i) {
  const Wheel& wheel = assembly.fitted_path.wheels[i];
  const Angle half = assembly.fitted_path.path.wraps[i] / 2.0;
  return (entry_angle(wheel, assembly.fitted_path.path, static_cast<int>(i)) + wheel.sense * half)
      .radians();
}

}  // namespace

TEST_CASE("A way gains by each wheel that moves or grows as the same way measured again has it") {
  const Assembly assembly = belt_on(six());
  const std::vector<Wheel>& wheels = assembly.fitted_path.wheels;
  REQUIRE(wheels.size() == 6);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> by(-1.0, 1.0);
  const double crank_mark = middle_of(assembly, 0);
  constexpr double kStepMm = 1e-4;
  for (std::size_t pulley = 1; pulley < wheels.size(); ++pulley) {
    const double mark = middle_of(assembly, pulley);
    for (const Way way : {Way::with_travel, Way::against_travel}) {
      for (std::size_t moved = 0; moved < wheels.size(); ++moved) {
        const Vec2 by_mm(by(random), by(random));
        const double grows = by(random);
        const bool end = moved == 0 || moved == pulley;  // their pitch is the belt's
        const auto measured = [&](double steps) {
          std::vector<Wheel> other = wheels;
          other[moved].centre_mm += steps * by_mm;
          if (!end) other[moved].radius_mm += steps * grows;
          return way == Way::with_travel ? way_mm(other, 0, crank_mark, pulley, mark)
                                         : -way_mm(other, pulley, mark, 0, crank_mark);
        };
        const double slope = (measured(kStepMm) - measured(-kStepMm)) / (2.0 * kStepMm);
        const double gain = way_gain_mm(assembly.fitted_path, static_cast<int>(pulley), way,
                                        static_cast<int>(moved), by_mm, grows);
        CAPTURE(pulley, moved, way == Way::with_travel);
        CHECK_THAT(gain, WithinAbs(slope, 1e-7));
      }
    }
  }
}

TEST_CASE("From mark to mark is as long as the same way along its tangents") {
  const Assembly assembly = belt_on(six());
  const PlacedPath& placed = assembly.fitted_path;
  const double crank_mark = middle_of(assembly, 0) + 0.3;
  const OnArc crank = on_arc(placed, 0, Angle::radians(crank_mark));
  for (std::size_t i = 1; i < placed.wheels.size(); ++i) {
    const double mark = middle_of(assembly, i) - 0.1;
    const int pulley = static_cast<int>(i);
    const double from_entry = on_arc(placed, pulley, Angle::radians(mark)).from_entry_mm;
    const auto told = [&](Way way) {
      return crank_to_mark_mm(placed, pulley, way, crank.from_entry_mm, from_entry);
    };
    CAPTURE(i);
    CHECK_THAT(told(Way::with_travel),
               WithinAbs(way_mm(placed.wheels, 0, crank_mark, i, mark), 1e-9));
    CHECK_THAT(told(Way::against_travel),
               WithinAbs(-way_mm(placed.wheels, i, mark, 0, crank_mark), 1e-9));
  }
}

TEST_CASE("On fixed centres teeth are counted along the tight side, whichever mark comes first") {
  // Exact: cam at 3 o'clock, crank at 6: the straight run, beyond it the arc by which that tilts,
  // and of the crank a quarter turn less as much: 5.5 teeth less that.
  const double way = kSpanMm + kMoreMm * std::asin(kMoreMm / kApartMm);
  const double teeth = way / 8.0 + 5.5;
  const TeethBetween count = between(two(180.0, 90.0), 0, 1);
  CHECK(count.way == Way::against_travel);
  CHECK_THAT(count.teeth, WithinAbs(teeth, 1e-10));
  CHECK_THAT(count.other_way.value(), WithinAbs(108.0 - teeth, 1e-10));
  CHECK((count.from == 0 && count.to == 1));
  CHECK((count.from_in_mesh && count.to_in_mesh));
  const TeethBetween back = between(two(180.0, 90.0), 1, 0);
  CHECK(back.way == Way::with_travel);
  CHECK_THAT(back.teeth, WithinAbs(teeth, 1e-10));
  // A quarter turn of the cam further from the run: 11 teeth.
  CHECK_THAT(between(two(180.0, 0.0), 0, 1).teeth, WithinAbs(teeth + 11.0, 1e-10));
}

TEST_CASE("A mark that is out of mesh is counted from the last tooth in mesh") {
  // Exact: with both out what is left is the straight run.
  const TeethBetween none = between(two(0.0, 180.0), 0, 1);
  CHECK_FALSE(none.from_in_mesh);
  CHECK_FALSE(none.to_in_mesh);
  CHECK_FALSE(none.other_way.has_value());
  CHECK_THAT(none.teeth, WithinAbs(kSpanMm / 8.0, 1e-10));
  // The cam at 3 o'clock: beyond the run, the arc by which that tilts.
  const double tilt = std::asin(kMoreMm / kApartMm);
  const double cam_mm = 44 * 8.0 / (2.0 * kPi);
  const TeethBetween cam = between(two(0.0, 90.0), 0, 1);
  CHECK_FALSE(cam.from_in_mesh);
  CHECK(cam.to_in_mesh);
  CHECK_FALSE(cam.other_way.has_value());
  CHECK_THAT(cam.teeth, WithinAbs((kSpanMm + cam_mm * tilt) / 8.0, 1e-10));
  // And the crank at 6 o'clock: less than a quarter turn by the tilt.
  const double crank_mm = 22 * 8.0 / (2.0 * kPi);
  const TeethBetween crank = between(two(180.0, 180.0), 0, 1);
  CHECK(crank.from_in_mesh);
  CHECK_FALSE(crank.to_in_mesh);
  CHECK_THAT(crank.teeth, WithinAbs((kSpanMm + crank_mm * (kPi / 2.0 - tilt)) / 8.0, 1e-10));
  const TeethBetween with = between(two(180.0, 180.0), 1, 0);
  CHECK_FALSE(with.from_in_mesh);
  CHECK(with.to_in_mesh);
  CHECK_THAT(with.teeth, WithinAbs(crank.teeth, 1e-10));
}

TEST_CASE("With a tensioner the way is the one that does not hold it, from any pulley to any") {
  // By hand: crank, tensioner, cam, idler, water pump, low pump, crank.
  const Assembly assembly = belt_on(six());
  const auto way = [&](int from, int to) {
    return teeth_between(assembly.fitted, assembly.fitted_path, from, Angle(), to, Angle()).way;
  };
  CHECK(way(0, 2) == Way::against_travel);
  CHECK(way(0, 5) == Way::against_travel);
  CHECK(way(2, 4) == Way::with_travel);
  CHECK(way(2, 0) == Way::with_travel);
  CHECK(way(4, 5) == Way::with_travel);
  CHECK(way(4, 2) == Way::against_travel);
  CHECK(way(5, 0) == Way::with_travel);
  for (const int pulley : {1, 2, 3, 4, 5}) {
    CHECK(reference_way(assembly.fitted, pulley) == Way::against_travel);
  }
  // The crank the other way round: the tensioner comes last, and what comes before it is reached
  // with travel.
  DriveSpec other = six();
  other.crank_turns = Turn::anticlockwise;
  const Assembly turned = belt_on(other);
  REQUIRE(turned.fitted.pulleys[5].name == "tensioner");
  for (const int pulley : {1, 2, 3, 4}) {
    CHECK(reference_way(turned.fitted, pulley) == Way::with_travel);
  }
  CHECK(reference_way(turned.fitted, 5) == Way::against_travel);
  CHECK(reference_way(belt_on(two(90, 90)).fitted, 1) == Way::against_travel);
  const auto other_way = [&](int from, int to) {
    return teeth_between(turned.fitted, turned.fitted_path, from, Angle(), to, Angle()).way;
  };
  CHECK(other_way(0, 2) == Way::with_travel);
  CHECK(other_way(2, 0) == Way::against_travel);
}

TEST_CASE("Teeth can be counted where both marks are in mesh and the count is nearly whole") {
  TeethBetween count;
  count.teeth = 54.0;
  CHECK(count.countable());
  for (const double off : {0.049, -0.049}) {
    count.teeth = 54.0 + off;
    CHECK(count.countable());
  }
  for (const double off : {0.051, -0.051, 0.5}) {
    count.teeth = 54.0 + off;
    CHECK_FALSE(count.countable());
  }
  count.teeth = 0.05;  // a twentieth is near enough
  CHECK(count.countable());
  count.teeth = 54.0;
  count.from_in_mesh = false;
  CHECK_FALSE(count.countable());
  count.to_in_mesh = false;
  CHECK_FALSE(count.countable());
  count.from_in_mesh = true;
  CHECK_FALSE(count.countable());
}
