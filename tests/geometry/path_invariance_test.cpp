// What must not change when the same drive is drawn elsewhere, and how it does change with each
// centre and radius.
#include <functional>

#include "geometry/random_drives.hpp"

namespace twoturn::test {
namespace {

constexpr int kDrives = 200;

// Coordinates of the redrawn drive are rounded once more; the length changes by no more than each
// wheel's shift times the gradient's size of 2.
double redrawing_mm(const std::vector<Wheel>& a, const std::vector<Wheel>& b) {
  const double coordinate = 4.0 * kEpsilon * std::max(size_mm(a), size_mm(b));
  return static_cast<double>(a.size()) * (2.0 * coordinate + 4.0 * coordinate);
}

using Redraw = std::function<std::vector<Wheel>(const std::vector<Wheel>&, Random&)>;

void length_survives(std::uint64_t seed, double factor, const Redraw& redraw) {
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    const std::vector<Wheel> again = redraw(wheels, random);
    const double length = belt_length_mm(wheels);
    REQUIRE_THAT(belt_length_mm(again),
                 WithinAbs(factor * length, factor * redrawing_mm(wheels, again)));
  }
}

TEST_CASE("a drive moved elsewhere keeps its length") {
  length_survives(20260310, 1.0, [](const std::vector<Wheel>& wheels, Random& random) {
    return moved(wheels, 2000.0 * random.direction());
  });
}

TEST_CASE("a drive turned keeps its length") {
  length_survives(20260311, 1.0, [](const std::vector<Wheel>& wheels, Random& random) {
    return turned(wheels, random.between(0.0, kFullTurn));
  });
}

TEST_CASE("a drive seen from behind keeps its length") {
  length_survives(20260312, 1.0,
                  [](const std::vector<Wheel>& wheels, Random&) { return mirrored(wheels); });
}

TEST_CASE("a list started elsewhere keeps its length") {
  length_survives(20260313, 1.0, [](const std::vector<Wheel>& wheels, Random& random) {
    const int last = static_cast<int>(wheels.size()) - 1;
    return started_at(wheels, static_cast<std::size_t>(random.whole(0, last)));
  });
}

TEST_CASE("a list the other way round keeps its length") {
  length_survives(20260314, 1.0,
                  [](const std::vector<Wheel>& wheels, Random&) { return reversed(wheels); });
}

TEST_CASE("a drive three times as large has three times the length") {
  length_survives(20260315, 3.0,
                  [](const std::vector<Wheel>& wheels, Random&) { return scaled(wheels, 3.0); });
}

TEST_CASE("mirrored or reversed, each wheel keeps its wrap and each span its length") {
  const std::uint64_t seed = 20260316;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    const TangentPath path = solved(wheels);
    const TangentPath seen_from_behind = solved(mirrored(wheels));
    const TangentPath back = solved(reversed(wheels));
    const std::size_t n = wheels.size();
    const double stretch = greatest_stretch(wheels, path);
    const double turn = 32.0 * kEpsilon * stretch;  // two directions, each amplified by D/l
    const double reach = 32.0 * kEpsilon * stretch * size_mm(wheels);
    for (std::size_t i = 0; i < n; ++i) {
      const double wrap = path.wraps[i].radians();
      CHECK_THAT(seen_from_behind.wraps[i].radians(), WithinAbs(wrap, turn));
      CHECK_THAT(back.wraps[n - 1 - i].radians(), WithinAbs(wrap, turn));
      const double span = path.spans[i].length_mm;
      CHECK_THAT(seen_from_behind.spans[i].length_mm, WithinAbs(span, reach));
      CHECK_THAT(back.spans[(2 * n - 2 - i) % n].length_mm, WithinAbs(span, reach));
    }
  }
}

TEST_CASE("signed wraps of a belt sum to one whole turn, either way") {
  // exact
  const std::uint64_t seed = 20260317;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 12));
    const TangentPath path = solved(wheels);
    const double turn = std::abs(signed_turn(wheels, path).degrees());
    constexpr double kSumDeg = 1e-10;  // a dozen wraps, each within 1e-11
    REQUIRE_THAT(turn, WithinAbs(360.0, kSumDeg));
  }
}

TEST_CASE("entry and exit angles are one wrap apart") {
  const std::uint64_t seed = 20260318;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    const TangentPath path = solved(wheels);
    for (int i = 0; i < static_cast<int>(wheels.size()); ++i) {
      const Wheel& w = wheels[static_cast<std::size_t>(i)];
      const Angle travelled = w.sense * (exit_angle(w, path, i) - entry_angle(w, path, i));
      const Angle off = (travelled - path.wraps[static_cast<std::size_t>(i)]).wrapped_half();
      // Contact points are rounded at the size of the drive, seen from one radius away.
      const double limit =
          16.0 * kEpsilon * size_mm(wheels) / w.radius_mm * greatest_stretch(wheels, path);
      REQUIRE_THAT(off.radians(), WithinAbs(0.0, limit));
    }
  }
}

