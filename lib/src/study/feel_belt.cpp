// The belt with its give, and how tight it is.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <memory>

#include "base/at.hpp"
#include "feel_parts.hpp"
#include "twoturn/load/string.hpp"

namespace twoturn::study {
namespace {

constexpr double kGPerKg = 1000.0;
constexpr const char* kTensions = "the belt's tensions while turning";

// A sprung tensioner, or why its spring cannot be told.
std::optional<SprungTensioner> sprung_of(const DriveSpec& spec, const Fitted& fitted, double q0,
                                         int run, std::vector<Missing>& missing) {
  const Tensioner& tensioner = *fitted.drive().tensioner;
  const std::string& name = fitted.drive().pulleys[at(tensioner.pulley)].name;
  const TensionerSpec* said = nullptr;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (pulley.name == name && pulley.tensioner) said = &*pulley.tensioner;
  }
  const bool swing = tensioner.path.swing() != nullptr;
  const std::optional<double>& rate = swing ? said->spring_nm_per_deg : said->spring_n_per_mm;
  if (!rate) {
    missing.push_back({kTensions,
                       fmt::format("pulley.{}.tensioner.{}", name,
                                   swing ? "spring_nm_per_deg" : "spring_n_per_mm"),
                       "measure its spring with a luggage scale at two places of its travel"});
    return std::nullopt;
  }
  SprungTensioner sprung;
  sprung.run = run;
  sprung.q0 = q0;
  sprung.stiffness = swing ? *rate * kMmPerM / kRadPerDeg : *rate;
  sprung.slack_stop = std::min(0.0, q0);
  sprung.tight_stop = std::max(tensioner.path.travel_length(), q0);
  sprung.length = [fitted](double q) { return fitted.curve()->at(q); };
  return sprung;
}

bool is_sprung(const DriveSpec& spec) {
  return std::any_of(spec.pulleys.begin(), spec.pulleys.end(), [](const PulleySpec& pulley) {
    return pulley.tensioner && pulley.tensioner->holds == Holds::sprung;
  });
}

// A shaft's own torque by its own angle.
ShaftLoad load_of(const DriveSpec& spec, const Pulley& pulley, double rate, const CamLoads* loads) {
  const double drag = kMmPerM * spec.pulleys[at(pulley.listed)].drag_nm.value_or(0.0);
  const bool turns_cams = loads != nullptr && std::any_of(loads->lobes.begin(), loads->lobes.end(),
                                                          [&](const LobeOnCam& lobe) {
                                                            return lobe.pulley == pulley.name;
                                                          });
  if (!turns_cams) {
    if (drag == 0.0) return {};
    return [drag](double) { return ShaftTorque{drag, 0.0}; };
  }
  CamLoads own;
  own.start_deg = loads->start_deg;
  std::copy_if(loads->lobes.begin(), loads->lobes.end(), std::back_inserter(own.lobes),
               [&](const LobeOnCam& lobe) { return lobe.pulley == pulley.name; });
  return [own = std::make_shared<const CamLoads>(std::move(own)), rate, drag](double turned_rad) {
    const SpringTorque crank = own->torque(own->start_deg + turned_rad / rate / kRadPerDeg);
    return ShaftTorque{crank.nmm / rate + drag, crank.rate_nmm_per_rad / (rate * rate)};
  };
}

}  // namespace

std::vector<GivingRun> giving_runs(const Drive& drive, const PlacedPath& placed) {
  std::vector<GivingRun> runs;
  const int count = static_cast<int>(drive.pulleys.size());
  for (int i = 0; i < count; ++i) {
    if (!drive.pulleys[at(i)].toothed()) continue;
    GivingRun run{i, i, placed.path.spans[at(i)].length_mm, false};
    int next = (i + 1) % count;
    while (!drive.pulleys[at(next)].toothed()) {
      run.length_mm += placed.wheels[at(next)].radius_mm * placed.path.wraps[at(next)].radians() +
                       placed.path.spans[at(next)].length_mm;
      if (drive.tensioner && drive.tensioner->pulley == next) run.tensioner = true;
      next = (next + 1) % count;
    }
    run.to = next;
    runs.push_back(run);
  }
  return runs;
}

std::vector<double> BeltModel::rigid(double turned_rad) const {
  std::vector<double> rad;
  rad.reserve(rate.size());
  for (const double one : rate) rad.push_back(one * turned_rad);
  return rad;
}

