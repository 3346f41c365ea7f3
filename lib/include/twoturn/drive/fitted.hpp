#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "twoturn/drive/drive.hpp"
#include "twoturn/drive/fitted_spec.hpp"
#include "twoturn/drive/missing.hpp"

namespace twoturn {

class TensionerCurve;
class Uncertainty;

/// One fit of a drive, built: the spec with [build] applied, its geometry, and its tensioner's
/// curve. All that is asked about a drive is asked of this, so that nothing is built again. Copies
/// share what was built, which never changes.
class Fitted {
 public:
  /// Of a spec as applied and the drive that was built from it.
  Fitted(FittedSpec spec, Drive drive);

  const FittedSpec& applied() const;
  const DriveSpec& spec() const;  ///< as applied
  Fit fit() const { return fit_; }
  const Drive& drive() const;
  const TensionerCurve* curve() const;  ///< nullptr with fixed centres
  const Uncertainty& uncertainty() const;

  /// The same drive under another name, for a spec that says nothing under [build].
  Fitted named(Fit fit) const;

 private:
  struct Parts;
  std::shared_ptr<const Parts> parts_;
  Fit fit_;
};

struct FittedResult {
  std::optional<Fitted> fitted;
  std::vector<Missing> missing;  ///< what keeps the route, or parts of its judgement, open
};

}  // namespace twoturn
