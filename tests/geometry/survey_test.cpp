#include "twoturn/geometry/survey.hpp"

#include <cmath>
#include <random>

#include "support/catch.hpp"

using namespace twoturn;

namespace {

double deg(double degrees) { return degrees * kRadPerDeg; }

// The crank fixed, a cam, a pump and an idler; the example that SciPy solved below.
const std::vector<SurveyPoint> kFour{
    {{0.0, 0.0}, true}, {{0.0, 250.0}, false}, {{90.0, 100.0}, false}, {{-95.0, 72.0}, false}};

std::vector<Seen> nine_seen() {
  return {DistanceSeen{0, 1, 250.3, 0.2},
          DistanceSeen{0, 2, 131.2, 0.25},
          DistanceSeen{1, 2, 180.4, 0.25},
          DistanceSeen{0, 3, 119.0, 0.5},
          DistanceSeen{1, 3, 201.4, 0.5},
          DistanceSeen{2, 3, 186.5, 0.5},
          BearingSeen{0, 1, Angle::radians(deg(90.4)), deg(0.5)},
          PlaceSeen{3, {-95.0, 72.0}, 1.0}};
}

}  // namespace

TEST_CASE("Three distances of 3, 4 and 5 and one bearing place a right angle") {
  // Euclid I.47.
  const std::vector<SurveyPoint> points{
      {{0.0, 0.0}, true}, {{2.0, 1.0}, false}, {{1.0, 3.0}, false}};
  const std::vector<Seen> seen{DistanceSeen{0, 1, 3.0, 0.1}, DistanceSeen{0, 2, 4.0, 0.1},
                               DistanceSeen{1, 2, 5.0, 0.1}, BearingSeen{0, 1, Angle(), deg(1.0)}};
  const SurveyFound found = survey(points, seen);
  CHECK(found.settled);
  CHECK(found.spare == 0);
  CHECK(found.loose.empty());
  CHECK_THAT((found.at_mm[1] - Vec2(3.0, 0.0)).norm(), WithinAbs(0.0, 1e-10));
  CHECK_THAT((found.at_mm[2] - Vec2(0.0, 4.0)).norm(), WithinAbs(0.0, 1e-10));
}

TEST_CASE("Of two mirrored places the one near the start is found") {
  for (const double side : {1.0, -1.0}) {
    const std::vector<SurveyPoint> points{
        {{0.0, 0.0}, true}, {{0.0, 100.0}, true}, {{side * 20.0, 40.0}, false}};
    const std::vector<Seen> seen{DistanceSeen{0, 2, 60.0, 0.1}, DistanceSeen{1, 2, 80.0, 0.1}};
    const SurveyFound found = survey(points, seen);
    // 60, 80, 100: the foot lies 36 from the first, the height is 48.
    CHECK_THAT((found.at_mm[2] - Vec2(side * 48.0, 36.0)).norm(), WithinAbs(0.0, 1e-9));
  }
}

TEST_CASE("A drive's survey is what SciPy makes of it") {
  // SciPy 1.10.1, scipy.optimize.least_squares (method lm, tolerances 1e-15) on the same nine
  // residuals; standard deviations and standardized residuals from its Jacobian by numpy.
  const SurveyFound found = survey(kFour, nine_seen());
  CHECK(found.settled);
  CHECK(found.spare == 3);
  const double expected[] = {-1.682366743871, 250.314278540797, 90.302081488914,
                             95.14615402067,  -94.835530898705, 71.8393561033};
  const double sigma[] = {1.585248574015, 0.190411987027, 0.655160016316,
                          0.631694730304, 0.540104936949, 0.652948345291};
  for (int k = 0; k < 6; ++k) {
    CAPTURE(k);
    CHECK_THAT(found.at_mm[static_cast<std::size_t>(k / 2 + 1)][k % 2],
               WithinAbs(expected[k], 1e-6));
    CHECK_THAT(std::sqrt(found.covariance(k + 2, k + 2)), WithinAbs(sigma[k], 1e-6));
  }
  CHECK_THAT(found.covariance(2, 3), WithinAbs(-0.0008479526611131149, 1e-6));
  CHECK_THAT(found.chi_square, WithinAbs(0.14267780231366306, 1e-9));
  const double spare[] = {0.090500055606, 0.090313897938, 0.043109967084, 0.371127523621,
                          0.252139742677, 0.397472140391, 0.473391557218};
  const double standardized[] = {-0.331282367749, 0.313681566391,  0.313681517601, 0.087312145806,
                                 0.308079142531,  -0.313681582116, 0.043369446858};
  for (std::size_t k = 0; k < 7; ++k) {
    CAPTURE(k);
    CHECK_THAT(found.misfits[k].spare, WithinAbs(spare[k], 1e-6));
    CHECK_THAT(found.misfits[k].standardized, WithinAbs(standardized[k], 1e-5));
  }
  CHECK_THAT(found.misfits[7].spare, WithinAbs(0.708286657083 + 0.573658458381, 1e-6));
  CHECK_THAT(found.misfits[7].standardized, WithinAbs(0.212098466943, 1e-5));
  CHECK(suspect_of(found).seen == -1);
}

