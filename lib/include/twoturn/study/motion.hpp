#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/study/check_answer.hpp"

namespace twoturn {

/// How every part stands at even steps of the crank: what a moving picture goes through.
struct Motion {
  std::vector<double> crank_deg;                   ///< k steps from pins in
  std::vector<double> belt_teeth;                  ///< how far the belt has moved, at each step
  std::vector<std::vector<double>> pulley_deg;     ///< a pulley (in travel order): turned since
                                                   ///< the first step, anticlockwise, not wrapped
  std::vector<std::vector<double>> pulley_errors;  ///< crank deg, + early; empty where untimed
  double first_tooth = 0.0;  ///< belt tooth 0, in teeth from the crank's entry, pins in
  int belt_count = 0;
};

/// Two turns of the crank (`turns` of them) at steps of `step_deg`, read from the teeth in mesh.
/// Smooth pulleys roll with the belt. Empty where no belt is on.
[[nodiscard]] std::optional<Motion> motion_of(const FitAnswer& answer, int turns, double step_deg);

}  // namespace twoturn
