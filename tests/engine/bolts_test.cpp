#include "twoturn/engine/bolts.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <set>

#include "support/catch.hpp"

namespace twoturn {
namespace {

// Published: S. S. Bhavikatti, Strength of Materials, bolt in a sleeve (met through a public
// worked-solution notebook): bolt of 16 mm, tube of 30 outside and 20 inside, both 500 mm long,
// E of 2e5 and 1.2e5 N/mm2, pitch 2 mm, the nut turned by a quarter.
TEST_CASE("A bolt in a sleeve carries what the textbook says after a quarter turn") {
  constexpr double kPrinted = 0.005;  // two digits behind the point
  const ElasticBar bolt{round_area_mm2(16.0), 500.0, 2e5};
  const ElasticBar tube{round_area_mm2(30.0) - round_area_mm2(20.0), 500.0, 1.2e5};
  const double advance = bolt_advance_mm(2.0, 90.0);
  const BoltedJoint joint =
      bolted_joint(advance, bolt.stiffness_n_per_mm(), tube.stiffness_n_per_mm());
  CHECK_THAT(joint.load_n / bolt.area_mm2, WithinAbs(107.91, kPrinted));
  CHECK_THAT(joint.load_n / tube.area_mm2, WithinAbs(55.25, kPrinted));
  // Exact: the two give way by what the nut has moved.
  CHECK_THAT(joint.stretch_mm + joint.squeeze_mm, WithinAbs(advance, 1e-12));
}

// By hand.
TEST_CASE("A round bar of 20 mm has a section of 100 pi mm2") {
  CHECK_THAT(round_area_mm2(20.0), WithinAbs(314.15926535897932, 1e-10));
}

// Exact: a thread moves by its pitch in a turn.
TEST_CASE("A bolt moves by its pitch's share of a turn") {
  CHECK(bolt_advance_mm(1.25, 90.0) == 0.3125);
  CHECK(bolt_advance_mm(1.25, 360.0) == 1.25);
  CHECK(bolt_advance_mm(1.25, 0.0) == 0.0);
}

// Exact limits of two springs in series.
TEST_CASE("On a joint that does not give, all of the advance is stretch") {
  const BoltedJoint stiff = bolted_joint(0.3, 1e5, 1e14);
  CHECK_THAT(stiff.stretch_mm, WithinAbs(0.3, 1e-8));
  CHECK_THAT(stiff.load_n, WithinAbs(3e4, 1e-3));
  const BoltedJoint alike = bolted_joint(0.3, 1e5, 1e5);
  CHECK_THAT(alike.load_n, WithinAbs(1.5e4, 1e-8));
}

std::vector<Vec2> in_two_rows(int columns) {
  std::vector<Vec2> places;
  for (int row = 0; row < 2; ++row) {
    for (int k = 0; k < columns; ++k) places.emplace_back(95.0 * k, 84.0 * row);
  }
  return places;
}

double from_middle(const std::vector<Vec2>& places, int index) {
  const Vec2 sum = std::accumulate(places.begin(), places.end(), Vec2(0.0, 0.0));
  return (places[static_cast<std::size_t>(index)] - sum / static_cast<double>(places.size()))
      .norm();
}

// Common practice: a head is tightened from its middle outwards, none left out.
TEST_CASE("The usual order takes every bolt once, from the middle outwards") {
  for (const int columns : {2, 3, 4, 5, 6, 7}) {
    const std::vector<Vec2> places = in_two_rows(columns);
    const std::vector<int> order = usual_bolt_order(places);
    CHECK(std::set<int>(order.begin(), order.end()).size() == places.size());
    REQUIRE(order.size() == places.size());
    for (std::size_t k = 1; k < order.size(); ++k) {
      INFO(columns << " columns, bolt " << k);
      CHECK(from_middle(places, order[k]) >= from_middle(places, order[k - 1]) - 1e-9);
    }
  }
}

// Common practice: ten bolts in two rows begin with the two in the middle, and go round.
TEST_CASE("Ten bolts in two rows: the middle two, then round them in one direction") {
  // Far row 0 to 4, near row 5 to 9, from the left.
  const std::vector<int> order = usual_bolt_order(in_two_rows(5));
  CHECK(std::set<int>(order.begin(), order.begin() + 2) == std::set<int>{2, 7});
  CHECK(std::set<int>(order.begin() + 2, order.begin() + 6) == std::set<int>{1, 3, 6, 8});
  CHECK(std::set<int>(order.begin() + 6, order.end()) == std::set<int>{0, 4, 5, 9});
}

// Common practice: a spiral from the middle. By hand, clockwise from 12 o'clock as seen from the
// middle: 7 at 0 and 2 at 180 deg; then on from 180: 1 (246), 6 (294), 8 (66), 3 (114); then on
// from 114: 0 (258), 5 (282), 9 (78), 4 (102).
TEST_CASE("Each round of the spiral goes on clockwise from where the last one ended") {
  CHECK(usual_bolt_order(in_two_rows(5)) == std::vector<int>{7, 2, 1, 6, 8, 3, 0, 5, 9, 4});
}

// By hand: in a line the two inner ones first; the next is the one just beyond the last, however
// the line lies, as its direction is the same but for rounding.
TEST_CASE("A bolt in the very direction of the last one comes before all others of its round") {
  for (int k = 0; k < 97; ++k) {
    const double angle = 0.31 + 2.0 * std::numbers::pi * k / 97.0;
    std::vector<Vec2> places;
    for (const double along : {10.0, -10.0, 30.0, -30.0}) {
      // So far from 0 that a double tells the direction to 1e-13 rad only.
      places.emplace_back(4000.3 + along * std::sin(angle), along * std::cos(angle) - 2500.7);
    }
    const std::vector<int> order = usual_bolt_order(places);
    REQUIRE(order.size() == 4);
    CAPTURE(k);
    CHECK(std::set<int>{order[0], order[1]} == std::set<int>{0, 1});
    CHECK(order[2] == order[1] + 2);
  }
}

// By the rule in the header: less than a tenth of the greatest distance is one round.
TEST_CASE("Bolts a tenth of the greatest distance apart are of two rounds, a hair less of one") {
  const auto cross_of = [](double inner) {
    return std::vector<Vec2>{{10.0, 0.0}, {0.0, inner}, {-10.0, 0.0}, {0.0, -inner}};
  };
  // Two rounds: 12 and 6 o'clock, then on clockwise from 6: 9 and 3.
  CHECK(usual_bolt_order(cross_of(9.0)) == std::vector<int>{1, 3, 2, 0});
  // One circle: 12 and 6, 3 and 9.
  CHECK(usual_bolt_order(cross_of(9.001)) == std::vector<int>{1, 3, 0, 2});
  // With a bolt in the middle no circle, but rounds: on from the middle one, clockwise from 12.
  std::vector<Vec2> round = cross_of(9.001);
  round.emplace_back(0.0, 0.0);
  CHECK(usual_bolt_order(round) == std::vector<int>{4, 1, 0, 3, 2});
}

// Common practice: a wheel's star; four crosswise, five and seven every second or third, six by
// opposite pairs. Places numbered clockwise from just after 12 o'clock.
TEST_CASE("On one circle each bolt is followed by the one about opposite, round and round") {
  const std::vector<std::vector<int>> stars{
      {0, 1, 2}, {0, 2, 1, 3}, {0, 2, 4, 1, 3}, {0, 3, 1, 4, 2, 5}, {0, 3, 6, 2, 5, 1, 4}};
  for (const std::vector<int>& star : stars) {
    std::vector<Vec2> places;
    const double apart = 2.0 * std::numbers::pi / static_cast<double>(star.size());
    for (std::size_t k = 0; k < star.size(); ++k) {
      const double angle = 0.1 + apart * static_cast<double>(k);
      places.emplace_back(5.0 + 20.0 * std::sin(angle), 3.0 + 20.0 * std::cos(angle));
    }
    CHECK(usual_bolt_order(places) == star);
  }
}

// Exact: turning and scaling the head changes nothing but where a round begins.
TEST_CASE("The rounds of the usual order do not hang on how the head is placed") {
  const std::vector<Vec2> places = in_two_rows(5);
  std::vector<Vec2> turned;
  for (const Vec2& place : places) {
    turned.emplace_back(7.0 - 1.7 * (0.6 * place.x() - 0.8 * place.y()),
                        -40.0 - 1.7 * (0.8 * place.x() + 0.6 * place.y()));
  }
  const std::vector<int> one = usual_bolt_order(places);
  const std::vector<int> other = usual_bolt_order(turned);
  for (const auto& [from, to] : {std::pair(0, 2), std::pair(2, 6), std::pair(6, 10)}) {
    CHECK(std::set<int>(one.begin() + from, one.begin() + to) ==
          std::set<int>(other.begin() + from, other.begin() + to));
  }
}

// Common practice: bolts on a circle are tightened crosswise.
TEST_CASE("Bolts on a circle are tightened crosswise") {
  for (const int count : {3, 4, 5, 6, 8}) {
    std::vector<Vec2> places;
    for (int k = 0; k < count; ++k) {
      const double angle = 2.0 * std::numbers::pi * k / count + 0.3;
      places.emplace_back(20.0 * std::cos(angle), 20.0 * std::sin(angle));
    }
    const std::vector<int> order = usual_bolt_order(places);
    CHECK(std::set<int>(order.begin(), order.end()).size() == places.size());
    for (std::size_t k = 1; k < order.size(); k += 2) {
      const double apart = (places[static_cast<std::size_t>(order[k])] -
                            places[static_cast<std::size_t>(order[k - 1])])
                               .norm();
      CHECK(apart > 1.7 * 20.0 * std::sin(std::numbers::pi / 3.0));
    }
  }
  CHECK(usual_bolt_order({}).empty());
  CHECK(usual_bolt_order({Vec2(3.0, 4.0)}) == std::vector<int>{0});
}

}  // namespace
}  // namespace twoturn
