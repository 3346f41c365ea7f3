#include "twoturn/drive/rates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "twoturn/drive/drive.hpp"

namespace twoturn {
namespace {

std::optional<double> turns_of_pulley(const DriveSpec& spec, const PulleySpec& pulley) {
  const auto is_crank = [](const PulleySpec& other) { return other.role == Role::crankshaft; };
  const auto crank = std::find_if(spec.pulleys.begin(), spec.pulleys.end(), is_crank);
  if (crank == spec.pulleys.end() || !crank->teeth || !pulley.teeth) return std::nullopt;
  return static_cast<double>(*crank->teeth) / *pulley.teeth;
}

// What rounding to the digits it is written with can have changed a number by.
double half_last_digit(double value) {
  const std::string text = fmt::format("{}", value);
  const std::size_t point = text.find('.');
  const auto digits = point == std::string::npos ? 0 : static_cast<int>(text.size() - point) - 1;
  return 0.5 * std::pow(10.0, -digits);
}

bool rounds(double written, double exact) {
  constexpr double kCloseShare = 0.0025;  // fewer digits than that could be any gears
  const double half = half_last_digit(written);
  return half <= kCloseShare * exact && std::abs(written - exact) <= half;
}

}  // namespace

bool same_rate(double turns, double other) {
  constexpr double kRounding = 1e-9;
  return std::abs(turns - other) <= kRounding;
}

std::optional<GearRatio> gear_ratio(const DriveSpec& spec, const GearedSpec& geared) {
  if (geared.gear_teeth) {
    // Two gears in mesh turn against each other.
    return GearRatio{-static_cast<double>(geared.gear_teeth->driving) / geared.gear_teeth->own,
                     false};
  }
  if (!geared.ratio) return std::nullopt;
  const double written = std::abs(*geared.ratio);
  const std::optional<double> driven_at = turns_made(spec, geared.from);
  const std::optional<double> wanted = turns_per_crank(geared);
  if (!driven_at || !wanted) return GearRatio{*geared.ratio, false};
  const double exact = *wanted / *driven_at;
  if (same_rate(written, exact) || !rounds(written, exact)) return GearRatio{*geared.ratio, false};
  return GearRatio{std::copysign(exact, *geared.ratio), true};
}

std::optional<double> turns_made(const DriveSpec& spec, std::string_view shaft) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.name == shaft) return turns_of_pulley(spec, pulley);
  }
  for (const GearedSpec& geared : spec.geared) {
    if (geared.name != shaft || geared.from == shaft) continue;
    const std::optional<double> from = turns_made(spec, geared.from);
    const std::optional<GearRatio> ratio = gear_ratio(spec, geared);
    if (!from || !ratio) return std::nullopt;
    return *from * std::abs(ratio->own_turns);
  }
  return std::nullopt;
}

}  // namespace twoturn
