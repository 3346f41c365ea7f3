// The path against an oracle that shares nothing with it (support/oracle_path.hpp).
#include <iostream>

#include "geometry/random_drives.hpp"
#include "support/oracle_path.hpp"
#include "support/paths.hpp"

namespace twoturn::test {
namespace {

struct Worst {
  double length = 0.0;         // relative
  double open_wrap_deg = 0.0;  // where l/D > 1e-2
  double close_wrap = 0.0;     // below: error in deg times l/D
  double least_share = 1.0;    // l/D
  int seams = 0;               // wraps taken as equal but for a whole turn
};

std::vector<oracle::Circle> circles_of(const std::vector<Wheel>& wheels) {
  std::vector<oracle::Circle> circles;
  for (const Wheel& w : wheels) {
    circles.push_back({w.centre_mm.x(), w.centre_mm.y(), w.radius_mm, w.sense});
  }
  return circles;
}

// What the header promises. Below l/D = 1e-2 a direction is worth less digits, in proportion.
constexpr double kRelativeLength = 1e-13;
constexpr double kWrapDeg = 1e-11;
constexpr double kWrapDegPerStretch = 1e-13;

void compare(const std::vector<Wheel>& wheels, Worst& worst) {
  const TangentPath path = solved(wheels);
  const oracle::Path exact = oracle::closed_path(circles_of(wheels));
  const std::size_t n = wheels.size();
  oracle::Real expected_length = exact.length;
  for (std::size_t i = 0; i < n; ++i) {
    const double share_in = static_cast<double>(exact.shares[(i + n - 1) % n]);
    const double share = std::min(share_in, static_cast<double>(exact.shares[i]));
    const double limit_deg = std::max(kWrapDeg, kWrapDegPerStretch / share);
    const oracle::Real degrees_per_radian = 360 / oracle::full_turn();
    const oracle::Real& wrap = exact.wraps[i];
    oracle::Real error = (oracle::Real(path.wraps[i].radians()) - wrap) * degrees_per_radian;
    const oracle::Real to_seam = (std::min)(wrap, oracle::Real(oracle::full_turn() - wrap));
    if (abs(error) > 180 && to_seam * degrees_per_radian < limit_deg) {
      const int whole = error > 0 ? 1 : -1;
      error -= 360 * whole;
      expected_length += whole * wheels[i].radius_mm * oracle::full_turn();
      ++worst.seams;
    }
    const double off = static_cast<double>(abs(error));
    INFO("wheel " << i << ", l/D " << share << ", wrap off by " << off << " deg");
    REQUIRE(off <= limit_deg);
    worst.least_share = std::min(worst.least_share, share);
    if (share > 1e-2) {
      worst.open_wrap_deg = std::max(worst.open_wrap_deg, off);
    } else {
      worst.close_wrap = std::max(worst.close_wrap, off * share);
    }
  }
  const oracle::Real off = oracle::Real(path.length_mm) - expected_length;
  const double relative = static_cast<double>(abs(off / expected_length));
  INFO("length off by " << relative << " of itself");
  REQUIRE(relative <= kRelativeLength);
  worst.length = std::max(worst.length, relative);
}

void report(const char* what, std::uint64_t seed, const Worst& worst) {
  std::cout << what << ", seed " << seed << ": least l/D " << worst.least_share
            << ", worst relative length " << worst.length << ", wrap " << worst.open_wrap_deg
            << " deg where l/D > 1e-2, " << worst.close_wrap << " deg D/l below; " << worst.seams
            << " at the seam\n";
}

constexpr int kDrives = 500;

TEST_CASE("five hundred chains of tangents are right to the promised digits") {
  const std::uint64_t seed = 20260301;
  Random random(seed);
  Worst worst;
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    compare(random_chain(random, 2 + drive % 11), worst);
  }
  report("chains", seed, worst);
  CHECK(worst.least_share < 1e-5);  // the second limit was put to use
}

TEST_CASE("five hundred belt-like drives are right to the promised digits") {
  const std::uint64_t seed = 20260302;
  Random random(seed);
  Worst worst;
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    compare(random_belt_drive(random, 2 + drive % 11), worst);
  }
  report("belt-like", seed, worst);
  CHECK(worst.seams == 0);
}

TEST_CASE(
    "wraps of nothing, in line on one tangent, stay at the seam however the drive is turned") {
  const std::uint64_t seed = 20260303;
  Random random(seed);
  Worst worst;
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    // The second wheel touches the straight between its neighbours; its place is then rounded.
    const double first = random.between(5.0, 100.0);
    const double middle = random.between(5.0, 100.0);
    const double last = random.between(5.0, 100.0);
    const int side = random.sense();
    std::vector<Wheel> wheels{wheel(0.0, first, first), wheel(250.0, side * middle, middle, side),
                              wheel(500.0, last, last), wheel(100.0, 400.0, 50.0)};
    wheels = turned(wheels, random.between(0.0, kFullTurn));
    wheels = moved(wheels, 200.0 * random.direction());
    compare(random.chance(0.5) ? reversed(wheels) : wheels, worst);
    REQUIRE(solved(wheels).wraps[1].degrees() < kWrapDeg);
  }
  report("in line", seed, worst);
}

TEST_CASE("the oracle itself meets the exact lengths") {
  // exact: 32 pi + 30 sqrt 3, and the two-pulley triangle with wraps of 90 deg and spans 3-4-5.
  const oracle::Path open = oracle::closed_path({{0, 0, 21, 1}, {30, 0, 6, 1}});
  const oracle::Real exact_open = 16 * oracle::full_turn() + 30 * sqrt(oracle::Real(3));
  const double kDigits = 1e-40;  // of 50, a few lost to sums
  CHECK(static_cast<double>(abs(open.length - exact_open)) < kDigits);
  const oracle::Path triangle =
      oracle::closed_path({{0, 0, 30, 1}, {400, 0, 30, 1}, {0, 300, 30, 1}});
  const oracle::Real exact_triangle = 1200 + 30 * oracle::full_turn();
  CHECK(static_cast<double>(abs(triangle.length - exact_triangle)) < kDigits * 100);
}

}  // namespace
}  // namespace twoturn::test
