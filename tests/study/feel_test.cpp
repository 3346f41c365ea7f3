// What the spanner feels. Evidence: statics in closed form for two shafts, work and energy, and
// what the trade says of the places of humps (common practice: a valve's springs resist while it
// opens).
#include "twoturn/study/feel.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

struct Felt {
  std::optional<FeelAnswer> answer;
  std::vector<Missing> missing;
};

Felt felt(const DriveSpec& spec) {
  Felt result;
  std::vector<Missing> ignored;
  const FitAnswer judged = answer_fit(spec, Fit::as_fitted, ignored);
  const EngineAnswers engine = answer_engine(spec, judged, ignored);
  result.answer = feel_answer(spec, judged.fitted ? &*judged.fitted : nullptr, Fit::as_fitted,
                              judged.turns ? &*judged.turns : nullptr,
                              engine.valves ? &*engine.valves : nullptr, result.missing);
  return result;
}

bool asks_for(const Felt& felt, std::string_view key) {
  for (const Missing& missing : felt.missing) {
    if (missing.key == key) return true;
  }
  return false;
}

DriveSpec sprung_valves(DriveSpec spec) {
  for (ValveSpec& valve : spec.valves) {
    valve.spring_n = 250.0;
    valve.spring_rate_n_mm = 30.0;
  }
  return spec;
}

// The engine of `four` on two pulleys, a run either side.
DriveSpec two_shafts() {
  DriveSpec spec = sprung_valves(drives::four());
  const DriveSpec pulleys = drives::two_pulleys(8.0, 22, 44, 346.86836251, 120);
  spec.pulleys = pulleys.pulleys;
  spec.belt = pulleys.belt;
  spec.belt.stiffness_n = 2e5;
  spec.tension.target_n = 300.0;
  return spec;
}

double mean_nm(const FeelAnswer& answer) {
  double sum = 0.0;  // the last step is the first again
  for (std::size_t k = 0; k + 1 < answer.steps.size(); ++k) sum += answer.steps[k].crank_nm;
  return sum / static_cast<double>(answer.steps.size() - 1);
}

}  // namespace

TEST_CASE("Springs alone come to nothing over two turns, drag is what is left") {
  DriveSpec spec = sprung_valves(drives::four());
  const Felt plain = felt(spec);
  REQUIRE(plain.answer.has_value());
  CHECK(plain.answer->springs_known);
  CHECK(plain.answer->steps.size() == 1441);
  // Half a degree beside lobes of 200: the rule of means ends with the highest kink of the torque.
  CHECK_THAT(mean_nm(*plain.answer), WithinAbs(0.0, 1e-3 * plain.answer->greatest.nm));
  drives::named(spec, "cam").drag_nm = 3.0;
  drives::named(spec, "crank").drag_nm = 5.0;
  const Felt dragged = felt(spec);
  // The cam turns at half the crank's rate: half its torque.
  CHECK_THAT(mean_nm(*dragged.answer) - mean_nm(*plain.answer), WithinRel(6.5, 1e-9));
}

TEST_CASE("Two shafts on an elastic belt stand where statics has them") {
  const Felt result = felt(two_shafts());
  REQUIRE(result.answer.has_value());
  REQUIRE(result.answer->belt.has_value());
  const FeelBelt& belt = *result.answer->belt;
  REQUIRE(belt.runs.size() == 2);
  CHECK(belt.settled);
  CHECK(belt.static_n == 300.0);
  const double crank_mm = 8.0 * 22 / (2.0 * kPi);
  const double cam_mm = 2.0 * crank_mm;
  // Tangent length of an open belt.
  const double run_mm = std::sqrt(346.86836251 * 346.86836251 - crank_mm * crank_mm);
  CHECK_THAT(belt.runs[0].length_mm, WithinRel(run_mm, 1e-9));
  const double stiffness = 2e5 / run_mm;
  double sum = 0.0;
  for (const FeelStep& step : result.answer->steps) {
    // Both runs are alike: what one gains the other loses, psi = -M/(2 K r^2), M = r dT.
    const double pull = step.tension_n[1] - step.tension_n[0];
    CHECK_THAT(step.crank_nm * 1000.0, WithinAbs(crank_mm * pull, 1e-6));
    CHECK_THAT(step.tension_n[0] + step.tension_n[1], WithinAbs(600.0, 1e-6));
    const double late = pull * cam_mm / (2.0 * stiffness * cam_mm * cam_mm) * 180.0 / kPi;
    CHECK_THAT(step.ahead_crank_deg[0], WithinAbs(-2.0 * late, 1e-6));
    sum += std::abs(pull);
  }
  CHECK(sum > 1000.0);
  // Energy: what the belt and the springs took they gave back.
  CHECK_THAT(mean_nm(*result.answer), WithinAbs(0.0, 1e-3 * result.answer->greatest.nm));
}

