// The fault card: what is seen, what it means, and what it would be on this drive. Its rows are the
// catalogue of `why` told in short, and have no numbers of their own: a fault that this drive
// cannot have makes no row. From tooth counts alone there is a short catalogue of those that counts
// tell.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/fault/counted.hpp"
#include "twoturn/study/why.hpp"
#include "why_parts.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

constexpr std::size_t kAfterTwo = 2;  // of kBenchTurns
constexpr std::size_t kAfterFour = 3;

// The catalogue, and the shafts as they are without any fault.
struct Catalogue {
  std::vector<WhyFault> faults;
  std::vector<WhyShaft> without;

  // The first of a kind with which the belt goes on; of so many teeth, of that part.
  const WhyFault* first(FaultKind kind, int teeth = 0, const std::string& about = "") const {
    for (const WhyFault& fault : faults) {
      const Fault& what = fault.suspect.first();
      const bool wanted = what.kind == kind && (teeth == 0 || what.teeth == teeth) &&
                          (about.empty() || what.about == about);
      if (wanted && fault.goes_on && fault.suspect.faults.size() == 1) return &fault;
    }
    return nullptr;
  }
};

std::optional<double> edge_radius_mm(const Job& job, const ToothWorth& worth) {
  for (const PulleySpec& pulley : job.spec.pulleys) {
    if (pulley.name == worth.name && pulley.mark_radius_mm) return pulley.mark_radius_mm;
  }
  return worth.pitch_radius_mm;
}

CountedShaft counted_shaft(const Job& job, const ToothWorth& worth) {
  return {worth.name, worth.role, worth.teeth, worth.own_deg / worth.crank_deg,
          edge_radius_mm(job, worth)};
}

Catalogue from_counts(const Job& job) {
  const std::vector<ToothWorth>& worth = job.counts.worth;
  if (worth.empty() || worth.front().role != Role::crankshaft) return {};
  std::vector<CountedShaft> others;
  for (std::size_t i = 1; i < worth.size(); ++i) others.push_back(counted_shaft(job, worth[i]));
  const CountedFaults counted = counted_faults(counted_shaft(job, worth.front()), others);
  Catalogue catalogue;
  for (const CountedFault& fault : counted.faults) {
    WhyFault told;
    told.suspect = fault.suspect;
    told.shafts = study::told_shafts(counted.layout, fault.bench);
    catalogue.faults.push_back(std::move(told));
  }
  catalogue.without = catalogue.faults.front().shafts;
  return catalogue;
}

Catalogue catalogue_of(const Job& job) {
  DriveSpec unseen = job.spec;
  unseen.seen = {};
  std::vector<Missing> missing;
  std::optional<WhyAnswer> answer = why_answer(unseen, job.check.judged.fit, missing);
  if (!answer) return from_counts(job);
  return {std::move(answer->catalogue), std::move(answer->without)};
}

SheetFault row(std::string seen, std::string means) {
  return {note(std::move(seen)), note(std::move(means))};
}

const WhyShaft* shaft_of(const std::vector<WhyShaft>& shafts, const std::string& name) {
  const auto found = std::find_if(shafts.begin(), shafts.end(),
                                  [&](const WhyShaft& shaft) { return shaft.name == name; });
  return found == shafts.end() ? nullptr : &*found;
}

// Half of what a tooth either way moves a shaft apart: what [build] does to both is not in it.
struct ToothOut {
  std::string name;
  std::optional<Role> role;
  double crank_deg = 0.0;
  double own_deg = 0.0;
  std::optional<double> edge_mm;

  bool alike(const ToothOut& other) const {
    const auto same = [](double a, double b) { return std::abs(a - b) < 1e-6; };
    return role == other.role && same(own_deg, other.own_deg) &&
           same(edge_mm.value_or(0.0), other.edge_mm.value_or(0.0));
  }
};

