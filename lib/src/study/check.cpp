#include "twoturn/study/check.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "check_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/fitted_spec.hpp"
#include "twoturn/drive/route.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/teeth.hpp"
#include "twoturn/study/feel.hpp"
#include "twoturn/study/tension.hpp"
#include "twoturn/study/why.hpp"
#include "twoturn/timing/assembly.hpp"
#include "twoturn/timing/turns.hpp"
#include "verdict_of.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

void add_missing(const std::vector<Missing>& from, std::vector<Missing>& to) {
  for (const Missing& missing : from) {
    const auto same_key = [&](const Missing& other) { return other.key == missing.key; };
    if (std::none_of(to.begin(), to.end(), same_key)) to.push_back(missing);
  }
}

bool has_timed_shaft(const TurnsAnswer& turns) {
  const std::vector<Shaft>& shafts = turns.assembly.shafts;
  return std::any_of(shafts.begin() + 1, shafts.end(),
                     [](const Shaft& shaft) { return shaft.timed(); });
}

// The paint question needs three counts and nothing else.
std::optional<Paint> paint_from_counts(const DriveSpec& spec) {
  std::optional<int> crank;
  std::vector<int> others;
  for (const PulleySpec& pulley : spec.pulleys) {
    if (!pulley.teeth || !turns_per_crank(pulley)) continue;
    if (pulley.role == Role::crankshaft) {
      crank = pulley.teeth;
    } else {
      others.push_back(*pulley.teeth);
    }
  }
  if (!crank || !spec.belt.teeth) return std::nullopt;
  return paint_after_two(*spec.belt.teeth, *crank, others);
}

double greatest_error(const TurnsAnswer& turns) {
  double greatest = 0.0;
  for (const AfterTurns& after : turns.after) {
    for (const ShaftAfter& shaft : after.shafts) {
      greatest = std::max(greatest, std::abs(shaft.error_crank_deg));
    }
  }
  return greatest;
}

// Without any there is nothing at the engine to hold two turns against.
bool has_marks_or_pins(const TurnsAnswer& turns) {
  const std::vector<Shaft>& shafts = turns.assembly.shafts;
  return std::any_of(shafts.begin(), shafts.end(), [](const Shaft& shaft) {
    return shaft.timed() && (shaft.pin || !shaft.marks.empty());
  });
}

std::string agrees_headline(const CheckAnswer& answer) {
  const TurnsAnswer& turns = *answer.judged.turns;
  const std::string error = fixed(greatest_error(turns), 2);
  if (answer.basis == Basis::seen) {
    return fmt::format(
        "agrees: every mark and pin that was looked at is where this drive has it after two turns "
        "(greatest error on paper {} crank deg).",
        error);
  }
  if (has_marks_or_pins(turns)) {
    return fmt::format(
        "agrees: belt, tensioner and marks come back after two turns (greatest error {} "
        "crank deg); now two turns by hand must show the same.",
        error);
  }
  return fmt::format(
      "agrees: belt and tensioner fit, and every timed shaft is back after two turns "
      "(greatest error {} crank deg); no mark and no pin is given to see that by.",
      error);
}

// What was seen is one thing, what the profile says another: a stop on paper is not seen.
bool is_of_sight(const Finding& finding) { return finding.code.rfind("seen-", 0) == 0; }

// Opens with what the verdict rests on and ends with what nobody has looked at.
std::string write_headline(const CheckAnswer& answer) {
  const Finding* first = answer.findings.empty() ? nullptr : &answer.findings.front();
  const bool by_sight = answer.basis == Basis::seen &&
                        (answer.verdict == Verdict::agrees || (first && is_of_sight(*first)));
  const std::string on = by_sight ? "Seen" : "On paper";
  std::string unseen = "The fitting itself has not been seen.";
  if (answer.basis == Basis::seen) {
    unseen =
        by_sight ? "What nobody looked at is as the profile has it." : answer.seen->headline + ".";
  }
  unseen = judged_by_loosened(answer.findings) + unseen;
  const std::string brief = first ? brief_of(*first, answer.findings) : "";
  if (answer.verdict == Verdict::stop) {
    return fmt::format("{}: STOP, do not turn it: {}; {}. {}", on, brief, first->action, unseen);
  }
  if (answer.verdict == Verdict::agrees) {
    return fmt::format("{}: {} {}", on, agrees_headline(answer), unseen);
  }
  const bool judged = answer.route_judged && answer.fit_judged && answer.phasing_judged;
  const bool not_enough = first && is_unsettled(*first) && !judged && !answer.not_checked.empty();
  if (first && first->level == Level::look && !not_enough) {
    return fmt::format("{}: look again: {}; {}. {}", on, brief, first->action, unseen);
  }
  const std::size_t open = answer.not_checked.size();
  const std::string wanted =
      open == 0 ? ""
                : fmt::format("{} {}", open == 1 ? ":" : ", first", answer.not_checked.front().key);
  return fmt::format("{}: look again: not enough given: {} still to measure{}. {}", on,
                     counted(static_cast<long long>(open), "thing", "things"), wanted, unseen);
}

