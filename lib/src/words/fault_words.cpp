#include "fault_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cure.hpp"
#include "sentences.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace twoturn::sentences {
namespace {

std::string teeth_off(const FaultGround& ground, int teeth) {
  return fmt::format("{} {}", counted(std::abs(teeth), "tooth", "teeth"),
                     early_or_late(teeth, ground.direction));
}

std::string deg_of(double size) { return degrees(std::abs(size)); }

std::string mm_of(double size) { return fixed(std::abs(size), 2); }

const Pulley* pulley_named(const FaultGround& ground, const std::string& name) {
  const std::vector<Pulley>& pulleys = ground.right.assembly.fitted.pulleys;
  const auto found = std::find_if(pulleys.begin(), pulleys.end(),
                                  [&](const Pulley& pulley) { return pulley.name == name; });
  return found == pulleys.end() ? nullptr : &*found;
}

std::string other_size(const FaultGround& ground, const Fault& fault, double size) {
  const Pulley* pulley = pulley_named(ground, fault.about);
  if (pulley != nullptr && pulley->toothed()) {
    return fmt::format("{} has {} teeth in place of {}", the(fault.about),
                       pulley->teeth + fault.teeth, pulley->teeth);
  }
  return fmt::format("{} is {} mm {} across than it should be", the(fault.about), mm_of(size),
                     size < 0.0 ? "less" : "more");
}

std::string crank_tooth(const FaultGround& ground, const Fault& fault) {
  return fmt::format("the belt is out at {}: {} (all others {})", the(fault.about),
                     teeth_off(ground, fault.teeth), early_or_late(-fault.teeth, ground.direction));
}

std::string tensioner_off(const FaultGround& ground, const Fault& fault, double size) {
  const bool slide = ground.layout.tensioner == TensionerKind::slide;
  return fmt::format("{} stands {} {} {} its place", the(fault.about), fixed(std::abs(size), 1),
                     slide ? "mm" : "deg", fault.teeth < 0 ? "short of" : "past");
}

std::string seat(const FaultGround& ground, const Fault& fault, double size) {
  const bool pins = fault.kind == FaultKind::seat_by_pins;
  return fmt::format(
      "the pulley of {} sits {} deg {} on its shaft, and the belt went on by its {}",
      the(fault.about), deg_of(size),
      size < 0.0 ? early_or_late(-1.0, ground.direction) : early_or_late(1.0, ground.direction),
      pins ? "pin" : "mark");
}

std::string head_change(const Fault& fault, double size) {
  if (fault.teeth > 0) {
    return fmt::format("{} mm more came off {} than anybody allowed for", mm_of(size),
                       the(fault.about));
  }
  return fmt::format("a gasket {} mm thicker went under {}", mm_of(size), the(fault.about));
}

std::string title_on_belt(const FaultGround& ground, const Fault& fault, double size) {
  switch (fault.kind) {
    case FaultKind::none:
      return "nothing is wrong";
    case FaultKind::eye:
      return "nothing is wrong but the eye: the marks were read from aside";
    case FaultKind::tooth_out:
      return fmt::format("{} is {}", the(fault.about), teeth_off(ground, fault.teeth));
    case FaultKind::crank_tooth:
      return crank_tooth(ground, fault);
    case FaultKind::half_turn:
      return fmt::format("{} is half a turn out", the(fault.about));
    case FaultKind::slack_left:
      return fmt::format("{} mm of slack was left between {} and {}, and tensioning took it up",
                         mm_of(size), plain_name(fault.other), plain_name(fault.about));
    case FaultKind::belt_count:
      return fmt::format("a belt of {} teeth went on in place of {}",
                         ground.right.assembly.belt_teeth + fault.teeth,
                         ground.right.assembly.belt_teeth);
    case FaultKind::over_centre:
      return fmt::format("{} was turned the other way, or over centre", the(fault.about));
    case FaultKind::tensioner_off:
      return tensioner_off(ground, fault, size);
    case FaultKind::backwards:
      return fmt::format("it was turned backwards last, and {} gave {} mm of belt",
                         the(fault.about), mm_of(size));
    case FaultKind::transit_pin:
      return fmt::format("the transit pin of {} is still in", the(fault.about));
    case FaultKind::not_seated:
      return fmt::format("the belt is not down in the grooves of {}", the(fault.about));
    default:
      return "";
  }
}

std::string title_of_parts(const FaultGround& ground, const Fault& fault, double size) {
  switch (fault.kind) {
    case FaultKind::head_change:
      return head_change(fault, size);
    case FaultKind::other_size:
    case FaultKind::tooth_count:
      return other_size(ground, fault, size);
    case FaultKind::seat:
    case FaultKind::seat_by_pins:
      return seat(ground, fault, size);
    case FaultKind::swapped:
      return fmt::format("the pulleys of {} and {} are swapped, and the belt went on by the {}",
                         the(fault.about), the(fault.other), fault.teeth == 0 ? "marks" : "pins");
    case FaultKind::other_mark:
      return fmt::format("{} was set by its other mark ({})", the(fault.about), fault.other);
    case FaultKind::slipped:
      return fmt::format("the pulley of {} has slipped {} deg on its shaft", the(fault.about),
                         deg_of(size));
    case FaultKind::loose_pin:
      return fmt::format("the pin of {} is loose, or the wrong one", the(fault.about));
    case FaultKind::outer_mark:
      return fmt::format("the mark on {} has moved", the(fault.about));
    case FaultKind::tool_in_hole:
      return fmt::format("something is in the way of the piston of cylinder {}", fault.about);
    default:
      return "";
  }
}

std::string title_of(const FaultGround& ground, const Fault& fault, double size) {
  const std::string on_belt = title_on_belt(ground, fault, size);
  return on_belt.empty() ? title_of_parts(ground, fault, size) : on_belt;
}

std::string moves(const TurnsAnswer* turns) {
  if (turns == nullptr) return "";
  std::string text;
  for (const Cure& cure : turns->cures) {
    const std::string one = move(*turns, cure);
    if (one.empty()) continue;
    text += (text.empty() ? "" : "; ") + one;
    if (at_crank(*turns)) break;
  }
  return text.empty() ? "" : capital(text) + ".";
}

std::string set_again(const FaultGround& ground) {
  const std::optional<Setting>& setting = ground.right.assembly.fitted_setting;
  std::string to = "its place";
  if (setting && setting->pointer_deg) to = "pointer at " + clock(*setting->pointer_deg);
  if (setting && setting->reading.kind == TensionerKind::slide) {
    to = fmt::format("at {} mm", fixed(setting->reading.value, 2));
  }
  return fmt::format("Slacken {} and set it again as the manual says ({}), from its slack end.",
                     the(ground.layout.tensioner_name), to);
}

std::string back_to_the_book(const FaultGround& ground, const Fault& fault) {
  const Pulley* pulley = pulley_named(ground, fault.about);
  std::string size = "of the size that the book gives";
  if (pulley != nullptr && pulley->toothed()) size = fmt::format("with {} teeth", pulley->teeth);
  if (pulley != nullptr && !pulley->toothed()) {
    size = fmt::format("of {} mm", fixed(pulley->outside_mm, 1));
  }
  return fmt::format("Count and measure {}, and fit one {}.", the(fault.about), size);
}

std::string remedy_of_reseat(const Fault& fault) {
  if (fault.kind == FaultKind::swapped) {
    return fmt::format("Put the pulleys of {} and {} back where each belongs.", the(fault.about),
                       the(fault.other));
  }
  if (fault.kind == FaultKind::slipped) {
    return fmt::format(
        "Loosen the pulley of {}, put the shaft at its pin and the pulley at its mark, and tighten "
        "it as the manual says, held by its tool, not by the pin.",
        the(fault.about));
  }
  return fmt::format("Take the pulley of {} off and look at its key or dowel and its seat.",
                     the(fault.about));
}

std::string remedy_at_belt(const FaultGround& ground, const Fault& fault) {
  switch (remedy_of(fault)) {
    case Remedy::look_square:
      return "Nothing to move: look again, square on; where there are pins, they decide.";
    case Remedy::take_up_slack:
      return fmt::format(
          "Slacken {}; lay the belt on again from the crank with the run from {} to {} taut; "
          "tension, two turns.",
          ground.layout.tensioner ? the(ground.layout.tensioner_name) : "the belt",
          plain_name(fault.other), plain_name(fault.about));
    case Remedy::right_belt:
      return fmt::format("Count the belt's teeth: {} belong on.", ground.right.assembly.belt_teeth);
    case Remedy::reset_tensioner:
      return set_again(ground);
    case Remedy::come_forwards:
      return "Turn well back, then come up to the marks forwards, and look again.";
    case Remedy::release_tensioner:
      return fmt::format("Take the transit pin out, let {} take up, then two turns.",
                         the(fault.about));
    case Remedy::seat_belt:
      return fmt::format(
          "Take the tension off, lay the belt flat and central into every groove of {}, tension "
          "again.",
          the(fault.about));
    default:
      return "";
  }
}

std::string remedy_of_parts(const FaultGround& ground, const Fault& fault) {
  switch (remedy_of(fault)) {
    case Remedy::allow_for_head:
      return "No whole tooth takes that out: slots in a pulley, an offset key or the thickness of "
             "the gasket do. Find out what came off, and put it under [build].";
    case Remedy::right_part:
      return back_to_the_book(ground, fault);
    case Remedy::reseat_pulley:
      return remedy_of_reseat(fault);
    case Remedy::right_pin:
      return fmt::format(
          "Use the pin that the manual names for {}: through a loose one nothing is "
          "proved.",
          the(fault.about));
    case Remedy::inner_mark:
      return fmt::format("Go by the pin or the inner mark of {}; {} is not to be trusted.",
                         the(fault.other), the(fault.about));
    case Remedy::clear_the_way:
      return "Stop there and never force it: back off, look into the plug holes, find out.";
    default:
      return "";
  }
}

}  // namespace

