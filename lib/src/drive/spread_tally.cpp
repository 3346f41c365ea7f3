#include "spread_tally.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/at.hpp"

namespace twoturn::spreading {

void Heap::take(const Axis& axis, double value) {
  ++count;
  const double away = value - axis.nominal;
  sum += away;
  squares += away * away;
  const double bin = (value - axis.from) / axis.width;
  ++bins[at(static_cast<int>(std::clamp(bin, 0.0, static_cast<double>(kBins - 1))))];
}

void Heap::add(const Heap& other) {
  count += other.count;
  sum += other.sum;
  squares += other.squares;
  for (std::size_t k = 0; k < bins.size(); ++k) bins[k] += other.bins[k];
}

// Where so much of what is in the bins lies below.
static double quantile(const Heap& heap, const Axis& axis, double share) {
  const double wanted = share * static_cast<double>(heap.count);
  double seen = 0.0;
  for (std::size_t k = 0; k < heap.bins.size(); ++k) {
    const auto here = static_cast<double>(heap.bins[k]);
    if (here > 0.0 && seen + here >= wanted) {
      return axis.from + axis.width * (static_cast<double>(k) + (wanted - seen) / here);
    }
    seen += here;
  }
  return axis.nominal;
}

Spreading spreading_of(const Heap& heap, const Axis& axis, double linear) {
  Spreading spreading;
  if (heap.count > 0) {
    const auto count = static_cast<double>(heap.count);
    const double mean = heap.sum / count;
    spreading.mean = axis.nominal + mean;
    spreading.deviation = std::sqrt(std::max(0.0, heap.squares / count - mean * mean));
  }
  constexpr double kLow = 0.025;
  spreading.low = quantile(heap, axis, kLow);
  spreading.middle = quantile(heap, axis, 0.5);
  spreading.high = quantile(heap, axis, 1.0 - kLow);
  spreading.linear_deviation = linear;
  return spreading;
}

std::vector<SpreadBin> bars_of(const Heap& heap, const Axis& axis) {
  constexpr std::size_t kTogether = 10;
  std::vector<SpreadBin> bars;
  for (std::size_t k = 0; k < heap.bins.size(); k += kTogether) {
    const double from = axis.from + axis.width * static_cast<double>(k);
    const auto first = heap.bins.begin() + static_cast<std::ptrdiff_t>(k);
    const long long count = std::accumulate(first, first + kTogether, 0LL);
    if (count > 0) bars.push_back({from, from + kTogether * axis.width, count});
  }
  return bars;
}

}  // namespace twoturn::spreading
