#pragma once

#include <utility>

#include "twoturn/drive/drive.hpp"

namespace twoturn {

/// A spec with [build] applied (heads moved along their deck, pulleys renewed), or left out by the
/// book. A type of its own, so that [build] cannot be applied twice: only `spec_for` makes one.
/// Further parts of [build] (teeth out, adjustment) belong to the timing floor and stay in it.
class FittedSpec {
 public:
  const DriveSpec& spec() const { return spec_; }
  Fit fit() const { return fit_; }

 private:
  friend FittedSpec spec_for(const DriveSpec& spec, Fit fit);
  FittedSpec(DriveSpec spec, Fit fit) : spec_(std::move(spec)), fit_(fit) {}

  DriveSpec spec_;
  Fit fit_;
};

FittedSpec spec_for(const DriveSpec& spec, Fit fit);

/// A pulley's teeth in a fit: of a renewed one, its new ones.
std::optional<int> teeth_for(const DriveSpec& spec, const PulleySpec& pulley, Fit fit);

}  // namespace twoturn
