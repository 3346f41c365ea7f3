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

void note_extremes(const FeelStep& step, FeelBelt& belt) {
  const bool first = step.crank_deg == 0.0;
  for (std::size_t k = 0; k < belt.runs.size(); ++k) {
    FeelRun& run = belt.runs[k];
    if (first || step.tension_n[k] < run.least_n) {
      run.least_n = step.tension_n[k];
      run.least_at_deg = step.crank_deg;
    }
    if (first || step.tension_n[k] > run.greatest_n) {
      run.greatest_n = step.tension_n[k];
      run.greatest_at_deg = step.crank_deg;
    }
  }
  for (std::size_t k = 0; k < belt.shafts.size(); ++k) {
    FeelShaft& shaft = belt.shafts[k];
    const double ahead = step.ahead_crank_deg[k];
    if (first || ahead > shaft.most_early_deg) {
      shaft.most_early_deg = ahead;
      shaft.early_at_deg = step.crank_deg;
    }
    if (first || ahead < shaft.most_late_deg) {
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

}  // namespace

void go_on(std::vector<FeelSpan>& spans, double deg, double step_deg) {
  constexpr double kNext = 1.5;
  if (!spans.empty() && deg - spans.back().to_deg < kNext * step_deg) {
    spans.back().to_deg = deg;
  } else {
    spans.push_back({deg, deg});
  }
}

std::vector<FeelStep> rigid_steps(const CamLoads& loads, double drag_nmm) {
  std::vector<FeelStep> steps;
  steps.reserve(static_cast<std::size_t>(kFeelSteps) + 1);
  for (int k = 0; k <= kFeelSteps; ++k) {
    const double deg = k * kFeelStepDeg;
    steps.push_back(
        {deg, (loads.torque_nmm(loads.start_deg + deg) + drag_nmm) / kNmmPerNm, {}, {}, {}});
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