std::optional<BeltModel> belt_model(const DriveSpec& spec, const Fitted& fitted,
                                    const TurnsAnswer& turns, const CamLoads* loads,
                                    std::vector<Missing>& missing) {
  if (!spec.belt.stiffness_n) {
    missing.push_back({kTensions, "belt.stiffness_n",
                       "take it from the belt's catalogue: N for 1 % of stretch, times 100"});
    return std::nullopt;
  }
  const Drive& drive = turns.assembly.fitted;
  BeltModel model;
  model.runs = giving_runs(drive, turns.assembly.fitted_path);
  if (model.runs.size() < 2) return std::nullopt;
  const double crank_teeth = drive.pulleys.front().teeth;
  for (const GivingRun& run : model.runs) {
    const Pulley& pulley = drive.pulleys[at(run.from)];
    model.pulleys.push_back(run.from);
    model.belt.radius_mm.push_back(pulley.wheel.radius_mm);
    model.belt.run_stiffness_n_mm.push_back(*spec.belt.stiffness_n / run.length_mm);
    model.rate.push_back(crank_teeth / pulley.teeth);
    model.loads.push_back(load_of(spec, pulley, model.rate.back(), loads));
  }
  const auto with_roller = std::find_if(model.runs.begin(), model.runs.end(),
                                        [](const GivingRun& run) { return run.tensioner; });
  if (!is_sprung(spec) || with_roller == model.runs.end() || !turns.assembly.fitted_setting) {
    return model;
  }
  const int run = static_cast<int>(with_roller - model.runs.begin());
  model.belt.sprung = sprung_of(spec, fitted, turns.assembly.fitted_setting->q, run, missing);
  if (!model.belt.sprung) return std::nullopt;
  return model;
}

std::optional<double> mass_kg_per_m(const DriveSpec& spec, const Drive& drive) {
  if (spec.belt.mass_g_per_m) return *spec.belt.mass_g_per_m / kGPerKg;
  if (!spec.belt.weighed_g || !drive.belt.teeth) return std::nullopt;
  return *spec.belt.weighed_g / kGPerKg / (drive.belt.length_mm(*drive.belt.teeth) / kMmPerM);
}

int span_between(const Drive& drive, const std::string& a, const std::string& b) {
  const int count = static_cast<int>(drive.pulleys.size());
  for (int i = 0; i < count; ++i) {
    const std::string& from = drive.pulleys[at(i)].name;
    const std::string& to = drive.pulleys[at((i + 1) % count)].name;
    if ((from == a && to == b) || (from == b && to == a)) return i;
  }
  return -1;
}

int run_of_span(const Drive& drive, const std::vector<GivingRun>& runs, int span) {
  const int count = static_cast<int>(drive.pulleys.size());
  for (std::size_t k = 0; k < runs.size(); ++k) {
    int i = runs[k].from;
    do {
      if (i == span) return static_cast<int>(k);
      i = (i + 1) % count;
    } while (i != runs[k].to);
  }
  return 0;
}

std::optional<double> target_n(const DriveSpec& spec, const Drive& drive, const PlacedPath& placed,
                               std::vector<Missing>& missing) {
  const TensionSpec& tension = spec.tension;
  if (tension.target_n) return tension.target_n;
  const char* what = "how tight the belt should be";
  if (!tension.target_hz && !tension.give_mm) {
    missing.push_back({what, "tension.target_n",
                       "take the belt's tension from the manual: N, Hz on a run, or mm of give"});
    return std::nullopt;
  }
  const int span = span_between(drive, tension.from.value_or(""), tension.to.value_or(""));
  if (span < 0) {
    missing.push_back(
        {what, "tension.from", "name two pulleys that follow each other on the belt"});
    return std::nullopt;
  }
  BeltString run{placed.path.spans[at(span)].length_mm, 0.0};
  if (tension.give_mm) return tension_of_give_n(run, *tension.give_mm, *tension.push_n);
  const std::optional<double> mass = mass_kg_per_m(spec, drive);
  if (!mass) {
    missing.push_back({what, "belt.mass_g_per_m", "weigh the old belt (belt.weighed_g)"});
    return std::nullopt;
  }
  run.mass_kg_per_m = *mass;
  return tension_of_note_n(run, *tension.target_hz);
}

bool set_static_tension(const DriveSpec& spec, const Drive& drive, const PlacedPath& placed,
                        BeltModel& model, std::vector<Missing>& missing) {
  const std::optional<double> target = target_n(spec, drive, placed, missing);
  if (!target) return false;
  model.belt.static_tension_n = *target;
  const int span =
      span_between(drive, spec.tension.from.value_or(""), spec.tension.to.value_or(""));
  if (span < 0) return true;
  const auto run = at(run_of_span(drive, model.runs, span));
  const std::vector<double> rigid =
      model.rigid(spec.tension.at_crank_deg.value_or(0.0) * kRadPerDeg);
  constexpr int kMost = 40;
  constexpr double kClose = 1e-10;
  for (int k = 0; k < kMost; ++k) {
    const ElasticState state =
        solve_elastic(model.belt, model.loads, rigid, reference_state(model.belt), Snaps::untold);
    const double off = *target - state.tension_n[run];
    if (std::abs(off) <= kClose * *target) break;
    model.belt.static_tension_n = std::max(0.0, model.belt.static_tension_n + off);
  }
  return true;
}

}  // namespace twoturn::study
