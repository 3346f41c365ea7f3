#include <fmt/format.h>

#include <algorithm>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

// Two lines of a profile that cannot both be so: which of them is wrong is for whoever can look.
namespace twoturn {
namespace {

// An inlet valve opens less before top than it closes after bottom, an exhaust valve the other way
// round: common practice. Counted by the wrong side, they show it.
void swapped_sides(const DriveSpec& spec, std::vector<Finding>& findings) {
  for (const ValveSpec& valve : spec.valves) {
    if (!valve.side) continue;
    const bool inlet = *valve.side == ValveSide::inlet;
    const auto& early = inlet ? valve.opens_deg : valve.closes_deg;  // before or after top
    const auto& late = inlet ? valve.closes_deg : valve.opens_deg;   // after or before bottom
    constexpr double kMiddleDeg = 90.0;
    const bool by_ends = early && late && *early > *late;
    const bool by_centre = valve.lobe_centre_deg && *valve.lobe_centre_deg < kMiddleDeg;
    if (!by_ends && !by_centre) continue;
    Finding finding{Level::look, "valve-events", valve.name, ""};
    finding.text = fmt::format(
        "{} is fully open less than 90 crank deg from top dead centre: {} valve stands nearer to "
        "bottom (common practice). Are inlet and exhaust swapped, or opening and closing?",
        capital(the(sentences::valve(valve.name))), inlet ? "an inlet" : "an exhaust");
    finding.brief =
        fmt::format("{} opens as the other side does", the(sentences::valve(valve.name)));
    finding.action = "check which side it is, and its opening and closing";
    findings.push_back(finding);
  }
}

// A key's radius is the keyed pulley's, slots are the adjustable one's.
void fixing_against_its_sizes(const DriveSpec& spec, std::vector<Finding>& findings) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (!pulley.fixing) continue;
    const bool key = pulley.key_radius_mm && *pulley.fixing != Fixing::keyed;
    const bool slots = pulley.range_deg && *pulley.fixing != Fixing::adjustable;
    if (!key && !slots) continue;
    Finding finding{Level::look, "fixing-contradicted", pulley.name, ""};
    finding.text = fmt::format(
        "{} is said to be {}, and has {}. Which it is decides what puts it right and what a skim "
        "does to it: check fixing and {}.",
        capital(the(pulley.name)), word(*pulley.fixing),
        key ? "a key's radius" : "slots that let it turn", key ? "key_radius_mm" : "range_deg");
    finding.brief = fmt::format("{} is said to be {}, and has {}", the(pulley.name),
                                word(*pulley.fixing), key ? "a key" : "slots");
    finding.action = "see how it is fixed (fixing)";
    findings.push_back(finding);
  }
}

// Whether a shaft, or one geared off it, opens a valve.
bool opens_valves(const DriveSpec& spec, const std::string& shaft) {
  const auto on = [&](const ValveSpec& valve) { return valve.cam == shaft; };
  if (std::any_of(spec.valves.begin(), spec.valves.end(), on)) return true;
  return std::any_of(spec.geared.begin(), spec.geared.end(), [&](const GearedSpec& geared) {
    return geared.from == shaft && opens_valves(spec, geared.name);
  });
}

// With valves of both sides given, each with its cam, no camshaft is left without.
void idle_camshafts(const DriveSpec& spec, std::vector<Finding>& findings) {
  const auto given = [&](ValveSide side) {
    return std::any_of(spec.valves.begin(), spec.valves.end(),
                       [side](const ValveSpec& valve) { return valve.side == side; });
  };
  const bool each_has_cam = std::all_of(spec.valves.begin(), spec.valves.end(),
                                        [](const ValveSpec& valve) { return !!valve.cam; });
  if (!given(ValveSide::inlet) || !given(ValveSide::exhaust) || !each_has_cam) return;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.role != Role::camshaft || opens_valves(spec, pulley.name)) continue;
    Finding finding{Level::look, "idle-camshaft", pulley.name, ""};
    finding.text = fmt::format(
        "{} is a camshaft, and none of the valves given is said to be on it: those it opens were "
        "not judged against the pistons, or another's cam is named. Check each valve's cam.",
        capital(the(pulley.name)));
    finding.brief = fmt::format("no valve is said to be on {}", the(pulley.name));
    finding.action = "check each valve's cam";
    findings.push_back(finding);
  }
}

// Valves on two camshafts, all of them inlet or all exhaust.
void one_sided(const DriveSpec& spec, std::vector<Finding>& findings) {
  const ValveSpec* first = spec.valves.empty() ? nullptr : &spec.valves.front();
  const auto other_side = [&](const ValveSpec& valve) { return valve.side != first->side; };
  const auto other_cam = [&](const ValveSpec& valve) { return valve.cam != first->cam; };
  if (first == nullptr || !first->side ||
      std::any_of(spec.valves.begin(), spec.valves.end(), other_side)) {
    return;
  }
  const auto other = std::find_if(spec.valves.begin(), spec.valves.end(), other_cam);
  if (other == spec.valves.end()) return;
  const char* side = *first->side == ValveSide::inlet ? "inlet" : "exhaust";
  Finding finding{Level::look, "one-sided", other->name, ""};
  finding.text = fmt::format(
      "{} and {} are on two cams, and both are said to be {} valves. Is one of them the other "
      "side? Its timing is counted the other way.",
      capital(the(sentences::valve(first->name))), the(sentences::valve(other->name)), side);
  finding.brief = fmt::format("all valves are said to be {} valves", side);
  finding.action = "check which side each valve is (side)";
  findings.push_back(finding);
}

}  // namespace

void find_contradictions(const DriveSpec& spec, std::vector<Finding>& findings) {
  fixing_against_its_sizes(spec, findings);
  swapped_sides(spec, findings);
  idle_camshafts(spec, findings);
  one_sided(spec, findings);
}

}  // namespace twoturn