// Marks that do not come back are what fault finding is for.
std::string next_command(const CheckAnswer& answer) {
  const auto off = [](const Finding& finding) {
    const bool of_marks = finding.code == "phase" || finding.code == "pin";
    return finding.level != Level::note && of_marks;
  };
  const bool disagrees = std::any_of(answer.findings.begin(), answer.findings.end(), off) ||
                         (answer.seen && answer.verdict != Verdict::agrees);
  if (!disagrees || !answer.judged.turns) return "";
  return answer.seen ? "twoturn why, with the same profile, tells what else it may be, and the "
                       "evidence for and against each."
                     : "twoturn why tells what every fault shows on this engine and, given what "
                       "you see at its marks and pins, which of them it is.";
}

Verdict judge(const CheckAnswer& answer) {
  const bool all_judged = answer.route_judged && answer.fit_judged && answer.phasing_judged;
  return study::worse(study::verdict_of(answer.findings),
                      all_judged ? Verdict::agrees : Verdict::look_again);
}

void no_turns_finding(const DriveSpec& spec, const FitAnswer& answer,
                      std::vector<Finding>& findings) {
  if (!answer.no_turns || answer.no_turns->reason != NoAssembly::Reason::not_in_mesh) return;
  const NoAssembly& none = *answer.no_turns;
  const auto pulley = std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                                   [&](const PulleySpec& one) { return one.name == none.about; });
  const bool timed = pulley == spec.pulleys.end() || turns_per_crank(*pulley);
  const std::string what = timed ? fmt::format("nothing holds the timing of {}", the(none.about))
                                 : fmt::format("nothing drives {}", the(none.about));
  Finding finding{
      Level::stop, "not-in-mesh", none.about,
      fmt::format("Less than one tooth of the belt is in mesh on {} ({}): {}. Check the "
                  "route.",
                  the(none.about), fixed(none.value, 2), what)};
  finding.value = none.value;
  finding.limit = none.limit;
  finding.unit = "teeth";
  finding.brief = what;
  finding.action = "check the route";
  findings.push_back(finding);
}

// What [build] changes is judged against the drive by the book: where the belt has a place in one
// of the two alone, there is nothing to judge it against.
void not_comparable(const CheckAnswer& answer, std::vector<Finding>& findings) {
  const std::optional<NoAssembly>& none = answer.judged.no_turns;
  const bool both_run = answer.book && answer.book->teeth && answer.judged.teeth;
  if (!none || none->reason != NoAssembly::Reason::no_setting || !both_run) return;
  if (answer.book->teeth->own_goes_on() || !answer.judged.teeth->own_goes_on()) return;
  const int wanted = *answer.judged.teeth->belt_teeth;
  const auto by_book =
      std::find_if(answer.book->teeth->nearby.begin(), answer.book->teeth->nearby.end(),
                   [&](const NearbyCount& count) { return count.teeth == wanted; });
  const bool known = by_book != answer.book->teeth->nearby.end() && by_book->mismatch_mm != 0.0;
  const bool sure = !known || certainly_beyond(std::abs(by_book->mismatch_mm), by_book->unsure);
  Finding finding{sure ? Level::stop : Level::look, "book-fit", "belt", ""};
  finding.value = none->value;
  finding.unit = "mm";
  if (none->least_mm && none->greatest_mm) {
    finding.limit = none->value < *none->least_mm ? *none->least_mm : *none->greatest_mm;
  }
  finding.text = fmt::format(
      "A belt of {} teeth goes on as [build] has it, but by the book it has no place in the "
      "travel of {}: two turns cannot be judged against a drive that does not fit.{} Count the "
      "belt's teeth again and check the pulleys and places by the book.",
      wanted, the(none->about),
      sure ? "" : sentences::not_sure("It may fit all the same", by_book->unsure, "mm"));
  finding.brief =
      fmt::format("by the book a belt of {} teeth {} not fit", wanted, sure ? "does" : "may");
  finding.action = sure
                       ? "count the belt's teeth again and check the pulleys and places by the book"
                       : fmt::format("count its teeth again and measure {} better",
                                     sentences::number_of(by_book->unsure.most));
  findings.push_back(finding);
}