TEST_CASE("A belt without tension enough goes slack, and it is told where") {
  DriveSpec spec = two_shafts();
  spec.tension.target_n = 20.0;
  const Felt result = felt(spec);
  REQUIRE(result.answer->belt.has_value());
  const FeelBelt& belt = *result.answer->belt;
  const auto slack = [](const FeelRun& run) { return !run.slack.empty(); };
  REQUIRE(slack(belt.runs[0]));
  CHECK(belt.runs[0].least_n == 0.0);
  for (const FeelSpan& span : belt.runs[0].slack) CHECK(span.to_deg >= span.from_deg);
}

TEST_CASE("The tension asked for stands in the run where it is read, springs and all") {
  DriveSpec spec = two_shafts();
  spec.tension.from = "crank";
  spec.tension.to = "cam";
  spec.tension.at_crank_deg = 40.0;
  const Felt result = felt(spec);
  REQUIRE(result.answer->belt.has_value());
  const FeelStep& there = result.answer->steps[80];
  CHECK(there.crank_deg == 40.0);
  CHECK(result.answer->belt->static_n != 300.0);
  CHECK_THAT(there.tension_n[0], WithinRel(300.0, 1e-8));
}

TEST_CASE("Without springs order and place of the humps are told, and what opens the rest") {
  const Felt result = felt(drives::four());
  REQUIRE(result.answer.has_value());
  CHECK_FALSE(result.answer->springs_known);
  CHECK(result.answer->steps.empty());
  REQUIRE_FALSE(result.answer->humps.empty());
  for (const FeelHump& hump : result.answer->humps) {
    CHECK_FALSE(hump.pull.has_value());
    REQUIRE_FALSE(hump.parts.empty());
    CHECK(hump.past_firing_deg.has_value());
  }
  // Four cylinders of one cam: the pattern comes again every 180 crank deg (common practice).
  CHECK(result.answer->humps.size() % 4 == 0);
  CHECK(asks_for(result, "valve.inlet.spring_n"));
  CHECK(asks_for(result, "valve.exhaust.spring_rate_n_mm"));
}

TEST_CASE("What keeps the belt's tensions open is asked for, one number each") {
  DriveSpec spec = sprung_valves(drives::four());
  CHECK(asks_for(felt(spec), "belt.stiffness_n"));
  spec.belt.stiffness_n = 2e5;
  CHECK(asks_for(felt(spec), "tension.target_n"));
  spec.tension.target_n = 250.0;
  drives::named(spec, "tensioner").tensioner->holds = Holds::sprung;
  CHECK(asks_for(felt(spec), "pulley.tensioner.tensioner.spring_nm_per_deg"));
  drives::named(spec, "tensioner").tensioner->spring_nm_per_deg = 0.02;
  const Felt all = felt(spec);
  REQUIRE(all.answer->belt.has_value());
  CHECK(all.answer->belt->kind == TensionerKind::swing);
  CHECK(all.answer->belt->greatest_reading != all.answer->belt->least_reading);
  CHECK(all.answer->belt->solves < 5.0);
}

TEST_CASE("A valve that touches stops the crank from both sides of the touch") {
  DriveSpec spec = sprung_valves(drives::four());
  spec.valves[0].room_tdc_mm = 0.05;
  const Felt result = felt(spec);
  REQUIRE(result.answer->stops_known);
  REQUIRE_FALSE(result.answer->stops.empty());
  const FeelStop& stop = result.answer->stops.front();
  CHECK(stop.as_fitted);
  CHECK(stop.valve == "inlet");
  CHECK(stop.forwards_deg < stop.backwards_deg);
}

TEST_CASE("A foot pound is what the pound and the foot make it") {
  // 0.3048 m, 0.45359237 kg, 9.80665 m/s2, all exact.
  CHECK_THAT(hand_pull(1.0).lbf_ft, WithinRel(1.0 / (0.3048 * 0.45359237 * 9.80665), 1e-14));
  CHECK_THAT(hand_pull(30.0).at_spanner_n, WithinRel(100.0, 1e-14));
}
