// The parts of an invented example drive.
#pragma once

#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// To the nearest tenth.
double tenth(double mm);

/// Takes the coordinates of an example away and puts distances between centres, a direction and
/// hints in their place, as someone with a calliper would measure it.
void measure_with_calliper(DriveSpec& spec);

}  // namespace twoturn