std::optional<ToothOut> tooth_out(const Catalogue& catalogue, const WhyShaft& without) {
  const WhyFault* late = catalogue.first(FaultKind::tooth_out, -1, without.name);
  const WhyFault* early = catalogue.first(FaultKind::tooth_out, 1, without.name);
  if (late == nullptr || early == nullptr) return std::nullopt;
  const WhyStop& at_late = shaft_of(late->shafts, without.name)->stops[kAfterTwo];
  const WhyStop& at_early = shaft_of(early->shafts, without.name)->stops[kAfterTwo];
  ToothOut out{without.name, without.role, 0.5 * (at_early.mark_crank_deg - at_late.mark_crank_deg),
               0.5 * (at_early.mark_own_deg - at_late.mark_own_deg), std::nullopt};
  if (at_late.mark_mm && at_early.mark_mm) {
    out.edge_mm = 0.5 * (*at_early.mark_mm - *at_late.mark_mm);
  }
  return out;
}

std::vector<ToothOut> teeth_out(const Catalogue& catalogue) {
  std::vector<ToothOut> list;
  for (const WhyShaft& shaft : catalogue.without) {
    if (std::optional<ToothOut> out = tooth_out(catalogue, shaft)) list.push_back(std::move(*out));
  }
  return list;
}

void add_one_tooth_out(const Catalogue& catalogue, std::vector<SheetFault>& rows) {
  std::vector<ToothOut> left = teeth_out(catalogue);
  while (!left.empty()) {
    const ToothOut one = left.front();
    std::vector<std::string> names;
    std::erase_if(left, [&](const ToothOut& other) {
      if (!other.alike(one)) return false;
      names.push_back(other.name);
      return true;
    });
    SheetFault fault = row("", "");
    const bool with_crank = std::abs(one.own_deg - one.crank_deg) < 1e-9;
    const bool cams = one.role == Role::camshaft && names.size() > 1;
    fault.seen.text =
        fmt::format("{} off by {}", cams ? "A cam" : capital(in_words(names)),
                    put_degrees(fault.seen, "tooth", one.crank_deg, one.own_deg,
                                with_crank ? "" : sentences::own_deg(one.role, one.name)));
    if (one.edge_mm) {
      fault.seen.text +=
          fmt::format(", {} mm at the edge", put(fault.seen, "tooth_edge_mm", *one.edge_mm, 1));
    }
    fault.seen.text += ", the same every two turns";
    fault.means.text = names.size() > 1 ? "One tooth out there; if all alike, at the crank."
                                        : "One tooth out, there or at the crank.";
    rows.push_back(std::move(fault));
  }
}

// The shaft that a fault moves most against the drive without it, and how far after two turns.
struct Moved {
  const WhyShaft* shaft = nullptr;
  double crank_deg = 0.0;
};
Moved most_moved(const Catalogue& catalogue, const WhyFault& fault) {
  Moved most;
  for (const WhyShaft& shaft : fault.shafts) {
    const WhyShaft* without = shaft_of(catalogue.without, shaft.name);
    if (without == nullptr) continue;
    const double moved =
        shaft.stops[kAfterTwo].shaft_crank_deg - without->stops[kAfterTwo].shaft_crank_deg;
    if (std::abs(moved) > std::abs(most.crank_deg)) most = {&shaft, moved};
  }
  return most;
}

using Row = std::optional<SheetFault>;

Row slack_left(const Job& job, const Catalogue& catalogue) {
  const WhyFault* slack = catalogue.first(FaultKind::slack_left);
  if (!slack) return {};
  const Moved most = most_moved(catalogue, *slack);
  const Direction direction =
      job.turns() ? job.turns()->assembly.fitted.direction : Direction::given;
  SheetFault fault = row("", "");
  fault.seen.text = fmt::format("Right until tensioned, then part of a tooth {}",
                                sentences::early_or_late(most.crank_deg, direction));
  fault.means.text =
      fmt::format("Slack was left on the run from {}: each mm of it is {} crank deg.",
                  plain_name(slack->suspect.first().other),
                  put(fault.means, "slack_crank_deg", std::abs(most.crank_deg) / slack->size, 2));
  return fault;
}

