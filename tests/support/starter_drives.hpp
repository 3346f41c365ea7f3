// What starters are made for.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "twoturn/study/starter_drive.hpp"

namespace twoturn::starters {

// Every number of cams, tensioner and idlers, with nothing more and with all that goes with it.
inline std::vector<StarterDrive> drives() {
  using Kind = StarterDrive::Tensioner;
  std::vector<StarterDrive> all;
  for (const auto& [cams, heads] : {std::pair(1, 1), {2, 1}, {2, 2}, {4, 2}}) {
    for (const Kind tensioner : {Kind::eccentric, Kind::slide, Kind::none}) {
      for (const int idlers : {0, 1, 2}) {
        all.push_back({cams, heads, tensioner, idlers});
        all.push_back({cams, heads, tensioner, idlers, true, heads == 1, true});
        all.push_back({cams, heads, tensioner, idlers, true, heads == 1, true, true});
      }
    }
  }
  return all;
}

inline std::string described(const StarterDrive& drive) {
  return "cams " + std::to_string(drive.cams) + ", heads " + std::to_string(drive.heads) +
         ", tensioner " + std::to_string(static_cast<int>(drive.tensioner)) + ", idlers " +
         std::to_string(drive.idlers) + (drive.water_pump ? ", with all" : "");
}

}  // namespace twoturn::starters
