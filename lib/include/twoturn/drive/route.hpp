#pragma once

#include <optional>

#include "twoturn/drive/fitted.hpp"
#include "twoturn/drive/route_answer.hpp"

namespace twoturn {

/// The route at a setting: `reading` asked for (clock deg or mm), else the maker's marks, else the
/// one setting before over centre that gives the belt's length, else mid-travel.
[[nodiscard]] RouteAnswer route_of(const Fitted& fitted, std::optional<double> reading = {});

/// The same without a look along the travel: `least_in_travel_mm` stays empty. For a drive that is
/// only compared with.
[[nodiscard]] RouteAnswer route_at_setting(const Fitted& fitted,
                                           std::optional<double> reading = {});

/// The sentence for a refusal, with names and numbers.
NamedRefusal describe_refusal(const Drive& drive, const Refusal& refusal);

/// The setting `route_of` would choose, and why.
struct ChosenSetting {
  double q = 0.0;
  SettingChoice choice = SettingChoice::fixed_centres;
};
ChosenSetting choose_setting(const Drive& drive, const TensionerCurve* curve);

}  // namespace twoturn
