// Two turns step by step: torque at the crank, and the belt with its give.
#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "feel_steps.hpp"

namespace twoturn::study {
namespace {

constexpr double kNmmPerNm = 1000.0;

void note_snap(const ElasticState& state, const BeltModel& model, const Drive& drive, double deg,
               FeelBelt& belt) {
  if (!state.snap || state.snap->shaft < 0) return;
  belt.snaps.push_back({deg, drive.pulleys[at(model.pulleys[at(state.snap->shaft)])].name,
                        state.snap->ahead_rad / kRadPerDeg});
}

void note_slack(const ElasticState& state, double deg, double step_deg, FeelBelt& belt) {
  for (const int run : state.slack_runs) go_on(belt.runs[at(run)].slack, deg, step_deg);
}

// Of equal extremes the first: by less than this, rounding would choose.
constexpr double kEqualN = 1e-6;
constexpr double kEqualDeg = 1e-7;

void note_extremes(const FeelStep& step, FeelBelt& belt) {
  const bool first = step.crank_deg == 0.0;
  for (std::size_t k = 0; k < belt.runs.size(); ++k) {
    FeelRun& run = belt.runs[k];
    if (first || step.tension_n[k] < run.least_n - kEqualN) {
      run.least_n = step.tension_n[k];
      run.least_at_deg = step.crank_deg;
    }
    if (first || step.tension_n[k] > run.greatest_n + kEqualN) {
      run.greatest_n = step.tension_n[k];
      run.greatest_at_deg = step.crank_deg;
    }
  }
  for (std::size_t k = 0; k < belt.shafts.size(); ++k) {
    FeelShaft& shaft = belt.shafts[k];
    const double ahead = step.ahead_crank_deg[k];
    if (first || ahead > shaft.most_early_deg + kEqualDeg) {
      shaft.most_early_deg = ahead;
      shaft.early_at_deg = step.crank_deg;
    }
    if (first || ahead < shaft.most_late_deg - kEqualDeg) {
      shaft.most_late_deg = ahead;
      shaft.late_at_deg = step.crank_deg;
    }
  }
  if (!step.reading) return;
  belt.least_reading = first ? *step.reading : std::min(belt.least_reading, *step.reading);
  belt.greatest_reading = first ? *step.reading : std::max(belt.greatest_reading, *step.reading);
}

FeelBelt empty_belt(const BeltModel& model, const Drive& drive, double stiffness_n) {
  FeelBelt belt;
  belt.static_n = model.belt.static_tension_n;
  belt.stiffness_n = stiffness_n;
  for (const GivingRun& run : model.runs) {
    belt.runs.push_back({drive.pulleys[at(run.from)].name,
                         drive.pulleys[at(run.to)].name,
                         run.length_mm,
                         0.0,
                         0.0,
                         0.0,
                         0.0,
                         {}});
  }
  for (std::size_t k = 1; k < model.pulleys.size(); ++k) {
    belt.shafts.push_back({drive.pulleys[at(model.pulleys[k])].name, 0.0, 0.0, 0.0, 0.0});
  }
  if (model.belt.sprung) belt.kind = drive.tensioner->path.kind();
  return belt;
}

void note_state(const ElasticState& state, const BeltModel& model, const Drive& drive,
                FeelBelt& belt) {
  for (const int shaft : state.undetermined) {
    const std::string& name = drive.pulleys[at(model.pulleys[at(shaft)])].name;
    const bool known = std::find(belt.undetermined.begin(), belt.undetermined.end(), name) !=
                       belt.undetermined.end();
    if (!known) belt.undetermined.push_back(name);
  }
  belt.over_centre = belt.over_centre || state.over_centre;
  belt.on_stop = belt.on_stop || state.arm == Arm::on_slack_stop || state.arm == Arm::on_tight_stop;
  belt.settled = belt.settled && state.settled == Settled::yes;
  belt.solves += state.solves;
}

// What a valve asks for at the steps at which it may be open, the first of them `from`.
struct OpenSteps {
  int from = 0;
  std::vector<double> nmm;
};

OpenSteps open_steps(const LobeOnCam& lobe, std::size_t cylinder, double start_deg) {
  const std::vector<LiftPiece>& pieces = lobe.lobe.curve.pieces();
  const double placed =
      lobe.overlap_deg[cylinder] - lobe.error_crank_deg + lobe.lobe.placed.degrees() - start_deg;
  const double opens = (placed + pieces.front().from_rad / kRadPerDeg) / kFeelStepDeg;
  const double shuts = (placed + pieces.back().to_rad / kRadPerDeg) / kFeelStepDeg;
  OpenSteps open{static_cast<int>(std::floor(opens)), {}};
  for (int k = open.from; k <= static_cast<int>(std::ceil(shuts)); ++k) {
    open.nmm.push_back(torque_of(lobe, cylinder, start_deg + k * kFeelStepDeg).nmm);
  }
  return open;
}

// Adds them to two turns that close into a ring, so many steps later.
void add_later(const OpenSteps& open, int later, std::vector<double>& ring) {
  const auto count = static_cast<int>(ring.size());
  int k = (open.from + later) % count;
  if (k < 0) k += count;
  for (const double nmm : open.nmm) {
    ring[at(k)] += nmm;
    if (++k == count) k = 0;
  }
}

// All cylinders of a valve line; where they follow by whole steps they ask for the same.
void add_torques(const LobeOnCam& lobe, double start_deg, std::vector<double>& ring) {
  const OpenSteps first = open_steps(lobe, 0, start_deg);
  for (std::size_t cylinder = 0; cylinder < lobe.cylinders.size(); ++cylinder) {
    const double later = (lobe.overlap_deg[cylinder] - lobe.overlap_deg[0]) / kFeelStepDeg;
    constexpr double kWhole = 1e-9;
    if (std::abs(later - std::round(later)) < kWhole) {
      add_later(first, static_cast<int>(std::round(later)), ring);
    } else {
      add_later(open_steps(lobe, cylinder, start_deg), 0, ring);
    }
  }
}

}  // namespace

void go_on(std::vector<FeelSpan>& spans, double deg, double step_deg) {
  constexpr double kNext = 1.5;
  if (!spans.empty() && deg - spans.back().to_deg < kNext * step_deg) {
    spans.back().to_deg = deg;
  } else {
    spans.push_back({deg, deg});
  }
}

std::vector<double> rigid_torques_nm(const CamLoads& loads, double drag_nmm) {
  std::vector<double> torques(static_cast<std::size_t>(kFeelSteps), 0.0);
  for (const LobeOnCam& lobe : loads.lobes) add_torques(lobe, loads.start_deg, torques);
  for (double& torque : torques) torque = (torque + drag_nmm) / kNmmPerNm;
  torques.push_back(torques.front());
  return torques;
}

std::vector<FeelStep> steps_of(const std::vector<double>& torques_nm, int every) {
  std::vector<FeelStep> steps;
  steps.reserve(torques_nm.size() / at(every) + 1);
  for (int k = 0; k <= kFeelSteps; k += every) {
    steps.push_back({k * kFeelStepDeg, torques_nm[at(k)], {}, {}, {}});
  }
  return steps;
}

FeelBelt turn_belt(const BeltModel& model, const Drive& drive, double stiffness_n,
                   std::vector<FeelStep>& steps) {
  FeelBelt belt = empty_belt(model, drive, stiffness_n);
  ElasticState state = reference_state(model.belt);
  const Snaps snaps = steps[1].crank_deg > kFeelStepDeg ? Snaps::untold : Snaps::told;
  for (FeelStep& step : steps) {
    const std::vector<double> rigid = model.rigid(step.crank_deg * kRadPerDeg);
    state = solve_elastic(model.belt, model.loads, rigid, state, snaps);
    note_state(state, model, drive, belt);
    if (state.settled != Settled::yes) continue;
    step.crank_nm = state.crank_torque_nmm / kNmmPerNm;
    step.tension_n = state.tension_n;
    for (std::size_t k = 1; k < state.ahead_rad.size(); ++k) {
      step.ahead_crank_deg.push_back(state.ahead_rad[k] / kRadPerDeg / model.rate[k]);
    }
    if (model.belt.sprung) step.reading = drive.tensioner->path.reading(state.q).value;
    if (step.crank_deg > 0.0) note_snap(state, model, drive, step.crank_deg, belt);
    note_slack(state, step.crank_deg, steps[1].crank_deg, belt);
    note_extremes(step, belt);
  }
  belt.solves /= static_cast<double>(steps.size());
  return belt;
}

}  // namespace twoturn::study
