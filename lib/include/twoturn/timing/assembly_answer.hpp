#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/setting.hpp"
#include "twoturn/timing/shafts.hpp"
#include "twoturn/timing/way.hpp"

namespace twoturn {

/// What one standard deviation of one number of [build], or of what it moves along, turns a shaft
/// by, own deg: by the book a shaft stands at its mark whatever the numbers.
struct PhaseEffect {
  std::string key;
  double own_deg = 0.0;
};

/// How one shaft sits once the belt is on and tensioned.
struct ShaftFit {
  Way reference = Way::against_travel;
  double mark_from_entry_mm = 0.0;     ///< the mark as it stands with pins in
  double drawn_remainder_teeth = 0.0;  ///< of the drawn drive itself, where teeth are tied to marks
  double way_change_mm = 0.0;          ///< change of the crank-to-mark distance from the book,
                                       ///<   less what a stretched belt makes up for
  int way_change_teeth = 0;            ///< belt teeth more on that way than by the book
  double pulley_shift_deg = 0.0;       ///< pulley ahead (+) of where it stands by the book, own deg
  double turned_on_shaft_deg = 0.0;    ///< pulley ahead of its shaft (free or adjusted pulleys)
  double groove_phase = 0.0;           ///< the mark lies this many grooves after groove 0
  long hold = 0;                       ///< the belt tooth that lies in groove 0 at the start
  double arc_start_teeth = 0.0;        ///< the arc of contact in belt teeth from the crank's entry,
  double arc_teeth = 0.0;              ///<   counted along the reference way
  std::vector<PhaseEffect> effects;    ///< on the shaft itself

  /// The shaft itself, ahead of where it belongs, own deg.
  double shaft_shift_deg() const { return pulley_shift_deg - turned_on_shaft_deg; }
};

/// Why a drive cannot be put together for two turns.
struct NoAssembly {
  enum class Reason { no_setting, no_path, not_in_mesh, belt_teeth_unknown } reason;
  std::string about;
  double value = 0.0;
  double limit = 0.0;
  std::optional<double> least_mm;  ///< no setting: the lengths that the tensioner can give
  std::optional<double> greatest_mm;
};

/// A drive with its belt on: geometry by the book and as fitted, each at the setting where the belt
/// has its own length, and which tooth of the belt lies in which groove.
struct Assembly {
  Drive book;
  Drive fitted;
  std::optional<Setting> book_setting;  ///< empty with fixed centres
  std::optional<Setting> fitted_setting;
  /// How far apart the two are, in the tensioner's own unit; empty with fixed centres.
  std::optional<double> setting_moved;
  bool setting_is_moved() const;  ///< by more than the tensioner is allowed
  PlacedPath book_path;
  PlacedPath fitted_path;
  std::vector<Shaft> shafts;   ///< as fitted; geared ones last
  std::vector<ShaftFit> fits;  ///< one a shaft; geared ones hold only their shift
  int belt_teeth = 0;

  const Shaft& crank() const { return shafts.front(); }
};

}  // namespace twoturn
