#pragma once

#include <string>
#include <string_view>

namespace twoturn {

/// `value` with exactly `digits` decimals; "-0.00" prints as "0.00". Free of the locale. Every
/// number that anyone reads in a sentence, table or picture is printed here.
std::string fixed(double value, int digits);

/// The same with the sign always shown: "+0.28", "-0.28", "0.00".
std::string signed_fixed(double value, int digits);

/// At most `digits` decimals, trailing zeros cut: 9.5, 9.525, 8.
std::string shortest(double value, int digits);

/// Whether `fixed` shows it as 0: what is not shown is not advised on either.
bool prints_as_nothing(double value, int digits);

/// A length in mm, and in thousandths of an inch beside it where asked for: "0.30 mm (11.8 thou)".
std::string mm_and_thou(double mm, int digits);

/// "1 tooth", "2 teeth".
std::string counted(long long count, std::string_view one, std::string_view many);

/// "once", "twice", "4 times".
std::string times(long long count);

inline constexpr double kMmPerInch = 25.4;
inline constexpr double kMmPerThou = 0.0254;
/// A foot of 0.3048 m, times a pound of 0.45359237 kg under 9.80665 m/s2. Exact by definition.
inline constexpr double kNmPerLbfFt = 0.3048 * 0.45359237 * 9.80665;

}  // namespace twoturn
