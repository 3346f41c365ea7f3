#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "text_why_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/fault_words.hpp"
#include "words/sentences.hpp"

namespace twoturn::text_why {
namespace {

using sentences::wrapped;

constexpr int kShownTurns = 2;  // every pin of a half-speed shaft is due then

std::string bullet(const std::string& text) { return wrapped("- " + text, 2); }

const WhyStop* shown_stop(const WhyShaft& shaft) {
  const auto found = std::find_if(shaft.stops.begin(), shaft.stops.end(),
                                  [](const WhyStop& stop) { return stop.turns == kShownTurns; });
  return found == shaft.stops.end() ? nullptr : &*found;
}

bool mark_off(const WhyShaft& shaft, const WhyStop& stop) {
  return shaft.has_mark && (!prints_as_nothing(stop.mark_crank_deg, 2) ||
                            (stop.mark_mm && !prints_as_nothing(*stop.mark_mm, 2)));
}

bool shaft_off(const WhyStop& stop) { return !prints_as_nothing(stop.shaft_crank_deg, 2); }

bool pin_refuses(const WhyStop& stop) { return stop.pin && *stop.pin != PinFelt::in; }

// What a stop prints as.
struct AtStop {
  std::string mark = fixed(0.0, 2);
  std::string shaft = fixed(0.0, 2);
  bool refuses = false;

