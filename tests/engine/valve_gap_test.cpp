// Two heads' gap and overlap: right triangles by hand, and a plain dense search of two turns.
#include "twoturn/engine/valve_gap.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>
#include <vector>

#include "support/catch.hpp"

using namespace twoturn;

namespace {

// The right triangle 3, 4, 5: sine 0.6, cosine 0.8.
const double kLean = std::asin(0.6) / kRadPerDeg;

Lobe lobe(Law law, double height, double lash, double centre, double opening, double closing) {
  return {LiftCurve::of_law({law, height, opening * kRadPerDeg, closing * kRadPerDeg}),
          Angle::degrees(centre), lash};
}

// Two heads on two cams; all but the heads fixed.
struct Pair {
  ValveHead in, out;
  Lobe first, second;
  double early = 0.0, late = 0.0;

  double gap(double deg) const {
    return head_gap_mm(in, first.lift_mm(Angle::degrees(deg + early)), out,
                       second.lift_mm(Angle::degrees(deg + late)));
  }
  GapAt found() const {
    return least_gap(in, first, Angle::degrees(early), out, second, Angle::degrees(late));
  }
  // Of steps of 0.02 crank deg.
  double searched() const {
    double least = gap(-360.0);
    for (int k = 1; k < 36000; ++k) least = std::min(least, gap(-360.0 + 0.02 * k));
    return least;
  }
};

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  // Lobes down to 12 crank deg a flank: no engine's, but a step of the search holds their nose.
  Pair pair() {
    const auto drawn = [&](Law law) {
      return lobe(law, between(5.0, 12.0), between(0.0, 0.4), between(-300.0, 300.0),
                  between(12.0, 60.0), between(12.0, 60.0));
    };
    const ValveHead in{between(15.0, 25.0), between(24.0, 34.0), between(0.0, 35.0)};
    const ValveHead out{-between(15.0, 25.0), between(22.0, 30.0), between(0.0, 35.0)};
    return {in,
            out,
            drawn(Law::harmonic),
            drawn(Law::polynomial_345),
            between(-400.0, 400.0),
            between(-400.0, 400.0)};
  }

 private:
  std::mt19937 random_;
};

}  // namespace

TEST_CASE("A leaning head's rim stands square to its stem, its inner end the higher") {
  // By hand: across 20, rim 20, its inner end 8 in and 6 up, and 3 in and 4 down for 5 of lift: at
  // (9, 2). The upright one's inner end 3 on the other side and 3 down: 12 aside and 5 up to it.
  const ValveHead in{20.0, 20.0, kLean};
  const ValveHead out{-13.0, 20.0, 0.0};
  CHECK_THAT(head_gap_mm(in, 5.0, out, 3.0), WithinAbs(13.0, 1e-12));
  CHECK_THAT(head_gap_mm(out, 3.0, in, 5.0), WithinAbs(13.0, 1e-12));
  // And mirrored.
  const ValveHead mirrored_in{-20.0, 20.0, kLean};
  const ValveHead mirrored_out{13.0, 20.0, 0.0};
  CHECK_THAT(head_gap_mm(mirrored_in, 5.0, mirrored_out, 3.0), WithinAbs(13.0, 1e-12));
}

TEST_CASE("A head whose middle is on the bore's line leans as one of the inlet's side does") {
  const ValveHead other{-30.0, 20.0, 0.0};
  const double there = head_gap_mm({0.0, 20.0, kLean}, 4.0, other, 0.0);
  CHECK_THAT(there, WithinAbs(head_gap_mm({1e-9, 20.0, kLean}, 4.0, other, 0.0), 1e-8));
  CHECK(std::abs(there - head_gap_mm({-1e-9, 20.0, kLean}, 4.0, other, 0.0)) > 0.1);
  // By hand: its inner end is 8 + 2.4 across and 6 - 3.2 up, the other's 20 across.
  CHECK_THAT(there, WithinAbs(std::hypot(20.0 - 10.4, 2.8), 1e-12));
}

