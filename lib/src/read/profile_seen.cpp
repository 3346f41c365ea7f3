#include <fmt/format.h>

#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

std::map<std::string, PinFelt> read_seen_pins(Section& seen) {
  std::map<std::string, PinFelt> pins;
  for (const auto& [name, entry] : seen.by_name("pin")) {
    if (seen.reading().surveying) break;
    if (const auto pin = choice_of<PinFelt>(seen.reading(), entry)) pins[name] = *pin;
  }
  return pins;
}

std::map<std::string, double> read_mark_lengths(Section& seen) {
  std::map<std::string, double> marks;
  Reading& reading = seen.reading();
  for (const auto& [name, entry] : seen.lengths_by_name("mark")) {
    if (reading.surveying) break;
    if (name.empty()) {
      reading.blame(entry,
                    "must be a table by name, for a number alone does not say which mark: "
                    "mark_mm = { NAME = ... }");
      continue;
    }
    const std::optional<double> value = read_early_or_late(reading, entry);
    if (value && !marks.emplace(name, *value).second) {
      reading.blame(entry, "the same length stands twice, in another unit; keep one");
    }
  }
  return marks;
}

std::map<std::string, double> read_marks_by_name(Section& seen, std::string_view key) {
  std::map<std::string, double> marks;
  for (const auto& [name, entry] : seen.by_name(key)) {
    if (seen.reading().surveying) break;
    if (const auto value = read_early_or_late(seen.reading(), entry)) marks[name] = *value;
  }
  return marks;
}

std::map<std::string, double> read_priors(Section& seen) {
  std::map<std::string, double> priors;
  for (const auto& [code, entry] : seen.by_name("prior")) {
    if (seen.reading().surveying) break;
    if (const auto weight = seen.reading().number(entry)) priors[code] = *weight;
  }
  return priors;
}

TeethCounted read_seen_count(Section count) {
  TeethCounted spec;
  spec.from = count.text("from").value_or("");
  spec.to = count.text("to").value_or("");
  spec.teeth = count.count("teeth");
  count.finish();
  return spec;
}

}  // namespace

SeenSpec read_seen(Section seen) {
  SeenSpec spec;
  spec.pin = read_seen_pins(seen);
  spec.mark_mm = read_mark_lengths(seen);
  spec.mark_teeth = read_marks_by_name(seen, "mark_teeth");
  spec.mark_crank_deg = read_marks_by_name(seen, "mark_crank_deg");
  spec.give_mm = seen.length("give");
  spec.after_turns = seen.count("after_turns");
  spec.again = seen.choice<SeenAgain>("again");
  spec.pointer_deg = seen.clock("pointer_deg");
  spec.pointer_mm = seen.length("pointer");
  for (const Section& count : seen.tables("count")) spec.count.push_back(read_seen_count(count));
  spec.turned = seen.choice<LastTurned>("turned");
  spec.stops = seen.yes_no("stops");
  spec.stop_deg = seen.number("stop_deg");
  if (spec.stop_deg && !spec.stops) spec.stops = true;
  spec.moved_when_tensioned = seen.yes_no("moved_when_tensioned");
  spec.right_forwards = seen.yes_no("right_forwards");
  spec.rocks = seen.yes_no("rocks");
  spec.seated = seen.yes_no("seated");
  spec.pointer_moves = seen.yes_no("pointer_moves");
  spec.same_each_try = seen.yes_no("same_each_try");
  spec.prior = read_priors(seen);
  seen.finish();
  return spec;
}

}  // namespace twoturn::reading
