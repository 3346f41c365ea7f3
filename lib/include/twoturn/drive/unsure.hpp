#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "twoturn/drive/known.hpp"

namespace twoturn {

/// How far off an answer may be, 95 times in 100, to first order in every unknown number: the root
/// of the sum of squares. What is not exact but small beside the rest is in it.
struct Unsure {
  double give_or_take = 0.0;
  std::string most;         ///< the key that contributes most; empty where all is exact
  double most_share = 0.0;  ///< of the variance

  double sigma() const { return sigma_of(give_or_take); }
};

/// What one standard deviation of one number moves of an answer, in its unit and with its sign.
/// Independent of every other.
struct Effect {
  std::string_view key;  ///< without the place in a list; of a key that outlives this
  double by = 0.0;
};

/// The root of the sum of their squares; entries of one key count together for what is most.
Unsure unsure_of(const std::vector<Effect>& effects);

/// Whether what is beyond a limit by so much is beyond it 95 times in 100.
bool certainly_beyond(double by, const Unsure& unsure);

/// The share of a normal distribution below so many standard deviations.
double normal_share(double sigmas);

}  // namespace twoturn
