#include <fmt/format.h>

#include <algorithm>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/limits.hpp"

namespace twoturn {
namespace {

constexpr std::string_view kLimitsLoosened = "limits-loosened";

void example_numbers(const DriveSpec& spec, std::vector<Finding>& findings) {
  std::string where;
  int count = 0;
  for (const GivenValue& given : spec.given) {
    if (given.origin != Origin::example) continue;
    ++count;
    where += fmt::format("{}{} (line {})", where.empty() ? "" : ", ", given.key, given.line);
  }
  if (count == 0) return;
  Finding finding{Level::look, "example-numbers", "profile", ""};
  finding.value = count;
  finding.unit = "numbers";
  finding.text =
      fmt::format("{} still the example's, not this engine's: {}. Measure each and put it in.",
                  count == 1 ? "1 number is" : fmt::format("{} numbers are", count), where);
  finding.brief = fmt::format("{} still the example's",
                              count == 1 ? "1 number is" : fmt::format("{} numbers are", count));
  finding.action = "measure them and put them in";
  findings.push_back(finding);
}

// The limits that let more pass than they would by themselves: "limits.near_mm 1 for 2".
std::vector<std::string> loosened_limits(const DriveSpec& spec) {
  enum class Looser { above, below };
  const LimitSpec& given = spec.limits;
  const Limits usual;
  std::vector<std::string> loose;
  const auto look = [&](const char* key, const std::optional<double>& value, double by_itself,
                        Looser looser) {
    if (!value || *value == by_itself) return;
    if ((looser == Looser::above) == (*value > by_itself)) {
      loose.push_back(
          fmt::format("limits.{} {} for {}", key, shortest(*value, 3), shortest(by_itself, 3)));
    }
  };
  look("phase_crank_deg", given.phase_crank_deg, usual.phase_crank_deg, Looser::above);
  look("stop_teeth", given.stop_teeth, usual.stop_teeth, Looser::above);
  look("pin_tight_mm", given.pin_tight_mm, usual.pin_tight_mm, Looser::above);
  look("travel_end", given.travel_end, usual.travel_end, Looser::below);
  look("adjustment_left_percent", given.adjustment_left_percent, usual.adjustment_left_percent,
       Looser::below);
  look("near_mm", given.near_mm, usual.near_mm, Looser::below);
  look("teeth_in_mesh", given.teeth_in_mesh, usual.teeth_in_mesh, Looser::below);
  look("inlet_room_mm", given.inlet_room_mm, usual.inlet_room_mm, Looser::below);
  look("exhaust_room_mm", given.exhaust_room_mm, usual.exhaust_room_mm, Looser::below);
  look("valve_to_valve_mm", given.valve_to_valve_mm, usual.valve_to_valve_mm, Looser::below);
  return loose;
}

void limits_loosened(const DriveSpec& spec, std::vector<Finding>& findings) {
  const std::vector<std::string> loose = loosened_limits(spec);
  if (loose.empty()) return;
  Finding finding{Level::note, std::string(kLimitsLoosened), "limits", ""};
  finding.value = static_cast<double>(loose.size());
  finding.unit = "limits";
  finding.text = fmt::format(
      "Judged by limits looser than the usual ones: {}. What passes by them might not pass "
      "otherwise.",
      fmt::join(loose, ", "));
  finding.brief = fmt::format("{}", fmt::join(loose, ", "));
  findings.push_back(finding);
}

}  // namespace

std::string judged_by_loosened(const std::vector<Finding>& findings) {
  const auto loosened = std::find_if(findings.begin(), findings.end(), [](const Finding& finding) {
    return finding.code == kLimitsLoosened;
  });
  return loosened == findings.end()
             ? ""
             : fmt::format("Judged by loosened limits ({}). ", loosened->brief);
}

void find_in_numbers(const DriveSpec& spec, std::vector<Finding>& findings) {
  limits_loosened(spec, findings);
  example_numbers(spec, findings);
}

}  // namespace twoturn
