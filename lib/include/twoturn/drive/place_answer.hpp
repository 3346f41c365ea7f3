#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/known.hpp"
#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/spec.hpp"
#include "twoturn/geometry/survey.hpp"

namespace twoturn {

/// One centre that measurements are held against: a pulley's, of a swinging tensioner its pivot's.
struct MeasuredPoint {
  std::string name;
  int listed = 0;  ///< place of its pulley in the profile's list
  bool pivot = false;
  std::optional<Vec2> at_mm;         ///< empty: not tied down
  bool exact = false;                ///< as the profile gives it, taken as exact
  std::optional<Ellipse95> ellipse;  ///< of one that was measured, a turn of the whole left out
  int measurements = 0;              ///< that speak of it
};

enum class MeasuredKind { distance, bearing, place, belt };

/// One measurement as it went into the least squares, and how it stands to what was found.
struct MeasuredRow {
  int number = 0;  ///< place in [[measured]], from 1; 0: coordinates that the profile gives
  MeasuredKind kind = MeasuredKind::distance;
  std::string from;  ///< of a place the point itself, of a belt "belt of 106 teeth"
  std::string to;
  double measured = 0.0;  ///< between centres, mm; clock deg; of a place 0, of a belt its length
  double found = 0.0;
  double off = 0.0;         ///< measured less found, mm or deg; of a place how far off it lies
  GiveOrTake give_or_take;  ///< of `measured`, with that of the diameters in it
  double spare = 0.0;
  double standardized = 0.0;
};

/// Why centres could not be placed.
enum class PlaceTrouble {
  too_few,     ///< nothing, or one thing only, says where `about` stands
  unturned,    ///< all could be turned round the crank together: no direction is measured
  mirrored,    ///< two places fit alike: `at_mm` and `other_mm`
  wrong_side,  ///< `near_mm` lies on the other side of the line of two others than was found
  no_belt,     ///< `about` is a belt known to fit for which the places found have no way round
  belt_sizes,  ///< `about` is one that measures nothing while sizes are missing
  no_triangle  ///< two distances and that between their other ends close no triangle
};
struct PlaceFault {
  PlaceTrouble trouble = PlaceTrouble::too_few;
  std::string about;
  std::vector<std::string> others{};  ///< the centres that it was measured from
  Vec2 at_mm = Vec2::Zero();
  Vec2 other_mm = Vec2::Zero();
  double short_mm = 0.0;  ///< no_triangle: by how much at least one distance is off
  std::string best{};     ///< too_few: the centre a distance to which ties it best, where told
};

/// A distance not measured yet, and what it would make of the worst centre.
struct NextMeasurement {
  std::string from;
  std::string to;
  std::string about;     ///< the centre that is known worst
  double now_mm = 0.0;   ///< longer half axis of its ellipse
  double then_mm = 0.0;  ///< the same with that distance
};

/// All that measurements make of a drive's centres.
struct MeasuredPlaces {
  bool placed() const { return faults.empty(); }

  std::vector<MeasuredPoint> points;  ///< in the order of the pulleys
  std::vector<MeasuredRow> rows;
  SurveyFound found;           ///< of `points`; nothing in it where there are faults
  SuspectMeasurement suspect;  ///< of `rows`
  int worst = -1;              ///< the point that is known worst; -1 where all are exact
  /// How far all of them may be turned together round the crank, deg, 95 times in 100, by what is
  /// measured of their direction. No distance feels it: ellipses, and the influence in `found`,
  /// leave it out.
  double turn_deg = 0.0;
  std::vector<double> turns_rad;  ///< the same of one sigma of each column of the influence
  Vec2 turned_about_mm = Vec2::Zero();
  std::vector<PlaceFault> faults;
  std::optional<NextMeasurement> next;
};

/// What a fault leaves open, and the one measurement or line that settles it.
Missing told(const PlaceFault& fault);

}  // namespace twoturn
