// Two pulleys, one above the other, and a head between them.
#pragma once

#include <string>

#include "twoturn/fault/lineup.hpp"
#include "twoturn/read/profile.hpp"

namespace two_pulleys {

struct Sizes {
  double pitch_mm;
  int crank;
  int cam;
  double centre_mm;
  int belt;
};

inline std::string text_of(const Sizes& sizes) {
  const auto number = [](auto value) { return std::to_string(value); };
  return "title = \"Two pulleys\"\ncrank_turns = \"clockwise\"\n"
         "[belt]\npitch_mm = " +
         number(sizes.pitch_mm) + "\nteeth = " + number(sizes.belt) +
         "\n[[head]]\nname = \"head\"\ndeck_deg = 0\ndeck_from_crank_mm = 200\n"
         "[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = " +
         number(sizes.crank) +
         "\nat_mm = [0, 0]\nmark_deg = 0\npin = { radius_mm = 60, play_mm = 0.1 }\n"
         "[[pulley.mark]]\nname = \"damper\"\nat_deg = 50\nradius_mm = 80\n"
         "[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = " +
         number(sizes.cam) + "\nat_mm = [0, " + number(sizes.centre_mm) +
         "]\nmount = \"head\"\nfixing = \"keyed\"\nmark_deg = 0\n"
         "pin = { radius_mm = 40, play_mm = 0.15 }\n"
         "[[pulley.mark]]\nname = \"notch\"\nat_deg = 120\nradius_mm = 50\n";
}

inline twoturn::DriveSpec spec_of(const std::string& text) {
  twoturn::ProfileText profile;
  profile.name = "two-pulleys.toml";
  profile.text = text;
  return twoturn::read_profile(profile);
}

}  // namespace two_pulleys
