#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/unsure.hpp"

namespace twoturn {

/// One number of a profile that may be off, and what one standard deviation of it moves. Numbers
/// that are exact are none.
struct Unknown {
  struct Move {
    int pulley = 0;  ///< in order of travel; of the tensioner's its pivot moves
    Vec2 centre_mm = Vec2::Zero();
    double radius_mm = 0.0;
  };

  std::string key;     ///< without the place in a list: "pulley.cam.at_mm", "measured.3"
  std::string number;  ///< the very number: "pulley.cam.at_mm[0]"; no two alike
  std::vector<Move> moves;
  double arm_mm = 0.0;           ///< of a swing
  Vec2 slack_mm = Vec2::Zero();  ///< a slide's ends
  Vec2 tight_mm = Vec2::Zero();
  double pitch_mm = 0.0;  ///< of the belt: each of its teeth
  double turn_rad = 0.0;  ///< all centres together, pivots too, about a place
  Vec2 about_mm = Vec2::Zero();
};

/// All that is not exactly known of one fit of a drive, and how the belt's length feels it.
class Uncertainty {
 public:
  /// Of a spec with [build] applied, or left out, and the drive that was built from it.
  Uncertainty(const DriveSpec& fitted, const Drive& drive);

  bool exact() const { return unknowns_.empty(); }
  const std::vector<Unknown>& unknowns() const { return unknowns_; }

  /// What one sigma of each unknown adds to the path's length, less what it adds to that of a belt
  /// of so many teeth, with the tensioner's roller held where q has it; mm, one for one. No
  /// tangent: nothing.
  std::vector<double> length_effects(const Drive& drive, double q, int teeth) const;

  /// The same as one number.
  Unsure length(const Drive& drive, double q, int teeth) const;
  /// Of the reading at which a belt of its own length puts the tensioner; `rate` is mm of belt a
  /// unit of reading. At over centre, where the rate is 0, no reading is known.
  Unsure reading(const Drive& drive, double q, int teeth, double rate) const;
  /// The wheels at q with one unknown so many sigmas from what is given.
  void place_wheels_off(const Drive& drive, double q, const Unknown& unknown, double sigmas,
                        std::vector<Wheel>& wheels) const;
  /// Of effects that were worked out elsewhere, one for each unknown.
  Unsure sum(const std::vector<double>& effects) const;

 private:
  std::vector<Unknown> unknowns_;
};

}  // namespace twoturn
