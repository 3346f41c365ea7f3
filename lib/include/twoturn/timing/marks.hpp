#pragma once

#include <optional>

#include "twoturn/timing/marks_answer.hpp"

namespace twoturn {

/// What a profile says of its counts, pitch, rough centres and skims (`fit` decides whether [build]
/// counts). A centre comes from `rough_centre_mm`, else from coordinates.
MarksQuestion marks_question(const DriveSpec& spec, Fit fit);

/// Degrees a tooth, paint after two turns and the skim from tooth counts alone. What is absent is
/// listed, never an error.
[[nodiscard]] MarksAnswer marks_from_counts(const MarksQuestion& question);

/// Change, mm, of the pitch-line distance between two fixed marks over one straight run of an open
/// belt when the centres come from `centre_mm` to `centre_mm - skim_mm`. Exact. Empty where a
/// distance is not greater than the difference of the radii.
std::optional<double> straight_run_change_mm(double crank_radius_mm, double radius_mm,
                                             double centre_mm, double skim_mm);

}  // namespace twoturn
