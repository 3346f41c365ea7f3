// Benches between simulated ones against simulation at those very sizes.
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/fault/lineup.hpp"

namespace {

using namespace twoturn;

// In own deg, the short way round.
double deg_apart(double a, double b) { return std::abs(std::remainder(a - b, 360.0)); }

struct Furthest {
  double mark_mm = 0.0;
  double pin_mm = 0.0;
  double pointer = 0.0;
  double count = 0.0;
};

void compare(const BenchLayout& layout, const Bench& a, const Bench& b, Furthest& furthest) {
  constexpr double kRadians = 3.14159265358979323846 / 180.0;
  for (std::size_t i = 0; i < a.shafts.size(); ++i) {
    for (std::size_t k = 0; k < kBenchStops; ++k) {
      const double mark = deg_apart(a.shafts[i].mark_deg[k], b.shafts[i].mark_deg[k]) * kRadians;
      const double pin = deg_apart(a.shafts[i].shaft_deg[k], b.shafts[i].shaft_deg[k]) * kRadians;
      furthest.mark_mm =
          std::max(furthest.mark_mm, mark * layout.shafts[i].mark_radius_mm.value_or(0.0));
      furthest.pin_mm =
          std::max(furthest.pin_mm, pin * layout.shafts[i].pin_radius_mm.value_or(0.0));
    }
  }
  REQUIRE(a.pointer.has_value() == b.pointer.has_value());
  if (a.pointer) furthest.pointer = std::max(furthest.pointer, deg_apart(*a.pointer, *b.pointer));
  for (std::size_t i = 0; i < a.counts.size(); ++i) {
    furthest.count = std::max(furthest.count, std::abs(a.counts[i] - b.counts[i]));
  }
}

}  // namespace

TEST_CASE("a bench between two simulated ones is as good as simulated") {
  for (const std::string& name : demos::names()) {
    const FaultBase base = fault_base(demos::spec_of(name), Fit::as_fitted);
    if (!base.turns) continue;
    CAPTURE(name);
    Furthest furthest;
    std::size_t benches = 0;
    std::size_t most = 0;
    const std::vector<Lineup> lineups = lineups_of(base, suspects_of(base));
    for (const Lineup& lineup : lineups) {
      CAPTURE(word(lineup.suspect.first().kind), lineup.suspect.first().about);
      benches += lineup.benches.size();
      most = std::max(most, lineup.benches.size());
      const std::size_t step = lineup.benches.size() / 12 + 1;
      for (std::size_t k = step / 2; k < lineup.benches.size(); k += step) {
        const double size = lineup.sizes.empty() ? 0.0 : lineup.sizes[k];
        CAPTURE(size);
        const std::optional<Bench> exact = simulate(base, lineup.suspect, size).bench;
        REQUIRE(exact);
        Furthest here;
        compare(base.layout, *exact, lineup.benches[k], here);
        compare(base.layout, *exact, lineup.benches[k], furthest);
        // A twentieth of a sigma: eye 0.5 mm, pin 0.05 mm, pointer 4 deg or 0.5 mm, count 0.25.
        // Twice that, for only two places between two nodes were tried.
        CHECK(here.mark_mm < 0.05);
        CHECK(here.pin_mm < 0.005);
        CHECK(here.pointer < (base.layout.tensioner == TensionerKind::swing ? 0.4 : 0.05));
        CHECK(here.count < 0.025);
      }
    }
    std::printf("%-18s %3zu suspects %6zu benches, most %zu; off by %.4f mm %.5f mm %.4f %.5f\n",
                name.c_str(), lineups.size(), benches, most, furthest.mark_mm, furthest.pin_mm,
                furthest.pointer, furthest.count);
  }
}
