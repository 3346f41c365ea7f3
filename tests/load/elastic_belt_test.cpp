#include "twoturn/load/elastic_belt.hpp"

#include <algorithm>
#include <cmath>
#include <iostream>
#include <numbers>
#include <random>

#include "load/elastic_drives.hpp"
#include "support/catch.hpp"

using namespace twoturn;
using namespace twoturn::test;

namespace {

ShaftLoad steady(double nmm) {
  return [nmm](double) { return ShaftTorque{nmm, 0.0}; };
}

ElasticBelt two_shafts(double leaving_n_mm, double arriving_n_mm) {
  return {{25.0, 50.0}, {leaving_n_mm, arriving_n_mm}, 200.0, std::nullopt};
}

ElasticState solved(const ElasticBelt& belt, const std::vector<ShaftLoad>& loads,
                    const std::vector<double>& rigid_rad) {
  return solve_elastic(belt, loads, rigid_rad, reference_state(belt));
}

}  // namespace

TEST_CASE("Two taut runs share a torque by their stiffness") {
  // Statics: r (T1 - T0) = M with T0 = T + K0 r psi, T1 = T - K1 r psi.
  for (const double torque : {0.0, 1234.5, -4321.0, 9000.0}) {
    const ElasticBelt belt = two_shafts(700.0, 1100.0);
    const ElasticState state = solved(belt, {{}, steady(torque)}, {0.0, 0.0});
    CAPTURE(torque);
    CHECK(state.settled == Settled::yes);
    CHECK_THAT(state.ahead_rad[1], WithinAbs(-torque / (2500.0 * 1800.0), 1e-12));
    CHECK_THAT(state.tension_n[0], WithinAbs(200.0 - torque / 50.0 * 700.0 / 1800.0, 1e-10));
    CHECK_THAT(state.tension_n[1], WithinAbs(200.0 + torque / 50.0 * 1100.0 / 1800.0, 1e-10));
    CHECK_THAT(state.crank_torque_nmm, WithinAbs(torque / 2.0, 1e-8));
    CHECK(state.slack_runs.empty());
    CHECK(state.arm == Arm::locked);
    const ElasticState own = solved(belt, {steady(77.0), steady(torque)}, {0.0, 0.0});
    CHECK_THAT(own.crank_torque_nmm, WithinAbs(torque / 2.0 + 77.0, 1e-8));
  }
}

TEST_CASE(
    "With one run slack the other carries all, from r T (K0 + K1) / K of the slackening run") {
  const ElasticBelt belt = two_shafts(700.0, 1100.0);
  const double resisting = 50.0 * 200.0 * 1800.0 / 700.0;
  const double pushing = -50.0 * 200.0 * 1800.0 / 1100.0;
  for (const double share : {1.0 + 1e-9, 1.5, 4.0}) {
    CAPTURE(share);
    const ElasticState held = solved(belt, {{}, steady(share * resisting)}, {0.0, 0.0});
    CHECK(held.slack_runs == std::vector<int>{0});
    CHECK_THAT(held.tension_n[1], WithinRel(share * resisting / 50.0, 1e-12));
    CHECK_THAT(held.ahead_rad[1],
               WithinRel((200.0 - share * resisting / 50.0) / (1100.0 * 50.0), 1e-12));
    const ElasticState led = solved(belt, {{}, steady(share * pushing)}, {0.0, 0.0});
    CHECK(led.slack_runs == std::vector<int>{1});
    CHECK_THAT(led.tension_n[0], WithinRel(-share * pushing / 50.0, 1e-12));
    CHECK_THAT(led.ahead_rad[1],
               WithinRel((-share * pushing / 50.0 - 200.0) / (700.0 * 50.0), 1e-12));
  }
  const double before = 1.0 - 1e-9;
  CHECK(solved(belt, {{}, steady(before * resisting)}, {0.0, 0.0}).slack_runs.empty());
  CHECK(solved(belt, {{}, steady(before * pushing)}, {0.0, 0.0}).slack_runs.empty());
}

TEST_CASE("On a belt that does not give, the crank feels each torque by its radius") {
  Drive5 drive = cam_drive(2e9, 1.0);
  for (int k = 0; k < 40; ++k) {
    const double crank = 0.31 * k;
    const std::vector<double> at = drive.rigid(crank);
    double rigid_nmm = 0.0;
    for (std::size_t shaft = 1; shaft < at.size(); ++shaft) {
      rigid_nmm += drive.springs[shaft].torque(at[shaft]).nmm * 30.0 / drive.belt.radius_mm[shaft];
    }
    const ElasticState state = solved(drive.belt, drive.loads(), at);
    REQUIRE(state.settled == Settled::yes);
    // What is left is the turn of the shafts, about T / (K r) = 1e-7 rad, times the loads' rates.
    CHECK_THAT(state.crank_torque_nmm, WithinAbs(rigid_nmm, 0.05));
  }
}

