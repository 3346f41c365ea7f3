#pragma once

#include <optional>
#include <string>
#include <vector>

namespace twoturn {

/// How cylinders stand round a crank. Angles in crank deg, in the running direction; cylinder 1 is
/// the first of each list. Empty lists are not known.
struct CylinderLayout {
  int cylinders = 0;
  std::vector<double> pins_deg;   ///< each crank pin from that of cylinder 1
  std::vector<double> bores_deg;  ///< each bore from that of cylinder 1; empty: all in line
  std::vector<int> firing_order;  ///< 1-based; every cylinder once
};

/// When each piston comes to its top dead centre, in crank deg after that of cylinder 1 with its
/// valves shut (its firing stroke begins).
struct CylinderPhases {
  std::vector<double> top_deg;     ///< of every turn, [0, 360)
  std::vector<double> firing_deg;  ///< with the valves shut, [0, 720); empty: not known
  bool even = false;               ///< taken to fire evenly, as no crank pins are given
  std::string fault;               ///< the firing order that these pins cannot have; else empty
};

/// Pins and bores give the dead centres (a pin in line with its bore); the firing order says which
/// of the two turns is whose: each cylinder of the order fires at its next dead centre after the
/// one before it. Without pins the firing is taken to be even. Cylinders from 1 to 16.
[[nodiscard]] CylinderPhases phases_of(const CylinderLayout& layout);

enum class CrankLayout { in_line, vee, flat };

/// The usual crank of a layout, where nothing but the number of cylinders is known. In line and
/// flat (opposed pins): even firing. V: each pin carries one rod of each bank, the pins spread
/// evenly, the banks `bank_deg` apart. `cylinders` is even but in line.
CylinderLayout usual_layout(int cylinders, CrankLayout layout, double bank_deg);

}  // namespace twoturn
