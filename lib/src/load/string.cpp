#include "twoturn/load/string.hpp"

#include <cmath>

namespace twoturn {
namespace {

constexpr double kMmPerM = 1000.0;

}  // namespace

double tension_of_note_n(const BeltString& run, double note_hz) {
  const double length_m = run.length_mm / kMmPerM;
  return 4.0 * run.mass_kg_per_m * length_m * length_m * note_hz * note_hz;
}

double note_hz(const BeltString& run, double tension_n) {
  return std::sqrt(tension_n / run.mass_kg_per_m) / (2.0 * run.length_mm / kMmPerM);
}

double give_mm(const BeltString& run, double tension_n, double push_n) {
  return push_n * run.length_mm / (4.0 * tension_n);
}

double tension_of_give_n(const BeltString& run, double give_mm, double push_n) {
  return push_n * run.length_mm / (4.0 * give_mm);
}

}  // namespace twoturn
