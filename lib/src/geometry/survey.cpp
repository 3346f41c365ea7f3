#include "twoturn/geometry/survey.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/at.hpp"
#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

Eigen::Index row_count(const Seen& seen) { return std::holds_alternative<PlaceSeen>(seen) ? 2 : 1; }

// Residuals (measured less found) and their rates, each over its sigma. Points that are fixed have
// no columns.
class Model {
 public:
  Model(std::span<const SurveyPoint> points, std::span<const Seen> seen) : seen_(seen) {
    for (const SurveyPoint& point : points) {
      column_.push_back(point.fixed ? -1 : columns_);
      if (!point.fixed) columns_ += 2;
    }
    for (const Seen& one : seen) rows_ += row_count(one);
  }

  Eigen::Index rows() const { return rows_; }
  Eigen::Index columns() const { return columns_; }
  Eigen::Index column(std::size_t point) const { return column_[point]; }

  void look(const std::vector<Vec2>& places, VectorXd& residual, MatrixXd& rates) {
    residual = VectorXd::Zero(rows_);
    rates = MatrixXd::Zero(rows_, columns_);
    Eigen::Index row = 0;
    for (const Seen& one : seen_) {
      std::visit([&](const auto& what) { add(what, places, row, residual, rates); }, one);
      row += row_count(one);
    }
  }

 private:
  void rate(int point, Eigen::Index row, const Vec2& value, MatrixXd& rates) const {
    const Eigen::Index column = column_[at(point)];
    if (column >= 0) rates.block<1, 2>(row, column) += value.transpose();
  }

  void add(const DistanceSeen& seen, const std::vector<Vec2>& places, Eigen::Index row,
           VectorXd& residual, MatrixXd& rates) const {
    const Vec2 arm = places[at(seen.to)] - places[at(seen.from)];
    const double distance = arm.norm();
    residual[row] = (seen.mm - distance) / seen.sigma_mm;
    if (distance == 0.0) return;
    rate(seen.to, row, arm / distance / seen.sigma_mm, rates);
    rate(seen.from, row, -arm / distance / seen.sigma_mm, rates);
  }

  void add(const BearingSeen& seen, const std::vector<Vec2>& places, Eigen::Index row,
           VectorXd& residual, MatrixXd& rates) const {
    const Vec2 arm = places[at(seen.to)] - places[at(seen.from)];
    const Angle found = Angle::radians(std::atan2(arm.y(), arm.x()));
    residual[row] = (seen.bearing - found).wrapped_half().radians() / seen.sigma_rad;
    if (arm.squaredNorm() == 0.0) return;
    const Vec2 turned = Vec2(-arm.y(), arm.x()) / arm.squaredNorm() / seen.sigma_rad;
    rate(seen.to, row, turned, rates);
    rate(seen.from, row, -turned, rates);
  }

  void add(const PlaceSeen& seen, const std::vector<Vec2>& places, Eigen::Index row,
           VectorXd& residual, MatrixXd& rates) const {
    residual.segment<2>(row) = (seen.at_mm - places[at(seen.point)]) / seen.sigma_mm;
    rate(seen.point, row, Vec2(1.0 / seen.sigma_mm, 0.0), rates);
    rate(seen.point, row + 1, Vec2(0.0, 1.0 / seen.sigma_mm), rates);
  }

  void add(const LengthSeen& seen, const std::vector<Vec2>& places, Eigen::Index row,
           VectorXd& residual, MatrixXd& rates) const {
    std::vector<Vec2> moves(places.size(), Vec2::Zero());
    residual[row] = (seen.mm - seen.length(places, moves)) / seen.sigma_mm;
    for (std::size_t k = 0; k < moves.size(); ++k) {
      rate(static_cast<int>(k), row, moves[k] / seen.sigma_mm, rates);
    }
  }

  std::span<const Seen> seen_;
  std::vector<Eigen::Index> column_;  // of each point's first coordinate; -1: fixed
  Eigen::Index columns_ = 0;
  Eigen::Index rows_ = 0;
};

// Both points of a measurement; of a place the same one.
std::pair<int, int> points_of(const DistanceSeen& seen) { return {seen.from, seen.to}; }
std::pair<int, int> points_of(const BearingSeen& seen) { return {seen.from, seen.to}; }
std::pair<int, int> points_of(const PlaceSeen& seen) { return {seen.point, seen.point}; }
std::pair<int, int> points_of(const LengthSeen&) { return {0, 0}; }  // all of them

