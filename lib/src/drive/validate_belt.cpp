#include <fmt/format.h>

#include <cctype>
#include <cmath>

#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/sections.hpp"
#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

constexpr double kSmallestPitchMm = 0.5;
constexpr double kLargestPitchMm = 32.5;

std::optional<double> section_pitch(double pitch_mm) {
  for (const BeltSection& section : belt_sections()) {
    if (measures_as(pitch_mm, section.pitch_mm)) return section.pitch_mm;
  }
  return std::nullopt;
}

// The section's name as the table has it, whatever the case; else the nearest.
std::string nearest_section(std::string said) {
  const std::string written = said;
  for (char& c : said) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return find_section(said) != nullptr ? said : nearest_word(written, section_names());
}

const BeltSection* section_of(const BeltSpec& belt) {
  return belt.section ? find_section(*belt.section) : nullptr;
}

void judge_over_10(Judge& judge) {
  const BeltSpec& belt = judge.spec.belt;
  const std::string key = "belt.over_10_teeth_mm";
  judge.length(key, belt.over_10_teeth_mm);
  if (!belt.over_10_teeth_mm || !(*belt.over_10_teeth_mm > 0.0)) return;
  const double given = *belt.over_10_teeth_mm;
  const BeltSection* section = section_of(belt);
  const std::optional<double> stated = belt.pitch_mm ? belt.pitch_mm
                                       : section     ? std::optional(section->pitch_mm)
                                                     : std::nullopt;
  const auto is_pitch = [&](double pitch) -> std::optional<double> {
    if (stated) return measures_as(pitch, *stated) ? stated : std::nullopt;
    return section_pitch(pitch);
  };
  if (stated ? measures_as(given / 10.0, *stated) : known_pitch(given / 10.0).has_value()) return;
  const std::string found = fmt::format("gives a pitch of {} mm, ", shortest(given / 10.0, 3));
  if (const auto nine = is_pitch(given / 9.0)) {
    judge.add(key, shown(given, "mm"),
              found + fmt::format("but over nine gaps it is {} mm: ten gaps end at the eleventh "
                                  "tooth; measure from tooth 1 to tooth 11",
                                  shown(*nine)));
  } else if (const auto one = is_pitch(given)) {
    judge.add(key, shown(given, "mm"),
              found + fmt::format("but one tooth of {} mm is a known pitch: write pitch_mm, or "
                                  "measure over ten teeth",
                                  shown(*one)));
  } else if (stated) {
    judge.add(key, shown(given, "mm"),
              found + fmt::format("but {} says {} mm; leave one of the two out",
                                  belt.pitch_mm ? "pitch_mm" : "section " + *belt.section,
                                  shown(*stated)));
  } else if (given < 10.0 * kSmallestPitchMm || given > 10.0 * kLargestPitchMm) {
    judge.add(key, shown(given, "mm"),
              fmt::format("must be from {} to {}", shown(10.0 * kSmallestPitchMm),
                          shown(10.0 * kLargestPitchMm, "mm")));
  }
}

void judge_pitch(Judge& judge) {
  const BeltSpec& belt = judge.spec.belt;
  judge.positive("belt.pitch_mm", belt.pitch_mm, kFarthestMm, "mm");
  if (!belt.pitch_mm || !(*belt.pitch_mm > 0.0) || !std::isfinite(*belt.pitch_mm)) return;
  const double pitch = *belt.pitch_mm;
  const BeltSection* section = section_of(belt);
  if (section != nullptr && same_pitch(pitch, section->pitch_mm)) return;
  const auto tenth = section_pitch(pitch / 10.0);
  const bool ten_for_one = section != nullptr ? measures_as(pitch / 10.0, section->pitch_mm)
                                              : !known_pitch(pitch) && tenth.has_value();
  if (ten_for_one) {
    judge.add("belt.pitch_mm", shown(pitch, "mm"),
              fmt::format("ten teeth taken for one: over ten teeth it is a pitch of {} mm; write "
                          "over_10_teeth_mm = {}",
                          shown(section != nullptr ? section->pitch_mm : *tenth), shown(pitch)));
  } else if (section != nullptr) {
    judge.add("belt.pitch_mm", shown(pitch, "mm"),
              fmt::format("section {} has a pitch of {} mm; leave one of the two out",
                          section->name, shown(section->pitch_mm)));
  } else if (pitch < kSmallestPitchMm) {
    const std::optional<double> inches = known_pitch(pitch * kMmPerInch);
    judge.add("belt.pitch_mm", shown(pitch, "mm"),
              inches ? fmt::format("in inches it would be {} mm: write pitch_in, and every length "
                                   "in inches under its _in name",
                                   shortest(*inches, 3))
                     : fmt::format("must be {} or more", shown(kSmallestPitchMm, "mm")));
  } else if (pitch > kLargestPitchMm) {
    judge.add("belt.pitch_mm", shown(pitch, "mm"),
              fmt::format("must be {} mm or less", shown(kLargestPitchMm)));
  }
}

