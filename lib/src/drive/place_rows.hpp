// What a profile's [[measured]] and its coordinates say, as a survey takes it.
#pragma once

#include <vector>

#include "twoturn/drive/place_answer.hpp"

namespace twoturn::placing {

/// The centres of a drive that can be measured, with where they are said to be.
struct Points {
  std::vector<MeasuredPoint> list;
  std::vector<std::optional<Vec2>> given;  ///< coordinates, exact or not
  std::vector<std::optional<Vec2>> near;   ///< hints

  int index_of(std::string_view name) const;  ///< -1: no such centre
};
Points points_of(const DriveSpec& spec);

/// Rows and what the survey takes, one for one.
struct Rows {
  std::vector<MeasuredRow> rows;
  std::vector<Seen> seen;
};
Rows rows_of(const DriveSpec& spec, Points& points);

/// Where each point is about, found from those that are known; faults where that cannot be.
struct Starts {
  std::vector<std::optional<Vec2>> at_mm;
  bool by_hint = false;  ///< hints stood in where no centre could be found from those known
};
Starts starts_of(const Points& points, const std::vector<Seen>& seen,
                 std::vector<PlaceFault>& faults);

/// Adds the belts that are known to fit, from a spec in which all else is placed: a length each.
/// Faults where one measures nothing.
void add_belts(const DriveSpec& placed, const Points& points, Rows& rows,
               std::vector<PlaceFault>& faults);

/// Both points of a measurement; of a place or a belt twice the same one.
struct Ends {
  int from = 0;
  int to = 0;
};
Ends ends_of(const Seen& seen);

}  // namespace twoturn::placing
