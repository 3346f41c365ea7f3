// The worked example a second time: its belt's length from the oracle's tangents, its settings as
// the clock angles between which that length passes 111 pitches.
#include "support/worked_values.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/oracle_path.hpp"

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kPitchMm = 9.525;              // ZA, ISO 9010
constexpr double kBackMm = 4.1 - 1.91 - 0.686;  // ZA: thickness less tooth less land
constexpr double kBeltMm = 111 * kPitchMm;
constexpr double kClockwise = -1;

double radius_mm(int teeth) { return teeth * kPitchMm / (2.0 * kPi); }

// Crank, tensioner, cam and pump in the order of travel.
oracle::Path path_at(double clock_deg, double skim_mm) {
  const double t = clock_deg * kPi / 180.0;
  return oracle::closed_path({{0, 0, radius_mm(20), -1},
                              {-40 + 6 * std::sin(t), 170 + 6 * std::cos(t), 30 + kBackMm, 1},
                              {0, 375 - skim_mm, radius_mm(40), -1},
                              {62, 150, radius_mm(19), -1}});
}

// How much longer the way is than the belt.
double over_mm(double clock_deg, double skim_mm = 0.0) {
  return static_cast<double>(path_at(clock_deg, skim_mm).length - kBeltMm);
}

bool passes_the_belt(double clock_deg, double skim_mm = 0.0) {
  const double off = worked::kHalfDigitDeg;
  return over_mm(clock_deg - off, skim_mm) * over_mm(clock_deg + off, skim_mm) < 0.0;
}

// Belt from the cam's 12 o'clock over the pump to the crank's, along the tight way.
double tight_way_mm(double skim_mm) {
  const oracle::Path path = path_at(worked::kSetDeg, skim_mm);
  const oracle::Contact &leaves = path.contacts[2], &meets = path.contacts[3];
  const double cam_y = 375 - skim_mm;
  const double off_cam =
      std::atan2(static_cast<double>(leaves.start_y) - cam_y, static_cast<double>(leaves.start_x));
  const double on_crank =
      std::atan2(static_cast<double>(meets.end_y), static_cast<double>(meets.end_x));
  const double straight = static_cast<double>(path.spans[2] + path.spans[3]);
  const double on_pump = radius_mm(19) * static_cast<double>(path.wraps[3]);
  const double noon = kPi / 2.0;
  return radius_mm(40) * kClockwise * (off_cam - noon) + straight + on_pump +
         radius_mm(20) * kClockwise * (noon - on_crank);
}

}  // namespace

TEST_CASE("The worked example's settings and adjustment follow from tangents alone") {
  CHECK(passes_the_belt(worked::kSetDeg));
  CHECK(passes_the_belt(worked::kPastDeg));
  CHECK(passes_the_belt(worked::kSkimmedSetDeg, worked::kSkimMm));
  // Longest at over centre: it rises before and falls after.
  constexpr double kOff = worked::kHalfDigitDeg;
  constexpr double kHairDeg = 0.001;
  CHECK(over_mm(worked::kOverCentreDeg - kOff) > over_mm(worked::kOverCentreDeg - kOff - kHairDeg));
  CHECK(over_mm(worked::kOverCentreDeg + kOff) > over_mm(worked::kOverCentreDeg + kOff + kHairDeg));
  CHECK_THAT(over_mm(worked::kOverCentreDeg),
             WithinAbs(worked::kAdjustmentLeftMm, worked::kHalfDigitMm));
}

TEST_CASE("The worked example's cam is late by what the tight way loses, over its radius") {
  const double lost_mm = tight_way_mm(0.0) - tight_way_mm(worked::kSkimMm);
  CHECK_THAT(lost_mm / radius_mm(40) * 180.0 / kPi,
             WithinAbs(worked::kLateOwnDeg, worked::kLateHalfDigitDeg));
}
