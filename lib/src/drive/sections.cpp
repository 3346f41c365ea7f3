#include "twoturn/drive/sections.hpp"

#include <array>
#include <cmath>

namespace twoturn {
namespace {

constexpr auto kMemory = Trust::standard_from_memory;
constexpr auto kLow = Trust::low_confidence;
constexpr std::nullopt_t kUnknown = std::nullopt;

// Pitch, tooth height, thickness and a are from the standards named, from memory. Least teeth are
// common practice for small drives at engine speeds; a back roller wants at least the pitch
// diameter of that smallest pulley. Where neither is known the place is empty, not guessed.
constexpr std::array kSections{
    BeltSection{"MXL", 2.032, 0.51, 1.14, 0.254, 10, kUnknown, "ISO 5296", kMemory},
    BeltSection{"H3M", 3.0, 1.22, 2.41, 0.381, 10, kUnknown, "ISO 13050", kLow},
    BeltSection{"H5M", 5.0, 2.08, 3.81, 0.572, 14, kUnknown, "ISO 13050", kLow},
    BeltSection{"XL", 5.08, 1.27, 2.3, 0.254, 10, kUnknown, "ISO 5296", kMemory},
    BeltSection{"H8M", 8.0, 3.38, 6.0, 0.686, 18, 45.0, "ISO 13050", kMemory},
    BeltSection{"S8M", 8.0, 3.05, 5.3, 0.686, 18, 45.0, "ISO 13050", kMemory},
    BeltSection{"YH", 8.0, 3.0, 5.2, 0.686, 18, 45.0, "ISO 9010", kLow},
    BeltSection{"YS", 8.0, 3.0, 5.2, 0.686, 18, 45.0, "ISO 9010", kLow},
    BeltSection{"L", 9.525, 1.91, 3.6, 0.381, 12, kUnknown, "ISO 5296", kMemory},
    BeltSection{"ZA", 9.525, 1.91, 4.1, 0.686, 18, 50.0, "ISO 9010", kMemory},
    BeltSection{"ZB", 9.525, 2.29, 4.5, 0.686, 18, 50.0, "ISO 9010", kMemory},
    BeltSection{"H", 12.7, 2.29, 4.3, 0.686, 14, kUnknown, "ISO 5296", kMemory},
    BeltSection{"H14M", 14.0, 6.02, 10.0, 1.397, 28, kUnknown, "ISO 13050", kMemory},
    BeltSection{"XH", 22.225, 6.35, 11.2, 1.397, 18, kUnknown, "ISO 5296", kMemory},
    BeltSection{"XXH", 31.75, 9.53, 15.7, 1.524, 18, kUnknown, "ISO 5296", kMemory},
};

struct ToleranceRow {
  double up_to_mm;
  double tolerance_mm;
};

// ISO 5296 and ANSI/RMA IP-24, from memory.
constexpr std::array kTolerances{
    ToleranceRow{254.0, 0.41},  ToleranceRow{381.0, 0.46},  ToleranceRow{508.0, 0.51},
    ToleranceRow{762.0, 0.61},  ToleranceRow{1016.0, 0.66}, ToleranceRow{1270.0, 0.76},
    ToleranceRow{1524.0, 0.81}, ToleranceRow{1778.0, 0.86},
};

}  // namespace

std::span<const BeltSection> belt_sections() { return kSections; }

const BeltSection* find_section(std::string_view name) {
  for (const BeltSection& section : kSections) {
    if (section.name == name) return &section;
  }
  return nullptr;
}

bool same_pitch(double a_mm, double b_mm) {
  constexpr double kSamePitchMm = 0.002;
  return std::abs(a_mm - b_mm) <= kSamePitchMm;
}

bool measures_as(double pitch_mm, double known_mm) {
  constexpr double kCalliperShare = 0.01;
  return std::abs(pitch_mm - known_mm) <= kCalliperShare * known_mm;
}

std::optional<double> known_pitch(double pitch_mm) {
  constexpr std::array kOtherPitches{2.0, 2.5, 10.0, 20.0};
  for (const BeltSection& section : kSections) {
    if (measures_as(pitch_mm, section.pitch_mm)) return section.pitch_mm;
  }
  for (const double other : kOtherPitches) {
    if (measures_as(pitch_mm, other)) return other;
  }
  return std::nullopt;
}

std::vector<std::string> section_names() {
  std::vector<std::string> names;
  for (const BeltSection& section : kSections) names.emplace_back(section.name);
  return names;
}

std::optional<double> usual_length_tolerance_mm(double pitch_length_mm) {
  for (const ToleranceRow& row : kTolerances) {
    if (pitch_length_mm <= row.up_to_mm) return row.tolerance_mm;
  }
  return std::nullopt;
}

}  // namespace twoturn