TEST_CASE("Work at the crank is the change of energy in loads, belt and tensioner") {
  for (const bool sprung : {false, true}) {
    Drive5 drive = cam_drive(2e5, 0.6);
    std::mt19937 random(5);
    if (sprung) drive.belt.sprung = arm_of(laid_out(random, 0.0), 1500.0);
    drive.springs[1].steady_nmm = 0.0;
    const auto loads = drive.loads();
    constexpr int kSteps = 2880;  // a quarter of a crank deg each, and half steps between
    const double step = 4.0 * std::numbers::pi / kSteps;
    ElasticState state = solved(drive.belt, loads, drive.rigid(0.0));
    const double first = drive.energy_nmm(state, 0.0);
    double energy = first;
    double work = 0.0;
    double moved = 0.0;
    double worst = 0.0;
    for (int k = 0; k < kSteps; ++k) {
      const double start_nmm = state.crank_torque_nmm;
      state = solve_elastic(drive.belt, loads, drive.rigid((k + 0.5) * step), state);
      const double middle_nmm = state.crank_torque_nmm;
      state = solve_elastic(drive.belt, loads, drive.rigid((k + 1) * step), state);
      REQUIRE(state.settled == Settled::yes);
      REQUIRE(state.slack_runs.empty());
      const double simpson = step / 6.0 * (start_nmm + 4.0 * middle_nmm + state.crank_torque_nmm);
      const double now = drive.energy_nmm(state, (k + 1) * step);
      worst = std::max(worst, std::abs(simpson - (now - energy)));
      moved += std::abs(simpson);
      work += simpson;
      energy = now;
    }
    CAPTURE(sprung, moved, worst, work);
    // Simpson's rule on a step h is right to h^5 M'''' / 2880: 1e-6 of what goes to and fro.
    CHECK(worst * kSteps < 1e-6 * moved);
    CHECK(std::abs(work) < 1e-6 * moved);
    CHECK(std::abs(energy - first) < 1e-8 * moved);
  }
}

TEST_CASE("A cam that snaps over on its springs comes to rest lower, where the fold is") {
  // M = A sin(8 a) on a soft belt: the balance K r^2 psi + A sin 8a = 0 folds where 8 A cos 8a =
  // -K r^2.
  ElasticBelt belt = two_shafts(20.0, 20.0);
  belt.static_tension_n = 1000.0;  // neither run slackens
  const double stiff = 40.0 * 2500.0;
  const Springs springs{0.0, {{25000.0, 8.0, 0.0}}};
  const double a = std::acos(-stiff / (8.0 * 25000.0)) / 8.0;
  const double fold = a + 25000.0 * std::sin(8.0 * a) / stiff;
  const std::vector<ShaftLoad> loads{{}, springs.load()};
  const auto energy = [&](double psi, double rigid) {
    const double u = 50.0 * psi;
    const double leaving = std::max(0.0, 1000.0 + 20.0 * u);
    const double arriving = std::max(0.0, 1000.0 - 20.0 * u);
    return (leaving * leaving + arriving * arriving) / 40.0 + springs.energy_nmm(rigid + psi);
  };
  const double step = 0.25 * std::numbers::pi / 180.0;
  ElasticState state = reference_state(belt);
  int snaps = 0;
  for (int k = 1; k * step < fold + 0.1; ++k) {
    const double rigid = k * step;
    const double before = state.ahead_rad[1];
    state = solve_elastic(belt, loads, std::vector<double>{2.0 * rigid, rigid}, state);
    REQUIRE(state.settled == Settled::yes);
    const double here = energy(state.ahead_rad[1], rigid);
    CHECK(here < energy(state.ahead_rad[1] + 1e-4, rigid));
    CHECK(here < energy(state.ahead_rad[1] - 1e-4, rigid));
    if (!state.snap) continue;
    ++snaps;
    CHECK(rigid >= fold);
    CHECK(rigid < fold + step);
    CHECK(state.snap->shaft == 1);
    CHECK(state.snap->ahead_rad > 0.1);
    CHECK_THAT(state.snap->ahead_rad, WithinAbs(state.ahead_rad[1] - before, 1e-15));
    CHECK_THAT(state.snap->released_nmm, WithinRel(energy(before, rigid) - here, 1e-6));
    CHECK(state.snap->released_nmm > 0.0);
  }
  CHECK(snaps == 1);
}

