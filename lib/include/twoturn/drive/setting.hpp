#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/reading.hpp"

namespace twoturn {

/// Where a setting stands to over centre, the place past which moving the tensioner on slackens the
/// belt again.
enum class OverCentre { before, at, past };

/// One place of the tensioner with what the belt does there.
struct Setting : TensionerPlace {
  OverCentre over_centre = OverCentre::before;
  double rate = 0.0;                ///< mm of belt a degree (swing) or a mm (slide) towards tight
  double adjustment_left_mm = 0.0;  ///< how much more belt can still be taken up; 0 past it
  double adjustment_left_teeth = 0.0;  ///< the same in pitches of the belt
  double length_mm = 0.0;
};

/// A part of the travel in which the belt can run, and what ends it before the travel does.
struct UsableTravel {
  double from_q = 0.0;
  double to_q = 0.0;
  std::optional<Refusal> slack_cause;  ///< empty: the slack end itself
  std::optional<Refusal> tight_cause;  ///< empty: the tight end itself
};

/// A tooth count and the places of the tensioner at which that belt is at its own length.
struct FittingCount {
  int teeth = 0;
  std::vector<Setting> settings;
  double probability = 1.0;  ///< that it goes on, by what is given and how well it is known

  bool fits() const;  ///< at least one of them in the travel
};

/// Of several settings the one meant: in the travel and nearest to the maker's marks; without marks
/// the first before over centre, else the first past it. nullptr when none is in the travel.
const Setting* meant_setting(const std::vector<Setting>& settings, const Tensioner& tensioner);

}  // namespace twoturn
