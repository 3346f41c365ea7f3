#pragma once

#include <string>
#include <vector>

namespace twoturn {

/// Something that could not be answered, and the one measurement that would supply it.
struct Missing {
  std::string answer;   ///< what stays open, in words: "the belt's route and length"
  std::string key;      ///< the profile key that would supply it: "pulley.cam.at_mm"
  std::string measure;  ///< how to get it: "measure the cam's centre from the crank's ..."

  bool operator==(const Missing&) const = default;
};

}  // namespace twoturn
