#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "twoturn/face/face.hpp"
#include "twoturn/face/feelers.hpp"
#include "twoturn/face/limits.hpp"

namespace twoturn {

/// What was read at a face: heights at points, gaps under a straight edge, or both. Lengths in mm,
/// whatever the file's unit.
struct FaceReadings {
  std::string title;
  std::vector<Vec3> points;
  std::vector<FeelerLine> lines;
  std::optional<std::array<Vec3, 3>> datum;
  std::optional<double> height_mm;
  std::optional<double> least_height_mm;
  std::optional<double> local_side_mm;
  FaceLimits limits;
};

/// Reads a table (CSV with a header that carries the units) or TOML; which of the two, the text
/// itself shows. Throws InputError (profile.hpp) once, with every problem and its line.
FaceReadings read_readings(const std::string& name, const std::string& text);

/// A gap as a person writes it: "0.04..0.05" (0.04 goes, 0.05 does not), "..0.03", "0.2..", or one
/// number for what was measured; "thou" or "in" behind it for those units, else mm.
struct GapRange {
  std::optional<double> goes_mm;
  std::optional<double> stops_mm;
};
struct GapReading {
  GapRange gap;
  std::string fault;  ///< empty where it could be read
};
[[nodiscard]] GapReading read_gap(std::string_view text, double mm_a_unit = 1.0);

/// "along", "across", "diagonal", with anything behind; else other.
EdgeWay edge_way(std::string_view name);

}  // namespace twoturn