Row your_eye(const Job&, const Catalogue& catalogue) {
  if (!catalogue.first(FaultKind::eye)) return {};
  SheetFault fault = row("Half a mm or so off, pins go in freely", "Your eye");
  for (const ToothOut& out : teeth_out(catalogue)) {
    if (!out.edge_mm) continue;
    fault.means.text +=
        fmt::format(": a mm at the edge of {} is {} crank deg", the(out.name),
                    put(fault.means, "edge_crank_deg", out.crank_deg / *out.edge_mm, 2));
    break;
  }
  fault.means.text += ". Look square at it.";
  return fault;
}

Row skim(const Job& job, const Catalogue& catalogue) {
  const WhyFault* change = catalogue.first(FaultKind::head_change, 1);
  if (!change || !job.is_engine()) return {};
  const Moved most = most_moved(catalogue, *change);
  SheetFault fault = row("Marks look fine, a cam's pin is tight or just refuses", "");
  fault.means.text =
      fmt::format("Head skimmed, or another gasket: {} mm off {} is {} crank deg.",
                  put(fault.means, "skim_mm", change->size, 2), the(change->suspect.first().about),
                  put(fault.means, "skim_crank_deg", std::abs(most.crank_deg), 2));
  return fault;
}

Row wanders(const Job&, const Catalogue& catalogue) {
  for (const WhyFault& wrong : catalogue.faults) {
    const Fault& what = wrong.suspect.first();
    const WhyShaft* shaft = shaft_of(wrong.shafts, what.about);
    if (what.kind != FaultKind::tooth_count || !wrong.goes_on || !shaft ||
        shaft->role == Role::crankshaft) {
      continue;
    }
    const double a_turn =
        shaft->stops[kAfterFour].shaft_crank_deg - shaft->stops[kAfterTwo].shaft_crank_deg;
    SheetFault fault = row("Marks further out each two turns", "");
    fault.means.text =
        fmt::format("A wrong tooth count on a pulley: a tooth {} on {} makes {} crank deg.",
                    what.teeth < 0 ? "less" : "more", the(what.about),
                    put(fault.means, "wanders_crank_deg", std::abs(a_turn), 1));
    return fault;
  }
  return {};
}

Row at_pointer(const Catalogue& catalogue, FaultKind kind, const char* key, std::string means) {
  const WhyFault* fault = catalogue.first(kind);
  if (!fault) return {};
  SheetFault told = row("Marks fine, tensioner far from its place", std::move(means));
  const bool turns = fault->pointer && fault->pointer_should;
  if (turns && kind != FaultKind::other_size) {
    told.seen.text =
        fmt::format("Marks fine, pointer at {}", put_clock(told.seen, key, *fault->pointer));
  }
  return told;
}

Row over_centre(const Job& job, const Catalogue& catalogue) {
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  const bool slide = tensioner && tensioner->kind == TensionerKind::slide;
  if (slide) {
    return row("Marks fine, tensioner at the wrong end",
               "Pushed the wrong way, or past its tightest place.");
  }
  return at_pointer(catalogue, FaultKind::over_centre, "wrong_pointer_deg",
                    "Turned the wrong way, or over centre.");
}

