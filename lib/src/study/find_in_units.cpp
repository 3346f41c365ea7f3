#include <fmt/format.h>

#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/teeth.hpp"

// Numbers that would be right in another unit, or measured another way: each is asked about.
namespace twoturn {
namespace {

void ask(std::vector<Finding>& findings, std::string_view code, const std::string& about,
         double value, double limit, std::string text, std::string brief, std::string action) {
  Finding finding{Level::look, std::string(code), about, std::move(text)};
  finding.value = value;
  finding.limit = limit;
  finding.unit = "mm";
  finding.brief = std::move(brief);
  finding.action = std::move(action);
  findings.push_back(std::move(finding));
}

// A calliper that ends at the tenth tooth has nine gaps between its jaws.
void nine_gaps(const BeltSpec& belt, std::vector<Finding>& findings) {
  if (!belt.pitch_mm || known_pitch(*belt.pitch_mm)) return;
  const std::optional<double> meant = known_pitch(*belt.pitch_mm / 0.9);
  if (!meant) return;
  ask(findings, "odd-pitch", "belt", *belt.pitch_mm, *meant,
      fmt::format("A pitch of {} mm is not a usual one, but nine gaps of {} mm taken for ten would "
                  "give it: measure from tooth 1 to tooth 11.",
                  shortest(*belt.pitch_mm, 3), shortest(*meant, 3)),
      fmt::format("a pitch of {} mm, as of nine gaps taken for ten", shortest(*belt.pitch_mm, 3)),
      "measure the belt from tooth 1 to tooth 11");
}

// Over a whole belt, what a calliper over ten teeth misses adds up to teeth.
void nearly_a_pitch(const BeltSpec& belt, std::vector<Finding>& findings) {
  if (!belt.over_10_teeth_mm || belt.pitch_mm || belt.section) return;
  const double over = *belt.over_10_teeth_mm;
  const std::optional<double> meant = known_pitch(over / 10.0);
  constexpr double kSameMm = 1e-6;
  if (!meant || std::abs(over - 10.0 * *meant) <= kSameMm) return;
  const std::string is = shortest(10.0 * *meant, 3);
  ask(findings, "nearly-a-pitch", "belt", over, 10.0 * *meant,
      fmt::format("Ten teeth over {} mm: is it {}? A pitch of {} mm is a usual one, {} mm is none, "
                  "and over {} the difference is {} mm. If it is that belt, write pitch_mm = {}.",
                  shortest(over, 3), is, shortest(*meant, 3), shortest(over / 10.0, 3),
                  belt.teeth ? fmt::format("all {} teeth", *belt.teeth) : "a hundred teeth",
                  fixed(std::abs(over / 10.0 - *meant) * belt.teeth.value_or(100), 1),
                  shortest(*meant, 3)),
      fmt::format("ten teeth over {} mm, as of a pitch of {} mm", shortest(over, 3),
                  shortest(*meant, 3)),
      fmt::format("if it is that pitch, write belt.pitch_mm = {}", shortest(*meant, 3)));
}

enum class Scaled { places, all_lengths };

void scale(std::optional<double>& length, double by) {
  if (length) *length *= by;
}
void scale(std::optional<Vec2>& place, double by) {
  if (place) *place *= by;
}

// The same drive with its lengths so many times as great; what its teeth make of it stays.
DriveSpec scaled(DriveSpec spec, double by, Scaled what) {
  for (PulleySpec& pulley : spec.pulleys) {
    scale(pulley.at_mm, by);
    if (what == Scaled::all_lengths) scale(pulley.diameter_mm, by);
    if (!pulley.tensioner) continue;
    if (auto* swing = std::get_if<SwingSpec>(&pulley.tensioner->path)) {
      scale(swing->pivot_mm, by);
      if (what == Scaled::places) continue;
      scale(swing->arm_mm, by);
      scale(swing->thickest_mm, by);
      scale(swing->thinnest_mm, by);
    } else if (auto* slide = std::get_if<SlideSpec>(&pulley.tensioner->path)) {
      scale(slide->slack_at_mm, by);
      scale(slide->tight_at_mm, by);
    }
  }
  spec.covers.clear();
  return spec;
}

// A belt that does not go on: would it, were the lengths in inches or cm?
void other_unit(const DriveSpec& spec, const FitAnswer& judged, std::vector<Finding>& findings) {
  if (!judged.teeth || !spec.belt.teeth || judged.teeth->own_goes_on()) return;
  struct Unit {
    const char* name;
    double in_mm;
    Scaled what;
  };
  for (const Unit& unit :
       {Unit{"inches", kMmPerInch, Scaled::all_lengths}, Unit{"inches", kMmPerInch, Scaled::places},
        Unit{"cm", 10.0, Scaled::all_lengths}, Unit{"cm", 10.0, Scaled::places}}) {
    const FittedResult tried = fitted_for(scaled(spec, unit.in_mm, unit.what), judged.fit);
    if (!tried.fitted || !fitting_teeth(*tried.fitted).own_goes_on()) continue;
    const bool all = unit.what == Scaled::all_lengths;
    ask(findings, "other-unit", "profile", unit.in_mm, 1.0,
        fmt::format("With {} {} times as great a belt of {} teeth goes on: were they measured in "
                    "{}? Lengths are in mm{}.",
                    all ? "all lengths" : "the places", shortest(unit.in_mm, 1), *spec.belt.teeth,
                    unit.name,
                    unit.in_mm == kMmPerInch ? "; in inches they go under names in _in" : ""),
        fmt::format("{} seem to be in {}", all ? "lengths" : "places", unit.name),
        fmt::format("check whether they are in {}", unit.name));
    findings.back().unit = "times";
    return;
  }
}

// Without a section, the sections of its pitch tell what roller a belt is bent round: common
// practice.
void radius_for_diameter(const DriveSpec& spec, std::vector<Finding>& findings) {
  const BeltSpec& belt = spec.belt;
  if (belt.section || belt.least_roller_mm) return;
  const std::optional<double> pitch =
      known_pitch(belt.pitch_mm.value_or(belt.over_10_teeth_mm.value_or(0.0) / 10.0));
  std::optional<double> least;
  for (const BeltSection& section : belt_sections()) {
    if (pitch == section.pitch_mm && section.least_roller_mm) least = section.least_roller_mm;
  }
  if (!least) return;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.teeth || !pulley.diameter_mm || pulley.face != Face::back) continue;
    const double across = *pulley.diameter_mm;
    if (across >= *least || 2.0 * across < *least) continue;
    ask(findings, "radius-for-diameter", pulley.name, across, *least,
        fmt::format(
            "{} is given as {} mm across; belts of {} mm pitch are usually bent round {} mm "
            "and more. Is that its radius? The diameter is wanted, right across.",
            capital(the(pulley.name)), shortest(across, 2), shortest(*pitch, 3),
            shortest(*least, 1)),
        fmt::format("{} is small for this belt", the(pulley.name)),
        fmt::format("measure {} right across", the(pulley.name)));
  }
}

}  // namespace

void find_in_units(const DriveSpec& spec, const FitAnswer& judged, std::vector<Finding>& findings) {
  nine_gaps(spec.belt, findings);
  nearly_a_pitch(spec.belt, findings);
  other_unit(spec, judged, findings);
  radius_for_diameter(spec, findings);
}

}  // namespace twoturn