void find_all(const DriveSpec& spec, CheckAnswer& answer) {
  find_in_rates(answer.judged.fitted ? answer.judged.fitted->spec()
                                     : spec_for(spec, answer.judged.fit).spec(),
                answer.findings);
  if (answer.judged.turns) find_in_timing(spec, *answer.judged.turns, answer.findings);
  no_turns_finding(spec, answer.judged, answer.findings);
  not_comparable(answer, answer.findings);
  find_in_tensioner(spec, answer, answer.findings);
  if (answer.judged.route) find_in_route(spec, answer.judged, answer.findings);
  find_in_engine(spec, answer.engine, answer.findings);
  find_in_forces(answer, answer.findings);
  if (answer.seen) find_in_seen(answer, answer.findings);
  find_in_numbers(spec, answer.findings);
  find_in_units(spec, answer.judged, answer.findings);
  find_in_places(spec, answer.findings);
  find_contradictions(spec, answer.findings);
  find_unsettled(spec, answer.judged.fit, answer.findings);
  sort_findings(answer.findings);
}

// A part that is a size off puts the tensioner elsewhere, which shows only beyond what the numbers
// leave open.
std::string sizes_not_told(const CheckAnswer& answer) {
  const FitAnswer& book = answer.book ? *answer.book : answer.judged;
  if (!book.tensioner || !book.tensioner->maker || !book.tensioner->meant) return "";
  const TensionerAnswer& tensioner = *book.tensioner;
  if (tensioner.unsure.give_or_take <= tensioner.set_give) return "";
  return fmt::format(
      "a roller or pump that is a size off, unless it puts {} more than {} {} from its marks ({} "
      "is "
      "known worst)",
      the(tensioner.pulley), fixed(tensioner.unsure.give_or_take + tensioner.set_give, 0),
      unit(tensioner.kind), sentences::number_of(tensioner.unsure.most));
}

// What is judged by nobody here, whatever is given. Sections of one pitch differ in the form of
// their teeth: a belt of the one goes on pulleys of the other, and wears both.
std::vector<std::string> outside_of(const DriveSpec& spec, const CheckAnswer& answer) {
  const bool tension = answer.tension && answer.tension->target_n;
  std::vector<std::string> outside{tension ? "whether the belt has the tension it should have"
                                           : "belt tension"};
  std::string form = "the form of its teeth";
  if (answer.judged.drive()) {
    std::vector<std::string_view> alike;
    for (const BeltSection& section : belt_sections()) {
      const bool same = same_pitch(section.pitch_mm, answer.judged.drive()->belt.pitch_mm);
      if (same && section.name != spec.belt.section) alike.push_back(section.name);
    }
    if (!alike.empty()) form += fmt::format(" (of one pitch: {})", fmt::join(alike, ", "));
  }
  outside.push_back(fmt::format("the belt's width, its age and {}", form));
  if (const std::string sizes = sizes_not_told(answer); !sizes.empty()) outside.push_back(sizes);
  if (!answer.engine.valves) outside.emplace_back("room between valves and pistons");
  outside.emplace_back(spec.bolts.empty() ? "bolts" : "whether the bolts are tight");
  outside.emplace_back("the fitting itself");
  return outside;
}

}  // namespace

std::string word(Verdict verdict) {
  switch (verdict) {
    case Verdict::agrees:
      return "agrees";
    case Verdict::look_again:
      return "look again";
    case Verdict::stop:
      return "stop";
  }
  return "";
}

std::string word(Basis basis) {
  switch (basis) {
    case Basis::paper:
      return "paper";
    case Basis::seen:
      return "seen";
    case Basis::record:
      return "record";
  }
  return "";
}

