// Where formulas are apt to break: wraps of nothing, half and nearly whole turns, touching circles,
// equal radii, no tangent, many pulleys, very small and very large ones.
#include "geometry/random_drives.hpp"

namespace twoturn::test {
namespace {

constexpr double kAngleRoundingDeg = 1e-12;  // wraps near l/D = 1
constexpr double kLengthRounding = 1e-14;    // relative, some ten pieces summed

TEST_CASE("a pulley that just touches a straight run has a wrap of nothing") {
  // exact
  const TangentPath path =
      solved({wheel(0, 30, 30), wheel(200, 30, 30), wheel(400, 30, 30), wheel(200, 330, 30)});
  CHECK(path.wraps[1].radians() == 0.0);
  CHECK_THAT(path.length_mm,
             WithinRel(400.0 + 2.0 * std::hypot(200.0, 300.0) + 60.0 * kPi, kLengthRounding));
}

TEST_CASE("a wrap of nothing does not become a whole turn, however the drive is turned") {
  constexpr int kTurns = 2000;
  for (int k = 0; k < kTurns; ++k) {
    INFO("turned " << k << " of " << kTurns);
    const std::vector<Wheel> wheels =
        turned({wheel(0, 30, 30), wheel(210, 50, 50), wheel(400, 20, 20), wheel(200, 330, 30)},
               kFullTurn * k / kTurns);
    const TangentPath path = solved(wheels);
    // Turning moves each centre by a rounding of 400, over spans of 200.
    REQUIRE(path.wraps[1].radians() < 16.0 * kEpsilon);
    const TangentPath back = solved(reversed(wheels));
    REQUIRE(back.wraps[2].radians() < 16.0 * kEpsilon);
  }
}

TEST_CASE("nor beside a pulley that it all but touches, where directions are worth fewer digits") {
  // The run goes straight on from above the middle pulley to below the next, 0.02 mm further.
  constexpr int kTurns = 2000;
  for (int k = 0; k < kTurns; ++k) {
    INFO("turned " << k << " of " << kTurns);
    const std::vector<Wheel> wheels =
        turned({wheel(-250, 40, 40), wheel(0, 60, 60), wheel(0.02, -80, 80, -1),
                wheel(300, 100, 30), wheel(0, 400, 30)},
               kFullTurn * k / kTurns);
    // Centres are rounded to 6e-14, over a span of 0.02.
    constexpr double kTurnRounding = 1e-11;
    REQUIRE(solved(wheels).wraps[1].radians() < kTurnRounding);
    REQUIRE(solved(reversed(wheels)).wraps[3].radians() < kTurnRounding);
  }
}

TEST_CASE("a wrap under nothing is a wrap of nearly a whole turn") {
  // exact: a pulley listed on the wrong side of a straight run, by `beyond`; equal radii
  for (const double beyond : {1e-9, 1e-6, 1e-3, 1.0, 150.0}) {
    INFO(beyond << " mm beyond the run");
    const TangentPath path = solved(
        {wheel(0, 30, 30), wheel(200, 30 + beyond, 30), wheel(400, 30, 30), wheel(200, 630, 30)});
    const double missing = 2.0 * std::atan(beyond / 200.0);
    CHECK_THAT(path.wraps[1].radians(), WithinAbs(kFullTurn - missing, 16.0 * kEpsilon));
  }
}

TEST_CASE("two equal pulleys take half a turn each at every leaning") {
  // exact
  constexpr int kTurns = 500;
  for (int k = 0; k < kTurns; ++k) {
    INFO("turned " << k << " of " << kTurns);
    const TangentPath path =
        solved(turned({wheel(0, 0, 40), wheel(300, 0, 40)}, kFullTurn * k / kTurns));
    REQUIRE_THAT(path.wraps[0].degrees(), WithinAbs(180.0, kAngleRoundingDeg));
    REQUIRE_THAT(path.wraps[1].degrees(), WithinAbs(180.0, kAngleRoundingDeg));
    REQUIRE_THAT(path.length_mm, WithinRel(600.0 + 80.0 * kPi, kLengthRounding));
  }
}

TEST_CASE(
    "upright tangents of a pulley between unequal ones leave it a wrap of exactly half a turn") {
  // exact: up on the right from a back-side pulley, down on the left to an inside one
  const std::vector<Wheel> wheels{wheel(0, 0, 30), wheel(-15, -250, 15), wheel(55, -200, 25, -1)};
  const TangentPath path = solved(wheels);
  CHECK_THAT(path.spans[2].direction.x(), WithinAbs(0.0, 4.0 * kEpsilon));
  CHECK_THAT(path.spans[0].direction.x(), WithinAbs(0.0, 4.0 * kEpsilon));
  CHECK_THAT(path.wraps[0].radians(), WithinAbs(kPi, 8.0 * kEpsilon));
  for (int k = 0; k < 360; ++k) {
    INFO("turned by " << k << " deg");
    const TangentPath leaning = solved(turned(wheels, k * kRadPerDeg));
    REQUIRE_THAT(leaning.wraps[0].degrees(), WithinAbs(180.0, kAngleRoundingDeg));
  }
}

TEST_CASE("circles that touch have an open tangent of 2 sqrt(r1 r2)") {
  // exact: 3-4-5, so that the distance between centres is 50 without rounding
  const TangentPath path = solved({wheel(0, 0, 20), wheel(30, 40, 30)});
  CHECK_THAT(path.spans[0].length_mm, WithinRel(2.0 * std::sqrt(600.0), kLengthRounding));
  CHECK_THAT(path.spans[1].length_mm, WithinRel(2.0 * std::sqrt(600.0), kLengthRounding));
}

TEST_CASE("circles that touch have no crossed tangent, and both distances are told") {
  // exact
  const std::vector<Wheel> wheels{wheel(0, 0, 20), wheel(30, 40, 30, -1), wheel(300, 0, 10)};
  const PathResult result = path_length(wheels);
  REQUIRE_FALSE(result.solved());
  CHECK(result.none.from == 0);
  CHECK(result.none.to == 1);
  CHECK(result.none.distance_mm == 50.0);
  CHECK(result.none.needed_mm == 50.0);
  TangentPath path;
  const PathResult whole = solve_path(wheels, path);
  REQUIRE_FALSE(whole.solved());
  CHECK(whole.none.from == 0);
  CHECK(whole.none.to == 1);
  CHECK(whole.none.distance_mm == 50.0);
  CHECK(whole.none.needed_mm == 50.0);
}

TEST_CASE("a hair more distance gives the crossed tangent") {
  const std::vector<Wheel> wheels{wheel(0, 0, 20), wheel(30, 40.0001, 30, -1), wheel(300, 0, 10)};
  CHECK(path_length(wheels).solved());
}

TEST_CASE("a circle inside another has no tangent with it; the closing pair is told as such") {
  const std::vector<Wheel> wheels{wheel(0, 0, 50), wheel(200, 0, 20), wheel(10, 0, 30)};
  const PathResult result = path_length(wheels);
  REQUIRE_FALSE(result.solved());
  CHECK(result.none.from == 2);
  CHECK(result.none.to == 0);
  CHECK(result.none.distance_mm == 10.0);
  CHECK(result.none.needed_mm == 20.0);
}

TEST_CASE("two circles in one place have no tangent") {
  const PathResult result = path_length(std::vector<Wheel>{wheel(1, 2, 30), wheel(1, 2, 30)});
  REQUIRE_FALSE(result.solved());
  CHECK(result.none.distance_mm == 0.0);
  CHECK(result.none.needed_mm == 0.0);
}

TEST_CASE("equal radii, on one side or on both, keep their spans along or across the centre line") {
  // exact: open l = D; crossed l = sqrt(D^2 - 4 r^2)
  const TangentPath open = solved({wheel(0, 0, 25), wheel(130, 0, 25)});
  CHECK(open.spans[0].length_mm == 130.0);
  const TangentPath crossed = solved({wheel(0, 0, 25), wheel(130, 0, 25, -1)});
  CHECK_THAT(crossed.spans[0].length_mm, WithinRel(120.0, kLengthRounding));
}

TEST_CASE("forty pulleys on a circle make a forty-sided belt") {
  // exact: sides of a regular polygon, and one whole turn of wrap in all
  constexpr int kCount = 40;
  std::vector<Wheel> wheels;
  for (int i = 0; i < kCount; ++i) {
    const double t = kFullTurn * i / kCount;
    wheels.push_back(wheel(1000.0 * std::cos(t), 1000.0 * std::sin(t), 20.0));
  }
  const TangentPath path = solved(wheels);
  const double side = 2000.0 * std::sin(kPi / kCount);
  CHECK_THAT(path.length_mm, WithinRel(kCount * side + 40.0 * kPi, 10.0 * kLengthRounding));
  for (const Angle& wrap : path.wraps) {
    CHECK_THAT(wrap.degrees(), WithinAbs(9.0, 10.0 * kAngleRoundingDeg));
  }
}

TEST_CASE("a pulley of half a millimetre runs beside one of five metres") {
  // exact: L = 2 sqrt(D^2 - (R - r)^2) + 2 pi r + 2 (R - r) (pi - acos((R - r)/D))
  const double large = 5000.0;
  const double small = 0.5;
  const double centres = 5002.0;
  const TangentPath path = solved({wheel(0, 0, large), wheel(0, centres, small)});
  const double share = (large - small) / centres;
  const double length = 2.0 * std::sqrt((centres - large + small) * (centres + large - small)) +
                        kFullTurn * small + 2.0 * (large - small) * (kPi - std::acos(share));
  CHECK_THAT(path.length_mm, WithinRel(length, kLengthRounding));
  CHECK_THAT(path.wraps[1].radians(), WithinAbs(2.0 * std::acos(share), kLengthRounding * 100.0));
}

}  // namespace
}  // namespace twoturn::test
