// Belt paths round three pulleys and more: published and exact lengths, spans and wraps.
#include "support/paths.hpp"

namespace twoturn::test {
namespace {

constexpr double kLengthRounding = 8.0 * kEpsilon;  // relative: a few pieces summed
constexpr double kAngleRoundingDeg = 1e-12;         // wraps near l/D = 1

TEST_CASE("the puzzle's belt round three discs is 13 + pi") {
  // published: the public puzzle "Belt loop": discs of diameter 1, centres 3, 4 and 6 apart
  const double x = (6.0 * 6.0 + 3.0 * 3.0 - 4.0 * 4.0) / (2.0 * 6.0);
  const double y = std::sqrt(3.0 * 3.0 - x * x);
  const double length = belt_length_mm({wheel(0, 0, 0.5), wheel(6, 0, 0.5), wheel(x, y, 0.5)});
  CHECK_THAT(length, WithinRel(13.0 + kPi, kLengthRounding));
}

TEST_CASE("equal pulleys at the corners of a 3-4-5 triangle have its sides as spans") {
  // exact: L = 1200 + 60 pi; the wraps are the outer angles
  const TangentPath path = solved({wheel(0, 0, 30), wheel(400, 0, 30), wheel(0, 300, 30)});
  CHECK_THAT(path.length_mm, WithinRel(1200.0 + 60.0 * kPi, kLengthRounding));
  CHECK_THAT(path.spans[0].length_mm, WithinRel(400.0, kLengthRounding));
  CHECK_THAT(path.spans[1].length_mm, WithinRel(500.0, kLengthRounding));
  CHECK_THAT(path.spans[2].length_mm, WithinRel(300.0, kLengthRounding));
  CHECK_THAT(path.wraps[0].degrees(), WithinAbs(90.0, kAngleRoundingDeg));
  constexpr double kQuotedDeg = 0.5e-8;
  CHECK_THAT(path.wraps[1].degrees(), WithinAbs(143.13010235, kQuotedDeg));
  CHECK_THAT(path.wraps[2].degrees(), WithinAbs(126.86989765, kQuotedDeg));
}

TEST_CASE("four equal pulleys on a square take a quarter turn each") {
  // exact: L = 800 + 50 pi
  const TangentPath path =
      solved({wheel(0, 0, 25), wheel(200, 0, 25), wheel(200, 200, 25), wheel(0, 200, 25)});
  CHECK_THAT(path.length_mm, WithinRel(800.0 + 50.0 * kPi, kLengthRounding));
  for (const Angle& wrap : path.wraps) {
    CHECK_THAT(wrap.degrees(), WithinAbs(90.0, kAngleRoundingDeg));
  }
}

// Belt from the right pulley over the top, pressed down by the idler on its back, to the left one
// and home along the bottom. 14-48-50 and the radii 10 + 20 = 30 give tangents of 40.
std::vector<Wheel> dipped_drive() {
  return {wheel(48, 0, 20), wheel(0, 14, 10, -1), wheel(-48, 0, 20)};
}

TEST_CASE("a back idler between two pulleys gives the exact spans, wrap and length") {
  // exact: spans 40, 40, 96; idler wrap 2 asin 0.352; L = 176 + 40 pi + 60 asin 0.352
  const TangentPath path = solved(dipped_drive());
  CHECK_THAT(path.spans[0].length_mm, WithinRel(40.0, kLengthRounding));
  CHECK_THAT(path.spans[1].length_mm, WithinRel(40.0, kLengthRounding));
  CHECK_THAT(path.spans[2].length_mm, WithinRel(96.0, kLengthRounding));
  const double dip = std::asin(0.352);
  CHECK_THAT(path.wraps[1].radians(), WithinAbs(2.0 * dip, kAngleRoundingDeg * kRadPerDeg));
  CHECK_THAT(path.length_mm, WithinRel(176.0 + 40.0 * kPi + 60.0 * dip, kLengthRounding));
  constexpr double kQuoted = 0.5e-9;
  CHECK_THAT(path.length_mm, WithinAbs(323.246126119, kQuoted));
}

TEST_CASE("the dipped belt shortens as its back idler is let out") {
  // exact: dL/dy = -2 sin(wrap/2) = -0.704
  const Vec2 gradient = centre_gradient(solved(dipped_drive()), 1);
  CHECK_THAT(gradient.y(), WithinAbs(-0.704, 8.0 * kEpsilon));
  CHECK_THAT(gradient.x(), WithinAbs(0.0, 8.0 * kEpsilon));
}

TEST_CASE("the published three-pulley serpentine drive has its printed spans") {
  // published, numbers from memory: Beikmann, Perkins & Ulsoy, J. Vib. Acoust. 118 (1996); metres
  const TangentPath path = solved({wheel(0.5525, 0.0556, 0.0889),
                                   wheel(0.3477, 0.05715, 0.0452, -1), wheel(0.0, 0.0, 0.02697)});
  constexpr double kPrinted = 0.5e-4;  // four decimals
  CHECK_THAT(path.spans[0].length_mm, WithinAbs(0.1548, kPrinted));
  CHECK_THAT(path.spans[1].length_mm, WithinAbs(0.3449, kPrinted));
  CHECK_THAT(path.spans[2].length_mm, WithinAbs(0.5518, kPrinted));
}

TEST_CASE("the published tensioner arm reaches from its pivot to its pulley") {
  // published, numbers from memory: the same drive; arm 0.097 from pivot (0.2508, 0.0635)
  const double arm = (Vec2(0.3477, 0.05715) - Vec2(0.2508, 0.0635)).norm();
  constexpr double kPrinted = 0.5e-3;
  CHECK_THAT(arm, WithinAbs(0.097, kPrinted));
}

TEST_CASE("signed wraps of a belt sum to one turn, and listed the other way to one turn back") {
  // exact
  const std::vector<Wheel> wheels = dipped_drive();
  constexpr double kTurnRounding = 16.0 * kEpsilon * kFullTurn;
  CHECK_THAT(signed_turn(wheels, solved(wheels)).radians(), WithinAbs(kFullTurn, kTurnRounding));
  const std::vector<Wheel> back = reversed(wheels);
  CHECK_THAT(signed_turn(back, solved(back)).radians(), WithinAbs(-kFullTurn, kTurnRounding));
}

}  // namespace
}  // namespace twoturn::test
