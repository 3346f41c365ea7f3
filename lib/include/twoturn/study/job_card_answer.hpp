#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/setting.hpp"
#include "twoturn/study/bolts_answer.hpp"
#include "twoturn/study/tension_answer.hpp"

namespace twoturn {

/// A shaft whose mark is looked at after two turns.
struct CardMark {
  std::string shaft;
  std::string held_by;  ///< "pin", "bar"; empty where it has neither
  std::optional<double> start_deg{};
};

/// A pin or bar that goes in and has to come out again.
struct CardPin {
  std::string shaft;
  std::string held_by;
  std::optional<std::string> hole{};  ///< that it goes through; kNoAccessHole: none

  bool in_named_hole() const { return hole && *hole != kNoAccessHole; }
};

struct CardHole {
  std::string name;
  std::string closed_with;  ///< what closes it and its seal; empty where neither is given
};

/// Parts that go back where they came from, numbered row by row from 1.
struct CardTray {
  std::string name;
  int rows = 1;
  int columns = 1;

  int parts() const { return rows * columns; }
};

/// What a tensioner shows once the belt is tight, and how far off it may be read.
struct CardSetting {
  enum class By { pointer_deg, roller_deg, roller_mm };
  By by = By::pointer_deg;
  double value = 0.0;
  double allowed = 0.0;  ///< each way: what the drive leaves open and its set_give
};

/// The tension to read, where the profile has a target.
struct CardTension {
  std::string from;
  std::string to;
  double tension_n = 0.0;
};

/// Everything that a job leaves a trace of: what the card has boxes for, what a record is asked
/// for.
struct JobCard {
  std::string profile;
  std::string fingerprint;  ///< of the profile's meaning
  std::vector<std::string> heads;
  std::vector<BoltGroup> bolts;
  std::optional<CardSetting> setting{};
  std::optional<CardTension> tension{};
  std::vector<CardMark> marks;
  std::vector<CardPin> pins;
  std::vector<CardHole> holes;
  std::vector<CardTray> trays;
};

}  // namespace twoturn
