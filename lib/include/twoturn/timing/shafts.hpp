#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"

namespace twoturn {

/// What holds a shaft at its timing position, as the angle and the distance it lets the shaft move.
struct Pin {
  double radius_mm = 0.0;
  double play_deg = 0.0;  ///< each side of centre, own deg
  double play_mm = 0.0;   ///< the same between the two holes
  bool bar = false;

  /// What one standard deviation of one of its numbers moves of it.
  struct Give {
    std::string key;
    double radius_mm = 0.0;
    double play_mm = 0.0;
  };
  std::vector<Give> gives{};  ///< empty where all is exact

  /// How far the two holes are apart at the radius, straight across, when the shaft is this far
  /// out: a diameter at most.
  double between_holes_mm(Angle out) const;
};

/// A bar of `bar_mm` in a slot of `slot_mm`, `length_mm` long, turns until its corners touch:
/// exact.
Pin pin_of_bar(double bar_mm, double slot_mm, double length_mm);

struct Mark {
  std::string name;  ///< empty for the pulley's own
  double at_deg = 0.0;
  std::optional<double> radius_mm;  ///< where its error is read as an edge distance
};

/// One shaft that takes part in phasing: a toothed pulley, or a shaft geared off another.
struct Shaft {
  std::string name;
  std::optional<Role> role;
  int pulley = -1;     ///< in travel order; -1: geared
  int from = -1;       ///< geared: index of the driving shaft in the list
  double ratio = 1.0;  ///< geared: own turns a turn of `from`, signed
  int teeth = 0;
  std::optional<double> pitch_radius_mm;  ///< empty where geared
  std::optional<double> turns_per_crank;  ///< what it must make; empty: untimed
  double turns_made = 1.0;                ///< what the tooth counts make it turn, unsigned
  std::optional<Fixing> fixing;           ///< empty: not known, keyed assumed
  std::optional<double> range_deg;        ///< of an adjustable pulley, each way
  std::optional<double> key_radius_mm;
  MarkOn mark_on = MarkOn::as_made;
  std::vector<Mark> marks;
  std::optional<Pin> pin;
  int sense = 1;  ///< the way it turns in running direction: +1 anticlockwise

  bool timed() const { return turns_per_crank.has_value(); }
  /// Timed, and its tooth counts do not make it turn as it must: its error grows with every turn.
  bool wrong_ratio() const;
  /// Where an error is read as a distance: at its first mark, else at its pitch line.
  std::optional<double> edge_radius_mm() const {
    return marks.empty() ? pitch_radius_mm : marks.front().radius_mm;
  }
};

/// Every shaft of a drive that a belt tooth or a gear can time, the crank first, then in order of
/// travel, then the geared ones.
std::vector<Shaft> list_shafts(const DriveSpec& spec, const Drive& drive);

/// The shaft at whose pulley the belt times this one: itself, or the one that it is geared off.
[[nodiscard]] int belt_shaft_of(const std::vector<Shaft>& shafts, int index);

/// What a belt tooth at that pulley turns a shaft by, own deg.
[[nodiscard]] double tooth_own_deg(const std::vector<Shaft>& shafts, int index);

}  // namespace twoturn
