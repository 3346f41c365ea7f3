// Pins out, holes closed, parts back: what a record counts.
#include <fmt/format.h>

#include <algorithm>

#include "find_in_record.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::study {
namespace {

using State = RecordItem::State;

std::optional<bool> said_of(const std::vector<Record::Named>& list, const std::string& name) {
  for (const Record::Named& one : list) {
    if (one.name == name) return one.yes;
  }
  return std::nullopt;
}

// What must be said yes to. A no is a stop: it says that the job is not done.
struct Tick {
  const char* what;
  std::string about;
  std::string thing;  ///< "the pin of the cam"
  std::string done;   ///< "is out"
  std::string not_done;
  std::string action;
};

void tick(const Tick& asked, std::optional<bool> said, RecordAnswer& answer,
          std::vector<Finding>& findings) {
  Judged judged;
  judged.item = {asked.what, asked.about, State::done,
                 fmt::format("{} {}", asked.thing, asked.done)};
  if (!said) {
    judged.item.state = State::open;
    judged.item.text = fmt::format("not said whether {} {}", asked.thing, asked.done);
  } else if (!*said) {
    judged.item.state = State::wrong;
    judged.item.text = fmt::format("{} {}", asked.thing, asked.not_done);
    judged.level = Level::stop;
  }
  judged.brief = judged.item.text;
  judged.action = asked.action;
  settle(std::move(judged), answer, findings);
}

void pins(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  for (const CardPin& pin : job.card.pins) {
    const std::optional<bool> out = said_of(job.record.pins_out, pin.shaft);
    tick({"pin out", pin.shaft, fmt::format("the {} of {}", pin.held_by, the(pin.shaft)), "is out",
          "is still in", "take it out and count it"},
         out, answer, findings);
    answer.pins_out += out.value_or(false) ? 1 : 0;
  }
}

void holes(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  for (const CardHole& hole : job.card.holes) {
    const std::optional<bool> closed = said_of(job.record.holes_closed, hole.name);
    const std::string with = hole.closed_with.empty() ? "" : fmt::format(" ({})", hole.closed_with);
    tick({"hole closed", hole.name, the(hole.name), "is closed" + with, "is open",
          "close it: a forgotten one pumps the oil out"},
         closed, answer, findings);
    answer.holes_closed += closed.value_or(false) ? 1 : 0;
  }
}

struct Pair {
  const char* what;
  const char* put;     ///< "counted in"
  const char* undone;  ///< "counted out"
  const char* things;
};

// As many undone as were done, and no fewer than the profile knows of.
void counted_pair(const Pair& pair, std::optional<int> put, std::optional<int> undone, int known,
                  RecordAnswer& answer, std::vector<Finding>& findings) {
  Judged judged;
  judged.item = {pair.what, pair.things, State::done, ""};
  judged.unit = "pieces";
  judged.action = "count again, on the bench and at the engine";
  if (!put || !undone) {
    judged.item.state = State::open;
    judged.item.text =
        fmt::format("{}: not said how many were {}", pair.things, put ? pair.undone : pair.put);
  } else {
    judged.item.text =
        fmt::format("{}: {} {}, {} {}", pair.things, *put, pair.put, *undone, pair.undone);
    judged.value = *undone;
    judged.limit = std::max(*put, known);
    judged.item.read = judged.value;
    judged.item.wanted = *put;
    if (*undone != *put) judged.item.state = State::wrong;
    if (*put < known) {
      judged.item.state = State::wrong;
      judged.item.text += fmt::format(", while the profile knows of {}", known);
    }
    if (*undone < *put) judged.level = Level::stop;
  }
  judged.brief = judged.item.text;
  settle(std::move(judged), answer, findings);
}

void trays(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  for (const CardTray& tray : job.card.trays) {
    const auto said =
        std::find_if(job.record.trays_back.begin(), job.record.trays_back.end(),
                     [&](const Record::Counted& one) { return one.name == tray.name; });
    const bool known = said != job.record.trays_back.end() && said->count;
    Judged judged;
    judged.item = {"tray", tray.name, State::done, ""};
    judged.limit = tray.parts();
    judged.item.wanted = judged.limit;
    judged.unit = "pieces";
    if (!known) {
      judged.item.state = State::open;
      judged.item.text = fmt::format("not said how many of {} {} are back in their places",
                                     tray.parts(), tray.name);
    } else {
      judged.value = *said->count;
      judged.item.read = judged.value;
      judged.item.text =
          fmt::format("{} of {} {} back in their places", *said->count, tray.parts(), tray.name);
      if (*said->count != tray.parts()) judged.item.state = State::wrong;
    }
    judged.brief = judged.item.text;
    judged.action = "put each back where the tray's map has it";
    settle(std::move(judged), answer, findings);
  }
}

}  // namespace

void counts_of_record(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  const Record& record = job.record;
  pins(job, answer, findings);
  const int known_pins = static_cast<int>(job.card.pins.size());
  const int known_holes = static_cast<int>(job.card.holes.size());
  counted_pair({"pins counted", "counted in", "counted out", "pins and bars"},
               record.pins_counted_in, record.pins_counted_out, known_pins, answer, findings);
  holes(job, answer, findings);
  counted_pair({"holes counted", "opened", "closed", "access holes"}, record.holes_opened,
               record.holes_counted_closed, known_holes, answer, findings);
  // More than the profile names may have been in: the larger count, and of what is named the ticks.
  const auto others = [](std::optional<int> counted, int known) {
    return std::max(0, counted.value_or(known) - known);
  };
  answer.pins = std::max(known_pins, record.pins_counted_in.value_or(0));
  answer.holes = std::max(known_holes, record.holes_opened.value_or(0));
  answer.pins_out += others(record.pins_counted_out, known_pins);
  answer.holes_closed += others(record.holes_counted_closed, known_holes);
  trays(job, answer, findings);
}

}  // namespace twoturn::study