TEST_CASE("A shaft put exactly on top of its springs falls off forwards") {
  const ElasticBelt belt = two_shafts(20.0, 20.0);
  const Springs springs{0.0, {{25000.0, 8.0, std::numbers::pi}}};
  const ElasticState state = solved(belt, {{}, springs.load()}, {0.0, 0.0});
  CHECK(state.settled == Settled::yes);
  CHECK(state.ahead_rad[1] > 0.05);
  CHECK(state.snap);
}

TEST_CASE("A free shaft between two slack runs stays where it was and is named") {
  // No tension at rest, and a brake on shaft 3 alone: runs 0 to 2 fall slack.
  const ElasticBelt belt{{20.0, 30.0, 30.0, 30.0}, {500.0, 600.0, 700.0, 800.0}, 0.0, {}};
  ElasticState from = reference_state(belt);
  CHECK(from.slack_runs.size() == 4);
  CHECK(from.undetermined == std::vector<int>{1, 2, 3});
  const std::vector<double> rigid(4, 0.0);
  const std::vector<ShaftLoad> loads{{}, {}, {}, steady(3000.0)};
  const ElasticState state = solve_elastic(belt, loads, rigid, from);
  CHECK(state.settled == Settled::yes);
  CHECK(state.slack_runs == std::vector<int>{0, 1, 2});
  CHECK(state.undetermined == std::vector<int>{1, 2});
  CHECK_THAT(state.tension_n[3], WithinRel(100.0, 1e-9));
  // A load that is a spring holds its shaft: there it has no torque.
  const Springs spring{0.0, {{100.0, 1.0, 0.001}}};
  const std::vector<ShaftLoad> sprung_load{{}, spring.load(), {}, steady(3000.0)};
  const ElasticState held = solve_elastic(belt, sprung_load, rigid, state);
  CHECK(held.undetermined == std::vector<int>{2});
  CHECK(held.slack_runs == std::vector<int>{0, 1, 2});
  CHECK_THAT(held.ahead_rad[1], WithinAbs(-0.001, 1e-9));
  CHECK(held.settled == Settled::yes);
}

TEST_CASE("A shaft with a torque between slack runs turns until a run takes it") {
  const ElasticBelt belt{{20.0, 30.0, 30.0}, {500.0, 600.0, 700.0}, 0.0, {}};
  ElasticState from = reference_state(belt);
  from.ahead_rad = {0.0, -0.05, -0.3};
  const ElasticState state = solve_elastic(belt, std::vector<ShaftLoad>{{}, steady(900.0), {}},
                                           std::vector<double>(3, 0.0), from);
  CHECK(state.settled == Settled::yes);
  // Its torque goes by way of the free shaft to the crank: 30 N in runs 1 and 2.
  CHECK_THAT(state.tension_n[0], WithinAbs(0.0, 1e-7));
  CHECK_THAT(state.tension_n[1], WithinAbs(30.0, 1e-7));
  CHECK_THAT(state.tension_n[2], WithinAbs(30.0, 1e-7));
  CHECK_THAT(state.crank_torque_nmm, WithinAbs(600.0, 1e-5));
}

TEST_CASE("A sprung tensioner rests on its stops, and past over centre says so") {
  // L = 1000 + 10 sin q: over centre at a quarter turn.
  const auto length = [](double q) {
    return std::optional<LengthAt>({1000.0 + 10.0 * std::sin(q), 10.0 * std::cos(q)});
  };
  ElasticBelt belt = two_shafts(100.0, 100.0);
  belt.sprung = SprungTensioner{0, 0.9, 1000.0, 0.7, 1.1, length};
  const std::vector<double> rigid(2, 0.0);
  const auto under = [&](double nmm) {
    return solve_elastic(belt, std::vector<ShaftLoad>{{}, steady(nmm)}, rigid,
                         reference_state(belt));
  };
  CHECK(reference_state(belt).arm == Arm::balanced);
  const ElasticState little = under(500.0);
  CHECK(little.arm == Arm::balanced);
  CHECK_FALSE(little.snap);
  const double spring = 2000.0 * std::cos(0.9) - 1000.0 * (little.q - 0.9);
  CHECK_THAT(little.tension_n[0] * 10.0 * std::cos(little.q), WithinRel(spring, 1e-9));
  const ElasticState tight = under(30000.0);
  CHECK(tight.settled == Settled::yes);
  CHECK(tight.arm == Arm::on_tight_stop);
  CHECK(tight.q == 1.1);
  CHECK_FALSE(tight.over_centre);
  const ElasticState slack = under(-30000.0);
  CHECK(slack.arm == Arm::on_slack_stop);
  CHECK(slack.q == 0.7);
  // Off the stop again, as if it had never been there.
  const ElasticState back =
      solve_elastic(belt, std::vector<ShaftLoad>{{}, steady(500.0)}, rigid, slack);
  CHECK_THAT(back.q, WithinAbs(little.q, 1e-9));
  belt.sprung->tight_stop = 2.5;
  const ElasticState over = under(60000.0);
  CHECK(over.settled == Settled::yes);
  CHECK(over.over_centre);
  REQUIRE(over.snap);
  CHECK(over.snap->arm_q > 0.7);
  CHECK(over.snap->released_nmm > 0.0);
}

