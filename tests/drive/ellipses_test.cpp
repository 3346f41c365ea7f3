// Whether 95 % ellipses hold 95 of a hundred. Evidence: places are chosen, each measurement is
// thrown about what Pythagoras makes of them, and the truth is looked for in what comes out. Of n
// surveys a share of 0.95 is held, give or take sqrt(0.95 0.05 / n).
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/validate.hpp"

using namespace twoturn;

namespace {

struct Centre {
  const char* name;
  double right_mm;
  double up_mm;
};
// The crank stands fast; five more, leaning, none within 30 mm of the line of two others.
constexpr std::array<Centre, 6> kTruth{{{"crank", 0.0, 0.0},
                                        {"cam", 61.0, 352.0},
                                        {"second cam", 187.0, 318.0},
                                        {"pump", 150.0, 60.0},
                                        {"idler", -74.0, 143.0},
                                        {"guide", 203.0, 201.0}}};

struct Taken {
  std::size_t from;
  std::size_t to;
  double give_or_take_mm;
};
// With a calliper where it reaches, else with a rule or a tape: three more than five centres need.
constexpr std::array<Taken, 12> kDistances{{{0, 1, 0.5},
                                            {0, 2, 1.0},
                                            {1, 2, 0.1},
                                            {0, 3, 0.2},
                                            {1, 3, 0.5},
                                            {2, 3, 0.5},
                                            {0, 4, 0.2},
                                            {1, 4, 0.5},
                                            {3, 4, 0.3},
                                            {2, 5, 0.1},
                                            {3, 5, 0.1},
                                            {1, 5, 0.5}}};
// By eye, between two others: the whole may be turned round the crank, and no centre of the five
// lies along a direction that is known without end.
constexpr std::size_t kEyeFrom = 3;
constexpr std::size_t kEyeTo = 1;
constexpr double kEyeDeg = 3.0;

// Four times what 2,000 surveys spread by, 0.5 %; 10,000 spread by 0.2 %. The distances' own bend
// is less: errors are a thousandth of them.
constexpr double kLeastShare = 0.93;
constexpr double kMostShare = 0.97;

// Normal by Box and Muller (1958): the same numbers with every standard library.
class Normal {
 public:
  double operator()(double sigma) {
    const double first = share();
    const double second = share();
    return sigma * std::sqrt(-2.0 * std::log(first)) * std::cos(kFullTurn * second);
  }

 private:
  // Never 0, never 1.
  double share() { return (static_cast<double>(random_()) + 0.5) / 4294967296.0; }

  std::mt19937 random_{20261202};
};

Vec2 true_place(std::size_t k) { return {kTruth[k].right_mm, kTruth[k].up_mm}; }

double true_distance(const Taken& taken) {
  return (true_place(taken.to) - true_place(taken.from)).norm();
}

// A clock angle grows from up to the right.
double true_bearing_deg() {
  const Vec2 arm = true_place(kEyeTo) - true_place(kEyeFrom);
  return std::atan2(arm.x(), arm.y()) / kRadPerDeg;
}

// Belt, sizes and hints to the nearest cm; nothing measured yet.
DriveSpec unmeasured() {
  DriveSpec spec;
  spec.belt.section = "ZA";
  for (const Centre& centre : kTruth) {
    PulleySpec pulley = drives::toothed(centre.name, 20, 0.0, 0.0);
    pulley.role = Role::idler;
    pulley.at_mm.reset();
    pulley.near_mm =
        Vec2(10.0 * std::round(centre.right_mm / 10.0), 10.0 * std::round(centre.up_mm / 10.0));
    spec.pulleys.push_back(pulley);
  }
  spec.pulleys[0].role = Role::crankshaft;
  spec.pulleys[0].near_mm.reset();
  return spec;
}

MeasuredSpec between(std::size_t from, std::size_t to) {
  MeasuredSpec measured;
  measured.from = kTruth[from].name;
  measured.to = kTruth[to].name;
  return measured;
}

void measure_distances(DriveSpec& spec, Normal& normal) {
  for (const Taken& taken : kDistances) {
    MeasuredSpec measured = between(taken.from, taken.to);
    const double error = normal(sigma_of(taken.give_or_take_mm));
    measured.distance_mm = true_distance(taken) + error;
    measured.give_or_take_mm = taken.give_or_take_mm;
    spec.measured.push_back(measured);
  }
}

// Turned clockwise about the crank.
Vec2 turned(const Vec2& place, double clock_deg) {
  const double angle = clock_deg * kRadPerDeg;
  return {std::cos(angle) * place.x() + std::sin(angle) * place.y(),
          std::cos(angle) * place.y() - std::sin(angle) * place.x()};
}

// How many surveys' ellipses held the truth, of each of the five.
class Held {
 public:
  void look(std::size_t k, const Ellipse95& ellipse, const Vec2& off) {
    const double way = ellipse.longer_way.radians();
    const double along = off.dot(Vec2(std::cos(way), std::sin(way))) / ellipse.longer_mm;
    const double across = off.dot(Vec2(-std::sin(way), std::cos(way))) / ellipse.shorter_mm;
    held_[k - 1] += along * along + across * across <= 1.0 ? 1 : 0;
  }

