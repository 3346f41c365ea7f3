// Nearest approaches of random belt drives against a referee that samples the belt's body
// (support/oracle_gap.hpp).
#include <iostream>

#include "geometry/random_drives.hpp"
#include "support/oracle_self.hpp"
#include "twoturn/geometry/belt_run.hpp"

namespace twoturn::test {
namespace {

constexpr double kSagitta = 1e-4;        // mm, of the referee's chords
constexpr double kObstacleLimit = 2e-4;  // chord of the belt, and as much for rounding
constexpr double kSettled = 1e-5;  // mm: where the referee's walk stops, over its least radius
constexpr int kDrives = 200;

struct Case {
  std::vector<Wheel> wheels;
  Surroundings around;
};

Obstacle random_obstacle(Random& random, const std::vector<Vec2>& pitch_line) {
  Obstacle obstacle;
  const auto last = static_cast<int>(pitch_line.size()) - 1;
  const Vec2 foot = pitch_line[static_cast<std::size_t>(random.whole(0, last))];
  const Vec2 place = foot + random.arrow(0.0, 40.0);
  const int count = random.whole(1, 5);
  for (int k = 0; k < count; ++k) {
    obstacle.points_mm.push_back(place + random.arrow(0.0, 60.0));
  }
  if (count == 1) obstacle.points_mm.push_back(obstacle.points_mm.front());
  obstacle.kind = random.chance(0.5) ? Outline::open : Outline::closed;
  return obstacle;
}

Obstacle outline_all_round(Random& random, const std::vector<Wheel>& wheels) {
  Obstacle obstacle;
  obstacle.kind = Outline::closed;
  const double reach = 2.0 * size_mm(wheels) + random.between(0.0, 100.0);
  for (int k = 0; k < 7; ++k) {
    const double t = kFullTurn * k / 7.0;
    obstacle.points_mm.push_back(reach * Vec2(std::cos(t), std::sin(t)));
  }
  return obstacle;
}

Case random_case(Random& random, const std::vector<Wheel>& wheels, double greatest_rim) {
  Case c;
  c.wheels = wheels;
  c.around.body = {random.between(0.3, 4.0), random.between(0.3, 4.0)};
  for (const Wheel& w : c.wheels) {
    c.around.rims_mm.push_back(w.radius_mm + random.between(-1.5, greatest_rim));
  }
  return c;
}

oracle::Ribbon ribbon_of(const std::vector<Wheel>& wheels) {
  std::vector<oracle::Circle> circles;
  for (const Wheel& w : wheels) {
    circles.push_back({w.centre_mm.x(), w.centre_mm.y(), w.radius_mm, w.sense});
  }
  return oracle::Ribbon(circles);
}

oracle::Line line_of(const Obstacle& obstacle) {
  oracle::Line line;
  for (const Vec2& p : obstacle.points_mm) line.emplace_back(p.x(), p.y());
  if (obstacle.kind == Outline::closed) line.push_back(line.front());
  return line;
}

double gap_of(const BeltRun& run, Neighbour kind, int other) {
  for (const Approach& a : run.approaches) {
    if (a.kind == kind && (kind == Neighbour::own_run || a.other == other)) return a.gap_mm;
  }
  return oracle::kNone;
}

struct Tally {
  int compared = 0, touching = 0, none = 0;
  double worst = 0.0;
};

// A gap where there is one; else both must say that the bodies touch, or that nothing comes near.
void agree(double gap, double referee, double limit, Tally& tally) {
  INFO("gap " << gap << ", referee " << referee);
  if (referee == oracle::kNone || gap == oracle::kNone) {
    REQUIRE(gap == referee);
    ++tally.none;
  } else if (gap > limit) {
    REQUIRE_THAT(gap, WithinAbs(referee, limit));
    tally.worst = std::max(tally.worst, std::abs(gap - referee));
    ++tally.compared;
  } else {
    REQUIRE(referee <= limit + std::max(gap, 0.0));
    ++tally.touching;
  }
}

void report(const char* what, std::uint64_t seed, const Tally& tally) {
  std::cout << what << ", seed " << seed << ": " << tally.compared << " gaps, worst off by "
            << tally.worst << " mm; " << tally.touching << " touching, " << tally.none
            << " with nothing near\n";
}

TEST_CASE("approaches to obstacles agree with a finely sampled belt") {
  const std::uint64_t seed = 20260340;
  Random random(seed);
  Tally tally;
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    Case c = random_case(random, random_belt_drive(random, 2 + drive % 8), 4.0);
    const std::vector<Vec2> pitch_line = sampled(c.wheels, solved(c.wheels), 0.3);
    for (int k = 0; k < 6; ++k) {
      c.around.obstacles.push_back(random_obstacle(random, pitch_line));
    }
    c.around.obstacles.push_back(outline_all_round(random, c.wheels));
    const BeltRun run = judge_run(c.wheels, solved(c.wheels), c.around);
    const oracle::Ribbon ribbon = ribbon_of(c.wheels);
    for (int k = 0; k < static_cast<int>(c.around.obstacles.size()); ++k) {
      INFO("obstacle " << k);
      const oracle::Line line = line_of(c.around.obstacles[static_cast<std::size_t>(k)]);
      const double referee = oracle::gap_to_line(ribbon, c.around.body.left_mm,
                                                 c.around.body.right_mm, line, kSagitta);
      agree(gap_of(run, Neighbour::obstacle, k), referee, kObstacleLimit, tally);
    }
  }
  report("obstacles", seed, tally);
  CHECK(tally.touching > 50);
  CHECK(tally.none == 0);
}

TEST_CASE("approaches to pulleys agree with a finely sampled belt") {
  const std::uint64_t seed = 20260341;
  Random random(seed);
  Tally tally;
  for (int drive = 0; drive < kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    // Rims far larger than any flange, so that many rub.
    const Case c = random_case(random, random_belt_drive(random, 2 + drive % 8), 60.0);
    const BeltRun run = judge_run(c.wheels, solved(c.wheels), c.around);
    const oracle::Ribbon ribbon = ribbon_of(c.wheels);
    for (std::size_t i = 0; i < c.wheels.size(); ++i) {
      INFO("wheel " << i);
      const double nearest = oracle::approach_to_centre(ribbon, c.around.body.left_mm,
                                                        c.around.body.right_mm, i, c.wheels.size());
      const double gap = gap_of(run, Neighbour::pulley, static_cast<int>(i));
      agree(gap, nearest - c.around.rims_mm[i], kSettled, tally);
    }
  }
  report("pulleys", seed, tally);
  CHECK(tally.compared > 500);
  CHECK(tally.touching > 50);
}

TEST_CASE("the belt's approach to itself agrees with a finely sampled belt") {
  const std::uint64_t seed = 20260342;
  Random random(seed);
  Tally tally;
  for (int drive = 0; drive < 2 * kDrives; ++drive) {
    INFO("seed " << seed << ", drive " << drive);
    const Case c = random_case(
        random,
        drive % 2 == 0 ? random_pinched_drive(random) : random_belt_drive(random, 4 + drive % 8),
        0.0);
    const BeltRun run = judge_run(c.wheels, solved(c.wheels), c.around);
    const oracle::Ribbon ribbon = ribbon_of(c.wheels);
    const BeltBody& body = c.around.body;
    double nearest = oracle::approach_to_self(ribbon, body.left_mm, body.right_mm);
    const double gap = gap_of(run, Neighbour::own_run, -1);
    if (gap < nearest - kSettled && gap > 0.0) {
      const Approach& claim = run.approaches.back();
      const oracle::Point place(claim.at_mm.x(), claim.at_mm.y());
      const oracle::Piece& piece = claim.span >= 0
                                       ? ribbon.span(static_cast<std::size_t>(claim.span))
                                       : ribbon.arc(static_cast<std::size_t>(claim.wheel));
      nearest =
          std::min(nearest, oracle::approach_near(ribbon, body.left_mm, body.right_mm, piece, place,
                                                  static_cast<std::size_t>(claim.other)));
    }
    agree(gap, nearest, kSettled, tally);
  }
  report("own runs", seed, tally);
  CHECK(tally.compared > 50);
  CHECK(tally.touching > 5);
}

TEST_CASE("runs with another run between them do not count as near each other") {
  // Found at random: an arc of wheel 1 and the span from wheel 3 are square to each other's nearest
  // way, 83 mm apart, but the belt round wheel 2 lies between.
  const std::vector<Wheel> wheels{
      wheel(31.2, 172, 16.4),         wheel(-177.3, 137.9, 71.4), wheel(-195.1, 50.9, 8.6, -1),
      wheel(-278.8, 60.4, 30.9),      wheel(-220.2, -17.5, 24.3), wheel(28.8, -202.7, 85.8),
      wheel(187.8, -145.6, 33.6, -1), wheel(187, -37.9, 42.5),    wheel(180.7, 116.8, 38.7)};
  Surroundings around;
  around.body = {1.0, 3.0};
  for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm);
  const BeltRun run = judge_run(wheels, solved(wheels), around);
  CHECK(run.refused.empty());
  const double gap = gap_of(run, Neighbour::own_run, -1);
  CHECK(gap > 300.0);
  CHECK_THAT(gap, WithinAbs(oracle::approach_to_self(ribbon_of(wheels), 1.0, 3.0), kSettled));
}

}  // namespace
}  // namespace twoturn::test
