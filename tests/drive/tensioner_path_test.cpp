// Where a tensioner stands and how it is read: circle and line by hand.
#include "twoturn/drive/tensioner_path.hpp"

#include <cmath>
#include <random>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

using namespace twoturn;

namespace {

TensionerPath swing(double slack_deg, double travel_deg, int sense) {
  Swing path;
  path.pivot_mm = Vec2(-40, 170);
  path.arm_mm = 6.0;
  path.slack = Angle::clock(slack_deg);
  path.travel = Angle::degrees(travel_deg);
  path.sense = sense;
  return TensionerPath(path);
}

TensionerPath slide() { return TensionerPath(Slide{Vec2(10, 20), Vec2(40, 60)}); }  // 3-4-5: 50 mm

}  // namespace

TEST_CASE("A swing is read as a clock hand, a slide from its slack end") {
  const TensionerPath clockwise = swing(300, 260, -1);
  CHECK_THAT(clockwise.reading(0.0).value, WithinAbs(300.0, 1e-9));
  CHECK_THAT(clockwise.reading(100 * kRadPerDeg).value, WithinAbs(40.0, 1e-9));
  const TensionerPath other = swing(300, 260, 1);
  CHECK_THAT(other.reading(100 * kRadPerDeg).value, WithinAbs(200.0, 1e-9));
  CHECK(clockwise.reading(0.0).kind == TensionerKind::swing);
  CHECK(slide().reading(12.5).value == 12.5);
  CHECK(slide().reading(12.5).kind == TensionerKind::slide);
  for (const double turns : {-720.0, -360.0, 0.0, 360.0, 720.0}) {
    CHECK_THAT(clockwise.from_reading(346 + turns), WithinAbs(46 * kRadPerDeg, 1e-9));
    CHECK_THAT(other.from_reading(346 + turns), WithinAbs(314 * kRadPerDeg, 1e-9));
    CHECK_THAT(clockwise.from_reading(300 + turns), WithinAbs(0.0, 1e-9));
  }
  CHECK(slide().from_reading(12.5) == 12.5);
}

TEST_CASE("A hair before its slack end a swing stands at it, not a whole turn on") {
  const TensionerPath path = swing(300, 260, -1);
  CHECK(path.from_reading(300 - 1e-8) == 0.0);
  CHECK(path.from_reading(300 - 1e-3) > 6.28);
}

TEST_CASE("Its centre goes round the pivot or along the slot, at a rate that differences show") {
  CHECK((slide().centre_mm(25.0) - Vec2(25, 40)).norm() < 1e-12);
  CHECK((slide().centre_rate(7.0) - Vec2(0.6, 0.8)).norm() < 1e-12);
  CHECK(slide().travel_length() == 50.0);
  CHECK(slide().search_length() == 50.0);
  // At 12 o'clock and at 3: a quarter of a turn clockwise.
  const TensionerPath up = swing(0, 200, -1);
  CHECK((up.centre_mm(0.0) - Vec2(-40, 176)).norm() < 1e-12);
  CHECK((up.centre_mm(kPi / 2) - Vec2(-34, 170)).norm() < 1e-12);
  CHECK_THAT(up.travel_length(), WithinAbs(200 * kRadPerDeg, 1e-12));
  CHECK(up.search_length() == kFullTurn);
  for (const TensionerPath& path : {swing(300, 260, -1), swing(70, 100, 1), slide()}) {
    for (const double q : {0.1, 0.9, 2.3}) {
      const Vec2 slope = (path.centre_mm(q + 1e-6) - path.centre_mm(q - 1e-6)) / 2e-6;
      CHECK((path.centre_rate(q) - slope).norm() < 1e-7);
    }
  }
}

