// Room at sixteen valves over two turns at 0.1 crank deg, against the bare cost of the
// slider-crank's and the laws' own formulas; measured in turn, the median of the ratios counts.
// Absolute ns beside.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <vector>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "twoturn/engine/valve_room.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;

namespace {

double sink = 0.0;

constexpr int kPlaces = 7200;
constexpr int kValves = 16;
constexpr double kThrow = 43.0, kRod = 143.0, kHeight = 9.0, kDrop = 1.05, kRoom = 5.0;
constexpr double kFlank = 125.0 * kRadPerDeg;

double centre_of(int valve) { return (valve % 2 == 0 ? 108.0 : -108.0) * kRadPerDeg; }

// Written out for one valve and nothing else: a sine, a cosine and a root for the piston, the 3-4-5
// law where the valve is open.
void bare(int valve, std::vector<double>& rooms) {
  const double centre = centre_of(valve);
  const double step = kCycleRad / kPlaces;
  for (int k = 0; k < kPlaces; ++k) {
    const double t = k * step;
    const double aside = kThrow * std::sin(t);
    const double depth =
        kThrow + kRod - (kThrow * std::cos(t) + std::sqrt(kRod * kRod - aside * aside));
    double from = t - centre;
    from -= kCycleRad * std::floor(from / kCycleRad + 0.5);
    const double x = 1.0 - std::abs(from) / kFlank;
    const double lift = x > 0.0 ? kHeight * x * x * x * (10.0 + x * (6.0 * x - 15.0)) : 0.0;
    rooms[static_cast<std::size_t>(k)] = kRoom + depth - kDrop * lift;
  }
}

double seconds_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> values) {
  std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2),
                   values.end());
  return values[values.size() / 2];
}

}  // namespace

TEST_CASE("Two turns at 0.1 crank deg with sixteen valves, against the bare laws") {
  const SliderCrank crank = *SliderCrank::of_throw(kThrow, kRod);
  std::vector<ValveOverPiston> valves;
  for (int k = 0; k < kValves; ++k) {
    valves.push_back({{LiftCurve::of_law({Law::polynomial_345, kHeight, kFlank, kFlank}),
                       Angle::radians(centre_of(k)), 0.0},
                      kDrop,
                      kRoom});
  }
  std::vector<double> ours(kPlaces), floor(kPlaces);
  std::vector<double> times, bare_times, ratios;
  for (int round = 0; round < 31; ++round) {
    times.push_back(seconds_of([&] {
      for (const ValveOverPiston& valve : valves) {
        sample_room(crank, valve, Angle(), ours);
        sink += ours[17];
      }
    }));
    bare_times.push_back(seconds_of([&] {
      for (int k = 0; k < kValves; ++k) {
        bare(k, floor);
        sink += floor[17];
      }
    }));
    ratios.push_back(times.back() / bare_times.back());
  }
  for (std::size_t k = 0; k < ours.size(); ++k) {
    REQUIRE(std::abs(ours[k] - floor[k]) < 1e-9);  // the last valve of both
  }
  std::printf("\nroom at 16 valves, 7200 places each %10.3f ms  %10.3f ms bare laws  ratio %.3f\n",
              median(times) * 1e3, median(bare_times) * 1e3, median(ratios));
}

TEST_CASE("Least room at a valve with all its minima, and all of an engine's answers") {
  const SliderCrank crank = *SliderCrank::of_throw(kThrow, kRod);
  const ValveOverPiston valve{{LiftCurve::of_law({Law::polynomial_345, kHeight, kFlank, kFlank}),
                               Angle::radians(centre_of(0)), 0.0},
                              kDrop,
                              kRoom};
  std::vector<double> times, whole;
  const DriveSpec spec = demos::spec_of("valley-rescue-v6");
  std::vector<Missing> ignored;
  const FitAnswer fitted = answer_fit(spec, Fit::as_fitted, ignored);
  for (int round = 0; round < 31; ++round) {
    times.push_back(seconds_of([&] { sink += examine_room(crank, valve, Angle()).least.room_mm; }));
    whole.push_back(seconds_of([&] {
      std::vector<Missing> missing;
      sink += answer_engine(spec, fitted, missing).valves->valves.front().fitted.least_mm;
    }));
  }
  std::printf("least room at one valve %10.1f us; valves, park and pistons of a V6 %10.3f ms\n",
              median(times) * 1e6, median(whole) * 1e3);
  std::printf("(results consumed: %g)\n", sink);
}