std::string title(const FaultGround& ground, const FaultCase& suspect, double size) {
  std::string text;
  for (const Fault& fault : suspect.faults) {
    text += (text.empty() ? "" : ", and ") + title_of(ground, fault, size);
  }
  return text;
}

std::string remedy(const FaultGround& ground, const FaultCase& suspect, const TurnsAnswer* turns) {
  std::string text;
  bool moved = false;
  for (const Fault& fault : suspect.faults) {
    const Remedy kind = remedy_of(fault);
    std::string one;
    if (kind == Remedy::move_belt || kind == Remedy::right_mark) {
      if (!moved) one = moves(turns);
      moved = true;
    } else {
      one = remedy_at_belt(ground, fault);
      if (one.empty()) one = remedy_of_parts(ground, fault);
    }
    if (!one.empty()) text += (text.empty() ? "" : " ") + one;
  }
  return text;
}

std::vector<std::string> signs(const FaultCase& suspect, const Bench& bench) {
  std::vector<std::string> list;
  if (bench.seen_aside_mm != 0.0) {
    list.push_back(fmt::format("every mark looks {} mm off, all to the same side; pins go in",
                               fixed(std::abs(bench.seen_aside_mm), 1)));
  }
  if (bench.moved_when_tensioned) list.emplace_back("right until it was tensioned");
  if (bench.right_forwards) list.emplace_back("right again once come up to forwards");
  if (bench.rocks) list.emplace_back("pinned, the shaft rocks all the same");
  if (!bench.pointer_moves) {
    list.emplace_back("the pointer does not move, and a run of belt hangs loose");
  }
  if (!bench.same_each_try) list.emplace_back("differs at every try");
  if (!bench.seated) {
    for (const Fault& fault : suspect.faults) {
      if (fault.kind != FaultKind::not_seated) continue;
      list.push_back(fmt::format("the belt stands proud of {}", the(fault.about)));
    }
  }
  return list;
}

