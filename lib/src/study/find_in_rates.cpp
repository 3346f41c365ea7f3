#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/rates.hpp"
#include "words/sentences.hpp"

// What tooth counts alone tell of the rate at which each timed shaft turns.
namespace twoturn {
namespace {

// "20 teeth on the crank to 41 on the cam", and the gears after it.
std::string counts_words(const DriveSpec& spec, const std::string& shaft) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.name != shaft) continue;
    const auto is_crank = [](const PulleySpec& one) { return one.role == Role::crankshaft; };
    const auto crank = std::find_if(spec.pulleys.begin(), spec.pulleys.end(), is_crank);
    return fmt::format("{} teeth on the crank to {} on {}", *crank->teeth, *pulley.teeth,
                       the(pulley.name));
  }
  for (const GearedSpec& geared : spec.geared) {
    if (geared.name != shaft) continue;
    const std::string gears =
        geared.gear_teeth ? fmt::format("gears of {} to {} teeth", geared.gear_teeth->driving,
                                        geared.gear_teeth->own)
                          : fmt::format("gears of ratio {}", fmt::format("{}", *geared.ratio));
    return fmt::format("{}, and {} from there", counts_words(spec, geared.from), gears);
  }
  return "";
}

void wrong_ratio(const DriveSpec& spec, const std::string& shaft, double must,
                 std::string_view counted, std::vector<Finding>& findings) {
  const std::optional<double> made = turns_made(spec, shaft);
  if (!made || same_rate(*made, must)) return;
  const double gained = (*made / must - 1.0) * kTwoTurnsDeg;
  const Direction direction = spec.crank_turns ? Direction::given : Direction::assumed;
  const std::string counts = counts_words(spec, shaft);
  const bool by_gears = std::any_of(spec.geared.begin(), spec.geared.end(),
                                    [&](const GearedSpec& geared) { return geared.name == shaft; });
  Finding finding{Level::stop, "wrong-ratio", shaft, ""};
  finding.value = gained;
  finding.unit = "crank deg in two turns";
  finding.text = fmt::format(
      "{} does not turn at its proper rate: {}{} leave its mark {} crank deg {} after every two "
      "turns. Count the teeth of {} again; the right pulley is the cure, no tooth moved and no "
      "offset key.",
      capital(the(shaft)), counts, by_gears ? "," : "", sentences::degrees(gained),
      sentences::early_or_late(gained, direction), counted);
  finding.brief = fmt::format("{} turns at the wrong rate", plain_name(shaft));
  finding.action = "count the teeth of its pulley and the crank's";
  findings.push_back(finding);
}

// A rounded decimal was taken for the ratio that it rounds.
void ratio_taken(const DriveSpec& spec, const GearedSpec& geared, std::vector<Finding>& findings) {
  const std::optional<GearRatio> ratio = gear_ratio(spec, geared);
  if (!ratio || !ratio->taken) return;
  Finding finding{Level::note, "ratio-taken", geared.name, ""};
  finding.value = ratio->own_turns;
  finding.unit = "turns";
  finding.text = fmt::format(
      "The ratio {} of {} is taken for {}, which it needs and which this rounds. Two counts say it "
      "outright: geared.{}.teeth = [driving gear, its own].",
      fmt::format("{}", *geared.ratio), the(geared.name), fixed(ratio->own_turns, 6), geared.name);
  findings.push_back(finding);
}

}  // namespace

void find_in_rates(const DriveSpec& spec, std::vector<Finding>& findings) {
  for (const PulleySpec& pulley : spec.pulleys) {
    if (const auto must = turns_per_crank(pulley)) {
      wrong_ratio(spec, pulley.name, *must, "both pulleys", findings);
    }
  }
  for (const GearedSpec& geared : spec.geared) {
    if (const auto must = turns_per_crank(geared)) {
      wrong_ratio(spec, geared.name, *must, "the pulleys and of both gears", findings);
    }
    ratio_taken(spec, geared, findings);
  }
}

}  // namespace twoturn
