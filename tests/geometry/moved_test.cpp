// One wheel moves: what is then looked at anew, against a whole look, which is held against other
// means in the tests beside this one.
#include <algorithm>
#include <limits>
#include <vector>

#include "geometry/random_drives.hpp"
#include "twoturn/geometry/belt_run.hpp"
#include "twoturn/geometry/moved_wheel.hpp"

namespace twoturn::test {
namespace {

bool among(const Refusal& one, const std::vector<Refusal>& all) {
  return std::any_of(all.begin(), all.end(), [&](const Refusal& other) {
    return one.reason == other.reason && one.first == other.first && one.second == other.second &&
           one.value == other.value;
  });
}

bool rubs(const Refusal& one) {
  return one.reason == Refused::rubs_pulley || one.reason == Refused::rubs_obstacle ||
         one.reason == Refused::rubs_itself;
}

double gap_to(const BeltRun& run, Neighbour kind, int other) {
  double gap = std::numeric_limits<double>::infinity();
  for (const Approach& approach : run.approaches) {
    const bool it =
        approach.kind == kind && (kind == Neighbour::own_run || approach.other == other);
    if (it) gap = std::min(gap, approach.gap_mm);
  }
  return gap;
}

double rim_gap(const BeltRun& run, int wheel, int obstacle) {
  for (const RimGap& rim : run.rims) {
    if (rim.wheel == wheel && rim.obstacle == obstacle) return rim.gap_mm;
  }
  return std::numeric_limits<double>::infinity();
}

// Where the whole look after the move is nearer than before, it is what moved that came nearer.
void check_gap(double before, double after, double moved) {
  CHECK(moved >= after);
  CHECK(after >= std::min(before, moved));
  if (after < before) CHECK(moved == after);
}

Surroundings around_of(Random& random, const std::vector<Wheel>& wheels) {
  Surroundings around;
  around.body = {random.between(0.5, 4.0), random.between(0.5, 4.0)};
  for (const Wheel& w : wheels) around.rims_mm.push_back(w.radius_mm + random.between(0.0, 6.0));
  for (int k = 0; k < 2; ++k) {
    Obstacle part;
    part.kind = k == 0 ? Outline::open : Outline::closed;
    const Vec2 place = random.arrow(50.0, 400.0);
    for (int p = 0; p < 4; ++p) part.points_mm.push_back(place + random.arrow(10.0, 80.0));
    around.obstacles.push_back(part);
  }
  return around;
}

void same_path(const TangentPath& one, const TangentPath& other) {
  CHECK(one.length_mm == other.length_mm);
  REQUIRE(one.spans.size() == other.spans.size());
  for (std::size_t i = 0; i < one.spans.size(); ++i) {
    CHECK(one.spans[i].start_mm == other.spans[i].start_mm);
    CHECK(one.spans[i].end_mm == other.spans[i].end_mm);
    CHECK(one.spans[i].length_mm == other.spans[i].length_mm);
    CHECK(one.wraps[i].radians() == other.wraps[i].radians());
  }
}

struct Both {
  std::vector<Wheel> wheels;  // after the move
  TangentPath before;
  TangentPath after;
};

void check_looks(const std::vector<Wheel>& old, const Both& both, const Surroundings& around,
                 int moved) {
  const BeltRun before = judge_run(old, both.before, around);
  const BeltRun after = judge_run(both.wheels, both.after, around);
  const BeltRun look = judge_moved(both.wheels, both.after, around, moved);
  const std::vector<Refusal> reasons =
      reasons_against_moved(both.wheels, both.after, around, moved);
  CHECK(reasons.size() == look.refused.size());
  for (const Refusal& one : look.refused) CHECK(among(one, reasons));
  // Of gaps a whole look tells the least alone, which may be one that stayed: see below.
  for (const Refusal& one : after.refused) {
    if (!rubs(one) && !among(one, before.refused)) CHECK(among(one, look.refused));
  }
  const auto count = static_cast<int>(both.wheels.size());
  for (int i = 0; i < count; ++i) {
    check_gap(gap_to(before, Neighbour::pulley, i), gap_to(after, Neighbour::pulley, i),
              gap_to(look, Neighbour::pulley, i));
  }
  for (int k = 0; k < static_cast<int>(around.obstacles.size()); ++k) {
    check_gap(gap_to(before, Neighbour::obstacle, k), gap_to(after, Neighbour::obstacle, k),
              gap_to(look, Neighbour::obstacle, k));
    CHECK(rim_gap(look, moved, k) == rim_gap(after, moved, k));
  }
  check_gap(gap_to(before, Neighbour::own_run, -1), gap_to(after, Neighbour::own_run, -1),
            gap_to(look, Neighbour::own_run, -1));
}

TEST_CASE("a look at what moved with one wheel finds all that a whole look finds anew") {
  const std::uint64_t seed = 20261201;
  Random random(seed);
  int paths = 0;
  int refused = 0;
  for (int k = 0; k < 600; ++k) {
    INFO("seed " << seed << ", drive " << k);
    const bool plain = k % 3 != 0;
    const std::vector<Wheel> old =
        plain ? random_belt_drive(random, 3 + k % 8) : random_chain(random, 3 + k % 8);
    const Surroundings around = around_of(random, old);
    Both both;
    if (!solve_path(old, both.before).solved()) continue;
    for (int moved = 0; moved < static_cast<int>(old.size()); ++moved) {
      INFO("moved " << moved);
      both.wheels = old;
      both.wheels[static_cast<std::size_t>(moved)].centre_mm += random.arrow(0.01, 40.0);
      if (!solve_path(both.wheels, both.after).solved()) continue;
      TangentPath path = both.before;
      REQUIRE(solve_path_moved(both.wheels, path, moved).solved());
      same_path(path, both.after);
      check_looks(old, both, around, moved);
      ++paths;
      refused += judge_run(both.wheels, both.after, around).refused.empty() ? 0 : 1;
    }
  }
  CHECK(paths > 2000);
  CHECK(refused > 500);
}

TEST_CASE("rims that meet where one wheel went are refused, on either side of it in the list") {
  // By hand: the third wheel of a square 300 wide goes to within 40 of each other one in turn; rims
  // of 25 and 25 then overlap by 10.
  const std::vector<Wheel> square{wheel(0, 0, 20), wheel(300, 0, 20), wheel(300, 300, 20),
                                  wheel(0, 300, 20)};
  Surroundings around;
  around.rims_mm.assign(4, 25.0);
  for (const int other : {0, 1, 3}) {
    INFO("beside wheel " << other);
    std::vector<Wheel> wheels = square;
    wheels[2].centre_mm = square[static_cast<std::size_t>(other)].centre_mm + Vec2(40.0, 0.0);
    TangentPath path;
    REQUIRE(solve_path(wheels, path).solved());
    const std::vector<Refusal> reasons = reasons_against_moved(wheels, path, around, 2);
    const auto found = std::find_if(reasons.begin(), reasons.end(), [](const Refusal& one) {
      return one.reason == Refused::pulleys_overlap;
    });
    REQUIRE(found != reasons.end());
    CHECK(found->first == std::min(2, other));
    CHECK(found->second == std::max(2, other));
    CHECK_THAT(found->value, WithinAbs(-10.0, 1e-12));
  }
}

TEST_CASE("of two things equally near the first is told") {
  // By hand: a bar half way between the lower and the upper run of a rectangle.
  std::vector<Wheel> wheels{wheel(0, 0, 20), wheel(400, 0, 20), wheel(400, 300, 20),
                            wheel(0, 300, 20)};
  Surroundings around;
  around.rims_mm.assign(4, 20.0);
  Obstacle part;
  part.points_mm = {Vec2(150, 150), Vec2(250, 150)};
  around.obstacles.push_back(part);
  const BeltRun run = judge_run(wheels, solved(wheels), around);
  // From y = 150 it is 170 to either run, at -20 and 320.
  const auto approach = std::find_if(run.approaches.begin(), run.approaches.end(),
                                     [](const auto& a) { return a.kind == Neighbour::obstacle; });
  REQUIRE(approach != run.approaches.end());
  CHECK(approach->gap_mm == 170.0);
  CHECK(approach->span == 0);
}

}  // namespace
}  // namespace twoturn::test
