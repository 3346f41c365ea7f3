#pragma once

#include <optional>
#include <span>
#include <string>

#include "twoturn/engine/face.hpp"
#include "twoturn/engine/face_feelers.hpp"
#include "twoturn/study/skim.hpp"
#include "twoturn/study/skim_verdict.hpp"

namespace twoturn {

/// All that one look at a face gives.
struct FaceReport {
  std::string title;  ///< of the readings, else their file's name; may be empty
  std::optional<FaceAnswer> heights;
  std::optional<FeelerAnswer> feelers;
  std::optional<FaceVerdict> verdict;  ///< empty where there are no readings
  std::optional<SkimAnswer> skim;
  std::string profile;         ///< the title of the drive that the skim goes through
  Fit fit = Fit::as_fitted;    ///< of that drive
  bool skim_is_least = false;  ///< the skim is the least one of the heights; else as given
};

/// Plain text at 80 columns, "out of flat by" first.
std::string face_text(const FaceReport& report);
/// Every number of it and more.
std::string face_document(const FaceReport& report);
/// One row a point: where it is, how high it was read, and how high it stands above the lower plane
/// of the thinnest slab.
std::string face_csv(std::span<const Vec3> points, const FaceAnswer& answer);

}  // namespace twoturn
