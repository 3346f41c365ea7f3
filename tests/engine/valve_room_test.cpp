#include "twoturn/engine/valve_room.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"
#include "twoturn/engine/valve_gap.hpp"

using namespace twoturn;

namespace {

constexpr double kRoomMm = 1e-6;  // what a least room is good for, at least

Lobe lobe(Law law, double height, double lash, double centre, double opening, double closing) {
  return {LiftCurve::of_law({law, height, opening * kRadPerDeg, closing * kRadPerDeg}),
          Angle::degrees(centre), lash};
}

ValveOverPiston inlet() { return {lobe(Law::cycloidal, 9.2, 0.0, 108.0, 130.0, 135.0), 1.05, 6.0}; }

oracle::Real (*oracle_law(Law law))(oracle::Real) {
  switch (law) {
    case Law::harmonic:
      return oracle::harmonic;
    case Law::polynomial_345:
      return oracle::polynomial_345;
    case Law::polynomial_4567:
      return oracle::polynomial_4567;
    default:
      return oracle::cycloidal;
  }
}

}  // namespace

TEST_CASE("A vertical valve with its lobe on top dead centre has its least room there") {
  // Exact: by symmetry the depth is 0 where the lift is greatest.
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const ValveOverPiston valve{lobe(Law::cycloidal, 4.0, 0.0, 0.0, 60.0, 60.0), 1.0, 5.5};
  const RoomFound found = examine_room(crank, valve, Angle());
  CHECK_THAT(found.least.room_mm, WithinAbs(1.5, 1e-12));
  CHECK_THAT(found.least.at.degrees(), WithinAbs(0.0, 1e-5));
  CHECK(found.touches.empty());
}

TEST_CASE("The other top dead centre, valve shut, is a least room of its own") {
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const RoomFound found = examine_room(crank, inlet(), Angle());
  bool shut = false;
  for (const RoomAt& minimum : found.minima) {
    shut = shut || std::abs(std::abs(minimum.at.degrees()) - 360.0) < 1e-9;
    if (std::abs(minimum.at.degrees()) > 300.0) {
      CHECK_THAT(minimum.room_mm, WithinAbs(6.0, 1e-12));
    }
  }
  CHECK(shut);
}

TEST_CASE("With an endless rod and a harmonic lobe the least room is the closed form's") {
  // Exact in the limit of a long rod: lift h/2 (1 + cos((t - c) pi/b)) with b = pi (180 deg flank)
  // makes depth - lift = a - h/2 - (a cos t + h/2 cos(t - c)): one cosine of amplitude
  // sqrt(a^2 + a h cos c + h^2/4), so the least room is room + a - h/2 - that amplitude.
  const double a = 40.0, h = 9.0, c = 110.0 * kRadPerDeg;
  const SliderCrank crank = *SliderCrank::of_throw(a, 1e8);
  const ValveOverPiston valve{lobe(Law::harmonic, h, 0.0, 110.0, 180.0, 180.0), 1.0, 3.0};
  const double amplitude = std::sqrt(a * a + a * h * std::cos(c) + h * h / 4.0);
  const RoomFound found = examine_room(crank, valve, Angle());
  CHECK_THAT(found.least.room_mm, WithinAbs(3.0 + a - h / 2.0 - amplitude, 1e-5));
}

