#pragma once

#include <optional>
#include <string>

namespace twoturn {

/// What a profile says of forces, value for value; part of `DriveSpec`.

/// Whether a tensioner is held by its bolt once it is set, or its spring stays at work.
enum class Holds { locked, sprung };

/// How tight the belt should be, [tension]: one target, on one run.
struct TensionSpec {
  std::optional<std::string> from;  ///< the two neighbouring pulleys of the run
  std::optional<std::string> to;
  std::optional<double> target_n;
  std::optional<double> target_hz;  ///< first note of the plucked run
  std::optional<double> give_mm;    ///< at its middle, with `push_n`
  std::optional<double> push_n;
  std::optional<double> at_crank_deg;  ///< from pins in, in the running direction

  bool operator==(const TensionSpec&) const = default;
};

}  // namespace twoturn
