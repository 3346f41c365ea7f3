#pragma once

#include <optional>
#include <string>
#include <vector>

namespace twoturn {

/// Which way a straight edge was laid over the face.
enum class EdgeWay { along, across, diagonal, other };

/// One line under the straight edge: the thickest feeler that goes and the thinnest that does not.
/// Either may be absent, not both.
struct FeelerLine {
  std::string name;
  EdgeWay way = EdgeWay::other;
  std::optional<double> goes_mm;
  std::optional<double> stops_mm;
  bool rocks = false;  ///< the edge rocks on a high spot; the gap is then at one of its ends

  bool operator==(const FeelerLine&) const = default;
};

/// What the gap of one line says of the face: between which values it lies, and the least that the
/// whole face is then out of flat by.
struct LineBounds {
  FeelerLine line;
  double least_gap_mm = 0.0;
  std::optional<double> most_gap_mm;
  double face_at_least_mm = 0.0;
};

/// Straight edge and feelers give bounds, no flatness: how the lines lie to one another and what
/// lies between them they do not show.
struct FeelerAnswer {
  std::vector<LineBounds> lines;
  double at_least_mm = 0.0;                 ///< the face is out of flat by at least this
  int decisive = 0;                         ///< the line that says so
  std::optional<double> most_on_a_line_mm;  ///< no line felt is out by more; empty: a line is open
  std::optional<double> twist_at_most_mm;   ///< from two diagonals that meet, their edges resting
  bool along_felt = false;
  bool across_felt = false;
  int diagonals_felt = 0;
};

/// What can be said from the lines. At least one line.
///
/// A gap g between two places the edge rests on puts three spots g out of line, so no slab thinner
/// than g holds the face (to within the cosine of the edge's tilt). An edge that rocks shows up to
/// twice as much at its end. Two diagonals, each within its gap of straight, cross over the same
/// spot: the fourth corner stands off the other three by at most twice the sum of the two.
[[nodiscard]] FeelerAnswer judge_feelers(const std::vector<FeelerLine>& lines);

}  // namespace twoturn
