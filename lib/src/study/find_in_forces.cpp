#include <fmt/format.h>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn {
namespace {

void slack_runs(const FeelBelt& belt, std::vector<Finding>& findings) {
  for (const FeelRun& run : belt.runs) {
    if (run.slack.empty()) continue;
    const FeelSpan& first = run.slack.front();
    Finding finding{Level::look, "run-slack", run.from, ""};
    finding.text = fmt::format(
        "With {} N in every run without a load, the valve springs let the run from {} to {} go "
        "slack in two turns by hand, first at {} to {} crank deg from pins in: a tooth may jump "
        "there. Tension it as the manual says; turn gently until then.",
        fixed(belt.static_n, 0), the(run.from), the(run.to), fixed(first.from_deg, 0),
        fixed(first.to_deg, 0));
    finding.value = belt.static_n;
    finding.unit = "N";
    finding.brief =
        fmt::format("the run from {} to {} goes slack as you turn", the(run.from), the(run.to));
    finding.action = "see that the belt has the manual's tension";
    findings.push_back(std::move(finding));
  }
}

void sprung_tensioner(const FeelBelt& belt, const std::string& tensioner,
                      std::vector<Finding>& findings) {
  if (!belt.kind || (!belt.over_centre && !belt.on_stop)) return;
  Finding finding{Level::look, "tensioner-gives", tensioner, ""};
  finding.text = fmt::format(
      "Two turns by hand move the sprung tensioner from {} to {} {}, and there it {}: look whether "
      "its spring is the right one and rightly set.",
      fixed(belt.least_reading, digits(*belt.kind)),
      fixed(belt.greatest_reading, digits(*belt.kind)), unit(*belt.kind),
      belt.over_centre ? "goes over centre" : "comes to an end of its travel");
  finding.value = belt.greatest_reading;
  finding.unit = unit(*belt.kind);
  finding.brief = "the sprung tensioner comes to its end as you turn";
  finding.action = "look whether its spring is rightly set";
  findings.push_back(std::move(finding));
}

void no_pointer(const TensionAnswer& tension, std::vector<Finding>& findings) {
  if (!tension.pointer || tension.pointer->target) return;
  Finding finding{Level::look, "tension-beyond", "belt", ""};
  finding.text = fmt::format(
      "The tension asked for, {} N, stretches the belt beyond what the tensioner takes up: no "
      "place "
      "in its travel gives it. Look at tension.target_n, tension.target_hz and belt.stiffness_n.",
      fixed(*tension.target_n, 0));
  finding.value = *tension.target_n;
  finding.unit = "N";
  finding.brief = "no place of the tensioner gives the tension asked for";
  finding.action = "check the tension and the belt's stiffness";
  findings.push_back(std::move(finding));
}

}  // namespace

void find_in_forces(const CheckAnswer& answer, std::vector<Finding>& findings) {
  if (answer.feel && answer.feel->belt) {
    slack_runs(*answer.feel->belt, findings);
    const std::optional<TensionerAnswer>& tensioner = answer.judged.tensioner;
    sprung_tensioner(*answer.feel->belt, tensioner ? tensioner->pulley : "tensioner", findings);
  }
  if (answer.tension) no_pointer(*answer.tension, findings);
}

}  // namespace twoturn
