#include <fmt/format.h>

#include <algorithm>

#include "text_heading.hpp"
#include "text_table.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/write/text.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using sentences::wrapped;

std::string count_words(const BoltGroup& group) {
  if (group.bolts.empty()) return "count not given";
  std::string text = counted(static_cast<long long>(group.bolts.size()), "bolt", "bolts");
  if (group.order == BoltOrder::given) text += ", in the order given";
  if (group.order == BoltOrder::usual) text += ", in the usual order (proposed)";
  if (group.order_to_find()) text += ", order not given";
  if (group.condition) text += fmt::format(", {}", word(*group.condition));
  if (group.threads) text += fmt::format(", threads {}", word(*group.threads));
  if (group.pitch_mm) text += fmt::format(", pitch {} mm", shortest(*group.pitch_mm, 3));
  if (group.length_mm) text += fmt::format(", {} mm long", shortest(*group.length_mm, 2));
  return text;
}

std::string first_line(const BoltGroup& group) {
  if (group.stages.empty()) {
    return fmt::format("{}: the stages are not given.", capital(group.name));
  }
  std::string text = capital(group.name) + ": ";
  for (const BoltStage& stage : group.stages) {
    text += fmt::format("{}{}", stage.stage == 1 ? "" : "; then ", stage.move);
  }
  return text + ".";
}

// A tick, or room for one, behind each number; as many in a line as there is room for.
std::string boxes(const BoltGroup& group, int stage, const NextBolt* next) {
  std::string line;
  for (std::size_t k = 0; k < group.bolts.size(); ++k) {
    const bool through = next != nullptr && next->reached[k] >= stage;
    line += fmt::format("{}{}\u00a0[{}]", line.empty() ? "" : "  ", group.bolts[k].number,
                        through ? "x" : "\u00a0");
  }
  std::string text = wrapped("\u00a0\u00a0\u00a0" + line, 3);
  constexpr std::string_view kNoBreak = "\u00a0";
  for (std::size_t at = text.find(kNoBreak); at != std::string::npos; at = text.find(kNoBreak)) {
    text.replace(at, kNoBreak.size(), " ");
  }
  return text;
}

std::string grid(const BoltGroup& group, const NextBolt* next) {
  std::string text;
  for (const BoltStage& stage : group.stages) {
    std::string line = fmt::format("{}. {}", stage.stage, stage.move);
    if (stage.advance_mm) {
      line += fmt::format("; it goes {} mm along its thread", shortest(*stage.advance_mm, 4));
    }
    text += wrapped(line, 3) + (group.bolts.empty() ? "" : boxes(group, stage.stage, next));
  }
  return text;
}

std::string places(const BoltGroup& group) {
  if (!group.placed()) return "";
  TextTable table({{"order"}, {"in the\nlist"}, {"right\nmm"}, {"up\nmm"}});
  for (const BoltPlace& bolt : group.bolts) {
    table.add({std::to_string(bolt.number), std::to_string(bolt.position),
               fixed(bolt.at_mm->x(), 1), fixed(bolt.at_mm->y(), 1)});
  }
  return "Where each stands, looking down on the bolt heads:\n" + table.text();
}

std::string bound(const BoltGroup& group) {
  if (!group.bound) return "";
  const BoltBound& at_most = *group.bound;
  return wrapped(fmt::format(
      "The angles move each by {} mm. If nothing yields, settles or slips they add at most {} N to "
      "it ({} N/mm2 in the shank), stretch it by {} mm and squeeze the joint by {} mm: bolt {} N "
      "for each mm (modulus {} N/mm2, {}), joint {}. Real ones give less; the torque's own pull "
      "comes on top.",
      shortest(at_most.advance_mm, 4), fixed(at_most.load_n, 0), fixed(at_most.stress_n_mm2, 1),
      fixed(at_most.stretch_mm, 3), fixed(at_most.squeeze_mm, 3), fixed(at_most.bolt_n_per_mm, 0),
      shortest(at_most.modulus_n_mm2, 0), at_most.modulus_given ? "as given" : "that of steel",
      fixed(at_most.joint_n_per_mm, 0)));
}

// The order's number, and the list's where that is another.
std::string bolt_words(const BoltGroup& group, int number) {
  for (const BoltPlace& bolt : group.bolts) {
    if (bolt.number == number && group.placed() && bolt.position != number) {
      return fmt::format("bolt {} of the order ({} in the list)", number, bolt.position);
    }
  }
  return fmt::format("bolt {}", number);
}

std::string next_line(const BoltGroup& group, const NextBolt& next) {
  std::string text;
  if (next.all_done) {
    text = wrapped(fmt::format("{}: every bolt has been through every stage, {} of {} ticks.",
                               capital(next.group), next.ticks, next.of));
  } else {
    text = wrapped(fmt::format("{}: next is {}, stage {}: {}. {} of {} ticks so far.",
                               capital(next.group), bolt_words(group, next.bolt), next.stage,
                               next.move, next.ticks, next.of));
  }
  for (const std::string& noticed : next.noticed) text += wrapped("- " + noticed, 2);
  return text;
}

const NextBolt* next_of(const BoltsAnswer& answer, const BoltGroup& group) {
  for (const NextBolt& next : answer.next) {
    if (next.group == group.name) return &next;
  }
  return nullptr;
}

}  // namespace

std::string bolts_text(const Heading& heading, const BoltsAnswer& answer) {
  std::string text;
  for (const BoltGroup& group : answer.groups) {
    const NextBolt* next = next_of(answer, group);
    if (next != nullptr) text += next_line(group, *next);
    if (answer.next.empty()) text += wrapped(first_line(group));
  }
  text += sentences::heading(heading);
  for (const BoltGroup& group : answer.groups) {
    text += '\n' + wrapped(fmt::format("{}: {}.", capital(group.name), count_words(group)));
    text += grid(group, next_of(answer, group)) + places(group) + bound(group);
    for (const std::string& note : group.notes) text += wrapped("- " + note, 2);
  }
  return text + sentences::missing(heading.missing);
}

}  // namespace twoturn
