#include "twoturn/study/report.hpp"

#include <algorithm>

#include "twoturn/drive/route.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/engine_curves.hpp"
#include "twoturn/study/feel.hpp"
#include "twoturn/study/view.hpp"
#include "twoturn/timing/marks.hpp"
#include "twoturn/timing/timing_spread.hpp"

namespace twoturn {
namespace {

constexpr double kStepDeg = 5.0;  // of the crank; between them everything turns evenly
constexpr int kTurns = 2;

// Cylinder 1 where no valve is known to come nearest anywhere.
int nearest_cylinder(const CheckAnswer& check) {
  if (!check.engine.valves) return 1;
  const std::optional<CrankPlace>& where = tightest_valve(*check.engine.valves).fitted.where;
  return where ? where->cylinder : 1;
}

// The drive built by chance, as `twoturn spread` has it with fewer drives.
std::optional<SpreadAnswer> spread_of(const CheckAnswer& check) {
  constexpr long long kThrows = 2048;
  const std::optional<Fitted>& fitted = check.judged.fitted;
  if (!fitted || !Spread::why_not(*fitted).empty()) return std::nullopt;
  std::optional<SpreadBeside> beside;
  if (check.book && check.book->fitted) beside = timing_beside(*check.book->fitted, *fitted);
  SpreadQuestion question;
  question.samples = kThrows;
  return Spread(*fitted, question, std::move(beside)).answer();
}

// Where the tensioner alone is off there is nothing to be seen at marks, and the belt as it then
// lies is not at its length.
bool at_tensioner_alone(const FaultCase& suspect) {
  const FaultKind kind = suspect.first().kind;
  return kind == FaultKind::over_centre || kind == FaultKind::tensioner_off ||
         kind == FaultKind::transit_pin;
}

// All that are named, the likeliest first, whether or not they can be told apart.
std::vector<const WhyCandidate*> by_likelihood(const WhySeen& seen) {
  std::vector<const WhyCandidate*> list;
  for (const WhyGroup& group : seen.groups) {
    for (const WhyCandidate& member : group.members) list.push_back(&member);
  }
  std::stable_sort(list.begin(), list.end(), [](const WhyCandidate* a, const WhyCandidate* b) {
    return a->probability > b->probability;
  });
  return list;
}

// A pulley that sits wrong on its shaft carries its mark elsewhere than the shaft stands.
void tell_marks(const WhyFault& fault, BeltView& view) {
  for (SeenMark& mark : view.marks) {
    if (!mark.belongs || !mark.name.empty()) continue;
    const std::string& name = view.pulleys[static_cast<std::size_t>(mark.pulley)].name;
    for (const WhyShaft& shaft : fault.shafts) {
      if (shaft.name == name) mark.error_crank_deg = shaft.stops.front().mark_crank_deg;
    }
  }
}

std::optional<BeltView> faulty_view(const DriveSpec& spec, Fit fit, const WhyCandidate& candidate) {
  if (!candidate.fitted || !candidate.turns) return std::nullopt;
  CheckAnswer faulty;
  faulty.judged.fit = fit;
  faulty.judged.fitted = candidate.fitted;
  faulty.judged.route = route_at_setting(*candidate.fitted, candidate.reading);
  if (!at_tensioner_alone(candidate.fault.suspect)) faulty.judged.turns = *candidate.turns;
  std::optional<BeltView> view = view_of(spec, faulty, 0.0);
  if (view) tell_marks(candidate.fault, *view);
  return view;
}

std::vector<ReportCandidate> candidates_of(const DriveSpec& spec, const CheckAnswer& check) {
  std::vector<ReportCandidate> candidates;
  if (!check.seen) return candidates;
  constexpr std::size_t kSideBySide = 2;
  for (const WhyCandidate* one : by_likelihood(*check.seen)) {
    if (candidates.size() == kSideBySide) break;
    if (std::optional<BeltView> view = faulty_view(spec, check.judged.fit, *one)) {
      candidates.push_back({one->fault.title, one->probability, std::move(*view)});
    }
  }
  return candidates;
}

}  // namespace

ReportAnswer report_of(const DriveSpec& spec, const Heading& heading) {
  ReportAnswer report;
  report.heading = heading;
  report.check = check_drive(spec, heading.fit);
  report.view = view_of(spec, report.check, 0.0);
  report.candidates = candidates_of(spec, report.check);
  report.motion = motion_of(report.check.judged, kTurns, kStepDeg);
  constexpr int kCurveRows = 121;
  if (report.check.judged.fitted) {
    report.curve = preview_tensioner(*report.check.judged.fitted, kCurveRows);
  }
  const TurnsAnswer* turns = report.check.judged.turns ? &*report.check.judged.turns : nullptr;
  constexpr double kCurveStepDeg = 2.0;
  report.counts = marks_from_counts(marks_question(spec, heading.fit));
  report.nearest =
      engine_curves(spec, heading.fit, turns, nearest_cylinder(report.check), kCurveStepDeg);
  if (report.check.feel && report.check.feel->springs_known) {
    std::vector<Missing> told_by_check;
    const FitAnswer& judged = report.check.judged;
    const std::optional<ValvesAnswer>& valves = report.check.engine.valves;
    report.feel = feel_answer(spec, judged.fitted ? &*judged.fitted : nullptr, heading.fit, turns,
                              valves ? &*valves : nullptr, told_by_check);
  }
  report.spread = spread_of(report.check);
  return report;
}

}  // namespace twoturn
