// What is kept of a number over many drives: bins and sums, which do not grow with the drives.
#pragma once

#include <array>
#include <vector>

#include "twoturn/drive/spread_answer.hpp"

namespace twoturn::spreading {

inline constexpr int kBins = 400;

/// The bins of a number: evenly about its nominal value.
struct Axis {
  Axis() = default;
  Axis(double about, double half) : nominal(about), from(about - half), width(2.0 * half / kBins) {}

  double nominal = 0.0;
  double from = 0.0;
  double width = 0.0;
};

/// A number that is spread: its bins, and what the law of each throw makes of it by the gradient,
/// one by one and together.
struct Spreads {
  Axis axis;
  std::vector<double> effects;
  double linear = 0.0;
};

struct Heap {
  long long count = 0;
  double sum = 0.0;
  double squares = 0.0;  ///< of the distance from the nominal
  std::array<long long, kBins> bins{};

  void take(const Axis& axis, double value);
  void add(const Heap& other);
};

/// `linear`: its deviation by the gradient.
Spreading spreading_of(const Heap& heap, const Axis& axis, double linear);
/// Ten bins as one: fine enough for quantiles, too fine for eyes.
std::vector<SpreadBin> bars_of(const Heap& heap, const Axis& axis);

}  // namespace twoturn::spreading