  bool operator==(const AtStop&) const = default;
};

AtStop at_stop(const WhyShaft& shaft, const WhyStop& stop) {
  AtStop printed;
  if (shaft.has_mark) printed.mark = fixed(stop.mark_crank_deg, 2);
  printed.shaft = fixed(stop.shaft_crank_deg, 2);
  printed.refuses = pin_refuses(stop);
  return printed;
}

// The same shaft without any fault, where [build] leaves it out of place; else right.
AtStop usual_at(const WhyAnswer& answer, const WhyShaft& shaft, int turns) {
  for (const WhyShaft& usual : answer.without) {
    if (usual.name != shaft.name) continue;
    for (const WhyStop& stop : usual.stops) {
      if (stop.turns == turns) return at_stop(usual, stop);
    }
  }
  return {};
}

// Whether anything of it is seen to be other than without the fault.
bool is_off(const WhyAnswer& answer, const WhyShaft& shaft) {
  return std::any_of(shaft.stops.begin(), shaft.stops.end(), [&](const WhyStop& stop) {
    return at_stop(shaft, stop) != usual_at(answer, shaft, stop.turns);
  });
}

// "18.0 crank deg", its size alone.
std::string crank_deg(double deg) { return sentences::degrees(deg) + " crank deg"; }

// "1 tooth", "0.35 of a tooth", "1.35 teeth"
std::string tooth_words(double teeth) {
  const std::string size = shortest(std::abs(teeth), 2);
  if (size == "1") return "1 tooth";
  return size + (std::abs(teeth) < 1.0 ? " of a tooth" : " teeth");
}

// Two digits of what is less than a mm, one of more.
std::string edge_mm(double mm) {
  constexpr double kPlain = 0.995;
  const double size = std::abs(mm);
  return fixed(size, size < kPlain ? 2 : 1) + " mm";
}

// Near the shaft's middle degrees may tell what the edge does not.
bool tells_in_mm(const WhyStop& stop) {
  return stop.mark_mm && !prints_as_nothing(*stop.mark_mm, 2);
}

std::string mark_size(const WhyStop& stop) {
  return tells_in_mm(stop) ? edge_mm(*stop.mark_mm) : crank_deg(stop.mark_crank_deg);
}

// "9.5 mm late", by what is off most visibly; "right" where nothing is.
std::string mark_error(const WhyStop& stop, Direction direction) {
  const double error = tells_in_mm(stop) ? *stop.mark_mm : stop.mark_crank_deg;
  const std::string_view way = sentences::early_or_late(error, direction);
  return way == "right" ? "right" : fmt::format("{} {}", mark_size(stop), way);
}

// "mark 9.5 mm late (18.0 crank deg, 9.00 cam deg, 1 tooth), at clock ..., should be clock ..."
std::string mark_words(const WhyShaft& shaft, const WhyStop& stop, Direction direction) {
  if (!mark_off(shaft, stop)) return "its mark is right";
  std::vector<std::string> also;
  if (tells_in_mm(stop)) also.push_back(crank_deg(stop.mark_crank_deg));
  if (shaft.role != Role::crankshaft) {
    also.push_back(fmt::format("{} {}", sentences::degrees(stop.mark_own_deg),
                               sentences::own_deg(shaft.role, shaft.name)));
  }
  if (!prints_as_nothing(stop.mark_teeth, 2)) also.push_back(tooth_words(stop.mark_teeth));
  std::string text = "mark " + mark_error(stop, direction);
  for (std::size_t k = 0; k < also.size(); ++k) text += (k == 0 ? " (" : ", ") + also[k];
  if (!also.empty()) text += ")";
  if (stop.mark_at_deg) text += ", at " + sentences::clock(*stop.mark_at_deg);
  if (stop.belongs_deg) text += ", should be " + sentences::clock(*stop.belongs_deg);
  return text;
}

// What the shaft itself does where its mark does not tell.
std::string shaft_words(const WhyShaft& shaft, const WhyStop& stop, Direction direction) {
  const std::string error =
      shaft_off(stop) ? fmt::format("{} {}", crank_deg(stop.shaft_crank_deg),
                                    sentences::early_or_late(stop.shaft_crank_deg, direction))
                      : "right";
  if (!shaft.has_mark) return "the shaft " + error;
  const bool told = mark_off(shaft, stop) == shaft_off(stop) &&
                    fixed(stop.mark_crank_deg, 2) == fixed(stop.shaft_crank_deg, 2);
  return told ? "" : "the shaft itself " + error;
}

PinState state_of(PinFelt pin) {
  return pin == PinFelt::in      ? PinState::in
         : pin == PinFelt::tight ? PinState::tight
                                 : PinState::out;
}

std::string error_at(const WhyShaft& shaft, const WhyStop& stop, Direction direction) {
  if (shaft.has_mark) return mark_error(stop, direction);
  return sentences::error(stop.shaft_crank_deg, direction);
}

std::string turns_of(const WhyStop& stop) { return std::to_string(stop.turns); }

// "As far off after 0, 1, 2 and 4 turns." or what it is after each.
std::string over_turns(const WhyShaft& shaft, Direction direction) {
  std::string list;
  for (std::size_t k = 0; k < shaft.stops.size(); ++k) {
    const bool last = k + 1 == shaft.stops.size();
    const WhyStop& stop = shaft.stops[k];
    list += k == 0 ? "" : last ? " and " : ", ";
    if (!shaft.same_each_time) list += error_at(shaft, stop, direction) + " after ";
    list += turns_of(stop);
  }
  if (shaft.stops.size() < 2) return "";
  return shaft.same_each_time ? fmt::format(". As far off after {} turns", list)
                              : fmt::format(". It changes: {} turns", list);
}

std::string shaft_line(const WhyShaft& shaft, Direction direction) {
  const WhyStop* stop = shown_stop(shaft);
  if (stop == nullptr && !shaft.stops.empty()) stop = &shaft.stops.back();
  if (stop == nullptr) return "";
  std::string text = the(shaft.name) + ": ";
  if (shaft.has_mark) text += mark_words(shaft, *stop, direction);
  const std::string itself = shaft_words(shaft, *stop, direction);
  if (shaft.has_mark && !itself.empty()) text += ", ";
  text += itself;
  if (stop->pin) {
    text += fmt::format("; the pin {}",
                        sentences::pin_shows(state_of(*stop->pin), sentences::Sureness::sure));
  }
  return bullet(text + over_turns(shaft, direction) + ".");
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t k = 0; k < words.size(); ++k) {
    text += k == 0 ? "" : k + 1 == words.size() ? " and " : ", ";
    text += words[k];
  }
  return text;
}

bool count_changes(const WhyCount& count) {
  return count.countable && shortest(count.teeth, 2) != shortest(count.should_be, 2);
}

std::string changed_counts(const WhyFault& fault) {
  std::vector<std::string> changed;
  for (const WhyCount& count : fault.counts) {
    if (!count_changes(count)) continue;
    changed.push_back(fmt::format("{} from {} to {} in place of {}", shortest(count.teeth, 2),
                                  plain_name(count.from), plain_name(count.to),
                                  shortest(count.should_be, 2)));
  }
  return changed.empty() ? "" : bullet("belt teeth between marks: " + listed(changed) + ".");
}

std::string pointer_at(const WhyAnswer& answer, double pointer) {
  return sentences::reading(
      TensionerReading{pointer, answer.layout.tensioner.value_or(TensionerKind::swing)});
}

bool pointer_off(const WhyAnswer& answer, const WhyFault& fault) {
  return fault.pointer && fault.pointer_should &&
         pointer_at(answer, *fault.pointer) != pointer_at(answer, *fault.pointer_should);
}

std::string pointer_line(const WhyAnswer& answer, const WhyFault& fault) {
  if (!pointer_off(answer, fault)) return "";
  std::string text =
      fmt::format("the tensioner's pointer: {}, should be {}", pointer_at(answer, *fault.pointer),
                  pointer_at(answer, *fault.pointer_should));
  if (fault.adjustment_left_mm) {
    text += fmt::format("; {} mm of adjustment left", fixed(*fault.adjustment_left_mm, 2));
  }
  return bullet(text + ".");
}

std::string tightness(const WhyFault& fault) {
  std::string text;
  if (!prints_as_nothing(fault.loose_mm, 2)) {
    text += bullet(fault.loose_mm > 0.0
                       ? fmt::format("the belt is loose: {} mm more of it than its path takes.",
                                     fixed(fault.loose_mm, 2))
                       : fmt::format("the belt is stretched over its path by {} mm.",
                                     fixed(std::abs(fault.loose_mm), 2)));
  }
  if (fault.rocks_crank_deg && !prints_as_nothing(*fault.rocks_crank_deg, 2)) {
    text +=
        bullet(fmt::format("the crank rocks by {} before the belt takes the other shafts along.",
                           crank_deg(*fault.rocks_crank_deg)));
  }
  return text;
}

// Whether a further mark shows anything of a fault.
bool further_off(const WhyAnswer& answer, const WhyFurther& mark) {
  const auto usual = std::find_if(answer.without_further.begin(), answer.without_further.end(),
                                  [&](const WhyFurther& other) { return other.name == mark.name; });
  const double without = usual == answer.without_further.end() ? 0.0 : usual->crank_deg;
  return !prints_as_nothing(mark.crank_deg - without, 2);
}

std::string further_line(const WhyFurther& mark, Direction direction) {
  const std::string_view way = sentences::early_or_late(mark.crank_deg, direction);
  const std::string name = sentences::further_mark(mark.name);
  return bullet(mark.mm ? fmt::format("{}: {} {} ({}).", name, edge_mm(*mark.mm), way,
                                      crank_deg(mark.crank_deg))
                        : fmt::format("{}: {} {}.", name, crank_deg(mark.crank_deg), way));
}

std::string further_lines(const WhyAnswer& answer, const WhyFault& fault) {
  std::string text;
  for (const WhyFurther& mark : fault.further) {
    if (further_off(answer, mark)) text += further_line(mark, answer.direction);
  }
  return text;
}

std::string stop_line(const WhyFault& fault) {
  if (!fault.stops_deg || fault.stops_deg->empty()) return "";
  std::vector<std::string> places;
  for (const double stop : *fault.stops_deg) places.push_back(fixed(stop, 0));
  return bullet(fmt::format("it stops dead at {} crank deg on from pins in.", listed(places)));
}

std::string beside(const WhyFault& fault) {
  std::string text;
  if (fault.wanders) text += bullet("it wanders: further out after every two turns.");
  if (!fault.same_each_try) text += bullet("it may show something else at every try.");
  for (const std::string& sign : fault.signs) text += bullet(sign + ".");
  if (!fault.rubs.empty()) {
    text += bullet(fmt::format("the belt then rubs on or misses {}.", listed(fault.rubs)));
  }
  return text + stop_line(fault);
}

bool marks_and_pins_right(const WhyAnswer& answer, const WhyFault& fault) {
  return std::none_of(fault.shafts.begin(), fault.shafts.end(),
                      [&](const WhyShaft& shaft) { return is_off(answer, shaft); }) &&
         std::all_of(fault.further.begin(), fault.further.end(),
                     [&](const WhyFurther& mark) { return !further_off(answer, mark); });
}

// All that the fault leaves alone, in one line.
std::string as_without_it(const WhyAnswer& answer, const WhyFault& fault) {
  std::vector<std::string> right;
  for (const WhyShaft& shaft : fault.shafts) {
    if (!is_off(answer, shaft) && !shaft.stops.empty()) right.push_back(the(shaft.name));
  }
  for (const WhyFurther& mark : fault.further) {
    if (!further_off(answer, mark)) right.push_back(sentences::further_mark(mark.name));
  }
  const bool changes = std::any_of(fault.counts.begin(), fault.counts.end(), count_changes);
  const bool countable = std::any_of(fault.counts.begin(), fault.counts.end(),
                                     [](const WhyCount& count) { return count.countable; });
  if (countable && !changes) right.emplace_back("the teeth between marks");
  if (fault.pointer && fault.pointer_should && !pointer_off(answer, fault)) {
    right.push_back(fmt::format("the pointer at {}", pointer_at(answer, *fault.pointer)));
  }
  return right.empty() ? "" : bullet("as without it: " + listed(right) + ".");
}

std::string shafts_off(const WhyAnswer& answer, const WhyFault& fault) {
  std::string text;
  for (const WhyShaft& shaft : fault.shafts) {
    if (is_off(answer, shaft)) text += shaft_line(shaft, answer.direction);
  }
  return text + further_lines(answer, fault);
}

std::string todo(const WhyFault& fault) {
  return fault.remedy.empty() ? "" : wrapped("Do: " + sentence(fault.remedy), 4);
}

// One shaft in a few words.
std::string shaft_in_short(const WhyShaft& shaft, Direction direction) {
  const WhyStop* stop = shown_stop(shaft);
  if (stop == nullptr) return "";
  std::string text = fmt::format("{} {}", the(shaft.name), error_at(shaft, *stop, direction));
  if (stop->pin) {
    text += fmt::format(", its pin {}",
                        sentences::pin_shows(state_of(*stop->pin), sentences::Sureness::sure));
  }
  return text;
}

}  // namespace

