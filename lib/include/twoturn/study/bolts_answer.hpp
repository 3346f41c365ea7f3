#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/bolts_spec.hpp"
#include "twoturn/drive/missing.hpp"

namespace twoturn {

/// One bolt of a group, by its number in the order of tightening.
struct BoltPlace {
  int number = 0;    ///< from 1, first to last
  int position = 0;  ///< its place in the profile's list, from 1
  std::optional<Vec2> at_mm{};
};

/// One round of tightening, of every bolt of the group.
struct BoltStage {
  int stage = 0;  ///< from 1
  std::optional<double> torque_nm{};
  std::optional<double> torque_lbf_ft{};
  std::optional<double> angle_deg{};
  std::optional<double> total_deg{};     ///< since the last torque, this round counted
  std::optional<double> dot_from_deg{};  ///< on a clock face, looking at the bolt's head
  std::optional<double> dot_to_deg{};
  std::optional<double> advance_mm{};  ///< of the bolt along its thread in this round
  std::string move{};                  ///< "90 more: dot from 3 to 6 o'clock (180 in all)"
};

/// What the angles add, where nothing yields, settles or slips: no more than this.
struct BoltBound {
  double advance_mm = 0.0;  ///< of all angles together
  double shank_mm = 0.0;
  double modulus_n_mm2 = 0.0;
  bool modulus_given = false;  ///< else that of steel
  double bolt_n_per_mm = 0.0;
  double joint_n_per_mm = 0.0;
  double load_n = 0.0;
  double stretch_mm = 0.0;
  double squeeze_mm = 0.0;
  double stress_n_mm2 = 0.0;  ///< in the shank
};

/// Where the order of tightening comes from: the profile, common practice for these places, or
/// nowhere: then numbers are those of the manual's own picture.
enum class BoltOrder { given, usual, not_known };

struct BoltGroup {
  std::string name;
  std::optional<std::string> holds{};
  bool holds_head = false;
  BoltOrder order = BoltOrder::not_known;
  std::vector<BoltPlace> bolts{};  ///< in the order of tightening
  std::vector<BoltStage> stages{};
  std::optional<double> pitch_mm{};
  std::optional<double> length_mm{};
  std::optional<BoltCondition> condition{};
  std::optional<ThreadState> threads{};
  std::optional<BoltBound> bound{};
  std::vector<std::string> notes{};  ///< what to mind about these bolts

  /// One bolt has no order.
  bool order_to_find() const { return order == BoltOrder::not_known && bolts.size() != 1; }
  bool placed() const { return !bolts.empty() && bolts.front().at_mm.has_value(); }
};

/// The next move, from how far each bolt has got.
struct NextBolt {
  std::string group;
  bool all_done = false;
  int bolt = 0;  ///< by the order of tightening
  int stage = 0;
  std::string move;
  std::vector<int> reached;  ///< the stages that each bolt has been through, in that order
  int ticks = 0;             ///< of the grid
  int of = 0;
  std::vector<std::string> noticed;  ///< bolts that are out of order
};

struct BoltsAnswer {
  std::vector<BoltGroup> groups;
  std::vector<NextBolt> next;  ///< of the groups that were asked about
};

/// Of steel; from memory, handbooks differ by a few per cent.
inline constexpr double kSteelModulusNMm2 = 205000.0;

}  // namespace twoturn
