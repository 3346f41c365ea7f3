// The fault card: what is seen, what it means, and what it would be on this drive. One function a
// row; a row that this drive cannot show is left out.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/timing/marks.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

using Row = std::optional<SheetFault>;

SheetFault row(std::string seen, std::string means) {
  return {note(std::move(seen)), note(std::move(means))};
}

std::vector<const ToothWorth*> followers(const Job& job) {
  std::vector<const ToothWorth*> list;
  for (const ToothWorth& worth : job.counts.worth) {
    if (worth.role != Role::crankshaft) list.push_back(&worth);
  }
  return list;
}

const ToothWorth* first_cam(const Job& job) {
  for (const ToothWorth* worth : followers(job)) {
    if (worth->role == Role::camshaft) return worth;
  }
  return nullptr;
}

const ToothWorth* crank(const Job& job) {
  const bool known = !job.counts.worth.empty() && job.counts.worth.front().role == Role::crankshaft;
  return known ? &job.counts.worth.front() : nullptr;
}

// At the mark's radius where one is given, else at the pitch line.
std::optional<double> edge_radius_mm(const Job& job, const ToothWorth& worth) {
  for (const PulleySpec& pulley : job.spec.pulleys) {
    if (pulley.name == worth.name && pulley.mark_radius_mm) return pulley.mark_radius_mm;
  }
  return worth.pitch_radius_mm;
}

// Names of all that are worth the same, so that twin cams share a row.
std::vector<std::string> alike(const Job& job, const ToothWorth& worth) {
  std::vector<std::string> names;
  for (const ToothWorth* other : followers(job)) {
    const bool same = other->teeth == worth.teeth && other->role == worth.role &&
                      edge_radius_mm(job, *other) == edge_radius_mm(job, worth);
    if (same) names.push_back(other->name);
  }
  return names;
}

void add_one_tooth_out(const Job& job, std::vector<SheetFault>& rows) {
  for (const ToothWorth* worth : followers(job)) {
    const std::vector<std::string> names = alike(job, *worth);
    if (names.front() != worth->name) continue;
    SheetFault fault = row("", "");
    const bool with_crank = worth->own_deg == worth->crank_deg;
    const bool cams = worth->role == Role::camshaft && names.size() > 1;
    fault.seen.text =
        fmt::format("{} off by {}", cams ? "A cam" : capital(in_words(names)),
                    put_degrees(fault.seen, "tooth", worth->crank_deg, worth->own_deg,
                                with_crank ? "" : sentences::own_deg(worth->role, worth->name)));
    if (const std::optional<double> radius = edge_radius_mm(job, *worth)) {
      const double edge_mm = Angle::degrees(worth->own_deg).radians() * *radius;
      fault.seen.text +=
          fmt::format(", {} mm at the edge", put(fault.seen, "tooth_edge_mm", edge_mm, 1));
    }
    fault.seen.text += ", the same every two turns";
    fault.means.text = names.size() > 1 ? "One tooth out there; if all alike, at the crank."
                                        : "One tooth out, there or at the crank.";
    rows.push_back(std::move(fault));
  }
}

Row slack_left(const Job& job) {
  const ToothWorth* cam = first_cam(job);
  if (!cam) return {};
  SheetFault fault = row("Right until tensioned, then part of a tooth late", "");
  fault.means.text = "Slack was left on the tight side";
  if (cam->crank_deg_per_mm) {
    fault.means.text += fmt::format(": each mm of it is {} crank deg",
                                    put(fault.means, "slack_crank_deg", *cam->crank_deg_per_mm, 2));
  }
  fault.means.text += ".";
  return fault;
}

Row your_eye(const Job& job) {
  const ToothWorth* cam = first_cam(job);
  SheetFault fault = row("Half a mm or so off, pins go in freely", "Your eye");
  const std::optional<double> radius = cam ? edge_radius_mm(job, *cam) : std::nullopt;
  if (radius) {
    const double own_deg = Angle::radians(1.0 / *radius).degrees();
    fault.means.text +=
        fmt::format(": a mm at the edge of {} is {} crank deg", the(cam->name),
                    put(fault.means, "edge_crank_deg", own_deg * cam->crank_deg / cam->own_deg, 2));
  }
  fault.means.text += ". Look square at it.";
  return fault;
}

// What [build] alone makes of the most changed shaft.
Row skim(const Job& job) {
  if (!job.is_engine()) return {};
  SheetFault fault = row("Marks look fine, a cam's pin is tight or just refuses",
                         "Head skimmed, or another gasket");
  const TurnsAnswer* fitted = job.turns();
  const bool both = fitted && job.check.book && job.check.book->turns;
  if (both && job.spec.build.teeth_out.empty()) {
    double most = 0.0;
    const std::vector<ShaftAfter>& now = fitted->after.front().shafts;
    const std::vector<ShaftAfter>& book = job.check.book->turns->after.front().shafts;
    for (std::size_t i = 0; i < now.size() && i < book.size(); ++i) {
      const double change = now[i].error_crank_deg - book[i].error_crank_deg;
      if (std::abs(change) > std::abs(most)) most = change;
    }
    if (!prints_as_nothing(most, 2)) {
      fault.means.text += fmt::format(
          ": here up to {} crank deg {}", put(fault.means, "build_crank_deg", std::abs(most), 2),
          sentences::early_or_late(most, fitted->assembly.fitted.direction));
    }
  }
  fault.means.text += ".";
  return fault;
}

