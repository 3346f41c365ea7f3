#pragma once

#include "twoturn/drive/place_answer.hpp"

namespace twoturn {

/// Places every centre that [[measured]] speaks of, by least squares over all that is measured,
/// each by its give-or-take, from a spec that `validate` passed. Coordinates that are exact stand
/// fast, others are measurements too. Nothing measured: no points.
[[nodiscard]] MeasuredPlaces places_of(const DriveSpec& spec);

/// The spec with its measured centres in place of coordinates, and `places` saying how well they
/// are known. Where they could not be placed their coordinates stay away.
[[nodiscard]] DriveSpec with_places(DriveSpec spec);

}  // namespace twoturn
