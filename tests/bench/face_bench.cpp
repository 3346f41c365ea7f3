// Times of the minimum zone against the least-squares fit of the same points, each pair measured in
// turn many times: the median of the ratios counts on a machine that others use too.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>
#include <vector>

#include "support/catch.hpp"
#include "support/faces.hpp"
#include "twoturn/face/contours.hpp"
#include "twoturn/face/face.hpp"

using namespace twoturn;

namespace {

double sink = 0.0;  // results are consumed: the last line prints it

double seconds_of(int repeats, const std::function<double()>& work) {
  const auto start = std::chrono::steady_clock::now();
  for (int k = 0; k < repeats; ++k) sink += work();
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  return took.count() / repeats;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<long>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace

TEST_CASE("Minimum zone against least squares, and its growth from 100 to 100,000 points") {
  std::printf("\n   points  minimum zone us  least squares us  ratio  passes\n");
  for (const int count : {100, 1000, 10'000, 100'000}) {
    faces::Random random(static_cast<unsigned>(count));
    std::vector<double> zones, fits, ratios;
    int passes = 0;
    constexpr int kRounds = 15;
    for (int round = 0; round < kRounds; ++round) {
      const faces::Points points = faces::random_face(random, count);
      const int repeats = std::max(1, 100'000 / count);
      zones.push_back(seconds_of(repeats, [&] { return minimum_zone(points).slab.width_mm(); }));
      fits.push_back(seconds_of(repeats, [&] { return least_squares_slab(points).width_mm(); }));
      ratios.push_back(zones.back() / fits.back());
      passes = std::max(passes, minimum_zone(points).passes);
    }
    std::printf("%9d  %15.1f  %16.1f  %5.1f  %6d\n", count, 1e6 * median(zones), 1e6 * median(fits),
                median(ratios), passes);
    CHECK(median(ratios) <= 20.0);
  }
}

TEST_CASE("Everything about a face, to 100,000 points") {
  std::printf("\n   points  whole answer ms  of it local ms  contours ms\n");
  for (const int count : {100, 2000, 2001, 100'000}) {
    faces::Random random(static_cast<unsigned>(count));
    const faces::Points points = faces::random_face(random, count);
    const double whole = seconds_of(1, [&] { return examine_face(points).flatness_mm(); });
    const double local =
        seconds_of(1, [&] { return local_flatness(points, 100.0, Vec3::UnitZ()).width_mm; });
    const Slab slab = minimum_zone(points).slab;
    const double contours = seconds_of(1, [&] { return face_contours(points, slab).step_mm; });
    std::printf("%9d  %15.2f  %14.2f  %11.2f\n", count, 1e3 * whole, 1e3 * local, 1e3 * contours);
  }
  std::printf("(results consumed: %g)\n", sink);
  SUCCEED();
}

#if defined(TWOTURN_BENCHMARKS)
TEST_CASE("Minimum zone of 100,000 points") {
  faces::Random random(1);
  const faces::Points points = faces::random_face(random, 100'000);
  BENCHMARK("minimum zone") { return minimum_zone(points).slab.width_mm(); };
  BENCHMARK("least squares") { return least_squares_slab(points).width_mm(); };
}
#endif