TEST_CASE("What cannot be solved says why, with finite numbers") {
  ElasticBelt belt = two_shafts(100.0, 100.0);
  const std::vector<double> rigid(2, 0.0);
  const auto with = [&](const ShaftLoad& load) {
    return solve_elastic(belt, std::vector<ShaftLoad>{{}, load}, rigid, reference_state(belt));
  };
  const ElasticState broken = with(steady(std::nan("")));
  CHECK(broken.settled == Settled::load_not_finite);
  CHECK(broken.ahead_rad == std::vector<double>{0.0, 0.0});
  // A load that pushes harder the further it is pushed is never caught: 200 N/mm at 50 mm.
  const ElasticState away = with([](double a) { return ShaftTorque{-100.0 - 1e6 * a, -1e6}; });
  CHECK(away.settled == Settled::not_converged);
  CHECK(away.residual_n > 1.0);
  CHECK(std::isfinite(away.ahead_rad[1]));
  belt.sprung = SprungTensioner{
      0,    0.0, 0.0,
      -1.0, 1.0, [](double q) {
    return std::optional<LengthAt>({1000.0 - q * q, -2.0 * q}); }};
  CHECK(with({}).settled == Settled::no_reference);
  belt.sprung->length = [](double q) {
    return q < 0.01 ? std::optional<LengthAt>({1000.0 + q, 1.0}) : std::nullopt;
  };
  CHECK(with(steady(8000.0)).settled == Settled::no_path);
}

TEST_CASE("Random soft drives on strong springs always come to rest at a least energy") {
  std::mt19937 random(20261129);
  int snaps = 0;
  for (int number = 0; number < 300; ++number) {
    Drive5 drive;
    drive.belt.static_tension_n = draw(random, 0.0, 100.0);
    const std::size_t count = 2 + random() % 4;
    for (std::size_t k = 0; k < count; ++k) {
      drive.belt.radius_mm.push_back(draw(random, 20.0, 60.0));
      drive.belt.run_stiffness_n_mm.push_back(std::exp(draw(random, 2.0, 7.0)));
      Springs springs;
      const double nmm = draw(random, 0.0, 20000.0);
      const double phase = draw(random, 0.0, 6.0);
      if (k > 0) springs.waves.push_back({nmm, static_cast<double>(1 + random() % 8), phase});
      drive.springs.push_back(springs);
    }
    const auto loads = drive.loads();
    ElasticState state = reference_state(drive.belt);
    double crank = 0.0;
    for (int step = 0; step < 30; ++step) {
      crank += draw(random, 0.0, 0.05);
      const ElasticState before = state;
      state = solve_elastic(drive.belt, loads, drive.rigid(crank), state);
      CAPTURE(number, step, state.residual_n, state.solves);
      REQUIRE(state.settled == Settled::yes);
      snaps += state.snap.has_value() ? 1 : 0;
      const auto energy = [&](std::vector<double> ahead) {
        double sum = 0.0;
        const std::vector<double> at = drive.rigid(crank);
        for (std::size_t k = 0; k < count; ++k) {
          const std::size_t next = (k + 1) % count;
          const double stretch =
              drive.belt.radius_mm[next] * ahead[next] - drive.belt.radius_mm[k] * ahead[k];
          const double tension = std::max(
              0.0, drive.belt.static_tension_n + drive.belt.run_stiffness_n_mm[k] * stretch);
          sum += tension * tension / (2.0 * drive.belt.run_stiffness_n_mm[k]);
          sum += drive.springs[k].energy_nmm(at[k] + ahead[k]);
        }
        return sum;
      };
      const double here = energy(state.ahead_rad);
      const double rounding = 1e-11 * (1.0 + std::abs(here));
      CHECK(here <= energy(before.ahead_rad) + rounding);
      for (int way = 0; way < 10; ++way) {
        std::vector<double> beside = state.ahead_rad;
        for (std::size_t k = 1; k < count; ++k) beside[k] += draw(random, -1e-3, 1e-3);
        CHECK(here <= energy(beside) + rounding);
      }
    }
  }
  CHECK(snaps > 50);
}

