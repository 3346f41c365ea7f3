#include "twoturn/study/report.hpp"

#include "twoturn/drive/teeth.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/engine_curves.hpp"
#include "twoturn/study/feel.hpp"
#include "twoturn/study/view.hpp"
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

}  // namespace

ReportAnswer report_of(const DriveSpec& spec, const Heading& heading) {
  ReportAnswer report;
  report.heading = heading;
  report.check = check_drive(spec, heading.fit);
  report.view = view_of(spec, report.check, 0.0);
  report.motion = motion_of(report.check.judged, kTurns, kStepDeg);
  constexpr int kCurveRows = 121;
  if (report.check.judged.fitted) {
    report.curve = preview_tensioner(*report.check.judged.fitted, kCurveRows);
  }
  const TurnsAnswer* turns = report.check.judged.turns ? &*report.check.judged.turns : nullptr;
  constexpr double kCurveStepDeg = 2.0;
  report.first = engine_curves(spec, heading.fit, turns, 1, kCurveStepDeg);
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
  report.crank_turns = spec.crank_turns;
  return report;
}

}  // namespace twoturn
