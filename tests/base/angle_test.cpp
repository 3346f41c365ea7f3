// Angles: the clock at the edges, turns that are kept, and the seam.
#include "twoturn/base/angle.hpp"

#include <cmath>

#include "support/catch.hpp"

namespace twoturn {
namespace {

constexpr double kDegRounding = 1e-12;  // a few roundings of 360 through radians

TEST_CASE("a clock angle counts clockwise from 12 o'clock") {
  // exact: 3 o'clock is +x, 12 is +y, 9 is -x, 6 is -y
  CHECK(std::abs(Angle::clock(90).radians()) == 0.0);
  CHECK_THAT(Angle::clock(0).radians(), WithinAbs(kPi / 2, kDegRounding));
  CHECK_THAT(Angle::clock(270).degrees(), WithinAbs(-180, kDegRounding));
  CHECK_THAT(Angle::clock(180).degrees(), WithinAbs(-90, kDegRounding));
  CHECK_THAT(Angle::clock(135).degrees(), WithinAbs(-45, kDegRounding));
}

TEST_CASE("a clock angle comes back as it was given, in [0, 360)") {
  for (int tenth = 0; tenth < 3600; ++tenth) {
    const double given = tenth / 10.0;
    INFO("clock " << given);
    const double back = Angle::clock(given).clock_deg();
    REQUIRE(back >= 0.0);
    REQUIRE(back < 360.0);
    const double off = std::remainder(back - given, 360.0);
    REQUIRE_THAT(off, WithinAbs(0.0, kDegRounding));
  }
}

TEST_CASE("whole clock degrees from 12 o'clock on never come back as just under a turn") {
  for (int degrees = 0; degrees < 360; ++degrees) {
    INFO("clock " << degrees);
    CHECK_THAT(Angle::clock(degrees).clock_deg(), WithinAbs(degrees, kDegRounding));
  }
  CHECK(Angle::clock(0).clock_deg() == 0.0);
  CHECK(Angle::clock(360).clock_deg() == 0.0);
  CHECK(Angle::clock(-90).clock_deg() == 270.0);
  CHECK(Angle::radians(std::atan2(1.0, 0.0)).clock_deg() == 0.0);
}

TEST_CASE("a travelled angle keeps its turns until it is asked to wrap") {
  const Angle two_turns = Angle::degrees(350) + Angle::degrees(380);
  CHECK_THAT(two_turns.degrees(), WithinAbs(730, kDegRounding));
  CHECK_THAT(two_turns.wrapped_turn().degrees(), WithinAbs(10, kDegRounding));
  CHECK_THAT((-two_turns).wrapped_turn().degrees(), WithinAbs(350, kDegRounding));
  CHECK_THAT((-two_turns).wrapped_half().degrees(), WithinAbs(-10, kDegRounding));
  CHECK_THAT((2.0 * two_turns - two_turns * 0.5 / 2.0).degrees(),
             WithinAbs(1.75 * 730, 4 * kDegRounding));
}

TEST_CASE("the seam of a whole turn belongs to 0") {
  CHECK(Angle::radians(kFullTurn).wrapped_turn().radians() == 0.0);
  CHECK(Angle::radians(-kFullTurn).wrapped_turn().radians() == 0.0);
  CHECK(Angle::radians(-1e-17).wrapped_turn().radians() == 0.0);
  CHECK(std::signbit(Angle::radians(-0.0).wrapped_turn().radians() + 0.0) == false);
  CHECK(Angle::radians(-1e-9).wrapped_turn().radians() < kFullTurn);
  CHECK(Angle::radians(-1e-9).wrapped_turn().radians() > 6.28);
  CHECK(Angle::radians(1e-17).wrapped_turn().radians() == 1e-17);
}

TEST_CASE("wrapping always ends below a whole turn, whatever it starts from") {
  for (int k = -4000; k <= 4000; ++k) {
    INFO("quarter turns " << k);
    const double value = k * (kPi / 2);
    for (const double near : {value, std::nextafter(value, 1e9), std::nextafter(value, -1e9)}) {
      const double wrapped = Angle::radians(near).wrapped_turn().radians();
      REQUIRE(wrapped >= 0.0);
      REQUIRE(wrapped < kFullTurn);
      const double half = Angle::radians(near).wrapped_half().radians();
      REQUIRE(half > -kPi);
      REQUIRE(half <= kPi);
    }
  }
}

TEST_CASE("the seam of half a turn belongs to +180") {
  CHECK(Angle::radians(kPi).wrapped_half().radians() == kPi);
  CHECK(Angle::radians(-kPi).wrapped_half().radians() == kPi);
  CHECK_THAT(Angle::degrees(190).wrapped_half().degrees(), WithinAbs(-170, kDegRounding));
}

TEST_CASE("angles compare by how far they have travelled") {
  CHECK(Angle::degrees(370) > Angle::degrees(10));
  CHECK(Angle::degrees(-1) < Angle());
  CHECK(Angle::radians(0.5) == Angle::radians(0.5));
}

}  // namespace
}  // namespace twoturn
