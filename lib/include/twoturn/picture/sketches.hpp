#pragma once

#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"
#include "twoturn/picture/scene.hpp"

namespace twoturn {

/// What is measured where, on an engine that is nobody's.
struct MeasuringSketch {
  std::vector<std::string> keys;  ///< of the profile, without names: "pulley.pin.play_mm"
  scene::Scene scene;             ///< its title says what it shows
};

/// One or more for every key that a starter asks for, but for what is only read off. All are of one
/// size, with their words in them.
std::vector<MeasuringSketch> measuring_sketches();

/// The centres of an example as they lie, lettered, with a line for each distance to be measured
/// and a blank to write it in; empty where there are no two.
std::optional<scene::Scene> distances_sketch(const DriveSpec& example);

}  // namespace twoturn
