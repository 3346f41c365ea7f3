// Times that are compared within one run: each pair is measured in turn, many times, and the median
// of the ratios is what counts on a machine that others use too. Absolute ns are printed beside.
#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_point.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <vector>

#include "support/assembled.hpp"
#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/floor_kernel.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/geometry/belt_run.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/timing/turns.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;

namespace {

double sink = 0.0;  // results are consumed: the last line prints it

// Pulleys on a ring, just uneven enough that every one is on the hull and none is alike.
// many.
std::vector<Wheel> ring(int count) {
  std::vector<Wheel> wheels;
  for (int i = 0; i < count; ++i) {
    const double angle = kFullTurn * i / count + 0.1;
    const double reach = 80.0 * count * (1.0 + 0.002 * (i % 2));
    wheels.push_back({Vec2(reach * std::cos(angle), reach * std::sin(angle)), 30.0 + i % 7, 1});
  }
  return wheels;
}

double seconds_of(int repeats, const std::function<double()>& work) {
  const auto start = std::chrono::steady_clock::now();
  for (int k = 0; k < repeats; ++k) sink += work();
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  return took.count() / repeats;
}

struct Pair {
  double ns_a, ns_b, ratio;
};

double median(std::vector<double> values) {
  std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2),
                   values.end());
  return values[values.size() / 2];
}

Pair compare(int repeats_a, const std::function<double()>& a, int repeats_b,
             const std::function<double()>& b) {
  constexpr int kRounds = 31;
  std::vector<double> times_a, times_b, ratios;
  for (int k = 0; k < kRounds; ++k) {
    times_a.push_back(seconds_of(repeats_a, a));
    times_b.push_back(seconds_of(repeats_b, b));
    ratios.push_back(times_a.back() / times_b.back());
  }
  return {median(times_a) * 1e9, median(times_b) * 1e9, median(ratios)};
}

void report(const std::string& what, const Pair& pair, const char* against) {
  std::printf("%-44s %10.1f ns  %10.1f ns %-18s ratio %.3f\n", what.c_str(), pair.ns_a, pair.ns_b,
              against, pair.ratio);
}

double hull_length(const std::vector<Wheel>& wheels, int corners) {
  namespace bg = boost::geometry;
  using Point = bg::model::d2::point_xy<double>;
  bg::model::multi_point<Point> points;
  for (const Wheel& wheel : wheels) {
    for (int k = 0; k < corners; ++k) {
      const double angle = kFullTurn * k / corners;
      bg::append(points, Point(wheel.centre_mm.x() + wheel.radius_mm * std::cos(angle),
                               wheel.centre_mm.y() + wheel.radius_mm * std::sin(angle)));
    }
  }
  bg::model::polygon<Point> hull;
  bg::convex_hull(points, hull);
  return static_cast<double>(bg::perimeter(hull));
}

// Corners for a relative error of 1e-6: an inscribed N-gon is short by pi^2/(6 N^2).
constexpr int kFineCorners = 1300;

}  // namespace

TEST_CASE("Path length against a floor kernel and against a hull of polygons") {
  std::printf("\n");
  for (const int count : {2, 5, 20}) {
    const std::vector<Wheel> wheels = ring(count);
    REQUIRE(std::abs(floor_kernel(wheels) / path_length(wheels).length_mm - 1.0) < 1e-12);
    REQUIRE(std::abs(hull_length(wheels, kFineCorners) / path_length(wheels).length_mm - 1.0) <
            1e-6);
    const auto ours = [&] { return path_length(wheels).length_mm; };
    const auto floor = [&] { return floor_kernel(wheels); };
    report("path length, " + std::to_string(count) + " pulleys",
           compare(20000 / count, ours, 20000 / count, floor), "floor kernel");
    TangentPath path;
    std::vector<Vec2> gradient(wheels.size());
    const auto with_gradient = [&] {
      const double length = solve_path(wheels, path).length_mm;
      centre_gradient(path, gradient);
      return length + gradient[0].x();
    };
    report("  the same with spans and gradient",
           compare(20000 / count, with_gradient, 20000 / count, ours), "path length");
    const auto hull = [&] { return hull_length(wheels, kFineCorners); };
    report("  hull of polygons to 1e-6", compare(1, hull, 2000 / count, ours), "path length");
  }
}