TEST_CASE("Parts of a survey's spare measurements add up to their number") {
  // The trace of a projection is its rank.
  const SurveyFound found = survey(kFour, nine_seen());
  double sum = 0.0;
  for (const Misfit& misfit : found.misfits) sum += misfit.spare;
  CHECK_THAT(sum, WithinAbs(found.spare, 1e-9));
}

TEST_CASE("Distances alone leave the whole free to turn about the crank, and say which way") {
  std::vector<Seen> seen = nine_seen();
  seen.resize(6);
  const SurveyFound found = survey(kFour, seen);
  REQUIRE(found.loose.size() == 1);
  CHECK(found.spare == 1);
  // Square to the arm from the crank, and as long as the arm.
  const LooseWay& way = found.loose.front();
  const double turn = way.moves[1].norm() / found.at_mm[1].norm();
  for (std::size_t k = 0; k < 4; ++k) {
    CHECK_THAT(way.moves[k].dot(found.at_mm[k]), WithinAbs(0.0, 1e-6));
    CHECK_THAT(way.moves[k].norm(), WithinAbs(turn * found.at_mm[k].norm(), 1e-6));
  }
  const SurveyFound none = survey(kFour, {});
  CHECK(none.loose.size() == 6);
  CHECK(none.spare == 0);
}

TEST_CASE(
    "A gross error is found where the others know better, and cannot be told where one is spare") {
  std::vector<Seen> seen = nine_seen();
  std::get<DistanceSeen>(seen[4]).mm += 10.0;  // a digit misread
  const Suspect suspect = suspect_of(survey(kFour, seen));
  CHECK(suspect.seen == 4);
  CHECK(suspect.told);
  seen.resize(7);                // without the place of the idler: six unknowns
  seen.erase(seen.begin() + 5);  // and without the idler's third distance none is spare
  CHECK(survey(kFour, seen).spare == 0);
  CHECK(suspect_of(survey(kFour, seen)).seen == -1);
  seen = nine_seen();
  seen.resize(7);
  std::get<DistanceSeen>(seen[4]).mm += 10.0;
  const SurveyFound one_spare = survey(kFour, seen);
  CHECK(one_spare.spare == 1);
  const Suspect any = suspect_of(one_spare);
  CHECK(any.seen >= 0);
  CHECK_FALSE(any.told);
  CHECK(any.same.size() == 5);  // each of the six distances; the bearing alone is needed
}

TEST_CASE("It is told whichever measurement is the wrong one, the first too") {
  for (std::size_t k = 0; k < 8; ++k) {
    std::vector<Seen> seen = nine_seen();
    std::get<DistanceSeen>(seen[4]).mm += 10.0;
    std::swap(seen[k], seen[4]);
    const Suspect suspect = suspect_of(survey(kFour, seen));
    CHECK(suspect.seen == static_cast<int>(k));
    CHECK(suspect.told);
  }
}

TEST_CASE("Its influence is what a sigma more of each measurement does") {
  // The survey done anew is the referee, to first order.
  constexpr double kSigmas = 1e-3;
  const SurveyFound found = survey(kFour, nine_seen());
  const auto moved = [&](std::size_t row, Eigen::Index column, const std::vector<Seen>& seen) {
    INFO("row " << row << ", column " << column);
    const SurveyFound other = survey(kFour, seen);
    for (std::size_t k = 0; k < kFour.size(); ++k) {
      const Vec2 by = (other.at_mm[k] - found.at_mm[k]) / kSigmas;
      const auto at = 2 * static_cast<Eigen::Index>(k);
      CHECK_THAT((by - found.influence.col(column).segment<2>(at)).norm(), WithinAbs(0.0, 5e-3));
    }
  };
  for (std::size_t k = 0; k < 6; ++k) {
    std::vector<Seen> seen = nine_seen();
    auto& distance = std::get<DistanceSeen>(seen[k]);
    distance.mm += kSigmas * distance.sigma_mm;
    moved(k, static_cast<Eigen::Index>(k), seen);
  }
  std::vector<Seen> turned = nine_seen();
  auto& bearing = std::get<BearingSeen>(turned[6]);
  bearing.bearing = Angle::radians(bearing.bearing.radians() + kSigmas * bearing.sigma_rad);
  moved(6, 6, turned);
  for (const int side : {0, 1}) {
    std::vector<Seen> seen = nine_seen();
    auto& place = std::get<PlaceSeen>(seen[7]);
    place.at_mm[side] += kSigmas * place.sigma_mm;
    moved(7, 7 + side, seen);
  }
}