TEST_CASE("Either end is in the travel, and what lies beyond it is not") {
  for (const TensionerPath& path : {swing(300, 260, -1), slide()}) {
    const double travel = path.travel_length();
    CHECK(path.in_travel(0.0));
    CHECK(path.in_travel(travel));
    CHECK(path.in_travel(-1e-10 * travel));
    CHECK(path.in_travel(travel * (1.0 + 1e-10)));
    CHECK_FALSE(path.in_travel(-1e-8 * travel));
    CHECK_FALSE(path.in_travel(travel * (1.0 + 1e-8)));
    CHECK(path.travel(travel / 4.0) == 0.25);
  }
  CHECK_THAT(swing(300, 260, -1).rate_per_reading(9.0), WithinAbs(9.0 * kRadPerDeg, 1e-15));
  CHECK(slide().rate_per_reading(9.0) == 9.0);
}

TEST_CASE("Two settings are apart by the smaller way") {
  const TensionerPath path = swing(300, 260, -1);
  CHECK_THAT(path.apart(0.1, 0.1 + 10 * kRadPerDeg), WithinAbs(10.0, 1e-9));
  CHECK_THAT(path.apart(0.1 + 10 * kRadPerDeg, 0.1), WithinAbs(10.0, 1e-9));
  CHECK_THAT(path.apart(5 * kRadPerDeg, 355 * kRadPerDeg), WithinAbs(10.0, 1e-9));
  CHECK(slide().apart(3.0, 5.5) == 2.5);
  CHECK(slide().apart(5.5, 3.0) == 2.5);
}

TEST_CASE("Every place so far from a point is found, as many looks show") {
  std::mt19937 random(11);
  const auto between = [&random](double least, double most) {
    return std::uniform_real_distribution<double>(least, most)(random);
  };
  int found = 0;
  int none = 0;
  for (int k = 0; k < 300; ++k) {
    const TensionerPath path = k % 2 == 0
                                   ? swing(between(0, 360), 100, k % 4 == 0 ? 1 : -1)
                                   : TensionerPath(Slide{Vec2(between(-50, 50), between(-50, 50)),
                                                         Vec2(between(-50, 50), between(60, 90))});
    const Vec2 point(between(-80, 80), between(100, 240));
    const Vec2 somewhere = path.centre_mm(between(0, 1) * path.search_length());
    const double distance = (somewhere - point).norm() + (k % 5 == 0 ? 30.0 : 0.0);
    const std::vector<double> places = path.at_distance(point, distance);
    constexpr int kLooks = 4000;
    const auto off = [&](double q) { return (path.centre_mm(q) - point).norm() - distance; };
    std::vector<double> crossed;
    const double step = path.search_length() / kLooks;
    for (int i = 0; i < kLooks; ++i) {
      if (off(i * step) * off((i + 1) * step) < 0.0) crossed.push_back((i + 0.5) * step);
    }
    CAPTURE(k, distance);
    REQUIRE(places.size() == crossed.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
      CHECK_THAT(off(places[i]), WithinAbs(0.0, 1e-9));
      CHECK(std::abs(places[i] - crossed[i]) <= step);
    }
    (places.empty() ? none : found) += 1;
  }
  CHECK(found > 200);
  CHECK(none > 20);
}

TEST_CASE("A setting is one whatever whole turns its reading goes by") {
  DriveSpec spec = drives::worked_example();
  SwingSpec& path = std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
  const std::vector<Setting> plain = TensionerCurve(drives::built(spec)).settings_for(111 * 9.525);
  for (const double turns : {-720.0, -360.0, 360.0}) {
    path.slack_deg = 300 + turns;
    path.tight_deg = 200 - turns;
    const std::vector<Setting> turned =
        TensionerCurve(drives::built(spec)).settings_for(111 * 9.525);
    REQUIRE(turned.size() == plain.size());
    for (std::size_t k = 0; k < plain.size(); ++k) {
      CHECK_THAT(turned[k].q, WithinAbs(plain[k].q, 1e-9));
      CHECK_THAT(turned[k].reading.value, WithinAbs(plain[k].reading.value, 1e-7));
    }
  }
}
