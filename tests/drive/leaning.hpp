// The worked example with nothing upright or by a table: its head leans and carries the tensioner,
// and the belt is said by its own numbers.
#pragma once

#include "support/drives.hpp"

namespace drives {

inline twoturn::DriveSpec leaning() {
  twoturn::DriveSpec spec = worked_example();
  spec.belt.section.reset();
  spec.belt.pitch_mm = 9.525;
  spec.belt.tooth_height_mm = 1.91;
  spec.belt.thickness_mm = 4.1;
  spec.belt.land_to_pitch_line_mm = 0.686;
  spec.heads[0].deck_deg = 20.0;
  named(spec, "tensioner").mount = "head";
  spec.build.stretch_percent = 0.0;  // what a stretch makes of a pitch is of second order
  return spec;
}

}  // namespace drives
