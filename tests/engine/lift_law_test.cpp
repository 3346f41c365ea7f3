#include "twoturn/engine/lift_law.hpp"

// Boost.Math 1.74 looks for isnan outside std.
#include <math.h>

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <utility>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/engine/lobe.hpp"

using namespace twoturn;

namespace {

constexpr Law kLaws[] = {Law::cycloidal, Law::harmonic, Law::polynomial_345, Law::polynomial_4567,
                         Law::modified_sine};

// Greatest of a derivative over a fine grid.
template <class Pick>
double greatest(Law law, Pick pick) {
  double most = 0.0;
  for (int k = 1; k < 100000; ++k) most = std::max(most, std::abs(pick(rise(law, k * 1e-5))));
  return most;
}

// A lobe of a law as a table, every `step` crank deg.
std::vector<LiftPoint> table_of(const LiftCurve& curve, double first_deg, double last_deg,
                                double step_deg) {
  std::vector<LiftPoint> points;
  const int count = static_cast<int>(std::lround((last_deg - first_deg) / step_deg));
  for (int k = 0; k <= count; ++k) {
    const double deg = first_deg + k * step_deg;
    points.push_back({deg, k == 0 || k == count ? 0.0 : curve.lift_mm(deg * kRadPerDeg)});
  }
  return points;
}

}  // namespace

TEST_CASE("The laws a quarter of the way up are the textbook's") {
  // Exact: the closed forms, as every book on cams prints them.
  const std::pair<Law, double> expected[] = {{Law::harmonic, 0.146446609407},
                                             {Law::cycloidal, 0.0908450569081},
                                             {Law::polynomial_345, 0.103515625},
                                             {Law::polynomial_4567, 0.070556640625},
                                             {Law::modified_sine, 0.117178484615}};
  for (const auto& [law, lift] : expected) CHECK_THAT(rise_lift(law, 0.25), WithinAbs(lift, 5e-13));
}

TEST_CASE("The greatest slope and curvature of each law are the textbook's") {
  // Exact, in h/beta and h/beta^2.
  const double pi = 3.14159265358979323846;
  struct Row {
    Law law;
    double slope, curvature;
  };
  const Row rows[] = {{Law::cycloidal, 2.0, 2.0 * pi},
                      {Law::harmonic, pi / 2.0, pi * pi / 2.0},
                      {Law::polynomial_345, 15.0 / 8.0, 10.0 / std::sqrt(3.0)},
                      {Law::polynomial_4567, 35.0 / 16.0, 84.0 * std::sqrt(5.0) / 25.0},
                      {Law::modified_sine, 4.0 * pi / (4.0 + pi), 4.0 * pi * pi / (4.0 + pi)}};
  for (const Row& row : rows) {
    CHECK_THAT(greatest_slope(row.law), WithinAbs(row.slope, 1e-14));
    CHECK_THAT(greatest_curvature(row.law), WithinAbs(row.curvature, 1e-13));
    // And the law itself reaches them, to the grid's spacing.
    CHECK_THAT(greatest(row.law, [](const RiseAt& at) { return at.slope; }),
               WithinAbs(row.slope, 1e-8));
    CHECK_THAT(greatest(row.law, [](const RiseAt& at) { return at.curvature; }),
               WithinAbs(row.curvature, 1e-3));
  }
}

TEST_CASE("Each law's derivatives are its own differences, and its two halves are alike") {
  constexpr double kStep = 1e-5;
  for (const Law law : kLaws) {
    for (int k = 1; k < 400; ++k) {
      const double x = k / 400.0;
      const RiseAt at = rise(law, x);
      const double slope = (rise_lift(law, x + kStep) - rise_lift(law, x - kStep)) / (2.0 * kStep);
      const double curvature =
          (rise_slope(law, x + kStep) - rise_slope(law, x - kStep)) / (2.0 * kStep);
      CHECK_THAT(at.slope, WithinAbs(slope, 1e-8));
      CHECK_THAT(at.curvature, WithinAbs(curvature, 5e-4));  // a jump of the third derivative
      CHECK_THAT(at.lift + rise_lift(law, 1.0 - x), WithinAbs(1.0, 1e-14));
      CHECK_THAT(rise_place(law, at.lift), WithinAbs(x, 1e-9));
    }
    CHECK(rise_lift(law, -0.1) == 0.0);
    CHECK(rise_lift(law, 1.1) == 1.0);
  }
}