// Five-point difference: the error of fourth order is far below the rounding of two lengths.
double slope(const std::function<double(double)>& length_at) {
  constexpr double kStep = 1e-3;
  const double near = length_at(kStep) - length_at(-kStep);
  const double far = length_at(2.0 * kStep) - length_at(-2.0 * kStep);
  return (8.0 * near - far) / (12.0 * kStep);
}

// Lengths of some thousand mm round to 1e-12; over a step of 1e-3 that is some 1e-9.
constexpr double kSlopeRounding = 1e-8;

// A wheel that only just touches the belt would lose it within the step of a difference.
std::vector<Wheel> drive_with_firm_wraps(Random& random) {
  constexpr double kFirm = 2e-3;  // rad
  for (;;) {
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    bool firm = true;
    for (const Angle& wrap : solved(wheels).wraps) firm &= wrap.radians() > kFirm;
    if (firm) return wheels;
  }
}

TEST_CASE("the gradient with each centre agrees with differences of the length") {
  const std::uint64_t seed = 20260319;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = drive_with_firm_wraps(random);
    const TangentPath path = solved(wheels);
    std::vector<Vec2> gradient(wheels.size());
    centre_gradient(path, gradient);
    for (std::size_t i = 0; i < wheels.size(); ++i) {
      REQUIRE(gradient[i] == centre_gradient(path, static_cast<int>(i)));
      for (int axis : {0, 1}) {
        const double by_difference = slope([&](double step) {
          std::vector<Wheel> nudged = wheels;
          nudged[i].centre_mm[axis] += step;
          return belt_length_mm(nudged);
        });
        INFO("wheel " << i << ", axis " << axis);
        REQUIRE_THAT(gradient[i][axis], WithinAbs(by_difference, kSlopeRounding));
      }
    }
  }
}

TEST_CASE("the gradient with each radius is the wrap") {
  const std::uint64_t seed = 20260320;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = drive_with_firm_wraps(random);
    const TangentPath path = solved(wheels);
    for (std::size_t i = 0; i < wheels.size(); ++i) {
      const double by_difference = slope([&](double step) {
        std::vector<Wheel> nudged = wheels;
        nudged[i].radius_mm += step;
        return belt_length_mm(nudged);
      });
      INFO("wheel " << i);
      REQUIRE_THAT(path.wraps[i].radians(), WithinAbs(by_difference, kSlopeRounding));
    }
  }
}

TEST_CASE("a wheel moved along the bisector of its wrap changes the length by 2 sin(wrap/2)") {
  // exact
  const std::uint64_t seed = 20260321;
  Random random(seed);
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    const TangentPath path = solved(wheels);
    const std::size_t n = wheels.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 gradient = centre_gradient(path, static_cast<int>(i));
      const double half = 0.5 * path.wraps[i].radians();
      const double entry = entry_angle(wheels[i], path, static_cast<int>(i)).radians();
      const double middle = entry + wheels[i].sense * half;
      const Vec2 bisector(std::cos(middle), std::sin(middle));
      const double limit =
          32.0 * kEpsilon * greatest_stretch(wheels, path) * size_mm(wheels) / wheels[i].radius_mm;
      REQUIRE_THAT(gradient.norm(), WithinAbs(2.0 * std::sin(half), limit));
      REQUIRE_THAT(gradient.dot(bisector), WithinAbs(2.0 * std::sin(half), limit));
    }
  }
}

TEST_CASE("a path solved anew round one moved wheel is the whole path to the last bit") {
  Random random(31);
  int same = 0;
  for (int k = 0; k < kDrives; ++k) {
    const std::vector<Wheel> wheels = random_belt_drive(random, random.whole(2, 9));
    TangentPath path;
    if (!solve_path(wheels, path).solved()) continue;
    for (int moved = 0; moved < static_cast<int>(wheels.size()); ++moved) {
      std::vector<Wheel> now = wheels;
      now[static_cast<std::size_t>(moved)].centre_mm += Vec2(3.0, -2.0);
      TangentPath anew = path;
      TangentPath whole;
      const PathResult by_part = solve_path_moved(now, anew, moved);
      const PathResult at_once = solve_path(now, whole);
      REQUIRE(by_part.solved() == at_once.solved());
      if (!at_once.solved()) continue;
      ++same;
      CHECK(by_part.length_mm == at_once.length_mm);
      for (std::size_t i = 0; i < now.size(); ++i) {
        CHECK(anew.wraps[i] == whole.wraps[i]);
        CHECK(anew.spans[i].start_mm == whole.spans[i].start_mm);
        CHECK(anew.spans[i].end_mm == whole.spans[i].end_mm);
      }
    }
  }
  CHECK(same > 500);
}

}  // namespace
}  // namespace twoturn::test