TEST_CASE("A length that the others contradict weighs by its sigma") {
  // 100 seen to 0.5, and 201 of twice the way to 2, so 100.5 to 1: the mean by weights 1/sigma^2,
  // 4 : 1, is 100.1 (any text on weighted means), its sigma 1 / sqrt(5).
  const std::vector<SurveyPoint> points{{{0.0, 0.0}, true}, {{90.0, 1.0}, false}};
  LengthSeen twice;
  twice.mm = 201.0;
  twice.sigma_mm = 2.0;
  twice.length = [](std::span<const Vec2> at, std::span<Vec2> rates) {
    rates[1] += 2.0 * (at[1] - at[0]).normalized();
    return 2.0 * (at[1] - at[0]).norm();
  };
  const std::vector<Seen> seen{DistanceSeen{0, 1, 100.0, 0.5},
                               BearingSeen{0, 1, Angle::radians(0.0), 1e-3}, twice};
  const SurveyFound found = survey(points, seen);
  CHECK_THAT(found.at_mm[1].x(), WithinAbs(100.1, 1e-9));
  CHECK_THAT(found.covariance(2, 2), WithinRel(1.0 / 5.0, 1e-6));
}

TEST_CASE("95 % ellipses hold the truth in 95 of a hundred surveys") {
  // 10,000 surveys of a known drive, normal errors; the binomial's own spread is 0.2 %.
  const std::vector<SurveyPoint> truth{
      {{0.0, 0.0}, true}, {{-1.7, 250.2}, false}, {{90.3, 95.1}, false}, {{-95.0, 72.0}, false}};
  std::mt19937 random(20261130);
  std::normal_distribution<double> normal(0.0, 1.0);
  const auto arm = [&](int from, int to) {
    return Vec2(truth[static_cast<std::size_t>(to)].start_mm -
                truth[static_cast<std::size_t>(from)].start_mm);
  };
  int held[3] = {0, 0, 0};
  constexpr int kSurveys = 10000;
  for (int k = 0; k < kSurveys; ++k) {
    std::vector<Seen> seen = nine_seen();
    for (Seen& one : seen) {
      if (auto* distance = std::get_if<DistanceSeen>(&one)) {
        distance->mm =
            arm(distance->from, distance->to).norm() + distance->sigma_mm * normal(random);
      } else if (auto* bearing = std::get_if<BearingSeen>(&one)) {
        const Vec2 way = arm(bearing->from, bearing->to);
        bearing->bearing =
            Angle::radians(std::atan2(way.y(), way.x()) + bearing->sigma_rad * normal(random));
      } else {
        auto& place = std::get<PlaceSeen>(one);
        place.at_mm = truth[static_cast<std::size_t>(place.point)].start_mm +
                      place.sigma_mm * Vec2(normal(random), normal(random));
      }
    }
    const SurveyFound found = survey(truth, seen);
    for (int point = 1; point < 4; ++point) {
      const Ellipse95 ellipse = ellipse_of(found, point);
      const Vec2 off = truth[static_cast<std::size_t>(point)].start_mm -
                       found.at_mm[static_cast<std::size_t>(point)];
      const double way = ellipse.longer_way.radians();
      const double along = off.dot(Vec2(std::cos(way), std::sin(way))) / ellipse.longer_mm;
      const double across = off.dot(Vec2(-std::sin(way), std::cos(way))) / ellipse.shorter_mm;
      held[point - 1] += along * along + across * across <= 1.0 ? 1 : 0;
    }
  }
  for (const int count : held) {
    CHECK(count > 0.93 * kSurveys);
    CHECK(count < 0.97 * kSurveys);
  }
}

