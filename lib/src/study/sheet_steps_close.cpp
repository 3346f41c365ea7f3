// Pins and bars in, out again, and the holes they used closed.
#include <fmt/format.h>

#include <algorithm>

#include "sheet_parts.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

// Where any goes through a hole that the profile names.
void add_holes_used(const Job& job, SheetStep& step) {
  std::vector<std::string> used;
  for (const CardPin& pin : job.card.pins) {
    if (!pin.in_named_hole()) continue;
    used.push_back(fmt::format("{} through {}", pin.shaft, the(*pin.hole)));
  }
  if (!used.empty()) step.lines.push_back(note(capital(in_words(used)) + "."));
}

void add_holes(const Job& job, SheetStep& step) {
  const std::vector<CardHole>& holes = job.card.holes;
  SheetLine closed = tick("Every access hole they used closed:");
  if (!holes.empty()) {
    closed.text =
        fmt::format("Access holes closed (of {} known here):",
                    put_count(closed, "access_holes", static_cast<long long>(holes.size())));
  }
  closed.blanks = {{"", "closed"}};
  step.lines.push_back(closed);
  for (const CardHole& hole : holes) {
    step.lines.push_back(tick(hole.closed_with.empty()
                                  ? fmt::format("{}.", capital(hole.name))
                                  : fmt::format("{}: {}.", capital(hole.name), hole.closed_with)));
  }
}

}  // namespace

SheetStep pins(const Job& job) {
  SheetStep step{"pins", "Marks and pins"};
  add_way_to_mark(job, step);
  step.lines.push_back(tick(
      "Each mark as in the table, its pin or bar in. They hold position, never against a bolt."));
  add_holes_used(job, step);
  const int given = static_cast<int>(job.card.pins.size());
  SheetLine count = tick("Pins and bars counted in:");
  if (given > 0) {
    count.text = fmt::format("Pins and bars counted in ({} known here):",
                             put_count(count, "pins_and_bars", given));
  }
  count.blanks = {{"", "in"}};
  step.lines.push_back(count);
  return step;
}

SheetStep close_up(const Job& job) {
  SheetStep step{"close", "Pins out, holes closed"};
  const int known = static_cast<int>(job.card.pins.size());
  SheetLine out = tick("Pins and bars out, as many as went in:");
  out.blanks = {{"", "out"}};
  if (known > 0) {
    out.text = fmt::format("Pins and bars counted out (of {} known here):",
                           put_count(out, "pins_and_bars", known));
  }
  step.lines = {out};
  add_holes(job, step);
  if (job.is_engine()) {
    step.lines.push_back(
        tick("Nothing left in a plug hole. Fresh hydraulic followers hold valves open: wait as the "
             "manual says."));
  }
  step.lines.push_back(
      tick("On by the maker's manual. No starter before two clean turns by hand."));
  return step;
}

}  // namespace twoturn::sheet
