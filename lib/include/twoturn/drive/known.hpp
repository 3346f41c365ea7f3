#pragma once

#include <string_view>

#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// What a number that is not stated to be better known was taken with, and how far off that usually
/// is, 95 times in 100. All common practice.
enum class TakenWith { counted, book, calliper, shaft_to_shaft, tape, eye, scale, nothing };

struct GiveOrTake {
  double value = 0.0;  ///< in the number's own unit; 0: exact
  TakenWith with = TakenWith::nothing;
  bool stated = false;  ///< by the profile, not by what is usual
};

/// How well a given number is known: as it states; else 0 of a count, of what the manual says and
/// of what is set for the occasion, and the usual of anything else. What nothing is said of is
/// taken to have been measured.
GiveOrTake give_or_take(const GivenValue& given);

/// The usual of a key that was measured.
GiveOrTake usual_give_or_take(std::string_view key);

/// The given number of a key; nullptr where there is none.
const GivenValue* find_given(const DriveSpec& spec, std::string_view key);

/// The standard deviation of what is within its give-or-take 95 times in 100.
inline constexpr double kSigmas95 = 1.959963984540054;
inline double sigma_of(double give_or_take) { return give_or_take / kSigmas95; }

/// "calliper", "rule", "by eye".
std::string_view word(TakenWith with);

}  // namespace twoturn