Row other_belt(const Job& job, const Catalogue& catalogue) {
  const std::optional<TensionerAnswer>& tensioner = job.check.judged.tensioner;
  if (!tensioner) return {};
  const WhyFault* belt = catalogue.first(FaultKind::belt_count);
  const bool slide = tensioner->kind == TensionerKind::slide;
  if (!belt || slide || !belt->pointer) {
    if (!catalogue.first(FaultKind::other_size)) return {};
    return row("Marks fine, tensioner far from its place",
               "A belt with a tooth more or less; or a wrong pump or idler.");
  }
  SheetFault fault = row("", "");
  fault.seen.text = fmt::format("Marks fine, pointer at {}",
                                put_clock(fault.seen, "other_pointer_deg", *belt->pointer));
  const TurnsAnswer* turns = job.turns();
  const int count = (turns ? turns->assembly.belt_teeth : 0) + belt->suspect.first().teeth;
  fault.means.text = fmt::format("A belt of {} teeth; or a wrong pump or idler.",
                                 put_count(fault.means, "other_belt_teeth", count));
  return fault;
}

Row half_turn(const Job&, const Catalogue& catalogue) {
  if (!catalogue.first(FaultKind::half_turn)) return {};
  return row("A cam's mark opposite after two turns",
             "Half a turn out. After one turn, opposite is right.");
}

Row solid_stop(const Job& job, const Catalogue& catalogue) {
  if (!job.is_engine()) return row("A solid stop", "Something is in the way: back off, find out.");
  const bool valves =
      std::any_of(catalogue.faults.begin(), catalogue.faults.end(), [](const WhyFault& fault) {
        return fault.suspect.first().kind == FaultKind::tooth_out && fault.stops_deg &&
               !fault.stops_deg->empty();
      });
  return row("A solid stop at one place",
             valves ? "Valve on piston (teeth out do that here), or a tool left in a plug hole: "
                      "back off, find out."
                    : "Valve on piston, or a tool left in a plug hole: back off, find out.");
}

Row odd_error(const Job&, const Catalogue& catalogue) {
  if (!catalogue.first(FaultKind::seat) && !catalogue.first(FaultKind::tooth_out)) return {};
  return row("A constant error, no whole tooth",
             "Wrong dowel or mark, a pulley slipped on its shaft, belt not seated.");
}

Row backwards(const Job&, const Catalogue& catalogue) {
  if (!catalogue.first(FaultKind::backwards)) return {};
  return row("Off only after turning backwards", "Slack: well back, then come forwards again.");
}

Row loose_pin(const Job& job, const Catalogue& catalogue) {
  if (!catalogue.first(FaultKind::loose_pin)) return {};
  SheetFault fault = row("Pinned, yet it rocks by degrees", "Wrong or loose pin.");
  const TurnsAnswer* turns = job.turns();
  if (turns && !prints_as_nothing(turns->crank_play_deg, 2)) {
    fault.means.text =
        fmt::format("Wrong or loose pin: the crank's lets it move {} crank deg each way.",
                    put(fault.means, "crank_play_deg", turns->crank_play_deg, 2));
  }
  return fault;
}

Row own_mark_only(const Job&, const Catalogue& catalogue) {
  for (const WhyShaft& shaft : catalogue.without) {
    if (shaft.role == Role::camshaft || shaft.role == Role::crankshaft) continue;
    return row(fmt::format("Only the mark of {} is off", the(shaft.name)),
               "That shaft alone went in wrong.");
  }
  return {};
}

Row outer_mark(const Job&, const Catalogue& catalogue) {
  const WhyFault* outer = catalogue.first(FaultKind::outer_mark);
  if (!outer) return {};
  return row(fmt::format("The mark on {} off, the toothed crank pulley right",
                         the(outer->suspect.first().about)),
             "It has moved on its hub, or it was the wrong mark: go by the inner one.");
}

}  // namespace

std::vector<SheetFault> fault_card(const Job& job) {
  std::vector<SheetFault> rows;
  const Catalogue catalogue = catalogue_of(job);
  add_one_tooth_out(catalogue, rows);
  for (const auto make : {slack_left, your_eye, skim, wanders, over_centre, other_belt, half_turn,
                          solid_stop, odd_error, backwards, loose_pin, own_mark_only, outer_mark}) {
    if (Row made = make(job, catalogue)) rows.push_back(std::move(*made));
  }
  return rows;
}

}  // namespace twoturn::sheet