TEST_CASE("The least room is that of an independent dense search, within a millionth of a mm") {
  constexpr unsigned kSeed = 20240611;
  CAPTURE(kSeed);
  std::mt19937 random(kSeed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / static_cast<double>(random.max());
  };
  const Law laws[] = {Law::cycloidal, Law::harmonic, Law::polynomial_345, Law::polynomial_4567};
  for (int k = 0; k < 40; ++k) {
    const double a = between(30.0, 55.0), l = between(2.9, 4.0) * a, e = between(-3.0, 3.0);
    const SliderCrank crank = *SliderCrank::of_throw(a, l, e);
    const Law law = laws[k % 4];
    const double height = between(6.0, 12.0), lash = k % 3 == 0 ? 0.0 : between(0.05, 0.5);
    const double side = k % 2 == 0 ? 1.0 : -1.0;
    const double centre = side * between(95.0, 120.0);
    const double opening = between(105.0, 150.0), closing = between(105.0, 150.0);
    const double drop = between(0.9, 1.2), room = between(0.5, 8.0), early = between(-80.0, 80.0);
    const ValveOverPiston valve{lobe(law, height, lash, centre, opening, closing), drop, room};
    using oracle::real;
    const oracle::Piston piston{real(a), real(l), real(e)};
    const oracle::Valve same{oracle_law(law), real(height),  real(lash), real(centre),
                             real(opening),   real(closing), real(drop), real(room)};
    const oracle::Least expected = oracle::least_room(piston, same, real(early));
    const RoomFound found = examine_room(crank, valve, Angle::degrees(early));
    CAPTURE(k, a, l, e, height, lash, centre, early);
    CHECK_THAT(found.least.room_mm, WithinAbs(static_cast<double>(expected.room), kRoomMm));
  }
}

TEST_CASE(
    "Every local minimum is one: the room is higher just beside it, and nowhere lower found") {
  const SliderCrank crank = *SliderCrank::of_stroke(82.0, 140.0, 1.0);
  for (const double early : {-60.0, -18.0, 0.0, 18.0, 75.0}) {
    const Angle advance = Angle::degrees(early);
    const RoomFound found = examine_room(crank, inlet(), advance);
    for (const RoomAt& minimum : found.minima) {
      for (const double beside : {-1e-3, 1e-3}) {
        CHECK(room_mm(crank, inlet(), advance, Angle::radians(minimum.at.radians() + beside)) >=
              minimum.room_mm);
      }
    }
    std::vector<double> rooms(72000);
    sample_room(crank, inlet(), advance, rooms);
    int valleys = 0;
    for (std::size_t k = 0; k < rooms.size(); ++k) {
      const double before = rooms[(k + rooms.size() - 1) % rooms.size()];
      const double after = rooms[(k + 1) % rooms.size()];
      CHECK(rooms[k] >= found.least.room_mm - 1e-12);
      valleys += rooms[k] < before && rooms[k] <= after ? 1 : 0;
    }
    CHECK(static_cast<int>(found.minima.size()) == valleys);
  }
}

TEST_CASE("The least room alone is the least of all minima, and touches where they say") {
  // Held against the search of all two turns, which the oracle above is held against.
  std::mt19937 random(20261129);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  const auto from = [&](double low, double high) { return low + (high - low) * share(random); };
  int touching = 0;
  for (int k = 0; k < 400; ++k) {
    const double stroke = from(60.0, 110.0);
    const SliderCrank crank =
        *SliderCrank::of_stroke(stroke, from(1.2, 2.2) * stroke, from(-3.0, 3.0));
    ValveOverPiston valve{lobe(Law::polynomial_345, from(5.0, 12.0), from(0.0, 0.4),
                               from(-140.0, 140.0), from(90.0, 160.0), from(90.0, 160.0)),
                          from(0.8, 1.3), from(-0.5, 7.0)};
    const LeastRoom least_room(crank, valve);
    for (const double early : {-90.0, -36.0, 0.0, 18.0, 54.0}) {
      const Angle advance = Angle::degrees(early);
      const RoomFound all = examine_room(crank, valve, advance);
      const LeastFound least = least_room.at(advance);
      CAPTURE(k, early);
      CHECK_THAT(least.least.room_mm, WithinAbs(all.least.room_mm, 1e-9));
      REQUIRE(least.touches.size() == all.touches.size());
      for (std::size_t t = 0; t < all.touches.size(); ++t) {
        CHECK_THAT(least.touches[t].from.degrees(), WithinAbs(all.touches[t].from.degrees(), 1e-9));
        CHECK_THAT(least.touches[t].to.degrees(), WithinAbs(all.touches[t].to.degrees(), 1e-9));
      }
      touching += all.touches.empty() ? 0 : 1;
    }
  }
  CHECK(touching > 200);
}

