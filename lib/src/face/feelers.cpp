#include "twoturn/face/feelers.hpp"

#include <algorithm>

#include "twoturn/base/assert.hpp"

namespace twoturn {
namespace {

LineBounds bounds_of(const FeelerLine& line) {
  LineBounds bounds;
  bounds.line = line;
  bounds.least_gap_mm = line.goes_mm.value_or(0.0);
  bounds.most_gap_mm = line.stops_mm;
  bounds.face_at_least_mm = line.rocks ? bounds.least_gap_mm / 2.0 : bounds.least_gap_mm;
  return bounds;
}

}  // namespace

FeelerAnswer judge_feelers(const std::vector<FeelerLine>& lines) {
  TWOTURN_ASSERT(!lines.empty(), 0.0);
  FeelerAnswer answer;
  bool all_closed = true;
  bool diagonals_closed = true;
  double most = 0.0;
  double diagonal_gaps = 0.0;
  for (const FeelerLine& line : lines) {
    const LineBounds bounds = bounds_of(line);
    if (bounds.face_at_least_mm > answer.at_least_mm) {
      answer.at_least_mm = bounds.face_at_least_mm;
      answer.decisive = static_cast<int>(answer.lines.size());
    }
    all_closed = all_closed && bounds.most_gap_mm.has_value();
    most = std::max(most, bounds.most_gap_mm.value_or(0.0));
    answer.along_felt = answer.along_felt || line.way == EdgeWay::along;
    answer.across_felt = answer.across_felt || line.way == EdgeWay::across;
    if (line.way == EdgeWay::diagonal) {
      ++answer.diagonals_felt;
      diagonals_closed = diagonals_closed && bounds.most_gap_mm.has_value();
      diagonal_gaps += bounds.most_gap_mm.value_or(0.0);
    }
    answer.lines.push_back(bounds);
  }
  if (all_closed) answer.most_on_a_line_mm = most;
  if (answer.diagonals_felt == 2 && diagonals_closed) answer.twist_at_most_mm = 2.0 * diagonal_gaps;
  return answer;
}

}  // namespace twoturn
