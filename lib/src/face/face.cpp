#include "twoturn/face/face.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/at.hpp"
#include "on_a_line.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

std::vector<FaceFault> doubled_spots(std::span<const Vec3> points) {
  std::vector<int> order(points.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(), [&](int a, int b) {
    const Vec3& p = points[at(a)];
    const Vec3& q = points[at(b)];
    return p.x() != q.x() ? p.x() < q.x() : p.y() != q.y() ? p.y() < q.y() : a < b;
  });
  std::vector<FaceFault> faults;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Vec3& p = points[at(order[i])];
    for (std::size_t k = i + 1; k < order.size(); ++k) {
      const Vec3& q = points[at(order[k])];
      if (q.x() - p.x() > kSameSpotMm) break;
      if (std::abs(q.y() - p.y()) > kSameSpotMm) continue;
      const auto [first, second] = std::minmax(order[i], order[k]);
      faults.push_back({FaceFault::Kind::doubled, first, second});
      break;
    }
  }
  std::sort(faults.begin(), faults.end(),
            [](const FaceFault& a, const FaceFault& b) { return a.second < b.second; });
  return faults;
}

constexpr Eigen::Index kTerms = 6;

// The terms of a surface fitted to heights. One decomposition says what the points show of each
// term, solves for it, and tells how well it is known.
class FittedTerms {
 public:
  FittedTerms(const Eigen::MatrixXd& rows, const Eigen::VectorXd& heights, Eigen::Index count) {
    const Eigen::HouseholderQR<Eigen::MatrixXd> triangle(rows);
    const Eigen::MatrixXd upper =
        triangle.matrixQR().topRows(kTerms).triangularView<Eigen::Upper>();
    const Eigen::VectorXd turned = triangle.householderQ().adjoint() * heights;
    const Eigen::JacobiSVD<Eigen::MatrixXd> parts(upper, Eigen::ComputeFullU | Eigen::ComputeFullV);
    const Eigen::VectorXd& values = parts.singularValues();
    const Eigen::VectorXd along = parts.matrixU().adjoint() * turned.head(kTerms);
    constexpr double kNoMore = 1e-6;  // of the greatest; less is how well places are known
    Eigen::Index shown = 0;
    for (Eigen::Index k = 0; k < kTerms; ++k) {
      const Eigen::VectorXd way = parts.matrixV().col(k);
      if (values(k) <= kNoMore * values(0)) {
        open_ += way.cwiseAbs2();
        continue;
      }
      ++shown;
      fit_ += way * along(k) / values(k);
      spread_ += way.cwiseAbs2() / (values(k) * values(k));
    }
    const auto free = static_cast<double>(count - shown);
    if (free > 0.0) scatter_mm_ = (rows * fit_ - heights).norm() / std::sqrt(free);
  }

  // Empty where the points show nothing of a term, or no more than their scatter does; what is less
  // than prints as anything is known to be nothing.
  std::optional<double> known(Eigen::Index term) const {
    constexpr double kOpen = 1e-12;
    constexpr double kNothingMm = 0.0005;
    const double uncertain_mm = scatter_mm_ * std::sqrt(spread_(term));
    if (open_(term) > kOpen || uncertain_mm > std::max(std::abs(fit_(term)), kNothingMm)) {
      return std::nullopt;
    }
    return fit_(term);
  }

 private:
  Eigen::VectorXd fit_ = Eigen::VectorXd::Zero(kTerms);
  Eigen::VectorXd spread_ = Eigen::VectorXd::Zero(kTerms);  // for a unit of scatter
  Eigen::VectorXd open_ = Eigen::VectorXd::Zero(kTerms);    // of a term where nothing is shown
  double scatter_mm_ = 0.0;
};

enum class Touched { upper, lower };

std::vector<FaceSpot> spots(std::span<const Vec3> points, const Slab& slab, Touched plane,
                            int& count) {
  constexpr double kTouchesMm = 1e-6;
  std::vector<FaceSpot> found;
  count = 0;
  if (slab.width_mm() <= 2.0 * kTouchesMm) return found;
  for (int i = 0; i < static_cast<int>(points.size()); ++i) {
    const double height = slab.height_mm(points[at(i)]);
    const double off = plane == Touched::upper ? slab.width_mm() - height : height;
    if (off > kTouchesMm) continue;
    ++count;
    if (count <= kMostSpots) found.push_back({i, points[at(i)], height});
  }
  return found;
}

