// Valve springs as torque. Evidence: work and energy (a spring gives back what it took), lifts by
// the laws' closed forms, worked out by support/oracle_engine.hpp without the library.
#include "twoturn/engine/spring_torque.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "support/catch.hpp"
#include "support/oracle_engine.hpp"
#include "twoturn/engine/compression.hpp"

using namespace twoturn;

namespace {

constexpr ValveSprings kSprings{180.0, 25.0};

Lobe lobe_of(Law law, double lash_mm) {
  LobeQuestion question;
  question.shape = law;
  question.height_mm = 9.0;
  question.lash_mm = lash_mm;
  question.at_lift_mm = lash_mm;
  question.opens = Angle::degrees(-14.0);
  question.closes = Angle::degrees(232.0);
  return solve_lobe(question).value();
}

constexpr std::array<Law, 5> kLaws{Law::cycloidal, Law::harmonic, Law::polynomial_345,
                                   Law::polynomial_4567, Law::modified_sine};

}  // namespace

TEST_CASE("Over two turns springs give back all that they took") {
  for (const Law law : kLaws) {
    for (const double lash : {0.0, 0.25}) {
      const Lobe lobe = lobe_of(law, lash);
      constexpr int kSteps = 720000;
      double work = 0.0;
      double up = 0.0;
      for (int k = 0; k < kSteps; ++k) {
        const double deg = 720.0 * (k + 0.5) / kSteps;
        const double nmm =
            spring_torque(lobe, kSprings, Angle::degrees(deg)).nmm * 4.0 * kPi / kSteps;
        work += nmm;
        up += std::max(0.0, nmm);
      }
      const double lift = 9.0 - lash;
      // F0 h + c h^2 / 2, less what the take-up of 0.02 mm saves.
      const double taken = 180.0 * (lift - 0.01) + 25.0 * lift * lift / 2.0;
      CHECK_THAT(up, WithinRel(taken, 1e-6));
      CHECK_THAT(work / taken, WithinAbs(0.0, 1e-6));
    }
  }
}

TEST_CASE("Torque is what the work changes by as the crank turns") {
  const Lobe lobe = lobe_of(Law::polynomial_345, 0.0);
  const double flank = 123.0;  // deg: -14 to 109 and on to 232
  for (const double deg : {0.0, 20.0, 47.5, 80.0, 108.0, 109.0, 130.0, 200.0}) {
    const auto lift = [&](double at) {
      return 9.0 * static_cast<double>(
                       oracle::polynomial_345(oracle::real(1.0 - std::abs(at - 109.0) / flank)));
    };
    const auto work = [&](double at) {
      const double h = lift(at);
      return 180.0 * (h - 0.01) + 12.5 * h * h;
    };
    constexpr double kStepDeg = 1e-3;
    const double rate =
        (work(deg + kStepDeg) - work(deg - kStepDeg)) / (2.0 * kStepDeg * kPi / 180.0);
    CHECK_THAT(spring_torque(lobe, kSprings, Angle::degrees(deg)).nmm,
               WithinAbs(rate, 1e-4 * (1.0 + std::abs(rate))));
  }
}

TEST_CASE("Air squeezed without loss follows Poisson's law") {
  // p2/p1 = r^1.4; work to squeeze it p1 V1 (r^0.4 - 1)/0.4 less the outside's p1 (V1 - V2): any
  // text on thermodynamics.
  const SliderCrank crank = SliderCrank::of_stroke(85.0, 141.0).value();
  const double swept = kPi / 4.0 * 83.0 * 83.0 * 85.0;
  constexpr double kRatio = 10.0;
  const AirSqueezed air{crank, 83.0, swept / (kRatio - 1.0) / 1000.0};
  constexpr double kAtmosphere = 0.101325;
  CHECK_THAT(air.pressure_n_mm2(0.0), WithinRel(kAtmosphere * (25.118864315095795 - 1.0), 1e-12));
  CHECK_THAT(air.pressure_n_mm2(85.0), WithinAbs(0.0, 1e-12));
  double work = 0.0;
  constexpr int kSteps = 20000;
  for (int k = 0; k < kSteps; ++k) {
    work += air.torque_nmm(Angle::degrees(-180.0 * (k + 0.5) / kSteps)) * kPi / kSteps;
  }
  const double first = swept * kRatio / (kRatio - 1.0);
  const double expected =
      kAtmosphere * first * (std::pow(kRatio, 0.4) - 1.0) / 0.4 - kAtmosphere * swept;
  CHECK_THAT(work, WithinRel(expected, 1e-6));
  CHECK(air.torque_nmm(Angle::degrees(10.0)) == 0.0);
}

