#include "twoturn/drive/known.hpp"

#include <algorithm>
#include <array>

namespace twoturn {
namespace {

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

// "pulley.cam.at_mm" of "pulley.cam.at_mm[0]".
std::string_view without_place(std::string_view key) {
  return ends_with(key, "]") ? key.substr(0, key.rfind('[')) : key;
}

// Common practice, in the unit of the key.
constexpr double kCalliperMm = 0.1;
constexpr double kShaftToShaftMm = 0.5;
constexpr double kTapeMm = 1.0;
constexpr double kEyeDeg = 3.0;
constexpr double kScaleG = 2.0;
constexpr double kRatio = 0.01;  // of two arms of some 25 mm, each to a calliper's 0.1

// How an engine is laid out is counted, not measured.
constexpr std::array<std::string_view, 2> kLayout{"crank_pins_deg", "bores_deg"};

constexpr std::string_view kLimits = "limits.";
constexpr std::array<std::string_view, 5> kPlaces{"at_mm", "pivot_mm", "near_mm", "points_mm",
                                                  "distance_mm"};

}  // namespace

GiveOrTake usual_give_or_take(std::string_view key) {
  if (key.substr(0, kLimits.size()) == kLimits) return {};  // chosen, not measured
  key = without_place(key);
  const auto is = [key](std::string_view end) { return ends_with(key, end); };
  if (is("rough_centre_mm") || is("deck_from_crank_mm")) return {kTapeMm, TakenWith::tape};
  if (std::any_of(kPlaces.begin(), kPlaces.end(), is)) {
    return {kShaftToShaftMm, TakenWith::shaft_to_shaft};
  }
  if (is("_n_mm") || is("_per_mm")) return {0.0, TakenWith::counted};  // N/mm, no length
  if (is("_g")) return {kScaleG, TakenWith::scale};
  if (is("_mm") || key.find("_mm.") != std::string_view::npos) {
    return {kCalliperMm, TakenWith::calliper};
  }
  if (std::any_of(kLayout.begin(), kLayout.end(), is)) return {0.0, TakenWith::counted};
  if (is("rocker_ratio")) return {kRatio, TakenWith::calliper};
  if (is("_deg")) return {kEyeDeg, TakenWith::eye};
  return {0.0, TakenWith::counted};
}

GiveOrTake give_or_take(const GivenValue& given) {
  if (!given.give_or_take) {
    if (given.origin == Origin::manual) return {0.0, TakenWith::book};
    if (given.origin == Origin::assumed) return {0.0, TakenWith::nothing};
  }
  const GiveOrTake known = usual_give_or_take(given.key);
  return given.give_or_take ? GiveOrTake{*given.give_or_take, known.with, true} : known;
}

const GivenValue* find_given(const DriveSpec& spec, std::string_view key) {
  const auto found = std::find_if(spec.given.begin(), spec.given.end(),
                                  [key](const GivenValue& given) { return given.key == key; });
  return found == spec.given.end() ? nullptr : &*found;
}

std::string_view word(TakenWith with) {
  switch (with) {
    case TakenWith::counted:
      return "counted";
    case TakenWith::book:
      return "from the manual";
    case TakenWith::calliper:
      return "calliper";
    case TakenWith::shaft_to_shaft:
      return "rule";
    case TakenWith::tape:
      return "tape";
    case TakenWith::eye:
      return "by eye";
    case TakenWith::scale:
      return "kitchen scale";
    case TakenWith::nothing:
      return "";
  }
  return "";
}

}  // namespace twoturn
