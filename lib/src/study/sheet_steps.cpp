// The order of work: one small function a step. A step without lines is left out.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "check_parts.hpp"
#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/sections.hpp"
#include "words/head_changes.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

// The unit of a key's number, where it has one.
std::string unit_of(const std::string& key) {
  constexpr std::array<std::string_view, 3> kUnits{"mm", "deg", "teeth"};
  for (const std::string_view unit : kUnits) {
    const bool ends =
        key.size() > unit.size() && std::string_view(key).substr(key.size() - unit.size()) == unit;
    if (ends &&
        std::string_view("_.").find(key[key.size() - unit.size() - 1]) != std::string::npos) {
      return std::string(unit);
    }
  }
  return "";
}

// ", give or take 0.3" behind a number of so many digits at most; nothing where it prints as that.
std::string put_give(SheetLine& line, std::string key, const Unsure& unsure, int digits,
                     std::string_view behind) {
  const int shown = std::min(digits, sentences::give_of(unsure).digits);
  if (prints_as_nothing(unsure.give_or_take, shown)) return "";
  return fmt::format(", give or take {}{}", put(line, std::move(key), unsure.give_or_take, shown),
                     behind);
}

// Where the profile tells of a place that is clear; else the manual's alone.
const ParkAnswer* clear_park(const Job& job) {
  const std::optional<ParkAnswer>& known = job.check.engine.park;
  return known && known->best_is_clear ? &*known : nullptr;
}

// Shafts that no valve can stop need no parking.
bool is_parked(const Job& job) {
  return job.is_engine() && !never_meet(job.spec, job.check.engine);
}

SheetLine park(const Job& job) {
  const ParkAnswer* known = clear_park(job);
  if (known == nullptr) {
    SheetLine parked = tick("Crank parked as the manual says,");
    parked.blanks = {{"at", "deg"}};
    return parked;
  }
  SheetLine parked = tick("");
  parked.text = fmt::format(
      "Crank parked as the manual says; on paper {}at {} deg past top dead "
      "centre of cylinder 1, {} mm{} to spare.",
      known->best_is_timing ? "at its mark, " : "", put(parked, "park_deg", known->best_deg, 0),
      put(parked, "park_spare_mm", known->best_spare_mm,
          std::min(1, sentences::give_of(known->best_unsure).digits)),
      put_give(parked, "park_give_or_take_mm", known->best_unsure, 1, ","));
  return parked;
}

}  // namespace

// With the head on and the cams at their marks, unless it is parked at its mark already.
void add_way_to_mark(const Job& job, SheetStep& step) {
  const ParkAnswer* known = clear_park(job);
  if (!is_parked(job) || (known && known->best_is_timing)) return;
  SheetLine line = tick("");
  const ParkWay* way = known ? way_to_take(*known) : nullptr;
  const std::string how =
      way ? fmt::format("on paper {} deg {}", put(line, "park_turn_deg", way->turn_deg, 0),
                        way->way == TurnWay::forwards ? "forwards" : "back")
          : std::string("the way the manual says");
  std::string never;
  for (const ParkWay& other : known ? known->ways : std::vector<ParkWay>()) {
    if (other.clear) continue;
    never += fmt::format(" NOT {}: there a piston meets a valve.",
                         other.way == TurnWay::forwards ? "forwards" : "back");
  }
  line.text = fmt::format(
      "Head on, cams at their marks; then the parked crank to its own, belt off, {}.{} Stop at any "
      "resistance.",
      how, never);
  step.lines.push_back(std::move(line));
}

