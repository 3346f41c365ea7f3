#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// What a profile says of bolts, of holes that tools went through, and of parts that go back where
/// they came from, value for value; part of `DriveSpec`.

enum class BoltCondition { as_new, reused };
enum class ThreadState { dry, oiled };

/// One round of tightening: up to a torque, or on by an angle. `validate` sees that it is one of
/// the two.
struct BoltStageSpec {
  std::optional<double> torque_nm;
  std::optional<double> angle_deg;
};

/// Bolts that are alike and are tightened together, [[bolts]].
struct BoltsSpec {
  std::string name;
  std::optional<std::string> holds;  ///< a head, a pulley, a geared shaft
  std::optional<int> count;
  std::vector<Vec2> positions_mm;  ///< looking down on their heads: right, up
  std::vector<int> order;          ///< positions by number from 1, first to last
  std::vector<BoltStageSpec> stages;
  std::optional<double> pitch_mm;   ///< of the thread
  std::optional<double> length_mm;  ///< of what stretches
  std::optional<double> shank_mm;   ///< diameter of that
  std::optional<double> modulus_n_mm2;
  std::optional<double> joint_stiffness_n_mm;  ///< of the joint under one bolt
  std::optional<BoltCondition> condition;
  std::optional<ThreadState> threads;
};

/// A port that a pin, a bar or a check went through, and what closes it, [[access_hole]].
struct AccessHoleSpec {
  std::string name;
  std::optional<std::string> closed_by;
  std::optional<std::string> seal;
};

/// What a pin says that goes through no hole.
inline constexpr const char* kNoAccessHole = "none";

/// Parts that go back where they came from, [[tray]]: rows of so many, numbered row by row.
struct TraySpec {
  std::string name;
  std::optional<int> rows;
  std::optional<int> columns;
};

}  // namespace twoturn