TEST_CASE("Touching begins and ends where the room is nothing, and is below it between") {
  const SliderCrank crank = *SliderCrank::of_stroke(82.0, 140.0);
  const Angle advance = Angle::degrees(54.0);  // an inlet cam three teeth early
  ValveOverPiston valve = inlet();
  valve.room_tdc_mm = 1.5;
  const RoomFound found = examine_room(crank, valve, advance);
  REQUIRE(found.least.room_mm < 0.0);
  REQUIRE(found.touches.size() == 1);
  const TouchSpan span = found.touches.front();
  CHECK_THAT(room_mm(crank, valve, advance, span.from), WithinAbs(0.0, 1e-9));
  CHECK_THAT(room_mm(crank, valve, advance, span.to), WithinAbs(0.0, 1e-9));
  CHECK(room_mm(crank, valve, advance, 0.5 * (span.from + span.to)) < 0.0);
  CHECK(span.from < found.least.at);
  CHECK(found.least.at < span.to);
}

TEST_CASE("A room that is never there touches all the way round") {
  const SliderCrank crank = *SliderCrank::of_stroke(82.0, 140.0);
  ValveOverPiston valve = inlet();
  valve.room_tdc_mm = -200.0;
  const RoomFound found = examine_room(crank, valve, Angle());
  REQUIRE(found.touches.size() == 1);
  CHECK_THAT((found.touches[0].to - found.touches[0].from).degrees(), WithinAbs(720.0, 1e-9));
}

TEST_CASE("An inlet early is an exhaust late, mirrored in time") {
  // Exact: time run backwards, offset and lobe mirrored.
  const auto forwards = SliderCrank::of_stroke(82.0, 140.0, 2.0);
  const auto backwards = SliderCrank::of_stroke(82.0, 140.0, -2.0);
  const ValveOverPiston in{lobe(Law::modified_sine, 9.0, 0.2, 105.0, 120.0, 140.0), 1.0, 2.0};
  const ValveOverPiston out{lobe(Law::modified_sine, 9.0, 0.2, -105.0, 140.0, 120.0), 1.0, 2.0};
  for (const double early : {-36.0, 0.0, 18.0, 36.0}) {
    const RoomFound first = examine_room(*forwards, in, Angle::degrees(early));
    const RoomFound second = examine_room(*backwards, out, Angle::degrees(-early));
    CHECK_THAT(first.least.room_mm, WithinAbs(second.least.room_mm, 1e-9));
    const double apart = first.least.at.degrees() + second.least.at.degrees();
    CHECK_THAT(std::remainder(apart, 720.0), WithinAbs(0.0, 1e-4));
  }
}

TEST_CASE("The nearest place lies by overlap, not at full lift") {
  // Common practice.
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const RoomFound found = examine_room(crank, inlet(), Angle());
  CHECK(found.least.at.degrees() > 0.0);
  CHECK(found.least.at.degrees() < 30.0);
}

TEST_CASE("A pocket takes lift over the cosine, a flat crown lift times it") {
  // Exact: 60 deg from the bore halves or doubles.
  CHECK_THAT(drop_a_lift(Crown::flat, 60.0), WithinAbs(0.5, 1e-15));
  CHECK_THAT(drop_a_lift(Crown::pocket, 60.0), WithinAbs(2.0, 1e-14));
  CHECK(drop_a_lift(Crown::pocket, 0.0) == 1.0);
}

TEST_CASE("Room at top dead centre from clay leaves just that much as the least room") {
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  ValveOverPiston valve = inlet();
  valve.room_tdc_mm = room_tdc_of_least(crank, valve, 1.7).room_mm;
  CHECK_THAT(examine_room(crank, valve, Angle()).least.room_mm, WithinAbs(1.7, 1e-9));
}

