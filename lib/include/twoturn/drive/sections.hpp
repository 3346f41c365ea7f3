#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace twoturn {

/// How far a row of the belt table can be trusted.
enum class Trust { standard_from_memory, low_confidence };

/// A belt section. `land_to_pitch_line_mm` is a: from the land between teeth to the pitch line.
struct BeltSection {
  std::string_view name;
  double pitch_mm;
  double tooth_height_mm;
  double thickness_mm;
  double land_to_pitch_line_mm;
  std::optional<int> least_teeth;         ///< on a pulley, common practice
  std::optional<double> least_roller_mm;  ///< plain roller on the back, diameter, common practice
  std::string_view standard;
  Trust trust;

  constexpr double back_to_pitch_line_mm() const {
    return thickness_mm - tooth_height_mm - land_to_pitch_line_mm;
  }
};

/// Every section known, by pitch.
std::span<const BeltSection> belt_sections();

/// nullptr when there is no such section.
const BeltSection* find_section(std::string_view name);

std::vector<std::string> section_names();

/// Two stated pitches that are one: a section's, to the digits that people write.
bool same_pitch(double a_mm, double b_mm);

/// Whether a measured pitch is a known one, within the one percent that a calliper over ten teeth
/// of a used belt is right to.
bool measures_as(double pitch_mm, double known_mm);

/// The pitch of the trade, of a section or without one, that a measured one measures as.
/// Empty: none is so near.
std::optional<double> known_pitch(double pitch_mm);

/// The usual length tolerance of a belt, plus or minus mm, by its pitch length (ISO 5296 and
/// ANSI/RMA IP-24, from memory). Empty above the table's last row, 1778 mm.
std::optional<double> usual_length_tolerance_mm(double pitch_length_mm);

}  // namespace twoturn