std::string further_mark(const std::string& name) {
  constexpr std::string_view kMark = "mark";
  const bool says_so = name.size() > kMark.size() &&
                       name.compare(name.size() - kMark.size(), kMark.size(), kMark) == 0;
  return says_so ? the(name) : fmt::format("the mark on {}", the(name));
}

std::string look_at(const BenchLayout& layout, LookKind kind, int part) {
  const auto at = static_cast<std::size_t>(std::max(part, 0));
  switch (kind) {
    case LookKind::pin:
      return fmt::format("the {} of {}", layout.shafts[at].bar ? "bar" : "pin",
                         the(layout.shafts[at].name));
    case LookKind::mark:
      return fmt::format("the mark of {}", the(layout.shafts[at].name));
    case LookKind::further_mark:
      return further_mark(layout.further[at].name);
    case LookKind::again:
      return "the marks after two turns more";
    case LookKind::pointer:
      return layout.tensioner == TensionerKind::slide
                 ? fmt::format("where {} stands", the(layout.tensioner_name))
                 : fmt::format("the pointer of {}", the(layout.tensioner_name));
    case LookKind::count:
      return fmt::format("belt teeth from the mark of {} to that of {}", the(layout.pairs[at].from),
                         the(layout.pairs[at].to));
    case LookKind::seated:
      return "whether the belt lies flat and central in every groove";
    case LookKind::rocks:
      return "whether a pinned shaft rocks";
    case LookKind::same_each_try:
      return "whether it shows the same when the belt is fitted once more with care";
    case LookKind::right_forwards:
      return "whether it is right once turned well back and come up to forwards";
    case LookKind::moved_when_tensioned:
      return "whether the marks were right before it was tensioned";
    case LookKind::pointer_moves:
      return "whether the pointer moves as the engine is turned";
    case LookKind::stop:
      return "whether anything stops the crank dead";
  }
  return "";
}

}  // namespace twoturn::sentences
