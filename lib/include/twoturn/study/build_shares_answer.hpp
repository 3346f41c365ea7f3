#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/reading.hpp"

namespace twoturn {

/// What one part of [build] makes of the drive, alone: all else by the book.
struct BuildShare {
  std::string key;                        ///< "build.skim_mm.head"; empty: all of them together
  std::string said;                       ///< "head skimmed 0.3 mm"
  bool told = false;                      ///< alone it leaves a drive that can be put together
  std::optional<double> setting_moved{};  ///< of the tensioner from the book, in its own unit
  std::vector<double> error_crank_deg{};  ///< after two turns, one a timed shaft but the crank
  /// How far off that may be, 95 times in 100, by the give-or-take of this number; 0: exact.
  std::vector<double> give_or_take_crank_deg{};
};

/// Differences from the book: they are known far better than any length is.
struct BuildShares {
  std::vector<std::string> shafts;
  std::optional<TensionerKind> kind;
  std::vector<BuildShare> parts;
  std::optional<BuildShare> together;  ///< where there is more than one part
};

}  // namespace twoturn
