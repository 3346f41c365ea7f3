// What drives::worked_example() must come to. worked_values_test derives each of these numbers from
// tangents alone, without the library.
#pragma once

namespace worked {

constexpr double kHalfDigitDeg = 0.005, kHalfDigitMm = 0.005;  // two decimals
constexpr double kSetDeg = 346.06, kPastDeg = 186.25, kOverCentreDeg = 86.31;
constexpr double kAdjustmentLeftMm = 2.95;

// After a skim of 0.3 mm.
constexpr double kSkimMm = 0.3, kSkimmedSetDeg = 0.51;
constexpr double kLateOwnDeg = 0.2810, kLateHalfDigitDeg = 0.00005;  // four decimals

}  // namespace worked
