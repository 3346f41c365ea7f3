#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/face/face.hpp"
#include "twoturn/face/feelers.hpp"
#include "twoturn/face/limits.hpp"
#include "twoturn/study/check_answer.hpp"

namespace twoturn {

/// How a face stands to its limits: within all of them, between the strict and the loose one, or
/// beyond both.
enum class FaceStands { within, between, beyond, open };

/// The face judged. Limits that nobody gave are common practice, and said to be.
struct FaceVerdict {
  Verdict verdict = Verdict::agrees;
  FaceStands stands = FaceStands::within;
  std::string headline;  ///< "Out of flat by ..." first
  double strict_mm = kStrictFlatMm;
  double loose_mm = kLooseFlatMm;
  double gap_mm = kFarTooWideGapMm;
  bool strict_given = false;  ///< by the user; else common practice
  bool loose_given = false;
  bool gap_given = false;
  std::optional<double> local_mm;
  std::vector<Finding> findings;
};

/// Judges what there is: heights, feelers or both, at least one of them.
[[nodiscard]] FaceVerdict judge_face(const std::optional<FaceAnswer>& heights,
                                     const std::optional<FeelerAnswer>& feelers,
                                     const FaceLimits& limits);

}  // namespace twoturn
