#include "twoturn/study/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheet_parts.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/job_card.hpp"
#include "twoturn/timing/marks.hpp"
#include "words/keep_units.hpp"
#include "words/sentences.hpp"

namespace twoturn {

using sheet::Job;
using sheet::put_count;

namespace {

// What to do stands above it in large letters.
std::string without_cure(const Finding& finding) {
  std::string text = whole_text(finding);
  const std::string cure = fmt::format(" To put it right, {}.", finding.action);
  const std::size_t at = text.find(cure);
  if (at != std::string::npos) text.erase(at, cure.size());
  return text;
}

// A line a kind of finding: of the first stop in full, of the others what and what to do. Each
// shaft's own state stands in the table of marks, every finding in full in the document.
std::vector<std::string> found(const CheckAnswer& check) {
  std::vector<std::string> lines;
  const std::vector<Finding>& all = check.findings;
  for (auto finding = all.begin(); finding != all.end(); ++finding) {
    if (finding->level == Level::note) continue;
    const bool seen = std::any_of(all.begin(), finding, [&](const Finding& before) {
      return before.level == finding->level && before.code == finding->code;
    });
    if (seen) continue;
    const bool first = finding == all.begin();
    if (first && finding->level == Level::stop) lines.push_back(without_cure(*finding));
    if (first) continue;  // the verdict says it
    lines.push_back(capital(fmt::format("{}: {}.", brief_of(*finding, all), finding->action)));
  }
  return lines;
}

void say_verdict(SheetAnswer& answer) {
  const CheckAnswer& check = answer.check;
  if (check.verdict != Verdict::stop || check.findings.empty()) {
    answer.says = check.headline;
    return;
  }
  const Finding& first = check.findings.front();
  answer.shout = "STOP: do not turn it";
  answer.must_do = capital(fmt::format("{}: {}.", brief_of(first, check.findings), first.action));
  answer.says =
      "On paper; the fitting itself has not been seen. Put it right before anything else.";
}

SheetLine not_checked(const CheckAnswer& check, const JobCard& card) {
  SheetLine line = sheet::note("");
  std::vector<std::string> open;
  for (const Missing& missing : check.not_checked) open.push_back(missing.answer);
  if (check.judged.tensioner || !check.judged.route) open.push_back("belt tension");
  const bool asked = std::any_of(check.not_checked.begin(), check.not_checked.end(),
                                 [](const Missing& missing) { return missing.key == "valve"; });
  if (!check.engine.valves && !asked) open.push_back("room between valves and pistons");
  if (card.bolts.empty()) open.push_back("bolts");
  open.push_back("the fitting itself");
  for (const std::string& item : open) line.text += (line.text.empty() ? "" : "; ") + item;
  line.text = capital(line.text) + ".";
  return line;
}

SheetLine origins(const DriveSpec& spec) {
  SheetLine line = sheet::note("");
  const auto add = [&](Origin origin, const char* key, const char* words) {
    const auto count =
        std::count_if(spec.given.begin(), spec.given.end(),
                      [origin](const GivenValue& given) { return given.origin == origin; });
    if (count == 0) return;
    line.text += fmt::format("{}{} {}", line.text.empty() ? "" : ", ",
                             put_count(line, key, static_cast<long long>(count)), words);
  };
  add(Origin::measured, "measured_numbers", "measured");
  add(Origin::manual, "manual_numbers", "from the manual");
  add(Origin::assumed, "assumed_numbers", "assumed");
  add(Origin::example, "example_numbers", "only an example's");
  add(Origin::not_said, "unsaid_numbers", "of unknown origin");
  if (!line.text.empty()) line.text = "Numbers given: " + line.text + ".";
  return line;
}

std::vector<std::string> names_of(const DriveSpec& spec) {
  std::vector<std::string> names;
  for (const PulleySpec& pulley : spec.pulleys) names.push_back(plain_name(pulley.name));
  for (const GearedSpec& geared : spec.geared) names.push_back(plain_name(geared.name));
  for (const HeadSpec& head : spec.heads) names.push_back(plain_name(head.name));
  return names;
}

// Marks at their places: what the run shows, where there is one.
void see(const TurnsAnswer& turns, SheetMark& mark) {
  for (const AfterTurns& after : turns.after) {
    for (const ShaftAfter& seen : after.shafts) {
      const Shaft& shaft = turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)];
      if (shaft.name != mark.shaft) continue;
      if (after.turns == 0) mark.start_deg = seen.belongs_deg;
      if (after.turns == 1) mark.after_one_deg = seen.belongs_deg;
      if (after.turns != 2) continue;
      mark.direction = seen.direction;
      mark.off_crank_deg = seen.error_crank_deg;
      mark.off_edge_mm = seen.error_edge_mm;
      mark.pin = seen.pin;
      mark.pin_sure = seen.pin_sure;
    }
  }
}

}  // namespace

void for_every_text(SheetAnswer& answer, const std::function<void(std::string&)>& change) {
  const auto change_line = [&change](SheetLine& line) {
    change(line.text);
    for (SheetBlank& blank : line.blanks) change(blank.label);
  };
  for (std::string* text : {&answer.heading.profile, &answer.must_do, &answer.says}) change(*text);
  for (auto* steps : {&answer.steps, &answer.job_card_steps}) {
    for (SheetStep& step : *steps) {
      std::for_each(step.lines.begin(), step.lines.end(), change_line);
    }
  }
  for (SheetMark& mark : answer.marks) change(mark.shaft);
  for (SheetFault& fault : answer.faults) {
    change_line(fault.seen);
    change_line(fault.means);
  }
  for (auto* texts : {&answer.found, &answer.cautions, &answer.names}) {
    std::for_each(texts->begin(), texts->end(), change);
  }
  change_line(answer.not_checked);
  change_line(answer.origins);
}

std::vector<SheetMark> sheet::marks_of(const Job& job) {
  std::vector<SheetMark> marks;
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    SheetMark mark;
    mark.shaft = shaft.name;
    mark.held_by = shaft.held_by;
    mark.start_deg = shaft.mark_deg;
    mark.opposite_after_one = std::abs(std::remainder(shaft.turns_per_crank, 1.0)) == 0.5;
    if (job.turns()) see(*job.turns(), mark);
    marks.push_back(std::move(mark));
  }
  return marks;
}

SheetAnswer sheet_of(const DriveSpec& spec, const Heading& heading) {
  SheetAnswer answer;
  answer.heading = heading;
  answer.check = check_drive(spec, heading.fit);
  answer.counts = marks_from_counts(marks_question(spec, heading.fit));
  answer.job_card = job_card(spec, answer.check);
  answer.job_card_steps = sheet::job_card_steps(answer.job_card);
  answer.has_belt = sheet::has_a_belt(spec);
  const Job job{spec, answer.check, answer.counts, answer.job_card};
  say_verdict(answer);
  answer.found = found(answer.check);
  answer.steps = sheet::order_of_work(job);
  answer.marks = sheet::marks_of(job);
  if (answer.has_belt) answer.faults = sheet::fault_card(job);
  answer.not_checked = not_checked(answer.check, answer.job_card);
  answer.origins = origins(spec);
  answer.cautions = sheet_cautions(spec);
  answer.names = names_of(spec);
  // Whatever the profile holds, each text stands on one line and no number is parted from its unit.
  for_every_text(answer, [](std::string& text) { text = sentences::keep_units(printable(text)); });
  return answer;
}

}  // namespace twoturn
