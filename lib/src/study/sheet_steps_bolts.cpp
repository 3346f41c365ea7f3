// Bolts at their place in the order of work. Their grid, tick by tick, is on the job card.
#include <fmt/format.h>

#include <algorithm>

#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

void put_stage(SheetLine& line, const BoltStage& stage) {
  const std::string key = fmt::format("stage_{}_", stage.stage);
  if (stage.torque_nm) {
    put(line, key + "nm", *stage.torque_nm, 1);
    put(line, key + "lbf_ft", *stage.torque_lbf_ft, 1);
  }
  if (!stage.angle_deg) return;
  put(line, key + "deg", *stage.angle_deg, 1);
  put(line, key + "total_deg", *stage.total_deg, 1);
  put_clock(line, key + "dot_from_deg", *stage.dot_from_deg);
  put_clock(line, key + "dot_to_deg", *stage.dot_to_deg);
}

// "Head bolts: 10 in order: to 40 Nm (29.5 lbf ft); 90 more: ..."
SheetLine bolts_line(const BoltGroup& group) {
  SheetLine line = tick(capital(group.name) + ":");
  if (!group.bolts.empty()) {
    line.text += fmt::format(" {}{}", put_count(line, "bolts", std::ssize(group.bolts)),
                             group.bolts.size() > 1 && !group.order_to_find() ? " in order" : "");
  }
  if (group.stages.empty()) {
    line.text += ", by the manual:";
    line.blanks = {{"", "Nm"}, {"", "deg"}, {"", "deg"}};
    return line;
  }
  std::string moves;
  for (const BoltStage& stage : group.stages) {
    moves += (moves.empty() ? "" : "; ") + stage.move;
    put_stage(line, stage);
  }
  line.text += fmt::format("{} {}. Ticks on the job card.", group.bolts.empty() ? "" : ",", moves);
  return line;
}

std::vector<const BoltGroup*> holding(const Job& job, const std::string& part) {
  std::vector<const BoltGroup*> groups;
  for (const BoltGroup& group : job.card.bolts) {
    if (group.holds == part) groups.push_back(&group);
  }
  return groups;
}

// Loose until the belt is tight: pulleys on slots, and those that are free on their shafts.
bool loose_at_first(const TimedShaft& shaft) {
  return shaft.fixing == Fixing::free_until_tightened || shaft.fixing == Fixing::adjustable;
}

// The one step of the order of work in which the bolts of a group are tightened.
enum class When { head, before_belt, tensioner, belt_tight, crank };

When when_of(const Job& job, const BoltGroup& group) {
  if (!group.holds || group.holds_head || !job.has_belt()) return When::head;
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (shaft.name == group.holds && loose_at_first(shaft)) return When::belt_tight;
  }
  for (const PulleySpec& pulley : job.spec.pulleys) {
    if (pulley.name != group.holds) continue;
    if (pulley.tensioner) return When::tensioner;
    if (pulley.role == Role::crankshaft) return When::crank;
  }
  return When::before_belt;
}

std::vector<const BoltGroup*> tightened(const Job& job, When when) {
  std::vector<const BoltGroup*> groups;
  for (const BoltGroup& group : job.card.bolts) {
    if (when_of(job, group) == when) groups.push_back(&group);
  }
  return groups;
}

}  // namespace

void add_head_bolts(const Job& job, SheetStep& step) {
  SheetStep bolts;
  for (const BoltGroup* group : tightened(job, When::head)) {
    bolts.lines.push_back(bolts_line(*group));
  }
  if (step.lines.empty() && bolts.lines.empty()) return;
  SheetLine clean = tick("Bolt holes dry and clean, stretch bolts new.");
  if (bolts.lines.empty()) {
    clean.text += " By the manual:";
    clean.blanks = {{"", "Nm"}, {"", "deg"}, {"", "deg"}};
  }
  step.lines.push_back(clean);
  step.lines.insert(step.lines.end(), bolts.lines.begin(), bolts.lines.end());
}

void add_parts_before_belt(const Job& job, SheetStep& step) {
  const std::vector<TimedShaft> shafts = timed_shafts(job.spec);
  for (const BoltGroup* group : tightened(job, When::before_belt)) {
    const bool timed = std::any_of(shafts.begin(), shafts.end(), [&](const TimedShaft& shaft) {
      return shaft.name == group->holds;
    });
    SheetLine line = bolts_line(*group);
    line.text = fmt::format("Before the belt goes on{}. {}",
                            timed ? ", the pulley held and not the pin" : "", line.text);
    step.lines.push_back(line);
  }
}

void add_loose_pulleys(const Job& job, SheetStep& step) {
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (shaft.fixing == Fixing::free_until_tightened) {
      step.lines.push_back(tick(fmt::format(
          "{}: pulley loose on its shaft until the belt is tight.", capital(shaft.name))));
    }
    if (shaft.fixing != Fixing::adjustable) continue;
    SheetLine line = tick("");
    std::ptrdiff_t bolts = 0;
    for (const BoltGroup* group : holding(job, shaft.name)) bolts += std::ssize(group->bolts);
    const std::string count =
        bolts == 0 ? "bolts" : fmt::format("{} bolts", put_count(line, "bolts", bolts));
    line.text = fmt::format(
        "{}, adjustable: its {} slack before tension, so that the pulley turns in its slots.",
        capital(shaft.name), count);
    step.lines.push_back(line);
  }
}

void add_tightened_pulleys(const Job& job, SheetStep& step) {
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (!loose_at_first(shaft)) continue;
    const std::vector<const BoltGroup*> groups = holding(job, shaft.name);
    if (groups.empty()) {
      SheetLine line = tick(fmt::format(
          "{}: its bolts tight now, shaft still pinned, held by the pulley and not by the pin:",
          capital(shaft.name)));
      line.blanks = {{"", "Nm"}};
      step.lines.push_back(line);
    }
    for (const BoltGroup* group : groups) {
      SheetLine line = bolts_line(*group);
      line.text = fmt::format("{}, pinned, now tight, the pulley held and not the pin. {}",
                              capital(shaft.name), line.text);
      step.lines.push_back(line);
    }
  }
}

void add_crank_bolts(const Job& job, SheetStep& step) {
  for (const BoltGroup* group : tightened(job, When::crank)) {
    SheetLine line = bolts_line(*group);
    line.text = "The crank held by the manual's tool, never by belt or pin. " + line.text;
    step.lines.push_back(line);
  }
}

bool add_tensioner_bolts(const Job& job, SheetStep& step) {
  const std::vector<const BoltGroup*> groups = tightened(job, When::tensioner);
  for (const BoltGroup* group : groups) step.lines.push_back(bolts_line(*group));
  return !groups.empty();
}

void add_trays(const Job& job, SheetStep& step) {
  for (const CardTray& tray : job.card.trays) {
    SheetLine line = tick("");
    line.text = fmt::format("{}: each of {} back where it came from, by the tray's map.",
                            capital(tray.name), put_count(line, "parts", tray.parts()));
    step.lines.push_back(line);
  }
}

}  // namespace twoturn::sheet