TEST_CASE("A length round all points is a measurement too") {
  // 300, 400 and 500 round a right angle (Euclid): along the first side the perimeter of 1200 alone
  // says how far.
  const std::vector<SurveyPoint> points{{{0, 0}, true}, {{0, 400}, true}, {{250, 3}, false}};
  LengthSeen round;
  round.mm = 1200.0;
  round.sigma_mm = 0.5;
  round.length = [](std::span<const Vec2> at, std::span<Vec2> rates) {
    const Vec2 along = at[2] - at[0];
    const Vec2 across = at[2] - at[1];
    rates[2] += along.normalized() + across.normalized();
    return along.norm() + across.norm() + (at[1] - at[0]).norm();
  };
  const std::vector<Seen> seen{BearingSeen{0, 2, Angle::radians(0.0), 1e-3}, round};
  const SurveyFound found = survey(points, seen);
  CHECK(found.settled);
  CHECK_THAT(found.at_mm[2].x(), WithinAbs(300.0, 1e-6));
  CHECK_THAT(found.at_mm[2].y(), WithinAbs(0.0, 1e-6));
  // A mm along is 1 + 3/5 of the perimeter, a mm across 4/5 of it: a thousandth of 300 mm.
  CHECK_THAT(std::sqrt(found.covariance(4, 4)), WithinAbs(std::hypot(0.5, 0.8 * 0.3) / 1.6, 1e-6));
}

TEST_CASE("A place seen with a sigma of its own weighs by it, right and up alike") {
  // Two places seen of one point, 1 apart each way: the mean by weights 1/sigma^2, 16 : 1 (any text
  // on weighted means), its sigma 1 / sqrt(16 + 1) of the worse one.
  const std::vector<SurveyPoint> points{{{5.0, 5.0}, false}};
  const std::vector<Seen> seen{PlaceSeen{0, {0.0, 10.0}, 0.25}, PlaceSeen{0, {1.0, 11.0}, 1.0}};
  const SurveyFound found = survey(points, seen);
  CHECK_THAT((found.at_mm[0] - Vec2(1.0 / 17.0, 10.0 + 1.0 / 17.0)).norm(), WithinAbs(0.0, 1e-12));
  CHECK_THAT(found.covariance(0, 0), WithinRel(1.0 / 17.0, 1e-12));
  CHECK_THAT(found.covariance(1, 1), WithinRel(1.0 / 17.0, 1e-12));
  CHECK_THAT(found.covariance(0, 1), WithinAbs(0.0, 1e-12));
}

TEST_CASE("However sharply it is measured, what nothing holds is loose, and only that") {
  // Two points to place and a distance to each: of four ways two are free, whatever the sigma.
  for (const double sigma : {1e-6, 1e-3, 1.0, 1e3, 1e6}) {
    INFO("sigma " << sigma);
    const std::vector<SurveyPoint> points{
        {{0.0, 0.0}, true}, {{30.0, 40.0}, false}, {{60.0, 80.0}, false}};
    const std::vector<Seen> seen{DistanceSeen{0, 1, 50.0, sigma}, DistanceSeen{1, 2, 50.0, sigma}};
    const SurveyFound found = survey(points, seen);
    CHECK(found.loose.size() == 2);
    CHECK(found.spare == 0);
  }
}

TEST_CASE("Without a measurement, or without a point to place, nothing is sought") {
  const std::vector<SurveyPoint> free{{{3.0, 4.0}, false}};
  const SurveyFound unseen = survey(free, {});
  CHECK(unseen.settled);
  CHECK(unseen.at_mm[0] == Vec2(3.0, 4.0));
  CHECK(unseen.loose.size() == 2);
  const std::vector<SurveyPoint> fixed{{{0.0, 0.0}, true}, {{3.0, 4.0}, true}};
  const SurveyFound still = survey(fixed, std::vector<Seen>{DistanceSeen{0, 1, 5.5, 0.5}});
  CHECK(still.settled);
  CHECK(still.loose.empty());
  CHECK(still.spare == 1);
  CHECK_THAT(still.chi_square, WithinAbs(1.0, 1e-12));
}

TEST_CASE("Points on one spot are told by no distance between them") {
  const std::vector<SurveyPoint> points{{{1.0, 2.0}, true}, {{1.0, 2.0}, false}};
  const SurveyFound found = survey(points, std::vector<Seen>{DistanceSeen{0, 1, 0.0, 0.1}});
  CHECK(found.loose.size() == 2);
}

TEST_CASE("Measurements at odds are settled to the last digit") {
  // On a line between two fixed points 100 apart, 49.9 and 49.7 measured: both are 0.2 short there,
  // so the place is 49.9 + 0.2 = 50.1 from the first (by hand, equal weights).
  const std::vector<SurveyPoint> points{
      {{0.0, 0.0}, true}, {{100.0, 0.0}, true}, {{49.0, 1.0}, false}};
  const std::vector<Seen> seen{DistanceSeen{0, 2, 49.9, 0.1}, DistanceSeen{1, 2, 49.7, 0.1}};
  const SurveyFound found = survey(points, seen);
  CHECK_THAT(found.at_mm[2].x(), WithinAbs(50.1, 1e-11));
  CHECK_THAT(found.at_mm[2].y(), WithinAbs(0.0, 1e-6));
}
