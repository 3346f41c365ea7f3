#include <fmt/format.h>
#include <algorithm>

#include "check_parts.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/cautions.hpp"

namespace twoturn {

namespace {

// A drive with a head on it is an engine's; without one it may be any machine's.
bool is_engine(const DriveSpec& spec) { return !spec.heads.empty(); }

bool has_tensioner(const DriveSpec& spec) {
  return std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                     [](const PulleySpec& pulley) { return pulley.tensioner.has_value(); });
}

bool has_pins(const DriveSpec& spec) {
  const auto pinned = [](const auto& shaft) { return shaft.pin.has_value(); };
  return std::any_of(spec.pulleys.begin(), spec.pulleys.end(), pinned) ||
         std::any_of(spec.geared.begin(), spec.geared.end(), pinned);
}

std::string running_direction(const DriveSpec& spec) {
  if (!spec.crank_turns) return "";
  return fmt::format(" ({}, seen from the belt end)", word(*spec.crank_turns));
}

}  // namespace

std::vector<std::string> cautions_for(const DriveSpec& spec) {
  std::vector<std::string> cautions;
  cautions.push_back(
      "The maker's manual, local rules and a qualified mechanic come before this sheet.");
  if (is_engine(spec)) {
    cautions.push_back(
        "Battery off. A vehicle: in neutral, handbrake on, wheels chocked, on stands. Support "
        "the engine while a mount is off.");
    cautions.push_back("Spark or glow plugs out before turning by hand, their holes covered.");
  } else {
    cautions.push_back("Switch the machine off and make sure that nobody can switch it on.");
  }
  cautions.push_back(
      fmt::format("Turn by hand at the crank only, in its running direction{}. If you overshoot, "
                  "turn well back and come forwards again. Never turn by a cam bolt.",
                  running_direction(spec)));
  cautions.push_back(
      "Never use the starter until two turns by hand are clean. At any solid stop: stop, back "
      "off, find out.");
  if (spec.engine.interference != false) {
    cautions.push_back(
        "With the belt off keep every shaft still, unless the crank is parked clear of the "
        "valves, at the place that the manual gives.");
  }
  cautions.push_back("Cams can snap round on their springs: keep your fingers clear.");
  if (has_pins(spec)) {
    cautions.push_back(
        "Pins and bars are for position, never for holding against a bolt. Count them as they "
        "come out, and close every access hole they used.");
  }
  if (has_tensioner(spec)) cautions.push_back("Set the tension on a cold engine.");
  cautions.push_back(
      "The belt is never kinked, levered or oiled. Its arrow points the way it runs. A belt that "
      "has run is not refitted.");
  return cautions;
}

bool may_be_engine(const DriveSpec& spec) {
  const bool has_cam =
      std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                  [](const PulleySpec& pulley) { return pulley.role == Role::camshaft; });
  return is_engine(spec) || (has_cam && spec.engine.interference != false);
}

std::vector<std::string> sheet_cautions(const DriveSpec& spec) {
  const bool engine = may_be_engine(spec);
  std::vector<std::string> cautions{
      "The maker's manual, local rules and a qualified mechanic come before this sheet. It proves "
      "a "
      "drive on paper; it does not say that anything may be started."};
  const auto add = [&cautions](const char* text) { cautions.emplace_back(text); };
  if (engine && spec.engine.interference == true) add("Valves can hit pistons on this engine.");
  if (engine && !spec.engine.interference) {
    add("Not known whether valves hit pistons: treat it as if they do.");
  }
  if (spec.engine.interference != false) add("Belt off: shafts still, unless parked.");
  add("Backwards is allowed only with the belt off, before it is tensioned, or well back after an "
      "overshoot.");
  add("Cams can snap round on their springs, a sprung tensioner too: fingers.");
  if (engine) add("Engine supported while a mount is off.");
  if (engine) add("Oil in a blind bolt hole cracks a block.");
  add("A belt that has run is not refitted.");
  return cautions;
}

}  // namespace twoturn
