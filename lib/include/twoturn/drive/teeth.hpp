#pragma once

#include <optional>
#include <string>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/teeth_answer.hpp"

namespace twoturn {

struct MoveQuestion {
  std::string pulley;               ///< empty: the last pulley before the belt returns to the crank
  std::optional<double> along_deg;  ///< clock direction; empty: away from the crank
};

/// `book`: the same drive by the book, for the marks are its marks; absent, `fitted` itself is held
/// against them.
[[nodiscard]] TeethAnswer fitting_teeth(const Fitted& fitted, const MoveQuestion& move = {},
                                        const Fitted* book = nullptr);

/// How a belt of so many teeth stands to a drive.
struct CountChance {
  double mismatch_mm = 0.0;  ///< + too long, - too short; with a tensioner beyond its travel
  Unsure unsure;             ///< of it, mm
  double probability = 0.0;  ///< that it goes on
};
[[nodiscard]] CountChance chance_of(const Fitted& fitted, const TeethAnswer& answer, int teeth);

/// How far `pulley` must move along a unit direction for the path to be `length_mm` long: the
/// smallest such move, or empty when there is none within half the drive's size.
std::optional<double> move_for_length(const Drive& drive, int pulley, const Vec2& direction,
                                      double length_mm);

/// Empty when the drive has no tensioner.
[[nodiscard]] std::optional<TensionerAnswer> preview_tensioner(const Fitted& fitted, int rows = 11);

}  // namespace twoturn
