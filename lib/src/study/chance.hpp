// Chance that is the same on every compiler: the standard library's own distributions are not.
#pragma once

#include <random>

namespace twoturn::study {

class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}

  double share() { return static_cast<double>(random_()) / 4294967296.0; }
  double between(double least, double greatest) { return least + (greatest - least) * share(); }
  /// Near enough normal: twelve shares.
  double normal() {
    double sum = -6.0;
    for (int k = 0; k < 12; ++k) sum += share();
    return sum;
  }

 private:
  std::mt19937 random_;
};

}  // namespace twoturn::study
