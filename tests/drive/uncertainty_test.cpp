// How far off answers may be. Evidence: the open belt on two pulleys (handbook form, CHECKS.md),
// and numbers thrown by the law that is stated for them.
#include "twoturn/drive/uncertainty.hpp"

#include <cmath>
#include <random>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/drive/tensioner_curve.hpp"

using namespace twoturn;

namespace {

DriveSpec two_pulleys() {
  DriveSpec spec;
  spec.crank_turns = Turn::clockwise;
  spec.belt.pitch_mm = 8.0;
  spec.belt.teeth = 120;
  PulleySpec crank = drives::toothed("crank", 22, 0, 0);
  crank.role = Role::crankshaft;
  spec.pulleys = {crank, drives::toothed("cam", 44, 300, 0)};
  return spec;
}

// Half the angle by which the runs of an open belt lean in: sin = (R - r) / C.
double lean() { return std::asin((44 - 22) * 8.0 / (2.0 * 3.14159265358979323846) / 300.0); }

}  // namespace

TEST_CASE("What is said of nothing is known as it is usually measured") {
  GivenValue value;
  value.key = "pulley.cam.at_mm[0]";
  CHECK(give_or_take(value).value == 0.5);
  value.key = "pulley.idler.diameter_mm";
  CHECK(give_or_take(value).value == 0.1);
  value.key = "rough_centre_mm";
  CHECK(give_or_take(value).value == 1.0);
  value.key = "pulley.tensioner.tensioner.slack_deg";
  CHECK(give_or_take(value).value == 3.0);
  value.key = "pulley.cam.teeth";
  CHECK(give_or_take(value).value == 0.0);
  value.key = "limits.near_mm";
  CHECK(give_or_take(value).value == 0.0);
  value.key = "build.skim_mm.head";
  value.origin = Origin::manual;
  CHECK(give_or_take(value).value == 0.0);
  value.give_or_take = 0.02;
  CHECK(give_or_take(value).value == 0.02);
  CHECK(give_or_take(value).stated);
}

TEST_CASE("Moved along the line of centres a pulley takes up twice the cosine of the lean") {
  DriveSpec spec = two_pulleys();
  spec.given = {drives::measured("pulley.cam.at_mm[0]", 0.4),
                drives::measured("pulley.cam.at_mm[1]", 0.4)};
  const Fitted fitted = drives::fitted(spec);
  const Unsure length = fitted.uncertainty().length(fitted.drive(), 0.0, 120);
  // L = 2 C cos a + pi (R + r) + 2 a (R - r): dL/dC = 2 cos a, and nothing across.
  CHECK_THAT(length.give_or_take, WithinRel(0.4 * 2.0 * std::cos(lean()), 1e-12));
  CHECK(length.most == "pulley.cam.at_mm");
  CHECK_THAT(length.most_share, WithinAbs(1.0, 1e-12));
}

TEST_CASE("A pitch is in both pulleys and in every tooth of the belt") {
  DriveSpec spec = two_pulleys();
  spec.given = {drives::measured("belt.pitch_mm", 0.01)};
  const Fitted fitted = drives::fitted(spec);
  const Unsure length = fitted.uncertainty().length(fitted.drive(), 0.0, 120);
  // By the form above, r and R growing with the pitch: dL/dp = (pi (N + n) + 2 a (N - n)) / 2 pi.
  const double path = (66.0 / 2.0) + 2.0 * lean() * 22.0 / (2.0 * 3.14159265358979323846);
  CHECK_THAT(length.give_or_take, WithinRel(0.01 * std::abs(path - 120.0), 1e-12));
}

TEST_CASE("What is exact leaves nothing open") {
  const Fitted fitted = drives::fitted(two_pulleys());
  CHECK(fitted.uncertainty().exact());
  CHECK(fitted.uncertainty().length(fitted.drive(), 0.0, 120).give_or_take == 0.0);
  CHECK(certainly_beyond(0.001, {}));
  CHECK_FALSE(certainly_beyond(0.0, {}));
  CHECK_FALSE(certainly_beyond(0.8, {1.0, "", 0.0}));
  CHECK(certainly_beyond(0.85, {1.0, "", 0.0}));  // 1.645 of 1.960
}