Row wanders(const Job& job) {
  const ToothWorth* cam = first_cam(job);
  SheetFault fault = row("Marks further out each two turns", "A wrong tooth count on a pulley");
  const MarksQuestion& asked = job.counts.question;
  if (cam && asked.crank_teeth && cam->teeth > 3 && std::abs(cam->wanders_crank_deg) < 1e-9) {
    MarksQuestion one_less = asked;
    one_less.timed = {
        {cam->name, cam->role, cam->teeth - 1, cam->own_deg / cam->crank_deg, {}, {}}};
    const MarksAnswer wrong = marks_from_counts(one_less);
    fault.means.text += fmt::format(
        ": {} for {} on {} makes {} crank deg",
        put_count(fault.means, "one_less_teeth", cam->teeth - 1),
        put_count(fault.means, "cam_teeth", cam->teeth), the(cam->name),
        put(fault.means, "wanders_crank_deg", std::abs(wrong.worth.back().wanders_crank_deg), 1));
  }
  fault.means.text += ".";
  return fault;
}

// The other place at which the same belt would be as long.
Row over_centre(const Job& job) {
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  if (!tensioner) return {};
  SheetFault fault = row("Marks fine, tensioner at the wrong end", "");
  fault.means.text = tensioner->kind == TensionerKind::swing
                         ? "Turned the wrong way, or over centre."
                         : "Pushed the wrong way, or past its tightest place.";
  for (const Setting& setting : tensioner->settings) {
    const bool meant = tensioner->meant && setting.q == tensioner->meant->q;
    if (meant || tensioner->kind == TensionerKind::slide || !setting.pointer_deg) continue;
    fault.seen.text = fmt::format("Marks fine, pointer at {}",
                                  put_clock(fault.seen, "wrong_pointer_deg", *setting.pointer_deg));
    return fault;
  }
  return fault;
}

Row other_belt(const Job& job) {
  if (!job.check.judged.teeth || !job.check.judged.tensioner) return {};
  const TeethAnswer& teeth = *job.check.judged.teeth;
  if (!teeth.belt_teeth) return {};
  SheetFault fault = row("Marks fine, tensioner far from its place",
                         "A belt with a tooth more or less; or a wrong pump or idler.");
  for (const FittingCount& count : teeth.fits) {
    if (count.teeth == *teeth.belt_teeth || !count.fits()) continue;
    const auto in_travel = std::find_if(count.settings.begin(), count.settings.end(),
                                        [](const Setting& setting) { return setting.in_travel; });
    if (job.check.judged.tensioner->kind == TensionerKind::slide || !in_travel->pointer_deg)
      continue;
    fault.seen.text =
        fmt::format("Marks fine, pointer at {}",
                    put_clock(fault.seen, "other_pointer_deg", *in_travel->pointer_deg));
    fault.means.text = fmt::format("A belt of {} teeth; or a wrong pump or idler.",
                                   put_count(fault.means, "other_belt_teeth", count.teeth));
    break;
  }
  return fault;
}

Row half_turn(const Job& job) {
  if (!first_cam(job)) return {};
  return row("A cam's mark opposite after two turns",
             "Half a turn out. After one turn, opposite is right.");
}

Row solid_stop(const Job& job) {
  if (!job.is_engine()) return row("A solid stop", "Something is in the way: back off, find out.");
  return row("A solid stop at one place",
             "Valve on piston, or a tool left in a plug hole: back off, find out.");
}

Row backwards(const Job&) {
  return row("Off only after turning backwards", "Slack: well back, then come forwards again.");
}

Row loose_pin(const Job& job) {
  SheetFault fault = row("Pinned, yet it rocks by degrees", "Wrong or loose pin.");
  const TurnsAnswer* turns = job.turns();
  if (turns && !prints_as_nothing(turns->crank_play_deg, 2)) {
    fault.means.text =
        fmt::format("Wrong or loose pin: the crank's lets it move {} crank deg each way.",
                    put(fault.means, "crank_play_deg", turns->crank_play_deg, 2));
  }
  return fault;
}

Row own_mark_only(const Job& job) {
  for (const TimedShaft& shaft : timed_shafts(job.spec)) {
    if (shaft.role == Role::camshaft || shaft.role == Role::crankshaft) continue;
    return row(fmt::format("Only the mark of {} is off", the(shaft.name)),
               "That shaft alone went in wrong.");
  }
  return {};
}

Row damper(const Job& job) {
  if (!job.is_engine()) return {};
  return row("Outer (damper) mark off, toothed crank pulley right",
             "The damper's ring has slipped, or it was the wrong mark.");
}

Row odd_error(const Job& job) {
  if (!crank(job)) return {};
  return row("A constant error, no whole tooth",
             "Wrong dowel or mark, a pulley slipped on its shaft, belt not seated.");
}

}  // namespace

std::vector<SheetFault> fault_card(const Job& job) {
  std::vector<SheetFault> rows;
  add_one_tooth_out(job, rows);
  for (const auto make : {slack_left, your_eye, skim, wanders, over_centre, other_belt, half_turn,
                          solid_stop, odd_error, backwards, loose_pin, own_mark_only, damper}) {
    if (Row made = make(job)) rows.push_back(std::move(*made));
  }
  return rows;
}

}  // namespace twoturn::sheet
