#include "twoturn/engine/slider_crank.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"

using namespace twoturn;

namespace {

SliderCrank of_stroke(double stroke_mm, double rod_mm, double offset_mm = 0.0) {
  const auto crank = SliderCrank::of_stroke(stroke_mm, rod_mm, offset_mm);
  REQUIRE(crank);
  return *crank;
}

double depth(const SliderCrank& crank, double deg) { return crank.depth_mm(Angle::degrees(deg)); }

constexpr double kRounding = 1e-12;  // of lengths near 200 mm

}  // namespace

TEST_CASE("Depth is the textbook's at rod over throw 3.5 and 90 deg") {
  // Heywood, Internal Combustion Engine Fundamentals, the form of eq. 2.5.
  const SliderCrank crank = of_stroke(100.0, 3.5 * 50.0);
  CHECK_THAT(depth(crank, 90.0) / 100.0, WithinAbs(0.572949016875, 5e-13));
}

TEST_CASE("Depths of stroke 86 and rod 143 to every printed digit") {
  // Exact: recomputed from the triangle.
  const SliderCrank crank = of_stroke(86.0, 143.0);
  CHECK_THAT(depth(crank, 30.0), WithinAbs(7.386404986, 5e-10));
  CHECK_THAT(depth(crank, 90.0), WithinAbs(49.61818303, 5e-9));
  CHECK_THAT(depth(crank, 150.0), WithinAbs(81.86458971, 5e-9));
  CHECK_THAT(depth(crank, 180.0), WithinAbs(86.0, kRounding));
}

TEST_CASE("Half the stroke is made where the cosine is throw over twice the rod") {
  // Exact.
  const SliderCrank crank = of_stroke(86.0, 143.0);
  const double half = crank.going_down(43.0).radians();
  CHECK_THAT(std::cos(half), WithinAbs(43.0 / (2.0 * 143.0), 1e-13));
  CHECK_THAT(crank.coming_up(43.0).radians(), WithinAbs(kFullTurn - half, 1e-12));
}

TEST_CASE("A very long rod gives the endless rod's cosine") {
  // Exact in the limit: a (1 - cos t); the rest is below a^2/2l.
  const SliderCrank crank = of_stroke(80.0, 1e7);
  for (const double deg : {10.0, 45.0, 90.0, 137.0, 180.0}) {
    CHECK_THAT(depth(crank, deg), WithinAbs(40.0 * (1.0 - std::cos(deg * kRadPerDeg)), 1e-4));
  }
}

TEST_CASE("With a pin offset the stroke given is the stroke got, and not twice the throw") {
  const SliderCrank crank = of_stroke(86.0, 143.0, 12.0);
  CHECK_THAT(crank.stroke_mm(), WithinAbs(86.0, kRounding));
  CHECK(crank.throw_mm() < 42.9);
  // Exact: dead centres from the two straight triangles.
  const double a = crank.throw_mm();
  CHECK_THAT(std::sqrt((143 + a) * (143 + a) - 144.0) - std::sqrt((143 - a) * (143 - a) - 144.0),
             WithinAbs(86.0, 1e-11));
  CHECK_THAT(depth(crank, crank.bottom().degrees()), WithinAbs(86.0, kRounding));
  CHECK(crank.bottom().degrees() > 180.0);  // slow down, quick up: the offset side
}

TEST_CASE("Depth and slope with and without offset are those of an independent computation") {
  for (const double offset : {0.0, 0.8, -1.5, 15.0}) {
    const auto crank = SliderCrank::of_throw(41.3, 137.2, offset);
    REQUIRE(crank);
    const oracle::Piston piston{41.3L, 137.2L, static_cast<oracle::Real>(offset)};
    for (int deg = -360; deg <= 360; deg += 7) {
      const Angle at = Angle::degrees(deg);
      CHECK_THAT(crank->depth_mm(at), WithinAbs(static_cast<double>(piston.depth(deg)), kRounding));
      constexpr double kStep = 1e-5;  // central difference: error kStep^2 and rounding over kStep
      const double difference = (crank->depth_mm(Angle::radians(at.radians() + kStep)) -
                                 crank->depth_mm(Angle::radians(at.radians() - kStep))) /
                                (2.0 * kStep);
      CHECK_THAT(crank->slope_mm(at), WithinAbs(difference, 1e-7));
    }
  }
}

TEST_CASE("No second derivative is greater than its bound") {
  for (const double offset : {0.0, 6.0}) {
    const auto crank = SliderCrank::of_throw(45.0, 120.0, offset);
    double greatest = 0.0;
    constexpr double kStep = 1e-4;
    for (double t = 0.0; t < kFullTurn; t += 0.01) {
      const double slope = (crank->slope_mm(Angle::radians(t + kStep)) -
                            crank->slope_mm(Angle::radians(t - kStep))) /
                           (2.0 * kStep);
      greatest = std::max(greatest, std::abs(slope));
    }
    CHECK(greatest <= crank->curvature_bound_mm());
    CHECK(crank->curvature_bound_mm() < 2.0 * greatest);
  }
}

TEST_CASE("An offset mirrored is the same piston run backwards") {
  const auto there = SliderCrank::of_throw(43.0, 140.0, 5.0);
  const auto back = SliderCrank::of_throw(43.0, 140.0, -5.0);
  for (double deg = 0.0; deg < 360.0; deg += 13.0) {
    CHECK_THAT(depth(*there, deg), WithinAbs(depth(*back, -deg), kRounding));
  }
}

