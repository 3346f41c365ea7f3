#include "cure.hpp"

#include <fmt/format.h>

#include <cmath>

#include "sentences.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::sentences {
namespace {

const Shaft& shaft_at(const TurnsAnswer& turns, int index) {
  return turns.assembly.shafts[static_cast<std::size_t>(index)];
}

std::string_view turning(int sense) { return sense > 0 ? "anticlockwise" : "clockwise"; }

std::string_view on_or_back(double by) { return by > 0.0 ? "on" : "back"; }

std::string_view on_or_back_turning(const Shaft& shaft, double by) {
  return turning(by > 0.0 ? shaft.sense : -shaft.sense);
}

// It is told in both, so it must show in both.
bool has_rest(const Cure& cure) {
  return !prints_as_nothing(cure.rest_own_deg, 2) && !prints_as_nothing(cure.rest_crank_deg, 2);
}

bool geared(const Cure& cure) { return cure.moved != cure.shaft; }

std::string turned_in_pulley(const TurnsAnswer& turns, const Cure& cure) {
  const Shaft& moved = shaft_at(turns, cure.moved);
  return fmt::format("turn {} {} {} {} in its adjustable pulley",
                     geared(cure) ? the(moved.name) : "it", degrees(cure.rest_moved_deg),
                     own_deg(moved.role, moved.name), on_or_back(cure.rest_moved_deg));
}

// Empty where the key's radius is not known, or its offset would print as nothing.
std::string offset_key(const Cure& cure) {
  if (!cure.key_offset_mm || prints_as_nothing(*cure.key_offset_mm, 2)) return "";
  return fmt::format("an offset key of {} mm", fixed(std::abs(*cure.key_offset_mm), 2));
}

std::string key_would(const TurnsAnswer& turns, const Cure& cure) {
  const std::string key = offset_key(cure);
  if (key.empty()) return "";
  const Shaft& moved = shaft_at(turns, cure.moved);
  return fmt::format("{} at {} mm radius would, turning {} {} ({})", key,
                     shortest(*moved.key_radius_mm, 2),
                     geared(cure) ? the(moved.name) : "the shaft", on_or_back(cure.rest_moved_deg),
                     on_or_back_turning(moved, cure.rest_moved_deg));
}

std::string what_would(const TurnsAnswer& turns, const Cure& cure) {
  const std::string key = key_would(turns, cure);
  if (slots_reach(cure)) {
    if (geared(cure)) return turned_in_pulley(turns, cure);
    return fmt::format("turn the shaft that much {} in its adjustable pulley",
                       on_or_back(cure.rest_own_deg));
  }
  std::string text;
  if (cure.slots_short_deg) {
    text = fmt::format("the pulley's slots run out {} deg short of it",
                       degrees(*cure.slots_short_deg));
    return key.empty() ? text : text + "; " + key;
  }
  if (!key.empty()) return key;
  return cure.key_offset_mm ? "it is too little for an offset key"
                            : "only an adjustable pulley or an offset key would";
}

}  // namespace

std::string move(const TurnsAnswer& turns, const Cure& cure) {
  if (cure.teeth_on == 0) return "";
  const Shaft& crank = turns.assembly.crank();
  if (turns.crank_once_round) {
    return fmt::format("turn {} once round ({}) with the belt off and every other shaft at its pin",
                       the(crank.name), on_or_back_turning(crank, 1.0));
  }
  const int teeth = turns.cure_at_crank.value_or(cure.teeth_on);
  const Shaft& moved = turns.cure_at_crank ? crank : shaft_at(turns, cure.moved);
  const std::string driver =
      geared(cure) && !turns.cure_at_crank
          ? fmt::format(", off which {} is geared,", the(shaft_at(turns, cure.shaft).name))
          : "";
  const std::string far = counted(std::abs(teeth), "tooth", "teeth");
  return fmt::format(
      "turn {}{} {} {} ({}) with the belt off its pulley", the(moved.name), driver,
      2 * std::abs(teeth) == moved.teeth ? fmt::format("half a turn, {},", far) : far,
      on_or_back(teeth), on_or_back_turning(moved, teeth));
}

bool slots_reach(const Cure& cure) {
  return cure.slots_short_deg && prints_as_nothing(*cure.slots_short_deg, 2);
}

bool at_crank(const TurnsAnswer& turns) {
  return turns.cure_at_crank.has_value() || turns.crank_once_round;
}

std::string rest(const TurnsAnswer& turns, const Cure& cure) {
  if (!has_rest(cure)) return "";
  const Shaft& shaft = shaft_at(turns, cure.shaft);
  return fmt::format("no whole tooth takes out {} {} ({} crank deg); {}",
                     degrees(cure.rest_own_deg), own_deg(shaft.role, shaft.name),
                     degrees(cure.rest_crank_deg), what_would(turns, cure));
}

std::string cure_of(const TurnsAnswer& turns, const Cure& cure) {
  const std::string first = move(turns, cure);
  const std::string then = rest(turns, cure);
  if (first.empty() && then.empty()) return "";
  return fmt::format("{}: {}{}{}", the(shaft_at(turns, cure.shaft).name), first,
                     first.empty() || then.empty() ? "" : "; after that, ", then);
}

std::string cure(const TurnsAnswer& turns, const Cure& cure) {
  const std::string first = move(turns, cure);
  const std::string then = rest(turns, cure);
  if (first.empty()) return then.empty() ? "" : " As it stands, " + then + ".";
  std::string text = fmt::format(" To put it right, {}.", first);
  if (!then.empty()) text += " After that, " + then + ".";
  return text;
}

std::string cure_in_short(const TurnsAnswer& turns, const Cure& cure) {
  const std::string first = move(turns, cure);
  if (!first.empty()) return first;
  if (has_rest(cure) && slots_reach(cure)) return turned_in_pulley(turns, cure);
  const std::string key = has_rest(cure) ? offset_key(cure) : "";
  if (!key.empty()) return fmt::format("no whole tooth cures that; {} would", key);
  return "no whole tooth cures that; ask the engine's maker or an engine shop whether it may stay";
}

std::string loose_pulley(std::string_view shaft, double turned_on_shaft_deg) {
  if (prints_as_nothing(turned_on_shaft_deg, 2)) return "";
  return fmt::format(
      "the pulley of {} is loose while the belt is tensioned: it takes up {} deg on its shaft "
      "({}), "
      "and the shaft itself stays in phase",
      the(shaft), degrees(turned_on_shaft_deg), turned_on_shaft_deg > 0.0 ? "ahead" : "behind");
}

}  // namespace twoturn::sentences
