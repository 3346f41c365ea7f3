// Faces for tests: the table of published and exact ones, and random ones.
#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <vector>

#include "twoturn/face/zone.hpp"

namespace faces {

using twoturn::Vec3;
using Points = std::vector<Vec3>;

/// 3 x 3 at a pitch of 100, all level.
inline Points grid() {
  Points points;
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) points.emplace_back(100.0 * i, 100.0 * j, 0.0);
  }
  return points;
}

inline Points one_corner_up() {
  Points points = grid();
  points.back().z() = 0.05;
  return points;
}

inline Points centre_up() {
  Points points = grid();
  points[4].z() = 0.05;
  return points;
}

/// z = 0.05 i j for i, j from -1 to 1, at a pitch of 100.
inline Points twisted() {
  Points points;
  for (int i = -1; i <= 1; ++i) {
    for (int j = -1; j <= 1; ++j) points.emplace_back(100.0 * i, 100.0 * j, 0.05 * i * j);
  }
  return points;
}

inline Points plane() {
  Points points;
  for (int i = 0; i < 5; ++i) {
    for (int j = 0; j < 4; ++j) {
      const double x = 50.0 * i, y = 30.0 * j;
      points.emplace_back(x, y, 0.001 * x + 0.002 * y);
    }
  }
  return points;
}

/// Points published in an engineering forum.
inline Points forum() {
  return {{11.5, 7, 1.1}, {18.5, 6.9, 1.03}, {4.5, 13, 1.02}, {25.5, 30, 1.03}, {11.5, 37.5, 1.02}};
}

inline Points five_by_three() {
  const double heights[3][5] = {
      {.010, .035, .040, .025, -.010}, {0, .030, .040, .030, 0}, {-.010, .025, .040, .035, .010}};
  Points points;
  for (int j = 0; j < 3; ++j) {
    for (int i = 0; i < 5; ++i) points.emplace_back(100.0 * i, 80.0 * j, heights[j][i]);
  }
  return points;
}

using Random = std::mt19937;

inline double uniform(Random& random, double from, double to) {
  return std::uniform_real_distribution<double>(from, to)(random);
}

/// A bowed, twisted and rough face of 400 x 160 mm.
inline Points random_face(Random& random, int count) {
  const double bow = uniform(random, -0.06, 0.06), twist = uniform(random, -0.05, 0.05);
  const double tilt = uniform(random, -0.002, 0.002), rough = uniform(random, 0.001, 0.02);
  Points points;
  for (int k = 0; k < count; ++k) {
    const double x = uniform(random, 0, 400), y = uniform(random, 0, 160);
    const double u = x / 200 - 1, v = y / 80 - 1;
    points.emplace_back(x, y, bow * u * u + twist * u * v + tilt * x + uniform(random, 0, rough));
  }
  return points;
}

inline Points moved(const Points& points, Random& random) {
  const Vec3 axis = Vec3(uniform(random, -1, 1), uniform(random, -1, 1), uniform(random, -1, 1));
  const Eigen::AngleAxisd turn(uniform(random, -3, 3), axis.normalized());
  const Vec3 shift(uniform(random, -500, 500), uniform(random, -500, 500),
                   uniform(random, -500, 500));
  Points result;
  for (const Vec3& point : points) result.push_back(turn * point + shift);
  return result;
}

}  // namespace faces