TEST_CASE("A rise ends with its own curvature: a harmonic nose is bent on both sides") {
  // pi^2/2 h/beta^2 of the harmonic, 0 of the rest: any book on cams.
  for (const Law law : kLaws) {
    const double expected = law == Law::harmonic ? -kPi * kPi / 2.0 : 0.0;
    CHECK_THAT(rise(law, 1.0).curvature, WithinAbs(expected, 1e-12));
    CHECK(rise(law, 1.0).lift == 1.0);
    CHECK(rise(law, 1.0).slope == 0.0);
    CHECK(rise(law, 1.1).curvature == 0.0);
  }
  const double flank = 100.0 * kRadPerDeg;
  const LiftCurve curve = LiftCurve::of_law({Law::harmonic, 9.0, flank, flank});
  CHECK_THAT(curve.at(0.0).curvature_mm,
             WithinAbs(-kPi * kPi / 2.0 * 9.0 / (flank * flank), 1e-12));
}

TEST_CASE("A lobe by a law opens and closes where it is told to, at the lift it is told at") {
  for (const Law law : kLaws) {
    LobeQuestion question;
    question.shape = law;
    question.height_mm = 9.6;
    question.lash_mm = 0.2;
    question.at_lift_mm = 1.0 + question.lash_mm;
    question.opens = Angle::degrees(-12.0);
    question.closes = Angle::degrees(232.0);
    question.centre = Angle::degrees(108.0);
    const auto lobe = solve_lobe(question);
    REQUIRE(lobe);
    CHECK_THAT(lobe->lift_mm(Angle::degrees(-12.0)), WithinAbs(1.0, 1e-11));
    CHECK_THAT(lobe->lift_mm(Angle::degrees(232.0)), WithinAbs(1.0, 1e-11));
    CHECK_THAT(lobe->lift_mm(Angle::degrees(108.0)), WithinAbs(9.4, 1e-12));
    CHECK(lobe->opens().degrees() < -12.0);
    CHECK_THAT(lobe->lift_mm(lobe->opens()), WithinAbs(0.0, 1e-11));
    CHECK_THAT(lobe->lift_mm(Angle::degrees(108.0 + 720.0)), WithinAbs(9.4, 1e-11));
  }
}

TEST_CASE("Centre and duration say the same lobe as opening and closing") {
  LobeQuestion ends;
  ends.shape = Law::polynomial_345;
  ends.height_mm = 8.0;
  ends.opens = Angle::degrees(-10.0);
  ends.closes = Angle::degrees(230.0);
  LobeQuestion centred = ends;
  centred.opens.reset();
  centred.closes.reset();
  centred.centre = Angle::degrees(110.0);
  centred.duration = Angle::degrees(240.0);
  const auto first = solve_lobe(ends);
  const auto second = solve_lobe(centred);
  REQUIRE((first && second));
  for (int deg = -30; deg < 260; deg += 7) {
    CHECK_THAT(first->lift_mm(Angle::degrees(deg)),
               WithinAbs(second->lift_mm(Angle::degrees(deg)), 1e-12));
  }
}

TEST_CASE("Without height, ends or room under the stated lift there is no lobe") {
  LobeQuestion question;
  question.shape = Law::cycloidal;
  question.height_mm = 8.0;
  CHECK_FALSE(solve_lobe(question));  // no place at all
  question.opens = Angle::degrees(0.0);
  question.closes = Angle::degrees(220.0);
  CHECK(solve_lobe(question));
  question.at_lift_mm = 8.0;
  CHECK_FALSE(solve_lobe(question));
  question.at_lift_mm = 0.0;
  question.lash_mm = 8.0;
  CHECK_FALSE(solve_lobe(question));
}

