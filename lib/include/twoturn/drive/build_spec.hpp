#pragma once

#include <map>
#include <optional>
#include <string>

#include "twoturn/geometry/path.hpp"

namespace twoturn {

/// What a profile says of this very engine, [build], value for value; part of `DriveSpec`.

struct RenewedSpec {
  std::optional<int> teeth;
  std::optional<double> diameter_mm;
  std::optional<Vec2> at_mm;

  bool operator==(const RenewedSpec&) const = default;
};

/// What running temperature does to a drive that was built and tensioned cold. Block and head grow
/// in every direction, the block up to each head's deck.
struct WarmSpec {
  std::optional<double> cold_c;
  std::optional<double> block_c;
  std::optional<double> head_c;
  std::optional<double> belt_c;
  std::optional<double> block_ppm_per_c;  ///< linear expansion, 1e-6 of a length a degree
  std::optional<double> head_ppm_per_c;
  std::optional<double> belt_ppm_per_c;

  bool operator==(const WarmSpec&) const = default;
};

/// What is different from the book. Maps go by head or pulley name.
struct BuildSpec {
  std::map<std::string, double> skim_mm;
  std::map<std::string, double> block_skim_mm;
  std::map<std::string, double> gasket_change_mm;
  std::map<std::string, RenewedSpec> renewed;
  std::map<std::string, int> teeth_out;  ///< + advanced
  std::map<std::string, double>
      adjusted_deg;                       ///< shaft turned in its adjustable pulley, + advanced
  std::optional<double> stretch_percent;  ///< by which the belt's teeth lie further apart
  bool length_by_standard = false;        ///< the belt may be off by all that its standard allows
  std::optional<WarmSpec> warm;           ///< changes nothing of the cold drive

  bool operator==(const BuildSpec&) const = default;
};

}  // namespace twoturn
