// The job card's boxes: the same things that a record is asked for, in the order of work.
#include <fmt/format.h>

#include "sheet_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn::sheet {
namespace {

SheetLine blank(std::string text, std::vector<SheetBlank> blanks) {
  SheetLine line = note(std::move(text));
  line.blanks = std::move(blanks);
  return line;
}

SheetStep faces(const JobCard& card) {
  SheetStep step{"face", "Face"};
  for (const std::string& head : card.heads) {
    step.lines.push_back(blank(capital(head), {{"out of flat", "mm"}}));
  }
  return step;
}

SheetStep belt_tight(const JobCard& card) {
  SheetStep step{"tension", "Tension"};
  if (card.tension) {
    SheetLine line = blank("", {{"N", ""}, {"or Hz", ""}, {"or mm of give", ""}});
    line.text = fmt::format(
        "Read on the run {} to {}, {} N on paper:", plain_name(card.tension->from),
        plain_name(card.tension->to), put_whole(line, "tension_n", card.tension->tension_n));
    step.lines.push_back(line);
  }
  if (!card.setting) return step;
  SheetLine line = blank("", {{"stands at", ""}});
  switch (card.setting->by) {
    case CardSetting::By::pointer_deg:
      line.text = fmt::format("Pointer, on paper at {},",
                              put_clock(line, "pointer_deg", card.setting->value));
      break;
    case CardSetting::By::roller_deg:
      line.text = fmt::format("Roller's centre from the pivot, on paper at {},",
                              put_clock(line, "roller_deg", card.setting->value));
      break;
    case CardSetting::By::roller_mm:
      line.text = fmt::format("Roller, on paper {} mm from the slack end,",
                              put(line, "roller_mm", card.setting->value, 2));
      line.blanks.front().unit = "mm";
      break;
  }
  step.lines.push_back(line);
  return step;
}

SheetStep turned(const JobCard& card) {
  SheetStep step{"turn", "After two turns by hand"};
  if (card.marks.empty()) return step;
  step.lines.push_back(blank("Turns made by hand, in the running direction", {{"", "turns"}}));
  for (const CardMark& mark : card.marks) {
    SheetLine line = tick("");
    line.text = fmt::format("{}: mark back", capital(mark.shaft));
    if (mark.start_deg) line.text += " at " + put_clock(line, "mark_deg", *mark.start_deg);
    line.blanks = {{"if not, off by", "mm"}};
    step.lines.push_back(line);
    if (mark.held_by.empty()) continue;
    step.lines.push_back(
        tick(fmt::format("{}: its {} goes in by hand.", capital(mark.shaft), mark.held_by)));
  }
  return step;
}

SheetStep pins_and_holes(const JobCard& card) {
  SheetStep step{"close", "Pins out, holes closed"};
  for (const CardPin& pin : card.pins) {
    step.lines.push_back(
        tick(fmt::format("{}: its {} is out{}.", capital(pin.shaft), pin.held_by,
                         pin.in_named_hole() ? fmt::format(" of {}", the(*pin.hole)) : "")));
  }
  for (const CardHole& hole : card.holes) {
    step.lines.push_back(
        tick(fmt::format("{} closed{}.", capital(hole.name),
                         hole.closed_with.empty() ? "" : fmt::format(": {}", hole.closed_with))));
  }
  SheetLine pins = blank("", {{"", "in"}, {"", "out"}});
  pins.text = fmt::format("Pins and bars, {} known here:",
                          put_count(pins, "pins_and_bars", std::ssize(card.pins)));
  SheetLine holes = blank("", {{"", "opened"}, {"", "closed"}});
  holes.text = fmt::format("Access holes, {} known here:",
                           put_count(holes, "access_holes", std::ssize(card.holes)));
  step.lines.push_back(pins);
  step.lines.push_back(holes);
  return step;
}

SheetStep sign_off(const JobCard& card) {
  SheetStep step{"sign", "Everything back in, in order and counted"};
  for (const CardTray& tray : card.trays) {
    SheetLine line = blank("", {{"", "back"}});
    line.text = fmt::format("{}, of {}, each in its own place:", capital(tray.name),
                            put_count(line, "parts", tray.parts()));
    step.lines.push_back(line);
  }
  step.lines.push_back(note(
      "Anything above without its tick or number: NOT DONE. All of it there is still not leave "
      "to start: the maker's manual, and two clean turns by hand, come first."));
  return step;
}

}  // namespace

std::vector<SheetStep> job_card_steps(const JobCard& card) {
  std::vector<SheetStep> steps;
  for (const auto make : {faces, belt_tight, turned, pins_and_holes, sign_off}) {
    SheetStep step = make(card);
    if (!step.lines.empty()) steps.push_back(std::move(step));
  }
  return steps;
}

}  // namespace twoturn::sheet
