#pragma once

#include <utility>

#include "twoturn/drive/drive.hpp"

namespace twoturn {

struct Growth;

/// A spec with [build] applied (heads moved along their deck, pulleys renewed), or left out by the
/// book. A type of its own, so that [build] cannot be applied twice: only `spec_for` makes one.
/// Further parts of [build] (teeth out, adjustment) belong to the timing floor and stay in it.
class FittedSpec {
 public:
  const DriveSpec& spec() const { return spec_; }
  Fit fit() const { return fit_; }

 private:
  friend FittedSpec spec_for(const DriveSpec& spec, Fit fit);
  friend FittedSpec warmed_spec(const FittedSpec& cold, const Growth& growth, double belt_stretch);
  FittedSpec(DriveSpec spec, Fit fit) : spec_(std::move(spec)), fit_(fit) {}

  DriveSpec spec_;
  Fit fit_;
};

FittedSpec spec_for(const DriveSpec& spec, Fit fit);

/// Whether a build changes anything of the drive as it stands cold.
bool changes_the_drive(const BuildSpec& build);

/// How much longer everything of it is for being warm, a share of its length.
struct Growth {
  double block = 0.0;
  double head = 0.0;
  double belt = 0.0;
};
/// Under [build.warm], which holds all seven of its numbers.
Growth growth_of(const WarmSpec& warm);

/// A drive as it stands warm, with a belt whose teeth lie so much further apart than a pitch, a
/// share of it. Block and head grow away from the crank's centre, the head from its face on;
/// pulleys and arms are taken to keep their size. Every head that carries anything has its
/// `deck_deg` and `deck_from_crank_mm`, else it grows as the block.
FittedSpec warmed_spec(const FittedSpec& cold, const Growth& growth, double belt_stretch);

/// A pulley's teeth in a fit: of a renewed one, its new ones.
std::optional<int> teeth_for(const DriveSpec& spec, const PulleySpec& pulley, Fit fit);

}  // namespace twoturn