// Places, diameters and arm thrown by what is said of them: the tensioner's place as given must lie
// within what is called 80 % of where it truly stands in 75 to 85 of 100, and alike for 95.
TEST_CASE("Of what is called 80 percent four of five are right") {
  const DriveSpec truth = drives::worked_example();
  std::mt19937_64 random(20261129);
  std::normal_distribution<double> normal;
  constexpr double kPlaceGive = 0.3;
  constexpr double kSizeGive = 0.1;
  const Fitted exact = drives::fitted(truth);
  const double true_at =
      meant_setting(exact.curve()->settings_for(exact.drive().belt.length_mm(111)),
                    *exact.drive().tensioner)
          ->reading.value;
  constexpr int kBuilds = 2000;
  int within_80 = 0;
  int within_95 = 0;
  for (int k = 0; k < kBuilds; ++k) {
    DriveSpec seen = truth;
    std::vector<GivenValue> values;
    const auto off = [&](double give) { return sigma_of(give) * normal(random); };
    for (PulleySpec& pulley : seen.pulleys) {
      if (pulley.role == Role::crankshaft) continue;
      const std::string path = "pulley." + pulley.name + ".";
      if (pulley.tensioner) {
        SwingSpec& swing = std::get<SwingSpec>(pulley.tensioner->path);
        swing.pivot_mm->x() += off(kPlaceGive);
        swing.pivot_mm->y() += off(kPlaceGive);
        *swing.arm_mm += off(kSizeGive);
        *pulley.diameter_mm += off(kSizeGive);
        values.push_back(drives::measured(path + "tensioner.pivot_mm[0]", kPlaceGive));
        values.push_back(drives::measured(path + "tensioner.pivot_mm[1]", kPlaceGive));
        values.push_back(drives::measured(path + "tensioner.arm_mm", kSizeGive));
        values.push_back(drives::measured(path + "diameter_mm", kSizeGive));
      } else {
        pulley.at_mm->x() += off(kPlaceGive);
        pulley.at_mm->y() += off(kPlaceGive);
        values.push_back(drives::measured(path + "at_mm[0]", kPlaceGive));
        values.push_back(drives::measured(path + "at_mm[1]", kPlaceGive));
      }
    }
    seen.given = values;
    const Fitted fitted = drives::fitted(seen);
    const TensionerAnswer answer = preview_tensioner(fitted).value();
    if (!answer.meant) continue;  // thrown off its travel: counts as wrong
    const double miss = std::abs(answer.meant->reading.value - true_at);
    constexpr double kSigmas80 = 1.2815515655446004;
    if (miss <= kSigmas80 * answer.unsure.sigma()) ++within_80;
    if (miss <= answer.unsure.give_or_take) ++within_95;
  }
  CHECK(within_80 >= 0.75 * kBuilds);
  CHECK(within_80 <= 0.85 * kBuilds);
  CHECK(within_95 >= 0.93 * kBuilds);
  CHECK(within_95 <= 0.97 * kBuilds);
}

TEST_CASE("What adjustment is left is as unsure as a cam that is moved shows") {
  constexpr double kGive = 0.5;
  constexpr double kStepMm = 0.01;
  DriveSpec spec = drives::worked_example();
  const auto left = [&](double up_mm) {
    DriveSpec moved = spec;
    drives::named(moved, "cam").at_mm->y() += up_mm;
    const TensionerAnswer answer = preview_tensioner(drives::fitted(moved)).value();
    return answer.meant.value().adjustment_left_mm;
  };
  spec.given = {drives::measured("pulley.cam.at_mm[1]", kGive)};
  const TensionerAnswer answer = preview_tensioner(drives::fitted(spec)).value();
  const double rate = (left(kStepMm) - left(-kStepMm)) / (2.0 * kStepMm);
  // To second order in a hundredth of a mm.
  CHECK_THAT(answer.adjustment_unsure.give_or_take, WithinRel(kGive * std::abs(rate), 1e-4));
  CHECK(answer.adjustment_unsure.most == "pulley.cam.at_mm");
}
