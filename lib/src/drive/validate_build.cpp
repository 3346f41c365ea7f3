#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

// No head, block or gasket that is still of use differs by more.
constexpr double kMostMetalMm = 5.0;

const PulleySpec* find_pulley(const DriveSpec& spec, const std::string& name) {
  const auto found = std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                                  [&](const PulleySpec& pulley) { return pulley.name == name; });
  return found == spec.pulleys.end() ? nullptr : &*found;
}

std::string quoted(const std::string& name) { return fmt::format("\"{}\"", name); }

void judge_metal(Judge& judge, std::string_view key, const std::map<std::string, double>& metal) {
  const std::vector<std::string> heads = head_names(judge.spec);
  for (const auto& [name, value] : metal) {
    const std::string path = fmt::format("build.{}.{}", key, name);
    if (std::find(heads.begin(), heads.end(), name) == heads.end()) {
      judge.add(path, shown(value, "mm"),
                heads.empty()
                    ? fmt::format("no [[head]] is named {}; say which head it is", quoted(name))
                    : fmt::format("no [[head]] is named {}", quoted(name)),
                nearest_word(name, heads));
      continue;
    }
    if (!std::isfinite(value)) {
      judge.add(path, shown(value, "mm"), "must be a finite number");
    } else if (std::abs(value) > kMostMetalMm) {
      judge.add(path, shown(value, "mm"),
                "must be from -5 to 5 mm; hundredths of a mm, or thou taken for mm?");
    }
  }
}

// The pulley of that name, or a problem.
const PulleySpec* named(Judge& judge, const std::string& path, const std::string& name,
                        const std::string& value) {
  const PulleySpec* pulley = find_pulley(judge.spec, name);
  // A pulley without a name, or no pulley at all, has its own problem.
  if (pulley == nullptr && !judge.spec.pulleys.empty() && find_pulley(judge.spec, "") == nullptr) {
    judge.add(path, value, fmt::format("no [[pulley]] is named {}", quoted(name)),
              nearest_word(name, pulley_names(judge.spec)));
  }
  return pulley;
}

void judge_renewed(Judge& judge) {
  for (const auto& [name, part] : judge.spec.build.renewed) {
    const std::string path = fmt::format("build.renewed.{}", name);
    const PulleySpec* pulley = named(judge, path, name, "");
    judge.count({path, ".teeth"}, part.teeth, 3, 1000);
    judge.length({path, ".diameter_mm"}, part.diameter_mm);
    judge.position({path, ".at_mm"}, part.at_mm);
    if (part == RenewedSpec{}) {
      judge.add(path, "", "says nothing; give the new part's teeth, diameter_mm or at_mm");
    }
    if (pulley == nullptr) continue;
    if (part.teeth && pulley->diameter_mm && !pulley->teeth) {
      judge.add(path + ".teeth", std::to_string(*part.teeth),
                fmt::format("{} is a smooth pulley; give the new diameter_mm", name));
    }
    if (part.diameter_mm && pulley->teeth) {
      judge.add(path + ".diameter_mm", shown(*part.diameter_mm, "mm"),
                fmt::format("{} has teeth; give the new number of teeth", name));
    }
    if (part.at_mm && pulley->tensioner) {
      judge.add(path + ".at_mm", shown(*part.at_mm), "a tensioner has no one place");
    }
  }
}

void judge_teeth_out(Judge& judge) {
  for (const auto& [name, teeth] : judge.spec.build.teeth_out) {
    const std::string path = fmt::format("build.teeth_out.{}", name);
    const std::string value = fmt::format("{}", teeth);
    const PulleySpec* pulley = named(judge, path, name, value);
    if (pulley == nullptr) continue;
    if (pulley->fixing == Fixing::free_until_tightened) {
      judge.add(path, value,
                fmt::format("{} is free until tightened: it takes its place when it is tightened, "
                            "so it cannot be teeth out",
                            name));
    } else {
      judge_teeth_of(judge, path, value, *pulley, teeth);
    }
  }
}

void judge_adjusted(Judge& judge) {
  for (const auto& [name, degrees] : judge.spec.build.adjusted_deg) {
    const std::string path = fmt::format("build.adjusted_deg.{}", name);
    const std::string value = shown(degrees, "deg");
    const PulleySpec* pulley = named(judge, path, name, value);
    if (!std::isfinite(degrees)) {
      judge.add(path, value, "must be a finite number");
    } else if (pulley == nullptr) {
      continue;
    } else if (pulley->fixing != Fixing::adjustable) {
      judge.add(path, value,
                fmt::format("{} cannot be adjusted unless it has fixing = \"adjustable\"", name));
    } else if (std::abs(degrees) > pulley->range_deg.value_or(180.0)) {
      judge.add(path, value,
                fmt::format("must be within its range, {} each way",
                            shown(pulley->range_deg.value_or(180.0), "deg")));
    }
  }
}

void judge_warm(Judge& judge, const WarmSpec& warm) {
  // From a winter's night to what oil stands; from belts that shrink to plastics.
  constexpr Range kTemperature{-60.0, 200.0, "C"};
  constexpr Range kExpansion{-20.0, 200.0, "1e-6 a degree"};
  judge.range("build.warm.cold_c", warm.cold_c, kTemperature);
  judge.range("build.warm.block_c", warm.block_c, kTemperature);
  judge.range("build.warm.head_c", warm.head_c, kTemperature);
  judge.range("build.warm.belt_c", warm.belt_c, kTemperature);
  judge.range("build.warm.block_ppm_per_c", warm.block_ppm_per_c, kExpansion);
  judge.range("build.warm.head_ppm_per_c", warm.head_ppm_per_c, kExpansion);
  judge.range("build.warm.belt_ppm_per_c", warm.belt_ppm_per_c, kExpansion);
  if (warm == WarmSpec{})
    judge.add("build.warm", "", "says nothing; give what is known, or leave it out");
}

}  // namespace

void judge_teeth_of(Judge& judge, const std::string& path, const std::string& value,
                    const PulleySpec& pulley, double teeth) {
  if (!pulley.teeth && pulley.diameter_mm) {
    judge.add(path, value,
              fmt::format("{} is a smooth pulley, without teeth to be out", pulley.name));
  } else if (pulley.teeth && *pulley.teeth > 0 && std::abs(teeth) >= *pulley.teeth) {
    judge.add(
        path, value,
        fmt::format("must be less than a whole turn of {}, {} teeth", pulley.name, *pulley.teeth));
  }
}

void judge_build(Judge& judge) {
  const BuildSpec& build = judge.spec.build;
  judge_metal(judge, "skim_mm", build.skim_mm);
  judge_metal(judge, "block_skim_mm", build.block_skim_mm);
  judge_metal(judge, "gasket_change_mm", build.gasket_change_mm);
  judge_renewed(judge);
  judge_teeth_out(judge);
  judge_adjusted(judge);
  // No belt that holds its teeth is longer or shorter by more.
  judge.range("build.stretch_percent", build.stretch_percent, {-1.0, 1.0, "%"});
  if (build.warm) judge_warm(judge, *build.warm);
}

}  // namespace twoturn::validation
