// The order of work: one small function a step. A step without lines is left out.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sentences.hpp"
#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/sections.hpp"
#include "twoturn/drive/words.hpp"

namespace twoturn::sheet {
namespace {

constexpr double kPrintsAsNothing = 0.005;

SheetStep before(const Job& job) {
  SheetStep step{"before", "Before the old belt comes off"};
  if (job.is_engine()) {
    step.lines.push_back(
        tick("Battery off. In neutral, handbrake on, wheels chocked, on stands. Plugs out, holes "
             "covered."));
  } else {
    step.lines.push_back(tick("Switched off, and nobody can switch it on."));
  }
  step.lines.push_back(tick("Marks, belt and pointer painted and photographed."));
  SheetLine parked = tick("Crank parked where the manual says, before any shaft may move:");
  parked.blanks = {{"crank at", "deg"}};
  if (job.spec.engine.interference != false && job.is_engine()) step.lines.push_back(parked);
  return step;
}

std::string skim_words(const Job& job, SheetLine& line, const std::string& head) {
  const auto said = [&head](const auto& map) -> double {
    const auto found = map.find(head);
    return found == map.end() ? 0.0 : found->second;
  };
  if (job.check.judged.fit == Fit::by_the_book) return "";
  const BuildSpec& build = job.spec.build;
  std::string text;
  const auto add = [&](double mm, const char* key, const char* what) {
    if (mm == 0.0) return;
    text += fmt::format("{}{} {} mm", text.empty() ? "" : ", ", what, put_shortest(line, key, mm, 3));
  };
  add(said(build.skim_mm), "skim_mm", "skimmed by");
  add(said(build.block_skim_mm), "block_skim_mm", "block skimmed by");
  add(said(build.gasket_change_mm), "gasket_change_mm", "gasket thicker by");
  return text.empty() ? "" : fmt::format(" This sheet counts it {}.", text);
}

SheetStep head(const Job& job) {
  SheetStep step{"head", "Head"};
  for (const HeadSpec& given : job.spec.heads) {
    SheetLine line = tick("");
    line.text = fmt::format("{}: face measured.{}", sentences::capital(given.name),
                            skim_words(job, line, given.name));
    line.blanks = {{"out of flat", "mm"}};
    step.lines.push_back(line);
  }
  if (step.lines.empty()) return step;
  SheetLine bolts = tick("Bolt holes dry and clean, stretch bolts new. Stages of the manual:");
  bolts.blanks = {{"", "Nm"}, {"", "deg"}, {"", "deg"}};
  step.lines.push_back(bolts);
  return step;
}

void other_counts(const Job& job, int teeth, SheetStep& step) {
  if (!job.check.judged.teeth || !job.check.judged.tensioner) return;
  for (const FittingCount& count : job.check.judged.teeth->fits) {
    if (count.teeth == teeth || std::abs(count.teeth - teeth) > 2 || !count.fits()) continue;
    SheetLine line = note("");
    line.text = fmt::format("One of {} teeth goes on as well: count, twice.",
                            put_count(line, "also_fits_teeth", count.teeth));
    step.lines.push_back(line);
  }
}

SheetStep belt(const Job& job) {
  SheetStep step{"belt", "The right belt"};
  SheetLine line = tick("New, its arrow the way it runs; never kinked, levered or oiled. ");
  if (job.spec.belt.teeth) {
    line.text += fmt::format("Teeth: {}", put_count(line, "belt_teeth", *job.spec.belt.teeth));
    const std::optional<double> pitch = job.counts.question.pitch_mm;
    if (pitch) line.text += fmt::format(" of {} mm", put_shortest(line, "pitch_mm", *pitch, 4));
    if (job.spec.belt.section) line.text += fmt::format(" ({})", *job.spec.belt.section);
    line.text += ".";
    line.blanks = {{"counted", "teeth"}};
    step.lines.push_back(line);
    other_counts(job, *job.spec.belt.teeth, step);
    return step;
  }
  line.text += "Its teeth are not known here: paint one and go once round.";
  line.blanks = {{"counted", "teeth"}};
  step.lines.push_back(line);
  return step;
}

std::string how_held(const TimedShaft& shaft) {
  return shaft.held_by.empty() ? "" : fmt::format(", {} in", shaft.held_by);
}

SheetStep pins(const Job& job) {
  SheetStep step{"pins", "Marks and pins"};
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    SheetLine line = tick("");
    if (shaft.mark_deg) {
      line.text =
          fmt::format("{}: mark at {}{}.", sentences::capital(shaft.name),
                      put_clock(line, "mark_deg", *shaft.mark_deg), how_held(shaft));
    } else {
      line.text = fmt::format("{}: mark at its place{}; see where it points.",
                              sentences::capital(shaft.name), how_held(shaft));
      line.blanks = {{"at", "o'clock"}};
    }
    step.lines.push_back(line);
  }
  const int given = pins_and_bars(job.spec);
  SheetLine count = tick(
      "For position only, never to hold against a bolt. Write down what went in:");
  count.blanks = {{"pins and bars in", ""}};
  if (given > 0) {
    count.text = fmt::format(
        "Pins and bars that this sheet knows of: {}. For position only, never to hold against a "
        "bolt.",
        put_count(count, "pins_and_bars", given));
  }
  step.lines.push_back(count);
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

SheetLine between_line(const BetweenMarks& between) {
  SheetLine line = tick("");
  const bool whole = sentences::countable(between.count);
  const auto teeth = [&](const char* key, double value) {
    return put(line, key, value, whole ? 0 : 1);
  };
  line.text = fmt::format("{} to {}", sentences::capital(between.from), between.to);
  if (!between.along.empty()) line.text += fmt::format(", past {}", between.along);
  line.text += fmt::format(": {} teeth", teeth("between_teeth", between.count.teeth));
  if (between.count.other_way) {
    line.text += fmt::format(" ({} the other way)", teeth("other_way_teeth", *between.count.other_way));
  }
  if (!between.count.from_in_mesh || !between.count.to_in_mesh) {
    line.text += ", counted from the last tooth in mesh";
  }
  line.text += ".";
  return line;
}

SheetStep route(const Job& job) {
  SheetStep step{"route", "Belt on, tight side first"};
  const Drive* drive = job.drive();
  SheetLine line = tick("Over crank, pumps and cams with every run taut but the tensioner's.");
  if (drive && drive->direction_known) {
    line.text = fmt::format(
        "From the crank up its tight side, the run that arrives at it: {}. No slack but on the "
        "tensioner's run.",
        belt_order(*drive));
  }
  step.lines.push_back(line);
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (shaft.fixing != Fixing::free_until_tightened) continue;
    step.lines.push_back(tick(fmt::format(
        "{}: pulley loose on its shaft until the belt is tight.", sentences::capital(shaft.name))));
  }
  if (!job.turns()) return step;
  const std::vector<BetweenMarks>& counts = job.turns()->between_marks;
  if (!counts.empty()) step.lines.push_back(note("Belt teeth from mark to mark, every pin in:"));
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

// Where the tensioner stands, as a person sees it.
SheetLine setting_line(const TensionerAnswer& tensioner, const Setting& setting) {
  SheetLine line = tick("");
  if (!tensioner.swings) {
    line.text =
        fmt::format("To {} mm from the slack end of its slot.", put(line, "at_mm", setting.reading, 2));
  } else if (setting.pointer_deg) {
    line.text =
        fmt::format("Pointer to {}: the roller's centre then stands at {} from the pivot.",
                    put_clock(line, "pointer_deg", *setting.pointer_deg),
                    put_clock(line, "at_deg", setting.reading));
  } else {
    line.text = fmt::format("The roller's centre to {}, seen from the pivot.",
                            put_clock(line, "at_deg", setting.reading));
  }
  line.text += fmt::format(" Travel {} (0 slack, 1 tight); adjustment left {} mm.",
                           put(line, "travel", setting.travel, 2),
                           put(line, "adjustment_left_mm", setting.adjustment_left_mm, 2));
  line.blanks = {{tensioner.swings ? "stands at" : "", tensioner.swings ? "o'clock" : "mm"}};
  return line;
}

SheetLine way_to_tighten(const TensionerAnswer& tensioner) {
  SheetLine line = tick("");
  if (tensioner.swings) {
    line.text = fmt::format("Engine cold. To tighten, the spanner turns {}.",
                            word(tensioner.tightens));
  } else {
    line.text = fmt::format("Engine cold. It tightens towards {}.",
                            put_clock(line, "tightens_towards_deg", tensioner.tightens_towards_deg));
  }
  line.text += " A sprung one can snap: fingers.";
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

SheetStep tension(const Job& job) {
  SheetStep step{"tension", "Tension"};
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  if (tensioner) {
    step.lines.push_back(way_to_tighten(*tensioner));
    if (const Setting* setting = setting_of(job)) {
      step.lines.push_back(setting_line(*tensioner, *setting));
    }
  } else if (job.check.judged.teeth) {
    step.lines.push_back(fixed_centres_line(*job.check.judged.teeth));
  } else {
    SheetLine line = tick("Engine cold. Set the tensioner as the manual says; its pointer then:");
    line.blanks = {{"at", "o'clock"}};
    step.lines.push_back(line);
  }
  SheetLine value = tick("Tension of the manual:");
  value.blanks = {{"", "N or Hz"}, {"nut", "Nm"}};
  step.lines.push_back(value);
  return step;
}

SheetLine paint_line(const Paint& paint) {
  SheetLine line = note("");
  const auto turns = [&](const char* key, long long count) {
    return fmt::format("{} {}", put_count(line, key, count), count == 1 ? "turn" : "turns");
  };
  if (paint.teeth_further_on == 0) {
    line.text = "Paint on belt and crank meets after two turns. ";
  } else {
    line.text = fmt::format(
        "Paint on belt and crank does not meet after two turns, and that is right: the belt's is {} "
        "{} further on, the way it runs. ",
        put_count(line, "further_on_teeth", paint.teeth_further_on),
        paint.teeth_further_on == 1 ? "tooth" : "teeth");
  }
  line.text += fmt::format("The two meet after {}, all paint after {}.",
                           turns("crank_meets_turns", paint.crank_meets_turns),
                           turns("all_meet_turns", paint.all_meet_turns));
  return line;
}

SheetStep two_turns(const Job& job) {
  SheetStep step{"turn", "Two turns by hand"};
  step.lines.push_back(tick("Every pin, bar and tool out first; plugs still out."));
  const std::string way = turning(job.spec);
  step.lines.push_back(tick(fmt::format(
      "Two whole turns, at the crank only{}, never by a cam bolt. Overshot: well back, then "
      "forwards again. Solid stop: stop, back off, find out.",
      way.empty() ? ", in its running direction" : ", " + way)));
  if (way.empty()) {
    SheetLine line = note("Which way it runs is not given; look at the belt end.");
    line.blanks = {{"it runs", ""}};
    step.lines.push_back(line);
  }
  step.lines.push_back(tick("Marks as in the table; each pin goes in by hand."));
  if (job.turns()) {
    step.lines.push_back(paint_line(job.turns()->paint));
  } else if (job.check.paint) {
    step.lines.push_back(paint_line(*job.check.paint));
  }
  return step;
}

SheetStep close_up(const Job& job) {
  SheetStep step{"close", "Pins out, holes closed"};
  std::vector<std::string> names;
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (!shaft.held_by.empty()) names.push_back(shaft.name);
  }
  const auto known = static_cast<long long>(names.size());
  SheetLine out = tick("As many out as went in.");
  out.blanks = {{"pins and bars out", ""}};
  SheetLine closed = tick("Every access hole that a pin or bar used is closed, its plug in.");
  closed.blanks = {{"holes closed", ""}};
  if (known > 0) {
    out.text = fmt::format("Out, counted: {} ({}).", put_count(out, "pins_and_bars", known),
                           in_words(names));
  }
  step.lines = {out, closed};
  if (job.is_engine()) {
    step.lines.push_back(
        tick("Nothing left in a plug hole. Fresh hydraulic followers: wait as the manual says."));
  }
  step.lines.push_back(
      tick("Covers on, then by the maker's manual. The starter only after two clean turns by hand."));
  return step;
}

}  // namespace

std::vector<SheetStep> order_of_work(const Job& job) {
  std::vector<SheetStep> steps;
  for (const auto make : {before, head, belt, pins, route, tension, two_turns, close_up}) {
    SheetStep step = make(job);
    if (!step.lines.empty()) steps.push_back(std::move(step));
  }
  return steps;
}

}  // namespace twoturn::sheet
