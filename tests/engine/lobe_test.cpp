// A lobe's places and bounds: laws by their closed forms, tables by hand and by Boost.Math.
#include "twoturn/engine/lobe.hpp"

// Boost.Math 1.74 looks for isnan outside std.
#include <math.h>

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "support/catch.hpp"

using namespace twoturn;

namespace {

constexpr double kPlaceDeg = 1e-9;

// Dwells at 2, at its greatest 6 and at 3 mm. A step between two dwells is flat at both ends, so it
// is 3 t^2 - 2 t^3: half of it half way, 5/32 of it a quarter of the way.
std::vector<LiftPoint> with_dwells() {
  return {{0, 0}, {10, 2}, {20, 2}, {30, 6}, {50, 6}, {60, 3}, {70, 3}, {90, 0}};
}

// Flat, a step up by 6 in 10 deg, a dwell, a step down in 20 deg: half lift at 15 and at 40.
std::vector<LiftPoint> two_steps() { return {{0, 0}, {10, 0}, {20, 6}, {30, 6}, {50, 0}, {60, 0}}; }

LobeQuestion of_law(double opens, double closes, double at_lift_mm = 0.0) {
  LobeQuestion question;
  question.shape = Law::harmonic;
  question.height_mm = 8.0;
  question.at_lift_mm = at_lift_mm;
  question.opens = Angle::degrees(opens);
  question.closes = Angle::degrees(closes);
  return question;
}

double lift(const Lobe& lobe, double deg) { return lobe.lift_mm(Angle::degrees(deg)); }

}  // namespace

TEST_CASE("A harmonic flank is half way up at its middle, a quarter up after a third") {
  // Exact: sin^2 of 45 and of 30 deg.
  const LiftCurve curve = LiftCurve::of_law({Law::harmonic, 8.0, 2.0, 3.0});
  CHECK_THAT(curve.rises_through(4.0).radians(), WithinAbs(-1.0, 1e-14));
  CHECK_THAT(curve.falls_through(4.0).radians(), WithinAbs(1.5, 1e-14));
  CHECK_THAT(curve.rises_through(2.0).radians(), WithinAbs(-4.0 / 3.0, 1e-14));
  CHECK_THAT(curve.falls_through(2.0).radians(), WithinAbs(2.0, 1e-14));
  for (const double none : {0.0, -1.0}) {
    CHECK(curve.rises_through(none).radians() == -2.0);
    CHECK(curve.falls_through(none).radians() == 3.0);
  }
  for (const double greatest : {8.0, 8.1}) {
    CHECK(std::abs(curve.rises_through(greatest).radians()) == 0.0);
    CHECK(std::abs(curve.falls_through(greatest).radians()) == 0.0);
  }
}

TEST_CASE("A table passes a lift at its outermost places, dwells and all") {
  const LiftCurve curve = *LiftCurve::of_table(with_dwells());
  // Lift, where it rises and where it falls through it, deg: by hand.
  const std::vector<std::vector<double>> rows{
      {0.0, 0.0, 90.0},  {2.625, 22.5, -1.0}, {4.0, 25.0, -1.0}, {4.5, -1.0, 55.0},
      {2.0, 10.0, -1.0}, {3.0, -1.0, 70.0},   {6.0, 30.0, 50.0}, {5.53125, -1.0, 52.5},
      {6.1, 40.0, 40.0}, {-1.0, 0.0, 90.0}};
  for (const std::vector<double>& row : rows) {
    CAPTURE(row[0]);
    if (row[1] >= 0.0) {
      CHECK_THAT(curve.rises_through(row[0]).degrees(), WithinAbs(row[1], kPlaceDeg));
    }
    if (row[2] >= 0.0) {
      CHECK_THAT(curve.falls_through(row[0]).degrees(), WithinAbs(row[2], kPlaceDeg));
    }
  }
}

TEST_CASE("A table's places and lifts say the same, all the way up and down") {
  const LiftCurve curve = *LiftCurve::of_table(
      {{-96, 0}, {-80, 0.4}, {-61, 2.2}, {-40, 5.9}, {-3, 9.4}, {31, 7.7}, {70, 1.7}, {104, 0}});
  for (double deg = -95.5; deg < -3.0; deg += 0.7) {
    const double there = curve.lift_mm(deg * kRadPerDeg);
    CHECK_THAT(curve.rises_through(there).degrees(), WithinAbs(deg, 1e-6));
  }
  for (double deg = -2.5; deg < 103.8; deg += 0.7) {
    const double there = curve.lift_mm(deg * kRadPerDeg);
    CHECK_THAT(curve.falls_through(there).degrees(), WithinAbs(deg, 1e-6));
  }
}