TEST_CASE("A table read off a law gives the law's least room") {
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const ValveOverPiston by_law = inlet();
  std::vector<LiftPoint> points;
  for (int deg = -130; deg <= 135; deg += 1) {
    const bool end = deg == -130 || deg == 135;
    points.push_back(
        {static_cast<double>(deg), end ? 0.0 : by_law.lobe.curve.lift_mm(deg * kRadPerDeg)});
  }
  const ValveOverPiston measured{
      {*LiftCurve::of_table(points), by_law.lobe.placed, 0.0}, 1.05, 6.0};
  for (const double early : {-36.0, 0.0, 36.0}) {
    CHECK_THAT(examine_room(crank, measured, Angle::degrees(early)).least.room_mm,
               WithinAbs(examine_room(crank, by_law, Angle::degrees(early)).least.room_mm, 1e-4));
  }
}

TEST_CASE("Two upright valve heads side by side stay their seats' distance apart") {
  // Exact: both move along the bore; edges 20 - 17 - 1 mm apart when level, more when not.
  const ValveHead in{18.0, 32.0, 0.0};
  const ValveHead out{-16.0, 28.0, 0.0};
  CHECK_THAT(head_gap_mm(in, 0.0, out, 0.0), WithinAbs(34.0 - 16.0 - 14.0, 1e-12));
  CHECK_THAT(head_gap_mm(in, 3.0, out, 0.0), WithinAbs(5.0, 1e-12));  // 3, 4, 5
}

TEST_CASE("Leaning valves come together as they open, by twice the sine each mm") {
  // Exact for equal lifts and equal leans: each edge moves in by lift x sin b.
  const double lean = 20.0, sine = std::sin(lean * kRadPerDeg),
               cosine = std::cos(lean * kRadPerDeg);
  const ValveHead in{20.0, 30.0, lean};
  const ValveHead out{-20.0, 30.0, lean};
  for (const double lift : {0.0, 2.0, 6.0}) {
    CHECK_THAT(head_gap_mm(in, lift, out, lift),
               WithinAbs(40.0 - 30.0 * cosine - 2.0 * lift * sine, 1e-12));
  }
}

TEST_CASE("The least gap of two mirrored valves lies at top dead centre") {
  // By symmetry both lifts are equal there.
  const ValveHead in{20.0, 30.0, 25.0};
  const ValveHead out{-20.0, 30.0, 25.0};
  const Lobe first = lobe(Law::cycloidal, 9.0, 0.0, 100.0, 140.0, 140.0);
  const Lobe second = lobe(Law::cycloidal, 9.0, 0.0, -100.0, 140.0, 140.0);
  const GapAt level = least_gap(in, first, Angle(), out, second, Angle());
  const GapAt closer = least_gap(in, first, Angle::degrees(20.0), out, second, Angle());
  CHECK(level.gap_mm ==
        Approx(head_gap_mm(in, first.lift_mm(Angle()), out, second.lift_mm(Angle()))).margin(0.3));
  CHECK(closer.gap_mm < level.gap_mm);
}

TEST_CASE("Nowhere in two turns are two heads nearer than the least gap, and there they are") {
  // Looked at every 0.05 crank deg; between two looks neither lobe moves 0.02 mm.
  constexpr unsigned kSeed = 20250217;
  CAPTURE(kSeed);
  std::mt19937 random(kSeed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / static_cast<double>(random.max());
  };
  for (int k = 0; k < 30; ++k) {
    const ValveHead in{between(15.0, 25.0), between(24.0, 34.0), between(0.0, 35.0)};
    const ValveHead out{-between(15.0, 25.0), between(22.0, 30.0), between(0.0, 35.0)};
    const Lobe first = lobe(Law::cycloidal, between(6.0, 12.0), between(0.0, 0.4),
                            between(90.0, 120.0), between(100.0, 160.0), between(100.0, 160.0));
    const Lobe second = lobe(Law::polynomial_345, between(6.0, 12.0), between(0.0, 0.4),
                             -between(90.0, 120.0), between(100.0, 160.0), between(100.0, 160.0));
    const double early = between(-400.0, 400.0);
    const auto gap_at = [&](double deg) {
      return head_gap_mm(in, first.lift_mm(Angle::degrees(deg + early)), out,
                         second.lift_mm(Angle::degrees(deg)));
    };
    const GapAt found = least_gap(in, first, Angle::degrees(early), out, second, Angle());
    double least = gap_at(-360.0);
    for (int step = 1; step < 14400; ++step) least = std::min(least, gap_at(-360.0 + 0.05 * step));
    CAPTURE(k, early);
    CHECK(found.gap_mm <= least + 1e-9);
    CHECK(found.gap_mm >= least - 0.02);
    CHECK_THAT(gap_at(found.at.degrees()), WithinAbs(found.gap_mm, 1e-9));
  }
}

