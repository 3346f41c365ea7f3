#pragma once

#include <optional>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/timing/run.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn {

/// Paint after two turns, from tooth counts alone. `others` are the other painted pulleys' counts.
Paint paint_after_two(int belt_teeth, int crank_teeth, const std::vector<int>& others);

enum class Running { forwards, backwards };

struct TurnsQuestion {
  Fit fit = Fit::as_fitted;
  Running running = Running::forwards;
  std::vector<int> after{0, 1, 2, 4};
  double step_deg = 1.0;      ///< of the crank, for `steps`; > 0
  int step_turns = 0;         ///< crank turns to list steps for; 0: none
  double pin_tight_mm = 0.1;  ///< beyond the play: tight, not out
};

/// Turns the crank and reads every shaft from the teeth in mesh.
[[nodiscard]] TurnsAnswer two_turns(Assembly assembly, const TurnsQuestion& question);

/// The same, asked plainly, of a fit beside the book; empty where no belt goes on.
[[nodiscard]] std::optional<TurnsAnswer> two_turns_of(const Fitted& book, const Fitted& fitted);

}  // namespace twoturn