TEST_CASE("Two crossed rims overlap by the shortest way of an end to the other's line") {
  // By hand: the upright rim lies at -4 from -5 to 15; the leaning one, 10 lifted, ends at (4, -2),
  // 2 above it and by far the nearest of the four.
  const ValveHead upright{5.0, 20.0, 0.0};
  const ValveHead leaning{-10.0, 20.0, kLean};
  CHECK(head_gap_mm(upright, 4.0, leaning, 10.0) == 0.0);
  CHECK_THAT(head_overlap_mm(upright, 4.0, leaning, 10.0), WithinAbs(2.0, 1e-12));
  CHECK_THAT(head_overlap_mm(leaning, 10.0, upright, 4.0), WithinAbs(2.0, 1e-12));
  // Mirrored, each end is the other end.
  const ValveHead left{-5.0, 20.0, 0.0};
  const ValveHead right{10.0, 20.0, kLean};
  CHECK_THAT(head_overlap_mm(left, 4.0, right, 10.0), WithinAbs(2.0, 1e-12));
  CHECK_THAT(head_overlap_mm(right, 10.0, left, 4.0), WithinAbs(2.0, 1e-12));
  // A mm more lift of the upright one parts them by 1, three part them.
  CHECK_THAT(head_overlap_mm(upright, 3.0, leaning, 10.0), WithinAbs(1.0, 1e-12));
  CHECK(head_overlap_mm(upright, 1.0, leaning, 10.0) == 0.0);
  CHECK_THAT(head_gap_mm(upright, 1.0, leaning, 10.0), WithinAbs(1.0, 1e-12));
}

TEST_CASE("The deepest overlap is the greatest of all steps of half a degree") {
  // One upright head and one that comes across it; at other places they are apart.
  Draw draw(20260501);
  int crossed = 0;
  for (int k = 0; k < 20; ++k) {
    const ValveHead in{draw.between(3.0, 6.0), 20.0, 0.0};
    const ValveHead out{-draw.between(9.0, 12.0), 20.0, kLean};
    const Lobe first = lobe(Law::harmonic, draw.between(3.0, 5.0), 0.1, draw.between(20.0, 60.0),
                            draw.between(60.0, 90.0), 80.0);
    const Lobe second = lobe(Law::cycloidal, draw.between(9.0, 11.0), 0.1, draw.between(20.0, 60.0),
                             draw.between(60.0, 90.0), 80.0);
    const Angle early = Angle::degrees(draw.between(-400.0, 400.0));
    const Angle late = early - Angle::degrees(draw.between(0.0, 15.0));
    GapAt expected;
    for (int step = 0; step < 1440; ++step) {
      const Angle at = Angle::degrees(-360.0 + 0.5 * step);
      const double deep =
          head_overlap_mm(in, first.lift_mm(at + early), out, second.lift_mm(at + late));
      if (-deep < expected.gap_mm) expected = {-deep, at};
    }
    crossed += expected.gap_mm < 0.0 ? 1 : 0;
    const GapAt found = deepest_overlap(in, first, early, out, second, late);
    CHECK_THAT(found.gap_mm, WithinAbs(expected.gap_mm, 1e-9));
    CHECK_THAT(found.at.degrees(), WithinAbs(expected.at.degrees(), 1e-9));
  }
  CHECK(crossed > 15);
}

TEST_CASE("Of a dwell's overlap the first place is told, and of none none") {
  // By hand: the upright rim dwells at 4 down, the leaning one at 9 lifted, from 20 to 60 deg. Then
  // its end is 2.8 above that rim, and the rim's end 2.8 from its line; less lift lessens the
  // latter.
  const std::vector<LiftPoint> down{{-20, 0}, {0, 2}, {10, 4}, {70, 4}, {80, 2}, {90, 0}};
  const std::vector<LiftPoint> across{{0, 0}, {10, 3}, {20, 9}, {60, 9}, {70, 3}, {80, 0}};
  const Lobe first{*LiftCurve::of_table(down), Angle(), 0.0};
  const Lobe second{*LiftCurve::of_table(across), Angle(), 0.0};
  const ValveHead upright{5.0, 20.0, 0.0};
  const ValveHead leaning{-10.0, 20.0, kLean};
  const GapAt deepest = deepest_overlap(upright, first, Angle(), leaning, second, Angle());
  CHECK_THAT(deepest.gap_mm, WithinAbs(-2.8, 1e-12));
  CHECK_THAT(deepest.at.degrees(), WithinAbs(20.0, 1e-9));
  const ValveHead away{40.0, 20.0, 0.0};
  const GapAt none = deepest_overlap(away, first, Angle(), leaning, second, Angle());
  CHECK(none.gap_mm == 0.0);
  CHECK(none.at == Angle());
}