FitAnswer answer_built(const DriveSpec& spec, const BothFits& both, Fit fit,
                       std::vector<Missing>& missing, Depth depth) {
  FitAnswer answer;
  answer.fit = fit;
  add_missing(both.asked.missing, missing);
  if (!both.asked.fitted) return answer;
  const Fitted& fitted = *both.asked.fitted;
  answer.fitted = fitted;
  const Drive& drive = fitted.drive();
  answer.route = depth == Depth::whole ? route_of(fitted) : route_at_setting(fitted);
  answer.teeth = fitting_teeth(fitted, {}, both.book.fitted ? &*both.book.fitted : nullptr);
  answer.tensioner = preview_tensioner(fitted);
  const bool fixed_refused = !drive.tensioner && !answer.route->is_belt;
  if (!drive.belt.teeth || fixed_refused || drive.both_orders_run) return answer;
  if (!both.book.fitted) return answer;
  AssemblyResult assembled = assemble(*both.book.fitted, fitted);
  answer.no_turns = assembled.none;
  if (!assembled.assembly) return answer;
  TurnsQuestion question;
  question.fit = fit;
  question.pin_tight_mm = limits_of(spec.limits).pin_tight_mm;
  answer.turns = two_turns(std::move(*assembled.assembly), question);
  return answer;
}

Verdict verdict_of_turns(const DriveSpec& spec, const TurnsAnswer& turns) {
  CheckAnswer answer;
  answer.route_judged = answer.fit_judged = answer.phasing_judged = true;
  find_in_rates(spec_for(spec, turns.fit).spec(), answer.findings);
  find_in_timing(spec, turns, answer.findings);
  return judge(answer);
}

FitAnswer answer_fit(const DriveSpec& spec, Fit fit, std::vector<Missing>& missing) {
  return answer_built(spec, both_fits(spec, fit), fit, missing);
}

// Whether a profile says anything that pulls.
static bool says_forces(const DriveSpec& spec) {
  const bool springs =
      std::any_of(spec.valves.begin(), spec.valves.end(),
                  [](const ValveSpec& valve) { return valve.spring_n || valve.spring_rate_n_mm; });
  const bool drags = std::any_of(spec.pulleys.begin(), spec.pulleys.end(),
                                 [](const PulleySpec& pulley) { return pulley.drag_nm; });
  const BeltSpec& belt = spec.belt;
  return springs || drags || belt.stiffness_n || belt.mass_g_per_m || belt.weighed_g ||
         belt.width_mm || !(spec.tension == TensionSpec{});
}

static void add_forces(const DriveSpec& spec, CheckAnswer& answer) {
  const FitAnswer& judged = answer.judged;
  std::vector<Missing> open;
  answer.feel = feel_answer(spec, judged.fitted ? &*judged.fitted : nullptr, judged.fit,
                            judged.turns ? &*judged.turns : nullptr,
                            answer.engine.valves ? &*answer.engine.valves : nullptr, open,
                            FeelLook::coarsely);
  if (judged.fitted && judged.turns) {
    answer.tension = tension_answer(spec, *judged.fitted, *judged.turns, {}, open);
  }
  add_missing(open, answer.not_checked);
}

CheckAnswer check_drive(const DriveSpec& spec, Fit fit) {
  return check_built(spec, both_fits(spec, fit), fit);
}

CheckAnswer check_built(const DriveSpec& spec, const BothFits& both, Fit fit) {
  CheckAnswer answer;
  answer.title = spec.title;
  answer.given = spec.given;
  answer.places = spec.places;
  answer.judged = answer_built(spec, both, fit, answer.not_checked);
  const bool build_says_something = changes_the_drive(spec.build);
  if (fit == Fit::as_fitted && build_says_something) {
    answer.book = answer_built(spec, {both.book, both.book}, Fit::by_the_book, answer.not_checked,
                               Depth::to_compare);
  }
  answer.route_judged = answer.judged.route.has_value();
  answer.fit_judged = answer.judged.teeth && answer.judged.teeth->belt_teeth &&
                      (answer.judged.tensioner || answer.judged.teeth->tolerance_mm);
  answer.phasing_judged =
      answer.judged.turns && spec.crank_turns.has_value() && has_timed_shaft(*answer.judged.turns);
  if (!answer.judged.turns) answer.paint = paint_from_counts(spec);
  std::vector<Missing> of_engine;
  answer.engine = answer_engine(spec, answer.judged, of_engine);
  add_open_questions(spec, answer, answer.not_checked);
  add_missing(of_engine, answer.not_checked);
  if (says_forces(spec)) add_forces(spec, answer);
  answer.seen = why_seen(spec, fit);
  if (answer.seen) answer.basis = Basis::seen;
  answer.outside = outside_of(spec, answer);
  find_all(spec, answer);
  answer.verdict = judge(answer);
  answer.headline = write_headline(answer);
  answer.next_command = next_command(answer);
  answer.whole_move = whole_move(spec, answer);
  answer.cautions = cautions_for(spec);
  answer.unused = unused_keys(spec, answer);
  return answer;
}

}  // namespace twoturn
