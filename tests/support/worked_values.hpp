// What drives::worked_example() must come to. worked_values_test derives each of these numbers from
// tangents alone, without the library.
#pragma once

#include <array>

namespace worked {

constexpr double kHalfDigitDeg = 0.005, kHalfDigitMm = 0.005;  // two decimals
constexpr double kSetDeg = 346.06, kPastDeg = 186.25, kOverCentreDeg = 86.31;
constexpr double kAdjustmentLeftMm = 2.95;

// After a skim of 0.3 mm.
constexpr double kSkimMm = 0.3, kSkimmedSetDeg = 0.51;
constexpr double kLateOwnDeg = 0.2810, kLateHalfDigitDeg = 0.00005;  // four decimals

// A skim with crank and cam in one line and the taut run on one side (CHECKS.md, exact): the cam
// late by so much, own and crank deg, to nine decimals. The belt has about that many teeth.
struct InLineSkim {
  double pitch_mm;
  int crank_teeth, cam_teeth, belt_teeth;
  double centre_mm, skim_mm, cam_deg, crank_deg;
};
constexpr std::array<InLineSkim, 3> kInLineSkims{
    {{8, 22, 44, 108, 300, 0.30, 0.305476470, 0.610952940},
     {9.525, 20, 40, 104, 350, 1.00, 0.941319810, 1.882639619},
     {8, 24, 48, 136, 400, 0.25, 0.233689652, 0.467379305}}};

}  // namespace worked
