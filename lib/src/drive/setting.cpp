#include "twoturn/drive/setting.hpp"

#include <algorithm>

namespace twoturn {

bool FittingCount::fits() const {
  return std::any_of(settings.begin(), settings.end(),
                     [](const Setting& setting) { return setting.in_travel; });
}

const Setting* meant_setting(const std::vector<Setting>& settings, const Tensioner& tensioner) {
  const Setting* best = nullptr;
  const auto better = [&](const Setting& setting) {
    if (!best) return true;
    if (!tensioner.set_q) {
      return setting.over_centre == OverCentre::before && best->over_centre != OverCentre::before;
    }
    return tensioner.path.apart(setting.q, *tensioner.set_q) <
           tensioner.path.apart(best->q, *tensioner.set_q);
  };
  for (const Setting& setting : settings) {
    if (setting.in_travel && better(setting)) best = &setting;
  }
  return best;
}

}  // namespace twoturn