std::string sentence(std::string text) {
  if (text.empty()) return text;
  const char last = text.back();
  if (last != '.' && last != '?' && last != '!') text += '.';
  return capital(std::move(text));
}

std::string shows(const WhyAnswer& answer, const WhyFault& fault) {
  if (!fault.goes_on) {
    return bullet("the belt cannot be put on so: " + fault.none + ".") + todo(fault);
  }
  std::string text = shafts_off(answer, fault);
  if (marks_and_pins_right(answer, fault)) text += bullet("marks and pins show nothing of it.");
  return text + changed_counts(fault) + pointer_line(answer, fault) + tightness(fault) +
         beside(fault) + as_without_it(answer, fault) + todo(fault);
}

std::string in_short(const WhyAnswer& answer, const WhyFault& fault) {
  if (!fault.goes_on) {
    return bullet(fmt::format("{}: the belt cannot be put on so.", fault.title));
  }
  std::vector<std::string> off;
  for (const WhyShaft& shaft : fault.shafts) {
    if (is_off(answer, shaft)) off.push_back(shaft_in_short(shaft, answer.direction));
  }
  if (pointer_off(answer, fault)) {
    off.push_back(fmt::format("the pointer at {}", pointer_at(answer, *fault.pointer)));
  }
  std::string seen;
  for (const std::string& what : off) seen += (seen.empty() ? "" : "; ") + what;
  return bullet(fmt::format("{}: {}.", fault.title,
                            off.empty() ? "marks and pins show nothing of it" : seen));
}