TEST_CASE("A lift table made by a law gives the law back, the nearer the finer it is") {
  const LiftCurve law = LiftCurve::of_law({Law::polynomial_345, 9.0, 2.0, 2.2});
  const double first = -2.0 / kRadPerDeg;
  const double last = 2.2 / kRadPerDeg;
  double before = 1.0;
  for (const int rows : {48, 96, 192}) {
    const auto table = LiftCurve::of_table(table_of(law, first, last, (last - first) / rows));
    REQUIRE(table);
    double worst = 0.0;
    for (double rad = -1.99; rad < 2.19; rad += 0.003) {
      worst = std::max(worst, std::abs(table->lift_mm(rad) - law.lift_mm(rad)));
    }
    CHECK(worst < before / 3.0);  // at least of second order
    before = worst;
  }
  CHECK(before < 2e-3);
}

TEST_CASE("A measured lobe is interpolated as the reference library does, slope and all") {
  // Boost.Math, pchip, with flat ends.
  const std::vector<LiftPoint> points{{-96, 0},   {-80, 0.4}, {-61, 2.2}, {-40, 5.9},
                                      {-22, 8.3}, {-3, 9.4},  {9, 9.3},   {31, 7.7},
                                      {47, 5.5},  {70, 1.7},  {84, 0.5},  {104, 0}};
  const auto curve = LiftCurve::of_table(points);
  REQUIRE(curve);
  std::vector<double> x, y;
  for (const LiftPoint& point : points) {
    x.push_back(point.crank_deg * kRadPerDeg);
    y.push_back(point.lift_mm);
  }
  const double first = x.front(), last = x.back();
  const boost::math::interpolators::pchip<std::vector<double>> reference(std::move(x), std::move(y),
                                                                         0.0, 0.0);
  for (double rad = first + 1e-3; rad < last; rad += 0.0137) {
    CHECK_THAT(curve->lift_mm(rad), WithinAbs(reference(rad), 1e-12));
    CHECK_THAT(curve->at(rad).slope_mm, WithinAbs(reference.prime(rad), 1e-10));
  }
}

TEST_CASE("Between the points of a table the lift neither overshoots nor turns") {
  const std::vector<LiftPoint> steps{{0, 0},    {10, 0.1}, {20, 5.0}, {30, 5.1},
                                     {40, 9.0}, {60, 9.0}, {70, 1.0}, {90, 0}};
  const auto curve = LiftCurve::of_table(steps);
  REQUIRE(curve);
  CHECK(curve->greatest_mm() == 9.0);
  CHECK_THAT(curve->greatest_at().degrees(), WithinAbs(50.0, 1e-12));
  double last = 0.0;
  for (double deg = 0.0; deg <= 40.0; deg += 0.1) {
    const double lift = curve->lift_mm(deg * kRadPerDeg);
    CHECK(lift >= last - 1e-12);
    last = lift;
  }
}

TEST_CASE("Base circle around a table's lobe does not belong to it") {
  std::vector<LiftPoint> points{{0, 0},  {10, 0}, {20, 0}, {30, 2},
                                {40, 4}, {50, 2}, {60, 0}, {70, 0}};
  const auto curve = LiftCurve::of_table(points);
  REQUIRE(curve);
  CHECK_THAT(curve->rises_through(0.0).degrees(), WithinAbs(20.0, 1e-12));
  CHECK_THAT(curve->falls_through(0.0).degrees(), WithinAbs(60.0, 1e-12));
}

TEST_CASE("A table that is no lobe gives none") {
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {1, 1}, {2, 0}}));                          // too short
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {1, 2}, {2, 1}, {3, 2}, {4, 0}}));          // two noses
  CHECK_FALSE(LiftCurve::of_table({{0, 0.1}, {1, 1}, {2, 2}, {3, 1}, {4, 0}}));        // not shut
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {1, 1}, {1, 2}, {3, 1}, {4, 0}}));          // no rise
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {100, 1}, {300, 2}, {500, 1}, {800, 0}}));  // too long
}