TEST_CASE("Growth from 2 to 40 pulleys, the rub checks apart") {
  std::printf("\n");
  TangentPath path;
  for (const int count : {2, 5, 10, 20, 40}) {
    const std::vector<Wheel> wheels = ring(count);
    std::vector<Vec2> gradient(wheels.size());
    Surroundings around;
    around.body = {2.0, 1.5};
    for (const Wheel& wheel : wheels) around.rims_mm.push_back(wheel.radius_mm);
    const auto length = [&] {
      const double value = solve_path(wheels, path).length_mm;
      centre_gradient(path, gradient);
      return value + gradient[0].x();
    };
    const auto rubs = [&] {
      return static_cast<double>(judge_run(wheels, path, around).refused.size());
    };
    const Pair pair = compare(20000 / count, length, 2000 / count, rubs);
    std::printf("%2d pulleys: length and gradient %8.1f ns (%5.1f a pulley), rub checks %9.1f ns\n",
                count, pair.ns_a, pair.ns_a / count, pair.ns_b);
    REQUIRE(path.length_mm > 0.0);
  }
}

TEST_CASE("A tensioner's root takes few path evaluations once bracketed") {
  const Drive drive = drives::built(drives::worked_example());
  const TensionerCurve curve(drive);
  int most = 0;
  for (int k = 1; k < 100; ++k) {
    const double length = curve.least_mm() + (curve.greatest_mm() - curve.least_mm()) * k / 100.0;
    REQUIRE_FALSE(curve.settings_for(length, most).empty());
  }
  std::printf("\ntensioner root, worst of 99 lengths: %d path evaluations once bracketed\n", most);
  CHECK(most <= 6);
  const std::vector<Wheel> wheels = placed_wheels(drive, 0.0);
  const auto whole = [&] {
    const TensionerCurve fresh(drive);
    return fresh.settings_for(111 * 9.525).front().q;
  };
  const auto one = [&] { return path_length(wheels).length_mm; };
  report("curve, travel judged and both settings", compare(5, whole, 2000, one), "path length");
}

TEST_CASE("Two turns at one degree") {
  AssemblyResult result = drives::assembled(drives::worked_example());
  const Assembly& assembly = *result.assembly;
  const auto turn = [&] {
    RunState state = start_of_run(assembly);
    double last = 0.0;
    for (int k = 0; k <= 720; ++k) {
      advance(assembly, state, Angle::degrees(k));
      last = read_shafts(assembly, state).back().shaft.radians();
    }
    return last;
  };
  const auto pure = [&] {
    double last = 0.0;
    for (int k = 0; k <= 720; ++k) {
      last = read_shafts(assembly, state_at(assembly, Angle::degrees(k))).back().shaft.radians();
    }
    return last;
  };
  std::printf("\n");
  report("two turns at 1 deg, teeth carried", compare(3, turn, 3, pure), "each angle anew");
  REQUIRE(std::abs(turn() - pure()) < 1e-9);
}

TEST_CASE("A check on any demo costs little processor time") {
  // The program's own share: reading, building, judging and writing; the aim is 5 ms.
  std::printf("\n");
  for (const std::string& name : demos::names()) {
    const auto whole = [&] {
      const CheckAnswer answer = check_drive(demos::spec_of(name));
      return static_cast<double>(
          check_text({"check", name, Fit::as_fitted, true, {}}, answer).size());
    };
    std::vector<double> times;
    for (int k = 0; k < 200; ++k) {
      const std::clock_t start = std::clock();
      sink += whole();
      times.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    }
    std::printf("check %-20s %7.3f ms of processor time (median of 200)\n", name.c_str(),
                median(times) * 1e3);
    REQUIRE(times.size() == 200);
  }
  std::printf("(results consumed: %g)\n", sink);
}
