// Valve springs as torque. Evidence: work and energy (a spring gives back what it took), lifts by
// the laws' closed forms, worked out by support/oracle_engine.hpp without the library.
#include "twoturn/engine/spring_torque.hpp"

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
            spring_torque_nmm(lobe, kSprings, Angle::degrees(deg)) * 4.0 * kPi / kSteps;
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
    CHECK_THAT(spring_torque_nmm(lobe, kSprings, Angle::degrees(deg)),
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
