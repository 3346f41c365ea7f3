// The demo profiles, read as the command reads them.
#pragma once

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

#include "twoturn/read/profile.hpp"

namespace demos {

inline const std::vector<std::string>& names() {
  static const std::vector<std::string> all{
      "cam-bench",       "harbour-launch",   "hill-climb-saloon",
      "mill-generator",  "night-bakery-van", "orchard-sprayer",
      "roadside-counts", "valley-rescue-v6", "weir-keeper"};
  return all;
}

inline std::string file_text(const std::string& name) {
  std::ifstream file(std::string(TWOTURN_SOURCE_DIR "/profiles/") + name);
  if (!file) throw std::out_of_range("no demo is named " + name);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

inline std::string text_of(const std::string& name) { return file_text(name + ".toml"); }

inline twoturn::DriveSpec spec_of(const std::string& name,
                                  const std::vector<twoturn::Override>& overrides = {}) {
  twoturn::ProfileText profile;
  profile.name = name + ".toml";
  profile.text = text_of(name);
  profile.settings = overrides;
  profile.find_table = [](const std::string& table) {
    return twoturn::TableText{table, file_text(table), ""};
  };
  return twoturn::read_profile(profile);
}

}  // namespace demos
