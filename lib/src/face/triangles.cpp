#include "triangles.hpp"

#include <algorithm>
#include <boost/polygon/voronoi.hpp>
#include <cmath>
#include <cstdint>

namespace twoturn::engine {
namespace {

using Site = boost::polygon::point_data<std::int32_t>;

// Whole numbers make the diagram exact: half a thousandth of a mm and finer on any engine.
std::vector<Site> whole_sites(std::span<const Vec3> points) {
  Vec3 least = points[0];
  Vec3 most = points[0];
  for (const Vec3& point : points) {
    least = least.cwiseMin(point);
    most = most.cwiseMax(point);
  }
  const double size = (most - least).head<2>().maxCoeff();
  constexpr double kSteps = 1 << 28;
  const double scale = size > 0.0 ? kSteps / size : 1.0;
  std::vector<Site> sites;
  for (const Vec3& point : points) {
    sites.emplace_back(static_cast<std::int32_t>(std::lround((point.x() - least.x()) * scale)),
                       static_cast<std::int32_t>(std::lround((point.y() - least.y()) * scale)));
  }
  return sites;
}

}  // namespace

std::vector<std::array<int, 3>> triangles_between(std::span<const Vec3> points) {
  const std::vector<Site> sites = whole_sites(points);
  boost::polygon::voronoi_diagram<double> diagram;
  boost::polygon::construct_voronoi(sites.begin(), sites.end(), &diagram);
  std::vector<std::array<int, 3>> triangles;
  std::vector<int> round;
  for (const auto& vertex : diagram.vertices()) {
    round.clear();
    const auto* first = vertex.incident_edge();
    const auto* edge = first;
    do {
      round.push_back(static_cast<int>(edge->cell()->source_index()));
      edge = edge->rot_next();
    } while (edge != first);
    // Points of a grid lie four to a circle: a fan from the first of them, whichever it was.
    std::rotate(round.begin(), std::min_element(round.begin(), round.end()), round.end());
    const auto place = [&](std::size_t i) { return points[static_cast<std::size_t>(round[i])]; };
    for (std::size_t k = 1; k + 1 < round.size(); ++k) {
      const Vec3 a = place(k) - place(0);
      const Vec3 b = place(k + 1) - place(0);
      const double twice_area = a.x() * b.y() - a.y() * b.x();
      if (twice_area > 0.0) triangles.push_back({round[0], round[k], round[k + 1]});
      if (twice_area < 0.0) triangles.push_back({round[0], round[k + 1], round[k]});
    }
  }
  return triangles;
}

}  // namespace twoturn::engine