TEST_CASE("At its ends and outside them a lobe does nothing at all") {
  const LiftCurve table = *LiftCurve::of_table(with_dwells());
  const LiftCurve law = LiftCurve::of_law({Law::harmonic, 8.0, 2.0, 3.0});
  const std::pair<const LiftCurve*, std::vector<double>> rows[] = {
      {&table, {-9.0, -0.1, 0.0, 90.0 * kRadPerDeg, 1.6, 9.0}}, {&law, {-9.0, -2.0, 3.0, 9.0}}};
  for (const auto& [curve, places] : rows) {
    for (const double rad : places) {
      CAPTURE(rad);
      CHECK(curve->lift_mm(rad) == 0.0);
      CHECK(curve->at(rad).lift_mm == 0.0);
      CHECK(curve->at(rad).slope_mm == 0.0);
      CHECK(curve->at(rad).curvature_mm == 0.0);
    }
  }
}

TEST_CASE("No piece of a law bends more than height by greatest curvature over its flank squared") {
  // The textbook's: a cycloidal rise bends by 2 pi h / beta^2 at most.
  const LiftCurve curve = LiftCurve::of_law({Law::cycloidal, 9.0, 2.0, 2.5});
  REQUIRE(curve.pieces().size() == 2);
  const LiftPiece up = curve.pieces()[0], down = curve.pieces()[1];
  CHECK_THAT(up.curvature_mm, WithinRel(9.0 * kFullTurn / 4.0, 1e-14));
  CHECK_THAT(down.curvature_mm, WithinRel(9.0 * kFullTurn / 6.25, 1e-14));
  CHECK(up.from_rad == -2.0);
  CHECK(up.to_rad == 0.0);
  CHECK(down.from_rad == 0.0);
  CHECK(down.to_rad == 2.5);
}

TEST_CASE("A piece of a table bends no more than it says, and so much at one of its ends") {
  // Boost.Math's pchip with flat ends. Its slope is a parabola in each piece: from three slopes the
  // bend at either end is exact.
  std::mt19937 random(20260304);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int k = 0; k < 50; ++k) {
    std::vector<LiftPoint> points{{-90.0, 0.0}};
    for (int row = 1; row < 16; ++row) {
      const LiftPoint last = points.back();
      const double most = last.lift_mm / 3.0, climb = 1.2 * share(random);
      points.push_back({last.crank_deg + 3.0 + 12.0 * share(random),
                        row < 8 ? last.lift_mm + climb : last.lift_mm - most * share(random)});
    }
    points.push_back({points.back().crank_deg + 5.0, 0.0});
    const LiftCurve curve = *LiftCurve::of_table(points);
    std::vector<double> x, y;
    for (const LiftPoint& point : points) {
      x.push_back(point.crank_deg * kRadPerDeg);
      y.push_back(point.lift_mm);
    }
    const boost::math::interpolators::pchip<std::vector<double>> reference(std::vector<double>(x),
                                                                           std::move(y), 0.0, 0.0);
    REQUIRE(curve.pieces().size() + 1 == x.size());
    for (std::size_t p = 0; p < curve.pieces().size(); ++p) {
      const double width = x[p + 1] - x[p];
      const double low = reference.prime(x[p]), mid = reference.prime(x[p] + 0.5 * width),
                   high = reference.prime(x[p + 1]);
      const double at_low = (-3.0 * low + 4.0 * mid - high) / width;
      const double at_high = (low - 4.0 * mid + 3.0 * high) / width;
      CAPTURE(k, p);
      CHECK(curve.pieces()[p].from_rad == x[p]);
      CHECK(curve.pieces()[p].to_rad == x[p + 1]);
      CHECK_THAT(curve.pieces()[p].curvature_mm,
                 WithinRel(std::max(std::abs(at_low), std::abs(at_high)), 1e-8));
    }
  }
}

TEST_CASE("The fewest rows of a table are five, and it ends short of two turns") {
  CHECK(LiftCurve::of_table({{0, 0}, {10, 1}, {20, 2}, {30, 1}, {40, 0}}));
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {10, 1}, {20, 2}, {30, 0}}));
  // As lift_table.cpp tells the reader: its two ends would be one place.
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {90, 1}, {180, 2}, {270, 1}, {720, 0}}));
  CHECK(LiftCurve::of_table({{0, 0}, {90, 1}, {180, 2}, {270, 1}, {719, 0}}));
  // Wherever it begins.
  CHECK_FALSE(LiftCurve::of_table({{-400, 0}, {90, 1}, {180, 2}, {270, 1}, {400, 0}}));
  CHECK(LiftCurve::of_table({{300, 0}, {390, 1}, {480, 2}, {570, 1}, {700, 0}}));
}

TEST_CASE("A table open at one end alone is none") {
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {10, 1}, {20, 2}, {30, 1}, {40, 0.5}}));
  CHECK_FALSE(LiftCurve::of_table({{0, 0.5}, {10, 1}, {20, 2}, {30, 1}, {40, 0}}));
  CHECK_FALSE(LiftCurve::of_table({{0, 0}, {10, 0}, {20, 0}, {30, 0}, {40, 0}}));
}

