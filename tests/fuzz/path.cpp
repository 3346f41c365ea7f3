// Bytes as wheels with a cover beside them: refused with a pair that has no tangent, or a path that
// the independent check passes and whose gaps are numbers; and moving one wheel looks as a whole
// look does.
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <vector>

#include "twoturn/geometry/belt_run.hpp"
#include "twoturn/geometry/path.hpp"

using namespace twoturn;

namespace {

constexpr std::size_t kBytes = 7;
constexpr std::size_t kMost = 12;

// Two bytes a number: centres within a metre, radii from 5 to 200 mm, as drives are made.
std::vector<Wheel> wheels_of(const std::uint8_t* data, std::size_t size) {
  constexpr double kSteps = 65535.0;
  constexpr double kReachMm = 1000.0;
  constexpr double kLeastMm = 5.0;
  constexpr double kRangeMm = 195.0;
  std::vector<Wheel> wheels;
  for (std::size_t i = 0; i + kBytes <= size && wheels.size() < kMost; i += kBytes) {
    const auto share = [&](std::size_t k) {
      return (data[i + k] * 256.0 + data[i + k + 1]) / kSteps;
    };
    Wheel wheel;
    wheel.centre_mm = Vec2(kReachMm * (share(0) - 0.5), kReachMm * (share(2) - 0.5));
    wheel.radius_mm = kLeastMm + kRangeMm * share(4);
    wheel.sense = data[i + 6] % 2 == 0 ? 1 : -1;
    wheels.push_back(wheel);
  }
  return wheels;
}

// The last wheels also stand for a cover, one corner each.
Surroundings around_of(const std::vector<Wheel>& wheels, unsigned byte) {
  Surroundings around;
  around.body = {2.0 + byte % 3, 1.0};
  around.loop = static_cast<Loop>(byte % 3);
  Obstacle cover;
  cover.kind = byte % 2 == 0 ? Outline::open : Outline::closed;
  for (const Wheel& wheel : wheels) {
    around.rims_mm.push_back(wheel.radius_mm + 1.0);
    cover.points_mm.emplace_back(wheel.centre_mm.y() + wheel.radius_mm, wheel.centre_mm.x());
  }
  around.obstacles.push_back(cover);
  return around;
}

void look(const std::vector<Wheel>& wheels, const TangentPath& path, const Surroundings& around) {
  const BeltRun run = judge_run(wheels, path, around);
  for (const Approach& approach : run.approaches) {
    if (std::isnan(approach.gap_mm)) throw std::logic_error("a gap that is none");
  }
  const auto reasons = reasons_against(wheels, path, around);
  if (reasons.size() != run.refused.size()) throw std::logic_error("two looks differ");
  if (can_run(wheels, path, around) != run.refused.empty()) {
    throw std::logic_error("can it run or not");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::vector<Wheel> wheels = wheels_of(data, size);
  if (wheels.size() < 2) return 0;
  TangentPath path;
  const PathResult result = solve_path(wheels, path);
  const PathResult length = path_length(wheels);
  if (length.solved() != result.solved()) throw std::logic_error("solved and not solved");
  if (!result.solved()) {
    if (result.none.distance_mm > result.none.needed_mm) {
      throw std::logic_error("refused for nothing");
    }
    return 0;
  }
  const PathFaults faults = examine_path(wheels, path);
  constexpr double kMostMm = 1e-8;
  const bool sound = faults.off_circle_mm < kMostMm && faults.off_square < kMostMm &&
                     faults.open_end_mm < kMostMm && faults.length_mm < kMostMm &&
                     faults.wrong_way == 0.0;
  if (!sound) throw std::logic_error("a path that is none");
  if (std::abs(length.length_mm - path.length_mm) > kMostMm) throw std::logic_error("two lengths");
  look(wheels, path, around_of(wheels, data[0]));
  return 0;
}
