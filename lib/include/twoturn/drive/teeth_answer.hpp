#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "twoturn/drive/route_answer.hpp"
#include "twoturn/drive/unsure.hpp"

namespace twoturn {

/// A count that does not go on, or goes on fixed centres only with a mismatch.
struct NearbyCount {
  int teeth = 0;
  double mismatch_mm = 0.0;  ///< N p - L: + belt too long (slack), - too short (will not go on).
                             ///< With a tensioner: beyond the nearest end of its usable travel
  std::optional<double> move_mm;  ///< fixed centres: how far the pulley would have to move
  Unsure unsure;                  ///< of the mismatch, mm
  double probability = 0.0;       ///< that it goes on after all
};

struct TeethAnswer {
  bool goes_on(int teeth) const;  ///< among `fits`
  bool own_goes_on() const { return belt_teeth && goes_on(*belt_teeth); }

  Fit fit = Fit::as_fitted;
  double teeth_exact = 0.0;
  SettingChoice choice = SettingChoice::fixed_centres;
  std::optional<int> belt_teeth;   ///< the profile's own
  std::vector<FittingCount> fits;  ///< fixed centres: counts within the length tolerance
  /// The only count that goes on, else the only one of them that meets the maker's marks.
  std::optional<int> right_teeth;
  std::vector<NearbyCount>
      nearby;  ///< the neighbours, and the profile's own count if it does not fit
  std::optional<std::string> moved;      ///< fixed centres: the pulley that `move_mm` is for,
  std::optional<double> move_along_deg;  ///< and the clock direction in which + moves it
  std::optional<double> tolerance_mm;    ///< of the belt's length, fixed centres
};

/// One row of the travel preview.
struct TravelRow {
  TensionerPlace place;
  std::optional<Setting> setting;     ///< empty where no path touches every pulley
  std::optional<double> teeth_exact;  ///< as is this,
  std::optional<double> wrap_deg;     ///< and this, at the tensioner
  std::optional<NamedRefusal> refused;
};

struct TravelEnd {
  Setting setting;
  std::optional<NamedRefusal> cause;  ///< empty: the travel's own end
};

struct TensionerAnswer {
  /// A belt can run somewhere in its travel, the profile's own at a place that is meant and not
  /// past over centre.
  bool holds_its_belt() const;

  Fit fit = Fit::as_fitted;
  std::string pulley;
  TensionerKind kind = TensionerKind::swing;
  Turn tightens = Turn::clockwise;    ///< swing: the way the spanner turns to tighten
  double tightens_towards_deg = 0.0;  ///< slide: the clock direction in which it tightens
  double arm_mm = 0.0;                ///< swing
  std::vector<TravelRow> rows;        ///< slack to tight
  std::optional<int> belt_teeth;
  std::vector<Setting> settings;  ///< for the profile's belt, all round
  std::optional<Setting> meant;   ///< the one meant
  Unsure unsure;                  ///< of its reading, in the unit of the kind
  Unsure adjustment_unsure;       ///< of the adjustment that is left there, mm
  std::optional<Setting> maker;   ///< at the maker's marks
  std::optional<double> apart;    ///< meant from maker's, in the unit of the kind
  double set_give = 0.0;
  double travel_length = 0.0;        ///< slack end to tight end, in the unit of the kind
  std::optional<Setting> slack_end;  ///< the ends of the travel as given, where there is a path
  std::optional<Setting> tight_end;
  /// From the slack end to the tight end: of belt let off in all, a share of what it can take up.
  double lets_off = 0.0;
  /// The way round that takes belt up all along, where the one that is said lets some off and the
  /// marks do not confirm it: then no setting is meant.
  std::optional<Turn> only_tightens;
  /// Its ends lie so that it tightens from one to the other both ways round.
  bool either_way = false;
  std::vector<Setting> over_centres;
  std::vector<std::pair<TravelEnd, TravelEnd>> usable;
  double least_mm = 0.0;
  double greatest_mm = 0.0;
};

}  // namespace twoturn
