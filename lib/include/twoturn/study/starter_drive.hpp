#pragma once

#include <string>

#include "twoturn/drive/spec.hpp"

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
  bool calliper = false;        ///< distances between centres in place of coordinates

  bool operator==(const StarterDrive&) const = default;
};

/// The drive asked for, and an invented one of that make: complete, its belt fits, its tensioner
/// stands well.
struct StarterAnswer {
  StarterDrive drive;
  DriveSpec example;
};

/// Why no starter can be written for a drive, in words; empty where one can.
std::string no_starter_for(const StarterDrive& drive);

}  // namespace twoturn