std::string without_fault(const WhyAnswer& answer) {
  std::string text;
  for (const WhyShaft& shaft : answer.without) {
    const bool right =
        std::all_of(shaft.stops.begin(), shaft.stops.end(),
                    [&](const WhyStop& stop) { return at_stop(shaft, stop) == AtStop{}; });
    if (!right) text += shaft_line(shaft, answer.direction);
  }
  for (const WhyFurther& mark : answer.without_further) {
    if (!prints_as_nothing(mark.crank_deg, 2)) text += further_line(mark, answer.direction);
  }
  return text.empty() ? "" : "\nWithout any fault, by what [build] says:\n" + text;
}

std::string catalogue(const WhyAnswer& answer) {
  std::vector<FaultKind> kinds;
  for (const WhyFault& fault : answer.catalogue) {
    const FaultKind kind = fault.suspect.first().kind;
    const bool one = fault.suspect.faults.size() == 1;
    if (one && std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
  }
  std::string text;
  for (const FaultKind kind : kinds) {
    const std::string heading(sentences::heading(kind));
    text += '\n' + heading + '\n' + std::string(heading.size(), '-') + '\n';
    for (const WhyFault& fault : answer.catalogue) {
      if (fault.suspect.faults.size() != 1 || fault.suspect.first().kind != kind) continue;
      text += '\n' + wrapped(capital(fault.title) + ":") + shows(answer, fault);
    }
  }
  std::string pairs;
  for (const WhyFault& fault : answer.catalogue) {
    if (fault.suspect.faults.size() > 1) pairs += in_short(answer, fault);
  }
  if (pairs.empty()) return text;
  return text + "\nTwo faults together\n-------------------\n\n" + pairs;
}

}  // namespace twoturn::text_why
