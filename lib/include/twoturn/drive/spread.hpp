#pragma once

#include <memory>
#include <string>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/spread_answer.hpp"

namespace twoturn {

/// Builds one fit of a drive many times, each number off by chance within its give-or-take, and
/// solves the tensioner each time. The samples lie evenly (a Sobol sequence, shifted by the seed)
/// and are dealt out in lanes that can be worked on in any order, also at once: the answer is the
/// same. Memory does not grow with the samples.
class Spread {
 public:
  static constexpr int kLanes = 64;

  /// Why nothing can be spread: the profile says too little; empty where it can.
  static std::string why_not(const Fitted& fitted);

  /// `why_not` is empty.
  Spread(const Fitted& fitted, const SpreadQuestion& question);
  ~Spread();
  Spread(Spread&&) noexcept;
  Spread& operator=(Spread&&) noexcept;

  /// What one lane found; several may be asked at once.
  struct Tally;
  std::shared_ptr<const Tally> lane(int index) const;

  /// From the tallies of all lanes, in their order; of an interrupted run some are nullptr.
  SpreadAnswer answer(const std::vector<std::shared_ptr<const Tally>>& lanes) const;

 private:
  struct Setup;
  class Lane;
  double quantile(const Tally& all, double share) const;
  Spreading spreading(const Tally& all) const;

  std::unique_ptr<const Setup> setup_;
};

}  // namespace twoturn
