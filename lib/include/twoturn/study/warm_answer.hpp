#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/missing.hpp"
#include "twoturn/drive/setting.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// One timed shaft, cold and warm: crank deg early (+) or late after two turns.
struct WarmShaft {
  std::string name;
  double cold_crank_deg = 0.0;
  double locked_crank_deg = 0.0;                ///< with the tensioner where it was set cold
  std::optional<double> sprung_crank_deg = {};  ///< with one that follows; empty: there is no place
};

/// A drive that was built and tensioned cold, as it stands warm.
struct WarmAnswer {
  WarmSpec at;
  std::vector<Missing> missing;  ///< what keeps it open; then there is nothing else
  std::vector<WarmShaft> shafts;
  std::optional<TensionerKind> kind;  ///< empty: fixed centres
  std::optional<Setting> cold_setting;
  std::optional<Setting> sprung_setting;  ///< where a tensioner that follows then stands
  double path_grows_mm = 0.0;             ///< with the tensioner where it was set cold
  double belt_grows_mm = 0.0;
  /// Of the tensioner where it was set cold: by how much the belt is pulled longer (+), or has
  /// become too long (-), in going from cold to warm.
  double tighter_mm() const { return path_grows_mm - belt_grows_mm; }
};

}  // namespace twoturn