namespace {

// The valve that comes nearest, while the cams stand as they do on paper.
void add_valve_room(const Job& job, SheetStep& step) {
  const std::optional<ValvesAnswer>& known = job.check.engine.valves;
  if (!known) return;
  const ValveAnswer& nearest = tightest_valve(*known);
  SheetLine line = SheetLine{SheetLine::Kind::note, ""};
  const double least = nearest.fitted.least_mm;
  const Unsure& unsure = nearest.fitted.unsure;
  const std::string mm =
      put(line, "valve_room_mm", std::abs(least), sentences::give_of(unsure).digits);
  const std::string give = put_give(line, "valve_room_give_or_take_mm", unsure, 2, "");
  line.text = least > 0.0 ? fmt::format("Least room to a piston, on paper: {}, {} mm{}.",
                                        nearest.name, mm, give)
                          : fmt::format("On paper {} TOUCHES its piston, by {} mm{}.",
                                        the(sentences::valve(nearest.name)), mm, give);
  step.lines.push_back(std::move(line));
}

SheetStep before(const Job& job) {
  SheetStep step{"before", "Before the old belt comes off"};
  if (job.is_engine()) {
    step.lines.push_back(tick("Battery off. Neutral, handbrake, chocks, stands."));
    step.lines.push_back(tick("Plugs out, their holes covered."));
  } else {
    step.lines.push_back(tick("Switched off, and nobody can switch it on."));
  }
  step.lines.push_back(tick("Marks and pointer painted and photographed."));
  if (is_parked(job)) step.lines.push_back(park(job));
  return step;
}

std::string skim_words(const Job& job, SheetLine& line, const std::string& head) {
  if (job.check.judged.fit == Fit::by_the_book) return "";
  std::string text;
  for (const sentences::HeadChange& change : sentences::head_changes(job.spec.build, head)) {
    put_shortest(line, std::string(change.key), change.mm, 3);
    text += sentences::told(change) + ", ";
  }
  return text;
}

// What the profile lacks. Marks, the belt's count and the crank's direction have blanks of their
// own further down; what the valves need is more than one blank can take.
SheetStep measure(const Job& job) {
  SheetStep step{"measure", "Measure what this sheet lacks"};
  for (const Missing& missing : job.check.not_checked) {
    const auto about = [&](std::string_view what) {
      return missing.key.find(what) != std::string::npos;
    };
    if (about("mark_deg") || about("belt.teeth") || about("crank_turns") || about("origin.") ||
        missing.key == "valve") {
      continue;
    }
    const bool says_what = missing.measure.rfind("look it up", 0) != 0;
    SheetLine line =
        tick(capital((says_what ? "" : missing.answer + ": ") + missing.measure + "."));
    line.blanks = {{"", unit_of(missing.key)}};
    step.lines.push_back(line);
  }
  return step;
}

SheetStep head(const Job& job) {
  SheetStep step{"head", "Head"};
  for (const HeadSpec& given : job.spec.heads) {
    SheetLine line = tick("");
    line.text = fmt::format("{}: {}face", capital(given.name), skim_words(job, line, given.name));
    line.blanks = {{"out of flat", "mm"}};
    step.lines.push_back(line);
  }
  add_trays(job, step);
  add_head_bolts(job, step);
  return step;
}

void other_counts(const Job& job, int teeth, SheetStep& step) {
  if (!job.check.judged.teeth || !job.check.judged.tensioner) return;
  const TeethAnswer& answer = *job.check.judged.teeth;
  if (!answer.goes_on(teeth)) return;
  for (const FittingCount& count : answer.fits) {
    if (count.teeth == teeth || std::abs(count.teeth - teeth) > 2 || !count.fits()) continue;
    SheetLine line = note("");
    line.text = fmt::format("One of {} teeth goes on as well: count twice.",
                            put_count(line, "also_fits_teeth", count.teeth));
    step.lines.push_back(line);
  }
}

SheetStep belt(const Job& job) {
  SheetStep step{"belt", "The right belt"};
  SheetLine line = tick("Its teeth: paint one, go once round,");
  line.blanks = {{"counted", ""}};
  if (job.spec.belt.teeth) {
    line.text = fmt::format("{} teeth", put_count(line, "belt_teeth", *job.spec.belt.teeth));
    const std::optional<double> pitch = job.counts.question.pitch_mm;
    if (pitch) line.text += fmt::format(" of {} mm", put_shortest(line, "pitch_mm", *pitch, 4));
    if (job.spec.belt.section) line.text += fmt::format(" ({})", *job.spec.belt.section);
    line.text += ",";
  }
  step.lines.push_back(line);
  if (job.spec.belt.teeth) other_counts(job, *job.spec.belt.teeth, step);
  step.lines.push_back(tick("New; never kinked, levered or oiled; arrow the way it runs."));
  return step;
}

// From the crank against the travel, so that the tight side is laid first.
std::string belt_order(const Drive& drive) {
  std::vector<std::string> names;
  for (std::size_t i = drive.pulleys.size(); i-- > 1;) {
    const Pulley& pulley = drive.pulleys[i];
    names.push_back(pulley.name + (pulley.face == Face::back ? " (on its back)" : ""));
  }
  return in_words(names);
}

// Named by what it passes where that is little; else the short way, which nobody mistakes.
SheetLine between_line(const BetweenMarks& between) {
  SheetLine line = tick("");
  const TeethBetween& count = between.count;
  // Without a count of the other way nobody can tell which is the short one.
  const bool short_way = count.other_way && between.along.find(',') != std::string::npos;
  const bool other = short_way && *count.other_way < count.teeth;
  line.text = fmt::format("{} to {}", capital(between.from), between.to);
  if (!short_way && !between.along.empty()) line.text += fmt::format(", past {}", between.along);
  line.text += fmt::format(
      ": {} teeth{}",
      put(line, "between_teeth", other ? *count.other_way : count.teeth, count.countable() ? 0 : 1),
      short_way ? " the short way" : "");
  if (!count.from_in_mesh || !count.to_in_mesh) line.text += ", from the last tooth in mesh";
  line.text += ".";
  return line;
}

SheetStep route(const Job& job) {
  SheetStep step{"route", "Belt on, tight side first"};
  add_parts_before_belt(job, step);
  const Drive* drive = job.drive();
  SheetLine line = tick("Over crank, pumps and cams; every run taut but the tensioner's.");
  if (drive && drive->direction == Direction::given) {
    line.text =
        fmt::format("From the crank, along the run that arrives at it: {}. {}", belt_order(*drive),
                    drive->tensioner ? "Slack only on the tensioner's run." : "Taut on that side.");
  }
  step.lines.push_back(line);
  add_loose_pulleys(job, step);
  if (!job.turns()) return step;
  const std::vector<BetweenMarks>& counts = job.turns()->between_marks;
  if (!counts.empty()) step.lines.push_back(note("From mark to mark, pins in:"));
  for (const BetweenMarks& between : counts) step.lines.push_back(between_line(between));
  return step;
}

const Setting* setting_of(const Job& job) {
  if (job.turns() && job.turns()->assembly.fitted_setting) {
    return &*job.turns()->assembly.fitted_setting;
  }
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  return tensioner && tensioner->meant ? &*tensioner->meant : nullptr;
}

// Where a person sets it.
SheetLine setting_line(const TensionerAnswer& tensioner, const Setting& setting) {
  SheetLine line = tick("");
  line.blanks = {{"stands at", tensioner.kind == TensionerKind::swing ? "" : "mm"}};
  if (tensioner.kind == TensionerKind::slide) {
    line.text =
        fmt::format("To {} mm from the slack end,", put(line, "at_mm", setting.reading.value, 2));
  } else if (setting.pointer_deg) {
    line.text = fmt::format("Pointer to {},", put_clock(line, "pointer_deg", *setting.pointer_deg));
  } else {
    line.text = fmt::format("Roller's centre to {} from the pivot,",
                            put_clock(line, "at_deg", setting.reading.value));
  }
  const double give = tensioner.unsure.give_or_take;
  constexpr double kHalfCircleDeg = 180.0;
  if (prints_as_nothing(give, 0) || give > kHalfCircleDeg) return line;
  line.text += fmt::format(" give or take {} {} on paper,",
                           put(line, in_unit("give_or_take", tensioner.kind), give, 0),
                           unit(tensioner.kind));
  return line;
}

SheetLine room_line(const TensionerAnswer& tensioner, const Setting& setting) {
  SheetLine line = note("");
  if (tensioner.kind == TensionerKind::swing && setting.pointer_deg) {
    line.text = fmt::format("Roller's centre then at {} from the pivot. ",
                            put_clock(line, "at_deg", setting.reading.value));
  }
  line.text += fmt::format("Travel {} (1 is tight), adjustment left {} mm.",
                           put(line, "travel", setting.travel, 2),
                           put(line, "adjustment_left_mm", setting.adjustment_left_mm, 2));
  return line;
}

SheetLine way_to_tighten(const TensionerAnswer& tensioner) {
  SheetLine line = tick("");
  if (tensioner.kind == TensionerKind::swing) {
    line.text = fmt::format("Cold. The spanner turns {} to tighten.", word(tensioner.tightens));
  } else {
    line.text =
        fmt::format("Cold. It tightens towards {}.",
                    put_clock(line, "tightens_towards_deg", tensioner.tightens_towards_deg));
  }
  return line;
}

SheetLine fixed_centres_line(const TeethAnswer& teeth) {
  SheetLine line = note("No tensioner: the centres alone make the belt tight.");
  for (const NearbyCount& near : teeth.nearby) {
    if (near.teeth != teeth.belt_teeth) continue;
    line.text = fmt::format("No tensioner: on these centres the belt is {} mm {}.",
                            put(line, "mismatch_mm", std::abs(near.mismatch_mm), 2),
                            near.mismatch_mm < 0.0 ? "too short" : "too long");
  }
  if (teeth.tolerance_mm) {
    line.text += fmt::format(" Its length may vary by {} mm each way.",
                             put_shortest(line, "tolerance_mm", *teeth.tolerance_mm, 2));
  }
  return line;
}

// The target in every way that it can be read on the run to measure.
void add_target(const Job& job, SheetStep& step) {
  const std::optional<TensionAnswer>& tension = job.check.tension;
  if (!tension || !tension->target_n) return;
  for (const TensionRun& run : tension->runs) {
    if (!run.best || !run.tension_n || !run.give_mm) continue;
    SheetLine line = tick("");
    line.text = fmt::format("{} to {}: {} N", capital(run.from), run.to,
                            put_whole(line, "tension_n", *run.tension_n));
    if (run.note_hz)
      line.text += fmt::format(", plucked {} Hz", put_whole(line, "note_hz", *run.note_hz));
    line.text += fmt::format(", {} mm to a push of {} N;", put(line, "give_mm", *run.give_mm, 1),
                             put_whole(line, "push_n", tension->push_n));
    line.blanks = {{"read", ""}};
    step.lines.push_back(line);
  }
}

SheetStep tension(const Job& job) {
  SheetStep step{"tension", "Tension"};
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  if (tensioner) {
    step.lines.push_back(way_to_tighten(*tensioner));
    if (const Setting* setting = setting_of(job)) {
      step.lines.push_back(setting_line(*tensioner, *setting));
      step.lines.push_back(room_line(*tensioner, *setting));
    }
  } else if (job.check.judged.teeth) {
    step.lines.push_back(fixed_centres_line(*job.check.judged.teeth));
  } else {
    SheetLine line = tick("Cold. Tensioner as the manual says;");
    line.blanks = {{"pointer at", ""}};
    step.lines.push_back(line);
  }
  add_target(job, step);
  SheetLine value = tick("The manual's");
  value.blanks = {{"tension", ""}};
  if (!add_tensioner_bolts(job, step)) value.blanks.push_back({"nut", "Nm"});
  step.lines.push_back(value);
  add_tightened_pulleys(job, step);
  add_crank_bolts(job, step);
  return step;
}

SheetLine paint_line(const Paint& paint) {
  SheetLine line = note("");
  const auto turns = [&](const char* key, const std::optional<long long>& count) {
    if (!count) return sentences::after_turns(count);
    return fmt::format("after {} {}", put_count(line, key, *count), count == 1 ? "turn" : "turns");
  };
  if (paint.teeth_further_on == 0) {
    line.text = "Paint: the belt's and the crank's then meet. ";
  } else {
    line.text = fmt::format(
        "Paint: the belt's is then {} {} past the crank's, the way it runs, and that is right. ",
        put_count(line, "further_on_teeth", paint.teeth_further_on),
        paint.teeth_further_on == 1 ? "tooth" : "teeth");
  }
  line.text += fmt::format("They meet {}, all paint {}.",
                           turns("crank_meets_turns", paint.crank_meets_turns),
                           turns("all_meet_turns", paint.all_meet_turns));
  return line;
}

// Where the springs resist, in the order in which they come.
void add_feel(const Job& job, SheetStep& step) {
  const std::optional<FeelAnswer>& feel = job.check.feel;
  if (!feel || feel->humps.empty() || !feel->at_engine_place) return;
  SheetLine line = note("");
  std::vector<std::string> places;
  constexpr std::size_t kMost = 8;
  for (const FeelHump& hump : feel->humps) {
    if (places.size() == kMost) break;
    const std::string key = fmt::format("hump_{}_deg", places.size() + 1);
    places.push_back(put_whole(line, key, hump.crank_deg));
  }
  line.text = fmt::format("Humps of the valve springs {}{} deg on from pins in",
                          feel->humps.size() > kMost ? "first at " : "at ", in_words(places));
  if (feel->springs_known) {
    line.text += fmt::format(", up to {} Nm ({} lbf ft): {} N at {} mm of spanner",
                             put_whole(line, "hump_nm", feel->greatest.nm),
                             put_whole(line, "hump_lbf_ft", feel->greatest.lbf_ft),
                             put_whole(line, "hump_at_spanner_n", feel->greatest.at_spanner_n),
                             put_whole(line, "spanner_mm", kSpannerMm));
  }
  line.text += ". They give way to a steady pull; a solid stop is none of them.";
  step.lines.push_back(line);
}

SheetStep two_turns(const Job& job) {
  SheetStep step{"turn", "Two turns by hand"};
  step.lines.push_back(tick("Every pin, bar and tool out first."));
  const std::string way = turning(job.spec);
  step.lines.push_back(
      tick(fmt::format("Two turns at the crank{}; never by a cam bolt. Overshot: well back, then "
                       "forwards again. Solid "
                       "stop: stop, back off, find out.",
                       way.empty() ? ", in its running direction" : ", " + way)));
  if (way.empty()) {
    SheetLine line = note("Seen from the belt end the crank");
    line.blanks = {{"runs", ""}};
    step.lines.push_back(line);
  }
  add_feel(job, step);
  step.lines.push_back(tick("Marks as in the table; pins in and out by hand."));
  if (job.turns()) {
    step.lines.push_back(paint_line(job.turns()->paint));
  } else if (job.check.paint) {
    step.lines.push_back(paint_line(*job.check.paint));
  }
  add_valve_room(job, step);
  return step;
}

}  // namespace

std::vector<SheetStep> order_of_work(const Job& job) {
  std::vector<SheetStep> steps;
  const auto add = [&](auto... make) {
    for (const auto one : {make...}) {
      SheetStep step = one(job);
      if (!step.lines.empty()) steps.push_back(std::move(step));
    }
  };
  if (job.has_belt()) {
    add(before, measure, head, belt, pins, route, tension, two_turns, close_up);
  } else {
    add(head, close_up);
  }
  return steps;
}

}  // namespace twoturn::sheet