double sigma_of(const DistanceSeen& seen) { return seen.sigma_mm; }
double sigma_of(const BearingSeen& seen) { return seen.sigma_rad; }
double sigma_of(const PlaceSeen& seen) { return seen.sigma_mm; }
double sigma_of(const LengthSeen& seen) { return seen.sigma_mm; }

void check_input([[maybe_unused]] std::size_t count, const Seen& seen) {
  [[maybe_unused]] const auto [from, to] =
      std::visit([](const auto& what) { return points_of(what); }, seen);
  [[maybe_unused]] const double sigma =
      std::visit([](const auto& what) { return sigma_of(what); }, seen);
  TWOTURN_ASSERT(from >= 0 && at(from) < count, from);
  TWOTURN_ASSERT(to >= 0 && at(to) < count, to);
  [[maybe_unused]] const bool of_one =
      std::holds_alternative<PlaceSeen>(seen) || std::holds_alternative<LengthSeen>(seen);
  TWOTURN_ASSERT((from == to) == of_one, from);
  TWOTURN_ASSERT(sigma > 0.0, sigma);
}

std::vector<Vec2> moved(const Model& model, const std::vector<Vec2>& places, const VectorXd& step) {
  std::vector<Vec2> there = places;
  for (std::size_t k = 0; k < there.size(); ++k) {
    if (model.column(k) >= 0) there[k] += step.segment<2>(model.column(k));
  }
  return there;
}

// Levenberg's damping: a step that makes the fit worse is taken again, shorter.
bool settle(Model& model, std::vector<Vec2>& places) {
  constexpr int kMost = 500;
  constexpr double kStillMm = 1e-11;
  VectorXd residual, tried;
  MatrixXd rates, ignored;
  model.look(places, residual, rates);
  double damping = 1e-3;
  for (int k = 0; k < kMost; ++k) {
    const MatrixXd normal = rates.transpose() * rates;
    const double scale = std::max(normal.diagonal().maxCoeff(), 1e-300);
    const MatrixXd damped =
        normal + damping * scale * MatrixXd::Identity(normal.rows(), normal.cols());
    const VectorXd step = damped.ldlt().solve(rates.transpose() * residual);
    const std::vector<Vec2> there = moved(model, places, step);
    model.look(there, tried, ignored);
    const double size = step.cwiseAbs().maxCoeff();
    if (tried.squaredNorm() <= residual.squaredNorm()) {
      places = there;
      std::swap(residual, tried);
      std::swap(rates, ignored);
      damping = std::max(damping * 0.1, 1e-14);
      if (size < kStillMm) return true;
    } else {
      if (size < kStillMm) return true;
      damping = std::min(damping * 10.0, 1e6);
    }
  }
  return false;
}

// Sums of squares hide a last step: what the rates leave of the residuals shows it.
void polish(Model& model, std::vector<Vec2>& places) {
  constexpr int kSteps = 3;
  constexpr double kNearMm = 1e-3;
  VectorXd residual;
  MatrixXd rates;
  model.look(places, residual, rates);
  double left = (rates.transpose() * residual).norm();
  for (int k = 0; k < kSteps; ++k) {
    const VectorXd step = rates.completeOrthogonalDecomposition().solve(residual);
    if (step.cwiseAbs().maxCoeff() > kNearMm) return;
    const std::vector<Vec2> there = moved(model, places, step);
    model.look(there, residual, rates);
    const double then = (rates.transpose() * residual).norm();
    if (!(then < left)) return;
    places = there;
    left = then;
  }
}

// The linear model at the places found: what it knows, and how far each row is known by the others.
struct Linear {
  Eigen::Index known = 0;  // ways in which the points cannot move unseen
  MatrixXd ways;           // all ways, one a column, the known ones first
  MatrixXd influence;      // of each row's one sigma on the model's columns
  MatrixXd hat;            // rows by rows
};

// What no measurement holds shows as a singular value of nothing.
Linear linear_model(const MatrixXd& rates) {
  constexpr double kLoose = 1e-9;
  Linear linear;
  linear.ways = MatrixXd::Identity(rates.cols(), rates.cols());
  linear.influence = MatrixXd::Zero(rates.cols(), rates.rows());
  linear.hat = MatrixXd::Zero(rates.rows(), rates.rows());
  if (rates.size() == 0) return linear;
  const Eigen::JacobiSVD<MatrixXd> parts(rates, Eigen::ComputeFullU | Eigen::ComputeFullV);
  const VectorXd& values = parts.singularValues();
  Eigen::Index& known = linear.known;
  while (known < values.size() && values[known] > kLoose * values[0]) ++known;
  linear.ways = parts.matrixV();
  const MatrixXd seen_ways = linear.ways.leftCols(known);
  const VectorXd inverse = values.head(known).cwiseInverse();
  const MatrixXd rows = parts.matrixU().leftCols(known);
  linear.influence = seen_ways * inverse.asDiagonal() * rows.transpose();
  linear.hat = rows * rows.transpose();
  return linear;
}

