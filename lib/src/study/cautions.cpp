#include <fmt/format.h>
#include <algorithm>

#include "twoturn/drive/words.hpp"
#include "twoturn/study/check.hpp"

namespace twoturn {

std::vector<std::string> cautions_for(const DriveSpec& spec) {
  std::vector<std::string> cautions;
  cautions.push_back(
      "The engine maker's manual, local rules and a qualified mechanic come before this sheet.");
  cautions.push_back("Battery off. Car in neutral, handbrake on, wheels chocked, on stands.");
  cautions.push_back("Spark or glow plugs out before turning by hand, holes covered.");
  const std::string way =
      spec.crank_turns ? fmt::format(" ({}, seen from the belt end)", word(*spec.crank_turns)) : "";
  cautions.push_back(fmt::format(
      "Turn at the crank only, in its running direction{}; overshot means well back, then forwards "
      "again. Never turn by a cam bolt.",
      way));
  cautions.push_back(
      "Never on the starter until two turns by hand are clean. Any solid stop: stop, back off, "
      "find "
      "out.");
  if (spec.engine.interference != false) {
    cautions.push_back(
        "With the belt off keep the shafts still, unless the crank is parked clear of the valves. "
        "Cams "
        "can snap round on their springs: fingers.");
  } else {
    cautions.push_back("Cams can snap round on their springs: fingers.");
  }
  const auto has_pin = [](const auto& shaft) { return shaft.pin.has_value(); };
  if (std::any_of(spec.pulleys.begin(), spec.pulleys.end(), has_pin) ||
      std::any_of(spec.geared.begin(), spec.geared.end(), has_pin)) {
    cautions.push_back(
        "Pins and bars are for position, never for holding against a bolt. Count them out, and "
        "close "
        "every access hole they used.");
  }
  cautions.push_back(
      "Tension on a cold engine. Belt never kinked, levered or oiled; arrow with the rotation; a "
      "used "
      "one is not refitted.");
  return cautions;
}

}  // namespace twoturn
