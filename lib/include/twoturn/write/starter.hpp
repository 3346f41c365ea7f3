#pragma once

#include <cstddef>
#include <string>

namespace twoturn {

/// What a drive is made of, as far as it decides which numbers a profile of it needs.
struct StarterDrive {
  enum class Tensioner { eccentric, slide, none };

  int cams = 1;   ///< 1 or 2 on one head; 2 or 4 on two
  int heads = 1;  ///< 1 or 2
  Tensioner tensioner = Tensioner::eccentric;
  int idlers = 0;  ///< smooth rollers on the belt's back, 0 to 2
  bool water_pump = false;
  bool injection_pump = false;  ///< with one head
  bool balance_shaft = false;   ///< driven off the crank by gears

  bool operator==(const StarterDrive&) const = default;
};

/// Why no starter can be written for a drive, in words; empty where one can.
std::string no_starter_for(const StarterDrive& drive);

/// A commented profile that asks only what such a drive needs, with the numbers of an invented
/// example. The example is a drive that a belt can take; each of its numbers stands under [example]
/// as well, so that the reader knows the ones that nobody has touched. Precondition:
/// `no_starter_for` is empty.
std::string starter_profile(const StarterDrive& drive);

/// The same questions, with the same numbers, as a sheet of plain text to fill in at the engine.
std::string starter_paper(const StarterDrive& drive);

/// What was written, and where to; `path` is empty where the text itself is the result.
struct StarterResult {
  StarterDrive drive;
  bool paper = false;
  std::string path;
  std::string text;
};
std::string starter_document(const StarterResult& result);

}  // namespace twoturn
