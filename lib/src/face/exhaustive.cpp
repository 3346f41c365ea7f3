#include "exhaustive.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace twoturn::engine {
namespace {

class Search {
 public:
  Search(std::span<const Vec3> points, double bound) : points_(points), bound_(bound) {
    double reach = 0.0;
    for (const Vec3& point : points) reach = std::max(reach, (point - points[0]).squaredNorm());
    constexpr double kNoDirection = 1e-14;
    least_length_ = kNoDirection * reach;
  }

  void try_threes() {
    for (std::size_t i = 0; i < points_.size(); ++i) {
      for (std::size_t j = i + 1; j < points_.size(); ++j) {
        const Vec3 edge = points_[j] - points_[i];
        for (std::size_t k = j + 1; k < points_.size(); ++k) {
          try_normal(edge.cross(points_[k] - points_[i]));
        }
      }
    }
  }

  void try_pairs() {
    for (std::size_t i = 0; i < points_.size(); ++i) {
      for (std::size_t j = i + 1; j < points_.size(); ++j) {
        const Vec3 edge = points_[j] - points_[i];
        for (std::size_t k = i + 1; k < points_.size(); ++k) {
          for (std::size_t l = k + 1; l < points_.size(); ++l) {
            if (k != j && l != j) try_normal(edge.cross(points_[l] - points_[k]));
          }
        }
      }
    }
  }

  std::optional<Thinnest> found() const { return found_; }

 private:
  void try_normal(const Vec3& normal) {
    const double length = normal.norm();
    if (!(length > least_length_)) return;
    const double most = bound_ * length;
    double low = 0.0;
    double high = 0.0;
    for (const Vec3& point : points_) {
      const double along = normal.dot(point - points_[0]);
      low = std::min(low, along);
      high = std::max(high, along);
      if (!(high - low < most)) return;
    }
    bound_ = (high - low) / length;
    found_ = Thinnest{normal / length, bound_};
  }

  std::span<const Vec3> points_;
  double bound_;
  double least_length_ = 0.0;
  std::optional<Thinnest> found_;
};

}  // namespace

std::optional<Thinnest> thinnest_below(std::span<const Vec3> points, double bound) {
  Search search(points, bound);
  search.try_threes();
  search.try_pairs();
  return search.found();
}

}  // namespace twoturn::engine
