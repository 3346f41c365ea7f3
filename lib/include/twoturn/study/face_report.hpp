#pragma once

#include <optional>
#include <string>

#include "twoturn/face/face.hpp"
#include "twoturn/face/feelers.hpp"
#include "twoturn/study/skim_answer.hpp"
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

}  // namespace twoturn
