#pragma once

#include <Eigen/Core>

#include <functional>
#include <span>
#include <variant>
#include <vector>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// What was measured between points of a plane. Each sigma is a standard deviation above 0, in the
/// unit of its value.
struct DistanceSeen {
  int from = 0;
  int to = 0;
  double mm = 0.0;  ///< between centres, above 0
  double sigma_mm = 0.0;
};
struct BearingSeen {
  int from = 0;
  int to = 0;
  Angle bearing;  ///< of `to` as seen from `from`
  double sigma_rad = 0.0;
};
struct PlaceSeen {
  int point = 0;
  Vec2 at_mm = Vec2::Zero();
  double sigma_mm = 0.0;  ///< right and up, each
};
/// A length that hangs on all points together, with its rates. Where it has none at some places it
/// says so with a number that is none, and the search turns away from there.
struct LengthSeen {
  using Length = std::function<double(std::span<const Vec2> at_mm, std::span<Vec2> rates)>;
  Length length;
  double mm = 0.0;
  double sigma_mm = 0.0;
};
using Seen = std::variant<DistanceSeen, BearingSeen, PlaceSeen, LengthSeen>;

struct SurveyPoint {
  Vec2 start_mm = Vec2::Zero();  ///< where it is about: of mirrored places the one near it is found
  bool fixed = false;            ///< stands exactly at its start
};

/// A way in which points can move without any measurement changing, to first order.
struct LooseWay {
  std::vector<Vec2> moves;  ///< of every point; together of length 1
};

/// How a measurement stands to the places found.
struct Misfit {
  double residual = 0.0;      ///< measured less found, mm or rad; of a place its length
  double spare = 0.0;         ///< how far the others know it: 0 not at all, 1 (a place: 2) wholly
  double standardized = 0.0;  ///< the residual over its own standard deviation; 0 where spare is 0
};

struct SurveyFound {
  std::vector<Vec2> at_mm;
  /// How far one sigma of each measurement moves right and up of each point in turn, mm: 2n rows, a
  /// column a measurement (a place two). What is loose is left out of it.
  Eigen::MatrixXd influence;
  Eigen::MatrixXd covariance;  ///< 2n x 2n, mm squared: influence times its transpose
  std::vector<Misfit> misfits;
  double chi_square = 0.0;
  int spare = 0;  ///< measurements (a place counts twice) beyond those that are needed
  std::vector<LooseWay> loose;
  bool settled = false;  ///< no step led on; else the search ended at its most steps
};

/// Places points by least squares: damped Gauss-Newton on the residuals, each over its sigma, from
/// the starts. With measurements that contradict each other it still finds the nearest fit; their
/// misfits say so. Sources: the linear model and its covariance, any text on adjustment of
/// observations; standardized residuals after Baarda (1968), from memory.
[[nodiscard]] SurveyFound survey(std::span<const SurveyPoint> points, std::span<const Seen> seen);

/// Half axes of the ellipse that holds a point with 95 % in two dimensions, the longer first, and
/// the way the longer one lies.
struct Ellipse95 {
  double longer_mm = 0.0;
  double shorter_mm = 0.0;
  Angle longer_way;  ///< from 0 to pi
};
[[nodiscard]] Ellipse95 ellipse_of(const SurveyFound& found, int point);

/// The measurement that is most likely wrong, where the largest misfit is beyond what one in a
/// thousand would have and stands out from every other.
struct SuspectMeasurement {
  int seen = -1;          ///< -1: nothing looks wrong
  bool told = false;      ///< it can be told from the others
  std::vector<int> same;  ///< those that might as well be it
};
[[nodiscard]] SuspectMeasurement suspect_of(const SurveyFound& found);

}  // namespace twoturn
