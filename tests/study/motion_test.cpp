// What a moving picture goes through, against two turns by the answers of its own command.
#include "twoturn/study/motion.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/study/check.hpp"

namespace twoturn::test {
namespace {

const AfterTurns& after(const TurnsAnswer& turns, int count) {
  for (const AfterTurns& stop : turns.after) {
    if (stop.turns == count) return stop;
  }
  throw std::out_of_range("no stop after " + std::to_string(count) + " turns");
}

TEST_CASE("After one turn and two every timed pulley of a motion stands where turns has its mark") {
  for (const std::string& name : demos::names()) {
    const CheckAnswer check = check_drive(demos::spec_of(name));
    const std::optional<Motion> motion = motion_of(check.judged, 2, 5.0);
    REQUIRE(motion.has_value() == check.judged.turns.has_value());
    if (!motion) continue;
    CAPTURE(name);
    const TurnsAnswer& turns = *check.judged.turns;
    REQUIRE(motion->crank_deg.size() == 145);
    for (const int count : {1, 2}) {
      const std::size_t step = static_cast<std::size_t>(count) * 72;
      CHECK(motion->crank_deg[step] == Approx(360.0 * count));
      for (const ShaftAfter& seen : after(turns, count).shafts) {
        const Shaft& shaft = turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)];
        if (shaft.pulley < 0 || !seen.mark_deg) continue;
        CAPTURE(shaft.name, count);
        const auto pulley = static_cast<std::size_t>(shaft.pulley);
        const double start =
            *after(turns, 0)
                 .shafts[static_cast<std::size_t>(&seen - after(turns, count).shafts.data())]
                 .mark_deg;
        // Clock angles fall as a pulley turns anticlockwise.
        const double stands = start - motion->pulley_deg[pulley][step];
        const double off = std::remainder(stands - *seen.mark_deg, 360.0);
        CHECK(std::abs(off) < 1e-7);
        CHECK(motion->pulley_errors[pulley][step] == Approx(seen.error_crank_deg).margin(1e-7));
      }
    }
  }
}

TEST_CASE("Common practice: the belt moves by the crank's teeth a turn, a roller by its own edge") {
  const CheckAnswer check = check_drive(demos::spec_of("hill-climb-saloon"));
  const std::optional<Motion> motion = motion_of(check.judged, 2, 90.0);
  REQUIRE(motion);
  CHECK(motion->belt_teeth.back() == Approx(2.0 * 22.0));
  const Assembly& assembly = check.judged.turns->assembly;
  for (std::size_t i = 0; i < assembly.fitted.pulleys.size(); ++i) {
    const Wheel& wheel = assembly.fitted_path.wheels[i];
    const double edge_mm = Angle::degrees(motion->pulley_deg[i].back()).radians() * wheel.radius_mm;
    CHECK(edge_mm * wheel.sense == Approx(2.0 * 22.0 * 8.0).margin(1e-6));
  }
}

}  // namespace
}  // namespace twoturn::test