MatrixXd of_points(const Model& model, std::size_t count, const MatrixXd& influence) {
  MatrixXd whole = MatrixXd::Zero(static_cast<Eigen::Index>(2 * count), influence.cols());
  for (std::size_t i = 0; i < count && influence.cols() > 0; ++i) {
    if (model.column(i) < 0) continue;
    whole.middleRows<2>(static_cast<Eigen::Index>(2 * i)) =
        influence.middleRows<2>(model.column(i));
  }
  return whole;
}

// Of a measurement's rows: residuals over sigma, and their block of the hat matrix.
Misfit misfit_of(double sigma, const VectorXd& own, const MatrixXd& hat) {
  constexpr double kNothingLeft = 1e-9;
  Misfit misfit;
  misfit.residual = own.size() == 1 ? own[0] * sigma : own.norm() * sigma;
  for (Eigen::Index i = 0; i < own.size(); ++i) {
    const double left = 1.0 - hat(i, i);
    misfit.spare += left;
    if (left <= kNothingLeft) continue;
    const double standardized = own[i] / std::sqrt(left);
    if (std::abs(standardized) > std::abs(misfit.standardized)) misfit.standardized = standardized;
  }
  return misfit;
}

}  // namespace

SurveyFound survey(std::span<const SurveyPoint> points, std::span<const Seen> seen) {
  for (const Seen& one : seen) check_input(points.size(), one);
  SurveyFound found;
  for (const SurveyPoint& point : points) found.at_mm.push_back(point.start_mm);
  Model model(points, seen);
  const bool something = model.columns() > 0 && !seen.empty();
  found.settled = !something || settle(model, found.at_mm);
  if (something && found.settled) polish(model, found.at_mm);
  VectorXd residual;
  MatrixXd rates;
  model.look(found.at_mm, residual, rates);
  found.chi_square = residual.squaredNorm();

  const Linear linear = linear_model(rates);
  found.spare = static_cast<int>(model.rows() - linear.known);
  found.influence = of_points(model, points.size(), linear.influence);
  found.covariance = found.influence * found.influence.transpose();
  const std::vector<Vec2> still(points.size(), Vec2::Zero());
  for (Eigen::Index way = linear.known; way < model.columns(); ++way) {
    found.loose.push_back({moved(model, still, linear.ways.col(way))});
  }
  Eigen::Index row = 0;
  for (const Seen& one : seen) {
    const Eigen::Index count = row_count(one);
    const double sigma = std::visit([](const auto& what) { return sigma_of(what); }, one);
    found.misfits.push_back(
        misfit_of(sigma, residual.segment(row, count), linear.hat.block(row, row, count, count)));
    row += count;
  }
  return found;
}

Ellipse95 ellipse_of(const SurveyFound& found, int point) {
  const Eigen::Index first = 2 * static_cast<Eigen::Index>(point);
  const Eigen::Matrix2d own = found.covariance.block<2, 2>(first, first);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(own);
  // The square is chi-squared with two degrees of freedom: -2 ln 0.05.
  const double share = std::sqrt(-2.0 * std::log(0.05));
  const auto half = [&](Eigen::Index k) {
    return share * std::sqrt(std::max(0.0, axes.eigenvalues()[k]));
  };
  const Vec2 longer = axes.eigenvectors().col(1);
  double way = std::atan2(longer.y(), longer.x());
  if (way < 0.0) way += kPi;
  return {half(1), half(0), Angle::radians(way)};
}

SuspectMeasurement suspect_of(const SurveyFound& found) {
  constexpr double kOneInAThousand = 3.2905;  // of the normal distribution, both sides
  constexpr double kAlike = 1e-6;
  SuspectMeasurement suspect;
  double most = kOneInAThousand;
  for (std::size_t k = 0; k < found.misfits.size(); ++k) {
    const double size = std::abs(found.misfits[k].standardized);
    if (size <= most) continue;
    most = size;
    suspect.seen = static_cast<int>(k);
  }
  if (suspect.seen < 0) return suspect;
  for (std::size_t k = 0; k < found.misfits.size(); ++k) {
    if (static_cast<int>(k) == suspect.seen) continue;
    const double size = std::abs(found.misfits[k].standardized);
    if (size > most * (1.0 - kAlike)) suspect.same.push_back(static_cast<int>(k));
  }
  suspect.told = suspect.same.empty();
  return suspect;
}

}  // namespace twoturn