TEST_CASE("A number that is none, angle or lift, makes a table none") {
  const double none = std::nan(""), endless = std::numeric_limits<double>::infinity();
  for (const double bad : {none, endless}) {
    CHECK_FALSE(LiftCurve::of_table({{0, 0}, {10, 1}, {20, bad}, {30, 1}, {40, 0}}));
    CHECK_FALSE(LiftCurve::of_table({{0, 0}, {10, 1}, {bad, 2}, {30, 1}, {40, 0}}));
  }
  CHECK_FALSE(LiftCurve::of_table({{-endless, 0}, {10, 1}, {20, 2}, {30, 1}, {40, 0}}));
}

TEST_CASE("A table is put where the middle of its two places at a lift is wanted") {
  LobeQuestion question;
  question.shape = two_steps();
  question.lash_mm = 0.5;
  question.at_lift_mm = 3.0;
  question.centre = Angle::degrees(100.0);
  const std::optional<Lobe> centred = solve_lobe(question);
  REQUIRE(centred);
  // By hand: its places are 15 and 40, 12.5 either side of their middle.
  CHECK_THAT(lift(*centred, 87.5), WithinAbs(2.5, 1e-12));
  CHECK_THAT(lift(*centred, 112.5), WithinAbs(2.5, 1e-12));
  CHECK_THAT(centred->centre().degrees(), WithinAbs(100.0 - 27.5 + 25.0, kPlaceDeg));
  question.centre.reset();
  question.opens = Angle::degrees(80.0);
  question.closes = Angle::degrees(110.0);
  const std::optional<Lobe> between = solve_lobe(question);
  REQUIRE(between);
  CHECK_THAT(lift(*between, 82.5), WithinAbs(2.5, 1e-12));
  CHECK_THAT(lift(*between, 107.5), WithinAbs(2.5, 1e-12));
}

TEST_CASE("A table is not placed at a lift it does not pass, nor with too little said") {
  LobeQuestion question;
  question.shape = two_steps();
  question.centre = Angle::degrees(100.0);
  const auto found = [&](double at_lift_mm, double lash_mm) {
    question.at_lift_mm = at_lift_mm;
    question.lash_mm = lash_mm;
    return solve_lobe(question).has_value();
  };
  CHECK(found(5.9, 0.0));
  CHECK_FALSE(found(6.0, 0.0));
  CHECK_FALSE(found(6.5, 0.0));
  CHECK(found(0.0, 5.9));
  CHECK_FALSE(found(0.0, 6.0));
  CHECK_FALSE(found(0.0, 6.5));
  question.centre.reset();
  question.opens = Angle::degrees(80.0);
  CHECK_FALSE(found(3.0, 0.0));
  std::swap(question.opens, question.closes);
  CHECK_FALSE(found(3.0, 0.0));
  question.shape = std::vector<LiftPoint>{{0, 0}, {10, 1}};
  question.centre = Angle::degrees(100.0);
  CHECK_FALSE(found(0.0, 0.0));
}

TEST_CASE("One place alone, or a centre at or beyond an end, makes no lobe by a law") {
  LobeQuestion question = of_law(-20.0, 220.0);
  CHECK(solve_lobe(question));
  for (const double centre : {-20.0, -21.0, 220.0, 221.0}) {
    question.centre = Angle::degrees(centre);
    CAPTURE(centre);
    CHECK_FALSE(solve_lobe(question));
  }
  for (const double centre : {-19.0, 219.0}) {
    question.centre = Angle::degrees(centre);
    CAPTURE(centre);
    CHECK(solve_lobe(question));
  }
  question = of_law(-200.0, 200.0);
  question.closes.reset();
  CHECK_FALSE(solve_lobe(question));
  question = of_law(-200.0, 200.0);
  question.opens.reset();
  CHECK_FALSE(solve_lobe(question));
  question.closes.reset();
  question.duration = Angle::degrees(200.0);
  CHECK_FALSE(solve_lobe(question));
}

TEST_CASE("Flanks that would need two turns or more are no lobe") {
  // Exact: a harmonic flank is at 3/4 after two thirds, so its ends lie three times as far from the
  // centre as that lift does: 3 x 239 deg is less than two turns, 3 x 241 is more.
  CHECK(solve_lobe(of_law(-119.5, 119.5, 6.0)));
  CHECK_FALSE(solve_lobe(of_law(-120.5, 120.5, 6.0)));
  // Each flank for itself is short of two turns, both together are not.
  LobeQuestion uneven = of_law(-230.0, 20.0, 6.0);
  uneven.centre = Angle::degrees(0.0);
  CHECK_FALSE(solve_lobe(uneven));
  const std::optional<Lobe> lobe = solve_lobe(of_law(-30.0, 70.0, 6.0));
  REQUIRE(lobe);
  CHECK_THAT(lobe->opens().degrees(), WithinAbs(20.0 - 150.0, kPlaceDeg));
  CHECK_THAT(lobe->closes().degrees(), WithinAbs(20.0 + 150.0, kPlaceDeg));
}
