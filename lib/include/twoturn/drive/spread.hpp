#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/spread_answer.hpp"
#include "twoturn/geometry/placed_path.hpp"

namespace twoturn {

/// A drive as it was thrown once, its tensioner where the belt has its own length.
struct ThrownDrive {
  PlacedPath placed;
  double tooth_mm = 0.0;  ///< what a tooth of the belt takes of the pitch line
};

/// The same drive by the book, thrown with the same numbers, and what is read off the two.
struct SpreadBeside {
  using Read = std::function<void(const ThrownDrive& book, const ThrownDrive& fitted,
                                  std::span<double> values)>;

  Fitted book;
  std::vector<std::string> names;  ///< of the values
  /// Asked once a drive, by several threads at once.
  Read read;
  double nothing = 0.0;  ///< a change of a value so small is none
};

/// Builds one fit of a drive many times, each number off by chance within its give-or-take, and
/// solves the tensioner each time. The samples lie evenly (a Sobol sequence, shifted by the seed)
/// and are dealt out in lanes that can be worked on in any order, also at once: the answer is the
/// same. Memory does not grow with the samples.
class Spread {
 public:
  static constexpr int kLanes = 64;

  /// Why nothing can be spread: the profile says too little; empty where it can.
  static std::string why_not(const Fitted& fitted);

  /// Every number of a fit that may be off, by the keys that `SpreadQuestion::laws` knows.
  static std::vector<std::string> numbers(const Fitted& fitted);

  /// `why_not` is empty. Beside it the drive by the book, where it is built as well (see
  /// `timing_beside`): what only [build] says is off in the fitted one alone, all else alike in
  /// both. Where nothing moves a value, the book is left aside.
  Spread(const Fitted& fitted, const SpreadQuestion& question,
         std::optional<SpreadBeside> beside = std::nullopt);
  ~Spread();
  Spread(Spread&&) noexcept;
  Spread& operator=(Spread&&) noexcept;

  /// What one lane found; several may be asked at once.
  struct Tally;
  std::shared_ptr<const Tally> lane(int index) const;

  /// From the tallies of all lanes, in their order; of an interrupted run some are nullptr.
  SpreadAnswer answer(const std::vector<std::shared_ptr<const Tally>>& lanes) const;

  /// All lanes, one after the other.
  SpreadAnswer answer() const;

 private:
  struct Setup;
  class Lane;
  std::vector<SpreadError> errors(const Tally& all) const;

  std::unique_ptr<const Setup> setup_;
};

}  // namespace twoturn