TEST_CASE("The torque's rate is what the torque changes by") {
  std::vector<Lobe> lobes;
  for (const Law law : kLaws) lobes.push_back(lobe_of(law, 0.25));
  LobeQuestion measured;
  measured.shape = std::vector<LiftPoint>{{0.0, 0.0},   {20.0, 0.6},  {55.0, 4.1},  {90.0, 8.2},
                                          {115.0, 9.0}, {150.0, 6.5}, {190.0, 1.9}, {230.0, 0.0}};
  measured.lash_mm = 0.25;
  measured.at_lift_mm = 0.25;
  measured.opens = Angle::degrees(-14.0);
  measured.closes = Angle::degrees(212.0);
  lobes.push_back(solve_lobe(measured).value());
  constexpr double kApartDeg = 1e-4;
  for (const Lobe& lobe : lobes) {
    // Clear of the flanks' and the table's joints, where the rate jumps.
    for (const double deg : {-5.0, 11.0, 48.3, 81.0, 104.0, 129.0, 166.0, 199.0, 300.0}) {
      const auto torque = [&](double at) {
        return spring_torque(lobe, kSprings, Angle::degrees(at));
      };
      const double rise = torque(deg + kApartDeg).nmm - torque(deg - kApartDeg).nmm;
      const double rate = rise / (2.0 * kApartDeg * kRadPerDeg);
      CHECK_THAT(torque(deg).rate_nmm_per_rad, WithinAbs(rate, 1e-5 * (1.0 + std::abs(rate))));
    }
  }
}

TEST_CASE(
    "While the springs' fitted pull is taken up the rate is what the torque changes by as well") {
  constexpr double kApartDeg = 1e-4;
  for (const Law law : kLaws) {
    const Lobe lobe = lobe_of(law, 0.25);
    for (const double lift : {0.3 * kTakeUpMm, 0.8 * kTakeUpMm, 1.3 * kTakeUpMm}) {
      for (const Angle place :
           {lobe.curve.rises_through(0.25 + lift), lobe.curve.falls_through(0.25 + lift)}) {
        const auto torque = [&](double beside_deg) {
          return spring_torque(lobe, kSprings, lobe.placed + place + Angle::degrees(beside_deg));
        };
        const double rise = torque(kApartDeg).nmm - torque(-kApartDeg).nmm;
        const double rate = rise / (2.0 * kApartDeg * kRadPerDeg);
        CAPTURE(lift, place.degrees());
        CHECK_THAT(torque(0.0).rate_nmm_per_rad, WithinAbs(rate, 1e-4 * (1.0 + std::abs(rate))));
      }
    }
  }
}

TEST_CASE("The springs' pull grows to the fitted one in the take-up, then by their rate") {
  // By hand.
  CHECK(spring_pull_n(kSprings, 0.0) == 0.0);
  CHECK(spring_pull_n(kSprings, -0.1) == 0.0);
  CHECK_THAT(spring_pull_n(kSprings, 0.5 * kTakeUpMm), WithinAbs(90.0 + 0.25, 1e-12));
  CHECK_THAT(spring_pull_n(kSprings, kTakeUpMm), WithinAbs(180.5, 1e-12));
  CHECK_THAT(spring_pull_n(kSprings, 8.0), WithinAbs(380.0, 1e-12));
}
