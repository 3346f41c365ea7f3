// Belt length and wrap of two pulleys: values of textbooks, and exact ones.
#include <array>

#include "support/paths.hpp"

namespace twoturn::test {
namespace {

// Values recomputed exactly are quoted to ten significant digits or more.
constexpr double kQuotedRelative = 1e-10;
constexpr double kQuotedDeg = 0.5e-7;  // angles are quoted to seven decimals

struct Pair {
  double large, small, centres;
};

std::vector<Wheel> open_drive(const Pair& p) {
  return {wheel(0.0, 0.0, p.large), wheel(p.centres, 0.0, p.small)};
}

std::vector<Wheel> crossed_drive(const Pair& p) {
  return {wheel(0.0, 0.0, p.large), wheel(p.centres, 0.0, p.small, -1)};
}

TEST_CASE("an open drive with its tangents at 30 degrees has a length in closed form") {
  // exact: L = 32 pi + 30 sqrt 3, wraps 120 and 240 deg
  const TangentPath path = solved(open_drive({21.0, 6.0, 30.0}));
  CHECK_THAT(path.length_mm, WithinRel(32.0 * kPi + 30.0 * std::sqrt(3.0), 4.0 * kEpsilon));
  CHECK_THAT(path.length_mm, WithinRel(152.492489142, kQuotedRelative));
  constexpr double kAngleRounding = 1e-13;  // deg: a few roundings of 240
  CHECK_THAT(path.wraps[0].degrees(), WithinAbs(240.0, kAngleRounding));
  CHECK_THAT(path.wraps[1].degrees(), WithinAbs(120.0, kAngleRounding));
}

TEST_CASE("the printed crossed belt of 4.975 m comes out, and its exact length") {
  // published: Khurmi & Gupta, Theory of Machines, ex. 11.6; then recomputed exactly
  const TangentPath path = solved(crossed_drive({0.225, 0.1, 1.95}));
  CHECK_THAT(path.length_mm, WithinAbs(4.975, 0.5e-3));
  CHECK_THAT(path.length_mm, WithinRel(4.97531072292, kQuotedRelative));
  CHECK_THAT(path.wraps[0].degrees(), WithinAbs(199.1881365, kQuotedDeg));
  CHECK_THAT(path.wraps[1].degrees(), WithinAbs(199.1881365, kQuotedDeg));
}

TEST_CASE("the printed open belt of 7.33 m comes out, and its exact length") {
  // published: Khurmi & Gupta, Theory of Machines, ex. 11.15; then recomputed exactly
  const TangentPath path = solved(open_drive({0.3, 0.12, 3.0}));
  CHECK_THAT(path.length_mm, WithinAbs(7.33, 0.5e-2));
  CHECK_THAT(path.length_mm, WithinRel(7.33027215801, kQuotedRelative));
  CHECK_THAT(path.wraps[0].degrees(), WithinAbs(186.8796255, kQuotedDeg));
  CHECK_THAT(path.wraps[1].degrees(), WithinAbs(173.1203745, kQuotedDeg));
}

TEST_CASE("the printed crossed belt of 1361.25 mm comes out, and its exact length") {
  // published: Bansal, Engineering Mechanics, ex. 11.7; then recomputed exactly
  const double length = belt_length_mm(crossed_drive({30.0, 20.0, 600.0}));
  CHECK_THAT(length, WithinAbs(1361.25, 0.5e-2));
  CHECK_THAT(length, WithinRel(1361.24871565, kQuotedRelative));
}

TEST_CASE("at the centre distance printed for a belt of 54 the belt is 54 long") {
  // published: Wentzell, Machine Design, ex. 14.2 (printed 19.12); then recomputed exactly
  const TangentPath path = solved(open_drive({3.0, 2.0, 19.1198616}));
  CHECK_THAT(19.1198616, WithinAbs(19.12, 0.5e-2));
  // The centre distance is quoted to 5e-8, and the belt goes along it twice.
  CHECK_THAT(path.length_mm, WithinAbs(54.0, 2.0 * 0.5e-7));
  // The wrap turns by 2 dC/C = 5e-9 rad for that: below the quoted digits.
  CHECK_THAT(path.wraps[1].degrees(), WithinAbs(174.0039384, 3.0 * kQuotedDeg));
}

TEST_CASE("crossing a flat belt lengthens it by the printed 3 mm") {
  // published: Sarkar, Theory of Machines, ill. 2.3 (printed 3.0); then recomputed exactly
  const Pair pulleys{25.0, 15.0, 500.0};
  const double longer =
      belt_length_mm(crossed_drive(pulleys)) - belt_length_mm(open_drive(pulleys));
  CHECK_THAT(longer, WithinAbs(3.0, 0.05));
  CHECK_THAT(longer, WithinAbs(3.0017033, 0.5e-7));
}

struct InTeeth {
  double pitch;
  int small, large, belt;
  double centres, mesh_small, mesh_large;
};

// exact: tan f - f = pi (z_b - z2)/(z2 - z1), C = p (z2 - z1)/(2 pi cos f), small wrap = 2 f; the
// form that the annexes of ISO 5296 and ISO 13050 use (from memory, re-derived).
constexpr std::array<InTeeth, 5> kInTeeth{{
    {8.0, 22, 44, 120, 346.86836251, 10.433873, 23.132255},
    {9.525, 20, 40, 110, 379.789154598, 9.4912375, 21.017525},
    {8.0, 24, 48, 140, 414.874117676, 11.436804, 25.126393},
    {5.0, 20, 60, 120, 197.428373742, 8.9690908, 33.092728},
    {5.08, 16, 32, 70, 116.118682997, 7.4314426, 17.137115},
}};

// f by halving: tan f - f rises from 0 to no end between 0 and a quarter turn.
double half_wrap_of_small(const InTeeth& t) {
  const double wanted = kPi * (t.belt - t.large) / (t.large - t.small);
  double low = 0.0;
  double high = kPi / 2.0;
  for (int step = 0; step < 100; ++step) {
    const double middle = 0.5 * (low + high);
    (std::tan(middle) - middle < wanted ? low : high) = middle;
  }
  return low;
}

double pitch_radius(const InTeeth& t, int teeth) { return teeth * t.pitch / kFullTurn; }

TEST_CASE("at the exact centre distance for a tooth count the belt has just that many pitches") {
  for (const InTeeth& t : kInTeeth) {
    INFO(t.small << " and " << t.large << " teeth, belt " << t.belt);
    const double f = half_wrap_of_small(t);
    const double centres = t.pitch * (t.large - t.small) / (kFullTurn * std::cos(f));
    CHECK_THAT(t.centres, WithinRel(centres, kQuotedRelative));
    const TangentPath path =
        solved(open_drive({pitch_radius(t, t.large), pitch_radius(t, t.small), centres}));
    // cos f near a quarter turn magnifies the rounding of f some tenfold.
    constexpr double kInverseRounding = 100.0 * kEpsilon;
    CHECK_THAT(path.length_mm, WithinRel(t.pitch * t.belt, kInverseRounding));
    CHECK_THAT(path.wraps[1].radians(), WithinAbs(2.0 * f, kInverseRounding));
  }
}

TEST_CASE("teeth in mesh follow from the wraps at the quoted centre distance") {
  for (const InTeeth& t : kInTeeth) {
    INFO(t.small << " and " << t.large << " teeth, belt " << t.belt);
    const TangentPath path =
        solved(open_drive({pitch_radius(t, t.large), pitch_radius(t, t.small), t.centres}));
    CHECK_THAT(path.length_mm, WithinRel(t.pitch * t.belt, kQuotedRelative));
    constexpr double kQuotedMesh = 5e-8;  // relative: quoted to eight significant digits
    CHECK_THAT(path.wraps[1].degrees() / 360.0 * t.small, WithinRel(t.mesh_small, kQuotedMesh));
    CHECK_THAT(path.wraps[0].degrees() / 360.0 * t.large, WithinRel(t.mesh_large, kQuotedMesh));
  }
}

}  // namespace
}  // namespace twoturn::test
