#include "twoturn/study/warm.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/at.hpp"
#include "twoturn/timing/turns.hpp"

namespace twoturn {
namespace {

constexpr std::string_view kOpen = "where marks and tensioner stand warm";

void list_missing(const DriveSpec& spec, std::vector<Missing>& missing) {
  const WarmSpec& warm = *spec.build.warm;
  const auto need = [&](const std::optional<double>& value, std::string_view key,
                        std::string_view measure) {
    if (value) return;
    missing.push_back(
        {std::string(kOpen), fmt::format("build.warm.{}", key), std::string(measure)});
  };
  need(warm.cold_c, "cold_c", "say how warm it was when the belt was tensioned");
  need(warm.block_c, "block_c", "say how warm the block gets: about as warm as its water");
  need(warm.head_c, "head_c", "say how warm the head gets: about as warm as its water");
  need(warm.belt_c, "belt_c", "say how warm the belt gets behind its cover");
  constexpr std::string_view kTable =
      "look up its linear expansion, 1e-6 a degree (see profiles/README.md)";
  need(warm.block_ppm_per_c, "block_ppm_per_c", kTable);
  need(warm.head_ppm_per_c, "head_ppm_per_c", kTable);
  need(warm.belt_ppm_per_c, "belt_ppm_per_c", kTable);
  for (const HeadSpec& head : spec.heads) {
    const bool carries =
        std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                    [&](const PulleySpec& pulley) { return pulley.mount == head.name; });
    if (!carries) continue;
    if (!head.deck_deg) {
      missing.push_back({std::string(kOpen), fmt::format("head.{}.deck_deg", head.name),
                         "see which way the head lifts off, as on a clock face"});
    }
    if (!head.deck_from_crank_mm) {
      missing.push_back({std::string(kOpen), fmt::format("head.{}.deck_from_crank_mm", head.name),
                         "measure from the crank's centre to the head's face"});
    }
  }
}

// Errors after two turns, of every shaft; empty where it cannot be put together.
std::optional<TurnsAnswer> turned(const Fitted& book, const FittedResult& asked) {
  return asked.fitted ? two_turns_of(book, *asked.fitted) : std::nullopt;
}

// Of a shaft that all the same builds have.
double error_of(const TurnsAnswer& turns, int shaft) {
  const std::vector<ShaftAfter>& shafts = after_two(turns)->shafts;
  return std::find_if(shafts.begin(), shafts.end(),
                      [shaft](const ShaftAfter& seen) { return seen.shaft == shaft; })
      ->error_crank_deg;
}

// The path's length with the tensioner at q; 0 where there is no path.
double path_mm(const Drive& drive, double q) {
  TangentPath path;
  const std::vector<Wheel> wheels = placed_wheels(drive, q);
  return solve_path(wheels, path).solved() ? path.length_mm : 0.0;
}

void add_shafts(const TurnsAnswer& cold, const TurnsAnswer& locked,
                const std::optional<TurnsAnswer>& sprung, WarmAnswer& answer) {
  for (const ShaftAfter& seen : after_two(cold)->shafts) {
    const Shaft& shaft = cold.assembly.shafts[at(seen.shaft)];
    if (seen.shaft == 0 || !shaft.timed()) continue;
    WarmShaft warm{shaft.name, seen.error_crank_deg, error_of(locked, seen.shaft)};
    if (sprung) warm.sprung_crank_deg = error_of(*sprung, seen.shaft);
    answer.shafts.push_back(std::move(warm));
  }
}

}  // namespace

std::optional<WarmAnswer> warm_drive(const DriveSpec& spec, const BothFits& both) {
  if (!spec.build.warm || !both.book.fitted || !both.asked.fitted) return std::nullopt;
  const Fitted& cold = *both.asked.fitted;
  WarmAnswer answer;
  answer.at = *spec.build.warm;
  list_missing(spec, answer.missing);
  if (!answer.missing.empty()) return answer;
  const std::optional<TurnsAnswer> cold_turns = turned(*both.book.fitted, both.asked);
  if (!cold_turns) return std::nullopt;
  const Belt& belt = cold.drive().belt;
  const Growth growth = growth_of(answer.at);
  const double own = (1.0 + belt.stretch) * (1.0 + growth.belt) - 1.0;
  const FittedResult sprung = warmed_fitted(cold, growth, own);
  if (!sprung.fitted) return std::nullopt;
  answer.cold_setting = cold_turns->assembly.fitted_setting;
  const double q = answer.cold_setting ? answer.cold_setting->q : 0.0;
  const int teeth = cold_turns->assembly.belt_teeth;
  const double warm_path = path_mm(sprung.fitted->drive(), q);
  answer.path_grows_mm = warm_path - path_mm(cold.drive(), q);
  answer.belt_grows_mm = belt.pitch_mm * teeth * own - belt.pitch_mm * teeth * belt.stretch;
  if (cold.drive().tensioner) answer.kind = cold.drive().tensioner->path.kind();
  // A belt that has become too long hangs loose on the tensioner's way and keeps its own pitch.
  const double pulled = std::max(warm_path / (belt.pitch_mm * teeth) - 1.0, own);
  const std::optional<TurnsAnswer> locked =
      turned(*both.book.fitted, warmed_fitted(cold, growth, pulled));
  if (!locked) return std::nullopt;
  const std::optional<TurnsAnswer> follows = turned(*both.book.fitted, sprung);
  if (follows) answer.sprung_setting = follows->assembly.fitted_setting;
  add_shafts(*cold_turns, *locked, follows, answer);
  return answer;
}

}  // namespace twoturn
