// From tooth counts alone the bench is the one that the whole drive shows: two ways to the same
// numbers, the second by belt teeth carried round.
#include "twoturn/fault/counted.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/fault/lineup.hpp"

using namespace twoturn;

TEST_CASE("faults from tooth counts show what the whole drive shows") {
  for (const char* demo : {"night-bakery-van", "hill-climb-saloon", "cam-bench"}) {
    const FaultBase base = fault_base(demos::spec_of(demo), Fit::by_the_book);
    REQUIRE(base.turns.has_value());
    const auto counted_shaft = [](const BenchPart& part) {
      return CountedShaft{part.name, part.role,
                          static_cast<int>(std::lround(360.0 / part.tooth_deg)),
                          part.turns_per_crank, part.mark_radius_mm};
    };
    std::vector<CountedShaft> others;
    for (std::size_t i = 1; i < base.layout.shafts.size(); ++i) {
      others.push_back(counted_shaft(base.layout.shafts[i]));
    }
    const CountedFaults counted = counted_faults(counted_shaft(base.layout.shafts[0]), others);
    int compared = 0;
    for (const CountedFault& fault : counted.faults) {
      const FaultKind kind = fault.suspect.first().kind;
      if (kind == FaultKind::tooth_count) continue;  // its start is known within half a tooth
      const FaultyBuild build = simulate(base, fault.suspect, 0.0);
      if (!build.bench) continue;
      for (std::size_t i = 0; i < counted.layout.shafts.size(); ++i) {
        INFO(demo << ' ' << fault.suspect.first().about << ' ' << fault.suspect.first().teeth);
        const double off = std::abs(fault.bench.shafts[i].mark_deg[2]) -
                           std::abs(build.bench->shafts[i].mark_deg[2]);
        CHECK_THAT(off, WithinAbs(0.0, 1e-9));
        ++compared;
      }
    }
    CHECK(compared > 6);
  }
}

TEST_CASE("a tooth less on a pulley wanders by the rule of three") {
  // Exact: 20 teeth drive 39 in place of 40; two turns of the crank make 40/39 turns.
  const CountedFaults counted = counted_faults({"crank", Role::crankshaft, 20, 1.0, {}},
                                               {{"cam", Role::camshaft, 40, 0.5, {}}});
  const auto less =
      std::find_if(counted.faults.begin(), counted.faults.end(), [](const auto& fault) {
        return fault.suspect.first().kind == FaultKind::tooth_count &&
               fault.suspect.first().teeth == -1;
      });
  REQUIRE(less != counted.faults.end());
  CHECK_THAT(less->bench.shafts[1].mark_deg[2], WithinAbs(360.0 / 39.0, 1e-9));
  CHECK_THAT(less->bench.shafts[1].mark_deg[3], WithinAbs(720.0 / 39.0, 1e-9));
}