// Height and land must leave something of the thickness for the back.
void judge_thickness(Judge& judge) {
  const BeltSpec& belt = judge.spec.belt;
  judge.length("belt.tooth_height_mm", belt.tooth_height_mm);
  judge.length("belt.thickness_mm", belt.thickness_mm);
  judge.range("belt.land_to_pitch_line_mm", belt.land_to_pitch_line_mm, {0.0, 20.0, "mm"});
  const bool own = belt.tooth_height_mm || belt.thickness_mm || belt.land_to_pitch_line_mm;
  const BeltSection* section = section_of(belt);
  const auto of = [&](const std::optional<double>& said, double BeltSection::*part) {
    if (said) return said;
    return section != nullptr ? std::optional(section->*part) : std::nullopt;
  };
  const auto height = of(belt.tooth_height_mm, &BeltSection::tooth_height_mm);
  const auto land = of(belt.land_to_pitch_line_mm, &BeltSection::land_to_pitch_line_mm);
  const auto thickness = of(belt.thickness_mm, &BeltSection::thickness_mm);
  if (!own || !height || !thickness) return;
  const double inside = *height + land.value_or(0.0);
  if (inside < *thickness || !std::isfinite(inside) || !(*thickness > 0.0)) return;
  const std::string key = belt.thickness_mm      ? "belt.thickness_mm"
                          : belt.tooth_height_mm ? "belt.tooth_height_mm"
                                                 : "belt.land_to_pitch_line_mm";
  const double value = belt.thickness_mm ? *thickness : belt.tooth_height_mm ? *height : *land;
  judge.add(key, shown(value, "mm"),
            fmt::format("tooth height {} and land to pitch line {} mm must together be less than "
                        "the belt's whole thickness {} mm",
                        shown(*height), shown(land.value_or(0.0)), shown(*thickness)));
}

}  // namespace

std::optional<double> pitch_of(const BeltSpec& belt) {
  if (belt.pitch_mm) return belt.pitch_mm;
  if (const BeltSection* section = section_of(belt)) return section->pitch_mm;
  if (belt.over_10_teeth_mm) return *belt.over_10_teeth_mm / 10.0;
  return std::nullopt;
}

void judge_belt(Judge& judge) {
  const BeltSpec& belt = judge.spec.belt;
  if (belt.section && section_of(belt) == nullptr) {
    std::string known;
    for (const std::string& name : section_names()) known += (known.empty() ? "" : ", ") + name;
    judge.add("belt.section", fmt::format("\"{}\"", *belt.section),
              fmt::format("no such belt section; known are {}. For another belt leave it out and "
                          "give pitch_mm, tooth_height_mm, thickness_mm and "
                          "land_to_pitch_line_mm",
                          known),
              nearest_section(*belt.section));
  }
  judge.count("belt.teeth", belt.teeth, 10, 2000);
  judge_pitch(judge);
  judge_over_10(judge);
  judge_thickness(judge);
  judge.count("belt.least_teeth", belt.least_teeth, 1, 200);
  judge.length("belt.least_roller_mm", belt.least_roller_mm);
  judge.range("belt.length_tolerance_mm", belt.length_tolerance_mm, {0.0, 100.0, "mm"});
  judge.range("belt.reference_tension_n", belt.reference_tension_n, {0.0, 100000.0, "N"});
  judge.positive("belt.width_mm", belt.width_mm, 500.0, "mm");
  judge.positive("belt.mass_g_per_m", belt.mass_g_per_m, 10000.0, "g a metre");
  judge.positive("belt.weighed_g", belt.weighed_g, 100000.0, "g");
  judge.positive("belt.stiffness_n", belt.stiffness_n, 1e8, "N");
  if (belt.mass_g_per_m && belt.weighed_g) {
    judge.add("belt.weighed_g", shown(*belt.weighed_g, "g"),
              "mass_g_per_m says it already; keep one of the two");
  }
}

}  // namespace twoturn::validation
