#pragma once

#include <optional>
#include <string_view>

namespace twoturn {

/// Why a text is no number.
enum class NoNumber { none, no_digits, more_behind, not_finite };

/// A text as a number; `value` holds where the fault is `none`.
struct NumberReading {
  double value = 0.0;
  NoNumber fault = NoNumber::none;
};

/// Reads all of the text as one decimal number with a point, whatever the locale: "12.5", "-.5",
/// "+3", "1e-3". Neither blanks nor a unit may stand beside it. "inf", "nan" and what no double can
/// hold (1e999, 1e-999) are `not_finite`.
NumberReading read_number(std::string_view text);

/// The same, or empty whatever the fault.
std::optional<double> parsed_number(std::string_view text);

/// The whole number, 0 or more, that all of the text is: digits alone, no sign. Empty for anything
/// else, and where it is larger than an int.
std::optional<int> parsed_whole(std::string_view text);

}  // namespace twoturn