  void check(int surveys) const {
    for (std::size_t k = 1; k < kTruth.size(); ++k) {
      INFO(kTruth[k].name << ": " << held_[k - 1] << " of " << surveys);
      CHECK(held_[k - 1] > kLeastShare * surveys);
      CHECK(held_[k - 1] < kMostShare * surveys);
    }
  }

 private:
  std::array<int, kTruth.size() - 1> held_{};
};

}  // namespace

// 0.9 ms a profile, of which the survey itself takes 0.05: 2,000 here, 10,000 below.
TEST_CASE("95 % ellipses of a profile's centres hold the truth in 95 of a hundred profiles") {
  const DriveSpec bare = unmeasured();
  Normal normal;
  Held held;
  constexpr int kProfiles = 2000;
  for (int k = 0; k < kProfiles; ++k) {
    DriveSpec spec = bare;
    measure_distances(spec, normal);
    MeasuredSpec eye = between(kEyeFrom, kEyeTo);
    const double off_deg = normal(sigma_of(kEyeDeg));
    eye.bearing_deg = true_bearing_deg() + off_deg;
    spec.measured.push_back(eye);
    if (k == 0) REQUIRE(validate(spec).empty());
    const DriveSpec there = with_places(spec);
    REQUIRE(there.places);
    REQUIRE(there.places->placed());
    for (std::size_t i = 1; i < kTruth.size(); ++i) {
      const MeasuredPoint& point = there.places->points[i];
      // A turn of the whole is left out of the ellipses: the truth, turned as the eye was off.
      const Vec2 truth = turned(true_place(i), off_deg);
      held.look(i, point.ellipse.value(), truth - point.at_mm.value());
    }
  }
  held.check(kProfiles);
}

TEST_CASE("with the turn of the whole in them they hold the truth in 95 of a hundred surveys") {
  // A turn moves centres along a circle: beside an error of 1 mm in 350 the bend, 0.002 mm, is
  // nothing. By eye, 3 deg, it would not be.
  constexpr double kSightedDeg = 0.3;
  std::vector<SurveyPoint> points;
  for (std::size_t k = 0; k < kTruth.size(); ++k) points.push_back({true_place(k), k == 0});
  Normal normal;
  Held held;
  constexpr int kSurveys = 10000;
  for (int k = 0; k < kSurveys; ++k) {
    std::vector<Seen> seen;
    for (const Taken& taken : kDistances) {
      const double sigma = sigma_of(taken.give_or_take_mm);
      const double mm = true_distance(taken) + normal(sigma);
      seen.emplace_back(
          DistanceSeen{static_cast<int>(taken.from), static_cast<int>(taken.to), mm, sigma});
    }
    const double sighted = sigma_of(kSightedDeg);
    const double clock_deg = true_bearing_deg() + normal(sighted);
    seen.emplace_back(BearingSeen{static_cast<int>(kEyeFrom), static_cast<int>(kEyeTo),
                                  Angle::clock(clock_deg), sighted * kRadPerDeg});
    const SurveyFound found = survey(points, seen);
    for (std::size_t i = 1; i < kTruth.size(); ++i) {
      held.look(i, ellipse_of(found, static_cast<int>(i)), true_place(i) - found.at_mm[i]);
    }
  }
  held.check(kSurveys);
}
