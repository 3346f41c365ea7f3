#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/fitted_spec.hpp"

namespace twoturn {

struct DriveResult {
  std::optional<Drive> drive;
  std::vector<Missing> missing;  ///< what keeps the route, or parts of its judgement, open
};

/// Builds the drive alone, without its tensioner's curve, from a spec that `validate` passed.
/// Without coordinates or sizes there is no drive, and `missing` says which.
[[nodiscard]] DriveResult build_drive(const FittedSpec& spec);

/// Builds one fit of a spec that `validate` passed: the drive once, its tensioner's curve once.
[[nodiscard]] FittedResult fitted_for(const DriveSpec& spec, Fit fit);

/// The drive by the book and under the fit asked, each built once; where the two are the same
/// drive, it is built once for both.
struct BothFits {
  FittedResult book;
  FittedResult asked;
};
[[nodiscard]] BothFits both_fits(const DriveSpec& spec, Fit fit);

/// The same where the drive by the book is built already; `spec` differs from its spec in [build]
/// alone.
[[nodiscard]] BothFits both_fits(FittedResult book, const DriveSpec& spec, Fit fit);

/// A cold drive as it stands warm, see `warmed_spec`.
[[nodiscard]] FittedResult warmed_fitted(const Fitted& cold, const Growth& growth,
                                         double belt_stretch);

}  // namespace twoturn