TEST_CASE("Two turns at half a crank deg take fewer than five solves a step") {
  for (const double tension_n : {50.0, 250.0}) {
    for (const bool sprung : {false, true}) {
      Drive5 drive = cam_drive(1e5, 1.0);
      drive.belt.static_tension_n = tension_n;
      std::mt19937 random(5);
      if (sprung) drive.belt.sprung = arm_of(laid_out(random, 0.0), 1500.0);
      const auto loads = drive.loads();
      ElasticState state = reference_state(drive.belt);
      int sum = 0;
      int most = 0;
      int snaps = 0;
      std::size_t slack = 0;
      double crank_nmm = 0.0;
      for (int k = 0; k < 1440; ++k) {
        state = solve_elastic(drive.belt, loads, drive.rigid(k * std::numbers::pi / 360.0), state);
        REQUIRE(state.settled == Settled::yes);
        snaps += state.snap.has_value() ? 1 : 0;
        sum += state.solves;
        most = std::max(most, state.solves);
        slack += state.slack_runs.size();
        crank_nmm = std::max(crank_nmm, std::abs(state.crank_torque_nmm));
      }
      std::cout << tension_n << " N, " << (sprung ? "sprung" : "locked") << ": " << sum / 1440.0
                << " solves a step, at most " << most << "; slack runs " << slack << ", snaps "
                << snaps << ", at most " << crank_nmm << " N mm at the crank\n";
      if (tension_n > 100.0) CHECK(snaps == 0);
      CHECK(sum / 1440.0 < 5.0);
    }
  }
}

// Run by elastic_scipy_test.py, which solves them anew: one drive a line, as JSON.
TEST_CASE("Fifty drives, locked and sprung, for SciPy", "[.][elastic_values]") {
  std::mt19937 random(77);
  for (int number = 0; number < 50; ++number) {
    const Laid laid = laid_out(random, 3.0);
    const double ea_n = std::exp(draw(random, 9.5, 12.5));
    const double tension_n = draw(random, 20.0, 300.0);
    Drive5 drive = cam_drive(ea_n, 0.0);
    drive.belt = belt_on(laid, ea_n, tension_n);
    for (std::size_t k = 1; k < 5; ++k) {
      Springs& springs = drive.springs[k];
      springs = {};
      springs.steady_nmm = draw(random, 0.0, 6000.0);
      for (const double waves : {1.0, 4.0}) {
        const double nmm = draw(random, 0.0, 9000.0);
        springs.waves.push_back({nmm, waves, draw(random, 0.0, 6.0)});
      }
    }
    const std::vector<double> rigid = drive.rigid(draw(random, 0.0, 12.5));
    const SprungTensioner arm = arm_of(laid, draw(random, 200.0, 6000.0));
    const ElasticState locked = solved(drive.belt, drive.loads(), rigid);
    drive.belt.sprung = arm;
    const ElasticState sprung = solved(drive.belt, drive.loads(), rigid);
    for (const ElasticState* state : {&locked, &sprung}) {
      CHECK(state->settled == Settled::yes);
      const bool held = state->arm == Arm::locked;
      Line line;
      line.list("wheels", laid.wheels.size(), [&](std::size_t k) {
        const Wheel& wheel = laid.wheels[k];
        return std::vector<double>{wheel.centre_mm.x(), wheel.centre_mm.y(), wheel.radius_mm,
                                   1.0 * wheel.sense};
      });
      line.values("arm", {laid.pivot_mm.x(), laid.pivot_mm.y(), laid.arm_mm, laid.arm_rad,
                          arm.stiffness, held ? 0.0 : arm.slack_stop, held ? 0.0 : arm.tight_stop});
      line.values("belt", {ea_n, tension_n});
      line.list("springs", 5, [&](std::size_t k) {
        std::vector<double> flat{drive.springs[k].steady_nmm};
        for (const Wave& wave : drive.springs[k].waves) {
          flat.insert(flat.end(), {wave.nmm, wave.count, wave.phase});
        }
        return flat;
      });
      line.values("rigid_rad", rigid);
      line.values("run_stiffness_n_mm", drive.belt.run_stiffness_n_mm);
      line.values("ahead_rad", state->ahead_rad);
      line.values("tension_n", state->tension_n);
      line.values("q", {state->q});
      line.values("crank_torque_nmm", {state->crank_torque_nmm});
      line.values("energy_nmm", {state->belt_energy_nmm, state->arm_energy_nmm});
      std::cout << line.text() << "\n";
    }
  }
}
