#include "twoturn/engine/cylinders.hpp"

#include "twoturn/base/angle.hpp"

namespace twoturn {
namespace {

constexpr double kSameDeg = 1e-6;

// A hair below a whole turn is rounding.
double in_turn_rounded(double deg) {
  const double wrapped = wrapped_deg(deg, kTurnDeg);
  return wrapped > kTurnDeg - kSameDeg ? 0.0 : wrapped;
}

std::size_t place_of(int cylinder) { return static_cast<std::size_t>(cylinder - 1); }

// The pistons' dead centres when every cylinder fires after an equal angle.
void fire_evenly(const CylinderLayout& layout, CylinderPhases& phases) {
  const int count = layout.cylinders;
  phases.even = true;
  std::vector<double> firing(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k) {
    const int cylinder =
        layout.firing_order.empty() ? k + 1 : layout.firing_order[static_cast<std::size_t>(k)];
    firing[place_of(cylinder)] = 2.0 * kTurnDeg * k / count;
  }
  for (const double deg : firing) phases.top_deg.push_back(in_turn_rounded(deg));
  if (!layout.firing_order.empty()) phases.firing_deg = firing;
}

void follow_order(const CylinderLayout& layout, CylinderPhases& phases) {
  std::vector<double> firing(phases.top_deg.size());
  double last = 0.0;
  for (std::size_t k = 1; k < layout.firing_order.size(); ++k) {
    const double top = phases.top_deg[place_of(layout.firing_order[k])];
    double next = top;
    while (next <= last + kSameDeg) next += kTurnDeg;
    firing[place_of(layout.firing_order[k])] = next;
    last = next;
  }
  if (last < 2.0 * kTurnDeg - kSameDeg) {
    phases.firing_deg = firing;
  } else {
    phases.fault = "with these crank pins the firing order takes more than two turns";
  }
}

}  // namespace

CylinderPhases phases_of(const CylinderLayout& layout) {
  CylinderPhases phases;
  if (layout.pins_deg.empty()) {
    fire_evenly(layout, phases);
    return phases;
  }
  for (std::size_t k = 0; k < layout.pins_deg.size(); ++k) {
    const double bore = layout.bores_deg.empty() ? 0.0 : layout.bores_deg[k];
    const double first = layout.bores_deg.empty() ? 0.0 : layout.bores_deg[0];
    phases.top_deg.push_back(
        in_turn_rounded(bore - first - (layout.pins_deg[k] - layout.pins_deg[0])));
  }
  if (!layout.firing_order.empty()) follow_order(layout, phases);
  return phases;
}

CylinderLayout usual_layout(int cylinders, CrankLayout layout, double bank_deg) {
  CylinderLayout usual;
  usual.cylinders = cylinders;
  if (layout != CrankLayout::vee) return usual;
  const int pins = cylinders / 2;
  for (int bank = 0; bank < 2; ++bank) {
    for (int pin = 0; pin < pins; ++pin) {
      usual.pins_deg.push_back(kTurnDeg * pin / pins);
      usual.bores_deg.push_back(bank * bank_deg);
    }
  }
  return usual;
}

}  // namespace twoturn
