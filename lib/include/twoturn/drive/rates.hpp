#pragma once

#include <optional>
#include <string_view>

#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// How fast a geared shaft turns.
struct GearRatio {
  double own_turns = 1.0;  ///< a turn of the shaft that drives it; negative: the other way round
  bool taken = false;      ///< a rounded decimal, taken for the ratio of counts that it rounds
};

/// From the teeth of both gears, else from the ratio given. A decimal that is nothing but the
/// rounding of the ratio its shaft needs is taken for that ratio. Empty where neither is given.
std::optional<GearRatio> gear_ratio(const DriveSpec& spec, const GearedSpec& geared);

/// Own turns a turn of the crank that the tooth counts give a pulley or geared shaft, unsigned;
/// empty where a count is missing.
std::optional<double> turns_made(const DriveSpec& spec, std::string_view shaft);

/// Whether two rates are one: from counts they differ by rounding or by parts of a tooth.
bool same_rate(double turns, double other);

}  // namespace twoturn