TEST_CASE("A rod too short, or numbers that are none, give no crank") {
  CHECK_FALSE(SliderCrank::of_throw(43.0, 43.0));
  CHECK_FALSE(SliderCrank::of_throw(43.0, 50.0, 8.0));
  CHECK_FALSE(SliderCrank::of_stroke(86.0, std::nan("")));
  CHECK_FALSE(SliderCrank::of_throw(-1.0, 100.0));
}

TEST_CASE("The bounds of slope and of the second derivative are the derivation's") {
  // By hand from the worst of each term, as in lib/DERIVATIONS.md, with the right triangle 3, 4, 5:
  // reach 3, rod 5, height 4. Slope a + U a/H; second derivative a + (a^2 + U a)/H + U^2 a^2/H^3.
  const SliderCrank level = *SliderCrank::of_throw(3.0, 5.0);
  CHECK_THAT(level.slope_bound_mm(), WithinAbs(3.0 + 9.0 / 4.0, kRounding));
  CHECK_THAT(level.curvature_bound_mm(), WithinAbs(3.0 + 18.0 / 4.0 + 81.0 / 64.0, kRounding));
  for (const double offset : {1.0, -1.0}) {
    const SliderCrank aside = *SliderCrank::of_throw(2.0, 5.0, offset);
    CHECK_THAT(aside.slope_bound_mm(), WithinAbs(2.0 + 6.0 / 4.0, kRounding));
    CHECK_THAT(aside.curvature_bound_mm(), WithinAbs(2.0 + 10.0 / 4.0 + 36.0 / 64.0, kRounding));
  }
}

TEST_CASE("No slope is greater than its bound, with an offset to either side") {
  for (const double offset : {0.0, 9.0, -9.0}) {
    const SliderCrank crank = *SliderCrank::of_throw(45.0, 120.0, offset);
    double greatest = 0.0;
    for (double t = 0.0; t < kFullTurn; t += 0.01) {
      greatest = std::max(greatest, std::abs(crank.slope_mm(Angle::radians(t))));
    }
    CHECK(greatest <= crank.slope_bound_mm());
    CHECK(crank.slope_bound_mm() < 1.4 * greatest);
  }
}

TEST_CASE("At both dead centres the piston stands still, and between them it goes one way") {
  for (const double offset : {0.0, 12.0, -12.0}) {
    const SliderCrank crank = of_stroke(86.0, 143.0, offset);
    const double bottom = crank.bottom().degrees();
    CHECK_THAT(crank.slope_mm(Angle()), WithinAbs(0.0, 1e-11));
    CHECK_THAT(crank.slope_mm(crank.bottom()), WithinAbs(0.0, 1e-11));
    CHECK((bottom > 180.0) == (offset > 0.0));
    for (double share = 0.02; share < 1.0; share += 0.02) {
      CHECK(crank.slope_mm(Angle::degrees(share * bottom)) > 0.0);
      CHECK(crank.slope_mm(Angle::degrees(bottom + share * (360.0 - bottom))) < 0.0);
    }
  }
}

TEST_CASE("Both places of a depth are found, from one dead centre to the other") {
  // The independent computation's depth goes in, its angle comes out.
  for (const double offset : {0.0, 7.0, -7.0}) {
    const SliderCrank crank = *SliderCrank::of_throw(43.0, 140.0, offset);
    const oracle::Piston piston{43.0L, 140.0L, static_cast<oracle::Real>(offset)};
    for (const double deg : {5.0, 60.0, 120.0, 170.0}) {
      const double down = static_cast<double>(piston.depth(oracle::real(deg)));
      CHECK_THAT(crank.going_down(down).degrees(), WithinAbs(deg, 1e-10));
      const double up = static_cast<double>(piston.depth(oracle::real(360.0 - deg)));
      CHECK_THAT(crank.coming_up(up).degrees(), WithinAbs(360.0 - deg, 1e-10));
    }
    // Past the ends: the dead centres.
    for (const double beyond : {0.0, -1.0}) {
      CHECK(crank.going_down(beyond).degrees() == 0.0);
      CHECK_THAT(crank.coming_up(beyond).degrees(), WithinAbs(360.0, 1e-12));
    }
    for (const double beyond : {crank.stroke_mm(), crank.stroke_mm() + 1.0}) {
      CHECK(crank.going_down(beyond) == crank.bottom());
      CHECK(crank.coming_up(beyond) == crank.bottom());
    }
  }
}

TEST_CASE("A rod just as long as throw and offset is too short, a hair longer will do") {
  for (const double offset : {7.0, -7.0}) {
    CHECK_FALSE(SliderCrank::of_throw(43.0, 50.0, offset));
    CHECK(SliderCrank::of_throw(43.0, 50.001, offset));
    CHECK_FALSE(SliderCrank::of_stroke(86.0, 50.0, offset));
    CHECK(SliderCrank::of_stroke(86.0, 50.001, offset));
  }
  CHECK_FALSE(SliderCrank::of_throw(0.0, 100.0));
}

TEST_CASE("A length without end gives no crank, whichever it is") {
  constexpr double kEndless = std::numeric_limits<double>::infinity();
  CHECK_FALSE(SliderCrank::of_throw(kEndless, 100.0));
  CHECK_FALSE(SliderCrank::of_throw(43.0, kEndless));
  CHECK_FALSE(SliderCrank::of_throw(43.0, 100.0, kEndless));
  CHECK_FALSE(SliderCrank::of_throw(std::nan(""), 100.0));
  CHECK_FALSE(SliderCrank::of_throw(43.0, 100.0, std::nan("")));
}
