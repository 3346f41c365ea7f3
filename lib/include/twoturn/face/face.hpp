#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "twoturn/face/local.hpp"
#include "twoturn/face/zone.hpp"

namespace twoturn {

/// A flat face (of a head, a block, a manifold) from heights at points: x and y along the face, z
/// the height, mm.

inline constexpr int kMostFacePoints = 100'000;
inline constexpr double kSameSpotMm = 1e-6;

/// What makes readings unusable: `first` and `second` are places in the list.
struct FaceFault {
  enum class Kind { too_few, too_many, not_finite, doubled, on_a_line } kind;
  int first = 0;
  int second = 0;
};
[[nodiscard]] std::vector<FaceFault> face_faults(std::span<const Vec3> points);

/// The shape of the face apart from its roughness, from z = a + b x + c y + d x^2 + e x y + f y^2
/// by least squares: how much the ends stand above (+, hollow) or below (-, crowned) the middle, d
/// X^2/4 and f Y^2/4; and how far the fourth corner stands off the plane of the other three, e X Y.
/// Empty where the points do not show it.
struct FaceShape {
  std::optional<double> bow_x_mm;
  std::optional<double> bow_y_mm;
  std::optional<double> twist_mm;
};
FaceShape face_shape(std::span<const Vec3> points);

/// A spot that the face's own thinnest slab touches.
struct FaceSpot {
  int point = 0;
  Vec3 at_mm = Vec3::Zero();
  double height_mm = 0.0;  ///< above the slab's lower plane
};

/// Metal to come off until the whole face is new, for a cut parallel to each plane: what the points
/// range over square to it.
struct LeastSkim {
  double to_best_plane_mm = 0.0;
  double to_readings_mm = 0.0;        ///< the plane that the heights were read from
  std::optional<double> to_datum_mm;  ///< the plane of the stated datum
  /// How much more the cut to the best plane takes at the far end of x, and of y, than at the near
  /// end, measured from the plane of the readings.
  double tilt_x_mm = 0.0;
  double tilt_y_mm = 0.0;
};

struct FaceQuestion {
  double local_side_mm = kLocalSideMm;
  std::optional<std::array<Vec3, 3>> datum;  ///< three points, not on a line
  std::optional<double> height_mm;           ///< of the part now
  std::optional<double> least_height_mm;     ///< that it must keep
};

struct FaceAnswer {
  int points = 0;
  Vec2 least_mm = Vec2::Zero();  ///< of x and y
  Vec2 size_mm = Vec2::Zero();   ///< X and Y, from first to last point
  MinimumZone zone;
  double least_squares_mm = 0.0;           ///< range of the orthogonal distances
  double least_squares_vertical_mm = 0.0;  ///< range of the height residuals
  LocalFlatness local;
  FaceShape shape;
  std::vector<FaceSpot> high;  ///< at most `kMostSpots`, with how many there are; none where flat
  std::vector<FaceSpot> low;
  int high_count = 0;
  int low_count = 0;
  LeastSkim skim;
  std::optional<double> height_mm;
  std::optional<double> least_height_mm;
  std::optional<double> may_come_off_mm;     ///< height less least height
  std::optional<double> left_after_skim_mm;  ///< what may still come off after the least skim

  double flatness_mm() const { return zone.slab.width_mm(); }
};

inline constexpr int kMostSpots = 8;

/// Everything the heights tell. The points have no fault.
[[nodiscard]] FaceAnswer examine_face(std::span<const Vec3> points,
                                      const FaceQuestion& question = {});

}  // namespace twoturn
