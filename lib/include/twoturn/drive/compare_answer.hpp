#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/setting.hpp"
#include "twoturn/drive/unsure.hpp"

namespace twoturn {

/// One belt of several that are compared.
struct ComparedCount {
  int teeth = 0;
  double length_mm = 0.0;
  bool goes_on = false;
  double probability = 0.0;        ///< that it goes on, by how well the numbers are known
  double mismatch_mm = 0.0;        ///< + too long, - too short; on a tensioner 0 where it goes on
  std::optional<Setting> meant{};  ///< where the tensioner then stands
  Unsure unsure{};                 ///< of its reading
  std::optional<double> apart{};   ///< by the book from the maker's marks, in the unit of the kind
  bool meets_marks = false;        ///< within what is allowed and what the numbers leave open
};

struct CompareAnswer {
  Fit fit = Fit::as_fitted;
  std::optional<TensionerKind> kind;   ///< empty: fixed centres
  std::optional<double> set_give;      ///< allowed from the marks; empty: no marks are given
  std::optional<double> tolerance_mm;  ///< of the belt's length, fixed centres
  std::vector<ComparedCount> counts;
  std::optional<int> meant_teeth;  ///< the only one that the marks mean
};

}  // namespace twoturn
