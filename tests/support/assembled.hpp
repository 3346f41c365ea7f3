#pragma once

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/timing/assembly.hpp"

namespace drives {

/// The belt put on a drive that can be built.
inline twoturn::AssemblyResult assembled(const twoturn::DriveSpec& spec,
                                         twoturn::Fit fit = twoturn::Fit::as_fitted) {
  const twoturn::BothFits both = twoturn::both_fits(spec, fit);
  return twoturn::assemble(both.book.fitted.value(), both.asked.fitted.value());
}

}  // namespace drives
