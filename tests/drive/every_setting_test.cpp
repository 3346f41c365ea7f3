// Roots are found wherever there are some and nowhere else: settings of a tensioner whose travel
// has gaps without a tangent, and moves of a pulley past which a wrap jumps by a whole turn.
#include <algorithm>
#include <cmath>
#include <random>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/oracle_path.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

using namespace twoturn;

namespace {

// The length of a closed path by the independent computation; wheels as the drive places them.
double oracle_length_mm(const std::vector<Wheel>& wheels) {
  std::vector<oracle::Circle> circles;
  for (const Wheel& wheel : wheels) {
    circles.push_back({wheel.centre_mm.x(), wheel.centre_mm.y(), wheel.radius_mm, wheel.sense});
  }
  return static_cast<double>(oracle::closed_path(circles).length);
}

bool runs(const Drive& drive, const std::vector<Wheel>& wheels) {
  TangentPath path;
  return solve_path(wheels, path).solved() && can_run(wheels, path, drive.around);
}

}  // namespace

TEST_CASE("Wherever a belt can run, its length's settings have that place") {
  std::mt19937 random(20);
  const auto between = [&random](double least, double most) {
    return std::uniform_real_distribution<double>(least, most)(random);
  };
  int asked = 0;
  int gaps = 0;
  for (int k = 0; k < 60; ++k) {
    // A large roller close to two pulleys on a long arm: stretches without a tangent, some of them
    // shorter than a degree and a half.
    DriveSpec spec;
    spec.crank_turns = Turn::clockwise;
    BeltSpec belt;
    belt.section = "H8M";
    spec.belt = belt;
    spec.pulleys = {drives::toothed("crank", 24, 0, 0),
                    drives::back_roller("tensioner", between(40, 90), 0, 0),
                    drives::toothed("cam", 48, between(-30, 30), between(110, 200)),
                    drives::toothed("pump", 22, between(60, 90), between(40, 110))};
    drives::named(spec, "tensioner").at_mm.reset();
    drives::named(spec, "tensioner").tensioner = drives::swing(
        Vec2(between(-80, -40), between(50, 100)), between(6, 40), 0.0, 359.0, Turn::clockwise);
    const FittedResult built = fitted_for(spec, Fit::by_the_book);
    REQUIRE(built.fitted);
    const Drive& drive = built.fitted->drive();
    const TensionerCurve& curve = *built.fitted->curve();
    const double travel = drive.tensioner->path.travel_length();
    constexpr int kPlaces = 700;
    bool last = false;
    for (int i = 0; i < kPlaces; ++i) {
      const double q = travel * (i + 0.5) / kPlaces;
      const std::vector<Wheel> wheels = placed_wheels(drive, q);
      const bool can = runs(drive, wheels);
      gaps += last && !can ? 1 : 0;
      last = can;
      if (!can) continue;
      ++asked;
      const std::vector<Setting> settings = curve.settings_for(path_length(wheels).length_mm);
      // Where the length hardly changes along the travel, neither does it tell the place.
      constexpr double kSamePlaceDeg = 1e-3;
      CAPTURE(k, i, q);
      const bool there = std::any_of(settings.begin(), settings.end(), [&](const Setting& setting) {
        return drive.tensioner->path.apart(setting.q, q) < kSamePlaceDeg;
      });
      CHECK(there);
    }
  }
  CHECK(asked > 10000);
  CHECK(gaps > 20);
}

TEST_CASE("A pulley's move meets the count it is for, by an independent length") {
  // An idler presses 0 to 6 mm on the back: moved on, the belt leaves it, and its wrap would go
  // from nothing to a whole turn.
  int moves = 0;
  int none = 0;
  for (double presses = 0.5; presses <= 6.0; presses += 0.5) {
    for (int centre = 350; centre <= 380; centre += 5) {
      DriveSpec spec = drives::two_pulleys(9.525, 20, 40, centre, 106);
      spec.belt.pitch_mm.reset();
      spec.belt.section = "ZA";
      // The straight run on the left lies between the two rims: half way up, half way between.
      const double rim = 9.525 * 30.0 / 2.0 / kPi;
      spec.pulleys.insert(spec.pulleys.begin() + 1,
                          drives::back_roller("idler", 60.0, -rim - 30.0 + presses, centre / 2.0));
      const Drive drive = drives::built(spec);
      if (!runs(drive, placed_wheels(drive, 0.0))) continue;
      const double here = path_length(placed_wheels(drive, 0.0)).length_mm;
      for (int teeth = 104; teeth <= 113; ++teeth) {
        const double wanted = drive.belt.length_mm(teeth);
        for (const int pulley : {1, 2}) {
          const Vec2 direction = pulley == 1 ? Vec2(1, 0) : Vec2(0, 1);
          const auto move = move_for_length(drive, pulley, direction, wanted);
          if (!move) {
            ++none;
            continue;
          }
          ++moves;
          CAPTURE(presses, centre, teeth, pulley, *move, here);
          std::vector<Wheel> wheels = placed_wheels(drive, 0.0);
          wheels[static_cast<std::size_t>(pulley)].centre_mm += *move * direction;
          CHECK(runs(drive, wheels));
          CHECK_THAT(oracle_length_mm(wheels), WithinAbs(wanted, 1e-6));
        }
      }
    }
  }
  CHECK(moves > 500);
  CHECK(none > 20);
}
