#include "cover_points.hpp"

namespace twoturn {

// Each point is judged as an obstacle of its own.
std::vector<CoverPoint> cover_points(const Drive& drive, const std::vector<Wheel>& wheels,
                                     const TangentPath& path) {
  std::vector<CoverPoint> given;
  Surroundings around = drive.around;
  around.obstacles.clear();
  for (std::size_t k = 0; k < drive.around.obstacles.size(); ++k) {
    int number = 0;
    for (const Vec2& at_mm : drive.around.obstacles[k].points_mm) {
      given.push_back({drive.obstacle_names[k], ++number, at_mm, 0.0});
      around.obstacles.push_back({{at_mm}, Outline::open});
    }
  }
  std::vector<CoverPoint> measured;
  if (given.empty()) return measured;
  for (const Approach& approach : judge_run(wheels, path, around).approaches) {
    if (approach.kind != Neighbour::obstacle) continue;
    measured.push_back(given[static_cast<std::size_t>(approach.other)]);
    measured.back().gap_mm = approach.gap_mm;
  }
  return measured;
}

}  // namespace twoturn