LeastSkim least_skim(std::span<const Vec3> points, const FaceAnswer& answer,
                     const FaceQuestion& question) {
  LeastSkim skim;
  skim.to_best_plane_mm = answer.flatness_mm();
  skim.to_readings_mm = slab_along(points, Vec3::UnitZ()).width_mm();
  if (question.datum) {
    const auto& [a, b, c] = *question.datum;
    const Vec3 normal = (b - a).cross(c - a);
    TWOTURN_ASSERT(normal.norm() > 0.0, normal.norm());
    skim.to_datum_mm = slab_along(points, normal.normalized()).width_mm();
  }
  // The cut's own height falls by normal_x/normal_z a mm of x.
  const Vec3& normal = answer.zone.slab.normal;
  constexpr double kUpright = 1e-6;
  if (std::abs(normal.z()) > kUpright) {
    skim.tilt_x_mm = normal.x() / normal.z() * answer.size_mm.x();
    skim.tilt_y_mm = normal.y() / normal.z() * answer.size_mm.y();
  }
  return skim;
}

}  // namespace

std::vector<FaceFault> face_faults(std::span<const Vec3> points) {
  const int count = static_cast<int>(points.size());
  std::vector<FaceFault> faults;
  for (int i = 0; i < count; ++i) {
    if (!points[at(i)].allFinite()) faults.push_back({FaceFault::Kind::not_finite, i, i});
  }
  if (count > kMostFacePoints) {
    faults.push_back({FaceFault::Kind::too_many, kMostFacePoints, count});
  }
  if (!faults.empty()) return faults;
  faults = doubled_spots(points);
  constexpr int kLeast = 4;
  if (count < kLeast) {
    faults.push_back({FaceFault::Kind::too_few, 0, count});
  } else if (on_a_line(points)) {
    faults.push_back({FaceFault::Kind::on_a_line, 0, count - 1});
  }
  return faults;
}

FaceShape face_shape(std::span<const Vec3> points) {
  Vec3 least = points[0];
  Vec3 most = points[0];
  for (const Vec3& point : points) {
    least = least.cwiseMin(point);
    most = most.cwiseMax(point);
  }
  // x and y from -1 to 1, so that the coefficients are bow, twist and bow themselves.
  const Vec3 middle = (least + most) / 2.0;
  const Vec3 half = (most - least) / 2.0;
  if (!(half.x() > 0.0) || !(half.y() > 0.0)) return {};
  const auto count = static_cast<Eigen::Index>(points.size());
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(std::max(count, kTerms), kTerms);
  Eigen::VectorXd heights = Eigen::VectorXd::Zero(rows.rows());
  for (Eigen::Index i = 0; i < count; ++i) {
    const Vec3& point = points[static_cast<std::size_t>(i)];
    const double u = (point.x() - middle.x()) / half.x();
    const double v = (point.y() - middle.y()) / half.y();
    rows.row(i) << 1.0, u, v, u * u, u * v, v * v;
    heights(i) = point.z() - points[0].z();
  }
  const FittedTerms fitted(rows, heights, count);
  FaceShape shape;
  shape.bow_x_mm = fitted.known(3);
  shape.bow_y_mm = fitted.known(5);
  if (const std::optional<double> twist = fitted.known(4)) shape.twist_mm = 4.0 * *twist;
  return shape;
}

FaceAnswer examine_face(std::span<const Vec3> points, const FaceQuestion& question) {
  TWOTURN_ASSERT(points.size() >= 4, static_cast<double>(points.size()));
  FaceAnswer answer;
  answer.points = static_cast<int>(points.size());
  Vec3 least = points[0];
  Vec3 most = points[0];
  for (const Vec3& point : points) {
    least = least.cwiseMin(point);
    most = most.cwiseMax(point);
  }
  answer.least_mm = least.head<2>();
  answer.size_mm = (most - least).head<2>();
  answer.zone = minimum_zone(points);
  answer.least_squares_mm = least_squares_slab(points).width_mm();
  answer.least_squares_vertical_mm = least_squares_vertical_mm(points).value_or(0.0);
  answer.local = local_flatness(points, question.local_side_mm, answer.zone.slab.normal);
  answer.shape = face_shape(points);
  answer.high = spots(points, answer.zone.slab, Touched::upper, answer.high_count);
  answer.low = spots(points, answer.zone.slab, Touched::lower, answer.low_count);
  answer.skim = least_skim(points, answer, question);
  answer.height_mm = question.height_mm;
  answer.least_height_mm = question.least_height_mm;
  if (question.height_mm && question.least_height_mm) {
    answer.may_come_off_mm = *question.height_mm - *question.least_height_mm;
    answer.left_after_skim_mm = *answer.may_come_off_mm - answer.skim.to_best_plane_mm;
  }
  return answer;
}

}  // namespace twoturn