TEST_CASE("However sharp the lobes and wherever the cams stand the least gap is the least") {
  Draw draw(20260502);
  int close = 0;
  for (int k = 0; k < 60; ++k) {
    Pair pair = draw.pair();
    // Every other pair moved so near that its least gap is a few tenths of a mm.
    if (k % 2 == 0) {
      for (int again = 0; again < 4; ++again) {
        pair.in.across_mm -= pair.searched() - (0.05 + 0.005 * k);
      }
    }
    const GapAt found = pair.found();
    const double least = pair.searched();
    CAPTURE(k, pair.early, pair.late);
    close += least > 0.0 && least < 0.6 ? 1 : 0;
    CHECK(found.gap_mm <= least + 1e-9);
    CHECK(found.gap_mm >= least - 0.02);  // no lobe moves so much between two looks
    CHECK_THAT(pair.gap(found.at.degrees()), WithinAbs(found.gap_mm, 1e-9));
  }
  CHECK(close > 15);
}

TEST_CASE("The least gap goes round with both cams") {
  // Exact: both cams so much earlier bring it so much earlier.
  Draw draw(20260503);
  for (int k = 0; k < 3; ++k) {
    Pair pair = draw.pair();
    pair.in.across_mm = 24.0;  // clear of each other
    const GapAt first = pair.found();
    const double early = pair.early, late = pair.late;
    for (double turned = 0.0; turned < 720.0; turned += 3.1) {
      pair.early = early + turned;
      pair.late = late + turned;
      const GapAt found = pair.found();
      CAPTURE(k, turned);
      CHECK_THAT(found.gap_mm, WithinAbs(first.gap_mm, 1e-7));
      CHECK_THAT(std::remainder(found.at.degrees() - first.at.degrees() + turned, 720.0),
                 WithinAbs(0.0, 0.02));
      CHECK(found.at.degrees() >= -360.0);
      CHECK(found.at.degrees() < 360.0);
    }
  }
}

TEST_CASE("A nose between two looks is seen wherever it stands, beside another nearly as near") {
  // Both heads lean in alike and only one is open at a time: the more lift, the nearer. The broad
  // lobe's 9 mm lie between what the sharp one has at its nose and 4 deg beside it.
  for (const double flank : {12.0, 4.5}) {
    Pair pair{{25.0, 24.0, 35.0},
              {-25.0, 24.0, 35.0},
              lobe(Law::harmonic, 9.0, 0.0, -100.0, 60.0, 60.0),
              lobe(Law::harmonic, 10.0, 0.0, 100.0, flank, flank)};
    const double nose = head_gap_mm(pair.in, 0.0, pair.out, 10.0);
    REQUIRE(nose < head_gap_mm(pair.in, 9.0, pair.out, 0.0));
    for (double turned = -1080.0; turned < 1080.0; turned += 1.7) {
      pair.early = pair.late = turned;
      const GapAt found = pair.found();
      CAPTURE(flank, turned);
      CHECK_THAT(found.gap_mm, WithinAbs(nose, 1e-9));
      CHECK_THAT(std::remainder(found.at.degrees() - 100.0 + turned, 720.0), WithinAbs(0.0, 1e-4));
    }
  }
}

TEST_CASE("Of many places equally near the first of the two turns is told") {
  // Two upright heads 2 mm apart when shut, further when one is open; shut at -360 deg already.
  const ValveHead in{16.0, 30.0, 0.0};
  const ValveHead out{-16.0, 30.0, 0.0};
  const Lobe first = lobe(Law::harmonic, 8.0, 0.0, 100.0, 120.0, 120.0);
  const Lobe second = lobe(Law::harmonic, 8.0, 0.0, -180.0, 60.0, 60.0);
  const GapAt found = least_gap(in, first, Angle(), out, second, Angle());
  CHECK_THAT(found.gap_mm, WithinAbs(2.0, 1e-12));
  CHECK_THAT(found.at.degrees(), WithinAbs(-360.0, 1e-9));
}

TEST_CASE("The least gap of a dwell is told where it begins") {
  const ValveHead in{25.0, 24.0, 35.0};
  const ValveHead out{-25.0, 24.0, 35.0};
  const std::vector<LiftPoint> rows{{0, 0}, {10, 3}, {20, 9}, {60, 9}, {70, 3}, {80, 0}};
  const Lobe dwells{*LiftCurve::of_table(rows), Angle(), 0.0};
  const Lobe shut = lobe(Law::harmonic, 4.0, 0.0, -200.0, 40.0, 40.0);
  for (double turned = 0.0; turned < 2.0; turned += 0.13) {
    const Angle early = Angle::degrees(turned);
    const GapAt found = least_gap(in, dwells, early, out, shut, early);
    CHECK_THAT(found.gap_mm, WithinAbs(head_gap_mm(in, 9.0, out, 0.0), 1e-9));
    CHECK_THAT(found.at.degrees(), WithinAbs(20.0 - turned, 0.01));
  }
}