TEST_CASE("Where two heads meet is the first place where they do") {
  // Both upright and level, the seats 1 mm apart: neither comes nearer. Leaning 30 deg, an opening
  // valve comes across by half its lift: they meet as it has opened by 2 mm.
  const ValveHead in{16.0, 30.0, 0.0};
  const ValveHead out{-16.0, 30.0, 0.0};
  const Lobe one = lobe(Law::harmonic, 8.0, 0.0, 100.0, 120.0, 120.0);
  const Lobe shut_in_overlap = lobe(Law::harmonic, 8.0, 0.0, -180.0, 100.0, 100.0);
  CHECK_THAT(least_gap(in, one, Angle(), out, shut_in_overlap, Angle()).gap_mm,
             WithinAbs(2.0, 1e-12));
  const double cosine = std::cos(30.0 * kRadPerDeg);
  // Rims' inner ends level with one another when both are shut, 1 mm apart.
  const ValveHead leaning{15.0 * cosine + 0.5, 30.0, 30.0};
  const ValveHead other{-15.0 * cosine - 0.5, 30.0, 30.0};
  const GapAt met = least_gap(leaning, one, Angle(), other, one, Angle());
  CHECK(met.gap_mm == 0.0);
  // Harmonic: 1 mm of 8 is lifted where sin^2(90 deg x) is 1/8; each comes across by half of it.
  const double share = std::asin(std::sqrt(1.0 / 8.0)) / (kPi / 2.0);
  CHECK_THAT(met.at.degrees(), WithinAbs(100.0 - 120.0 + 120.0 * share, 1e-6));
}

namespace {

std::vector<LiftPoint> harmonic_rows() {
  std::vector<LiftPoint> points;
  for (int deg = -120; deg <= 120; deg += 10) {
    const bool end = std::abs(deg) == 120;
    const double lift = 4.5 * (1.0 + std::cos(deg / 120.0 * kPi));
    points.push_back({static_cast<double>(deg), end ? 0.0 : lift});
  }
  return points;
}

}  // namespace

TEST_CASE("Two rows of a lift table as near as can be told cost no more than any other row") {
  // The same lobe, with one more reading of its flank beside the one at -50 deg: 0.002 mm up.
  const SliderCrank crank = *SliderCrank::of_stroke(86.0, 143.0);
  const std::vector<LiftPoint> plain = harmonic_rows();
  const Lobe smooth{*LiftCurve::of_table(plain), Angle::degrees(108.0), 0.0};
  const double expected = examine_room(crank, {smooth, 1.05, 6.0}, Angle()).least.room_mm;
  for (const double apart : {1e-3, 5e-5, 1e-9}) {
    std::vector<LiftPoint> rows = plain;
    rows.insert(rows.begin() + 8, {rows[7].crank_deg + apart, rows[7].lift_mm + 0.002});
    const Lobe stepped{*LiftCurve::of_table(rows), Angle::degrees(108.0), 0.0};
    long looks = 0;
    for (const LiftPiece& piece : stepped.curve.pieces()) {
      // What examine_room may have to cut a piece into, at the very worst.
      const double width = piece.to_rad - piece.from_rad;
      looks += 1 + std::lround(width * std::sqrt(piece.curvature_mm / 8.0 / 1e-8));
    }
    CHECK(looks < 100000);
    CAPTURE(apart);
    CHECK_THAT(examine_room(crank, {stepped, 1.05, 6.0}, Angle()).least.room_mm,
               WithinAbs(expected, 0.01));
  }
}
