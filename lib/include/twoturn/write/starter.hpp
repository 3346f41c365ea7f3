#pragma once

#include <string>
#include <vector>

#include "twoturn/study/starter_drive.hpp"

namespace twoturn {

/// A commented profile that asks only what such a drive needs, with the numbers of an invented
/// example. The example is a drive that a belt can take; each of its numbers stands under [example]
/// as well, so that the reader knows the ones that nobody has touched. Precondition:
/// `no_starter_for` is empty.
std::string starter_profile(const StarterAnswer& starter);

/// The same questions, with the same numbers, as a sheet of plain text to fill in at the engine.
std::string starter_paper(const StarterAnswer& starter);

/// A picture of what some of the profile's keys measure; keys without names: "pulley.at_mm".
struct StarterSketch {
  std::string title;
  std::vector<std::string> keys;
  std::string svg;
};

/// What was written, and where to; `path` is empty where the text itself is the result.
struct StarterResult {
  StarterDrive drive;
  bool paper = false;
  std::string path;
  std::string text;
  std::vector<StarterSketch> sketches;  ///< of all that any starter asks
};
std::string starter_document(const StarterResult& result);

}  // namespace twoturn
