#include "twoturn/read/record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "toml_document.hpp"
#include "toml_section.hpp"

namespace twoturn {
namespace {

using reading::Entry;
using reading::Reading;
using reading::Section;

// What nobody has typed over.
bool is_blank(const Entry& entry) {
  const auto* text = entry.node->as_string();
  return text != nullptr && toml_text::trimmed(text->get()).empty();
}

std::optional<Entry> typed(Section& section, std::string_view key) {
  std::optional<Entry> found = section.find(key);
  if (found && is_blank(*found)) return std::nullopt;
  return found;
}

std::optional<Entry> typed_length(Section& section, std::string_view stem) {
  std::optional<Entry> found = section.find_length(stem);
  if (found && is_blank(*found)) return std::nullopt;
  return found;
}

std::optional<bool> yes_or_no(Section& section, std::string_view key) {
  const std::optional<Entry> found = typed(section, key);
  if (!found) return std::nullopt;
  if (const auto* flag = found->node->as_boolean()) return flag->get();
  const auto* text = found->node->as_string();
  const std::string_view said = text ? toml_text::trimmed(text->get()) : std::string_view();
  if (said == "yes" || said == "no") return said == "yes";
  section.reading().blame(*found, "must be \"yes\", \"no\", or \"\" where it was not done");
  return std::nullopt;
}

std::optional<int> count_of(Section& section, std::string_view key) {
  const std::optional<Entry> found = typed(section, key);
  if (!found) return std::nullopt;
  const std::optional<int> count = section.reading().count(*found);
  if (!count || *count >= 0) return count;
  section.reading().blame(*found, "must be 0 or more");
  return std::nullopt;
}

std::optional<double> from_nought(Reading& reading, const std::optional<Entry>& found) {
  if (!found) return std::nullopt;
  const std::optional<double> value = reading.value(*found);
  if (!value || *value >= 0.0) return value;
  reading.blame(*found, "must be 0 or more");
  return std::nullopt;
}

std::optional<double> above_nought(Reading& reading, const std::optional<Entry>& found) {
  if (!found) return std::nullopt;
  const std::optional<double> value = reading.value(*found);
  if (!value || *value > 0.0) return value;
  reading.blame(*found, "must be more than 0");
  return std::nullopt;
}

// The name under a key where it is one of those known, each once; else blamed and empty.
std::string known_name(Section& section, std::string_view key,
                       const std::vector<std::string>& known, std::set<std::string>& seen) {
  const std::optional<Entry> found = section.find(key);
  if (!found) {
    section.reading().blame(section.self(), fmt::format("needs {} = \"...\"", key));
    return "";
  }
  const std::optional<std::string> text = section.reading().text(*found);
  if (!text) return "";
  const std::string& name = *text;
  if (std::find(known.begin(), known.end(), name) == known.end()) {
    section.reading().blame(*found, "the profile has nothing of this name here",
                            nearest_word(name, known));
    return "";
  }
  if (seen.insert(name).second) return name;
  section.reading().blame(*found, "stands twice; keep one");
  return "";
}

template <class Part, class Name>
std::vector<std::string> names_of(const std::vector<Part>& parts, const Name& name) {
  std::vector<std::string> names;
  for (const Part& part : parts) names.push_back(part.*name);
  return names;
}

// Whose record it is comes before anything it says.
void judge_profile(Section& top, const JobCard& card, Record& record) {
  std::optional<Section> head = top.table("record");
  if (!head) {
    top.reading().blame(top.self(),
                        "needs a [record] that says of which profile it is: \"twoturn sheet "
                        "PROFILE --record FILE\" "
                        "writes a blank one");
    return;
  }
  const std::optional<Entry> title = head->find("profile");
  const std::optional<Entry> print = head->find("fingerprint");
  record.by = head->text("by").value_or("");
  record.date = head->text("date").value_or("");
  Reading& reading = head->reading();
  if (!print || is_blank(*print)) {
    reading.blame(head->self(), "needs the fingerprint of its profile, as the blank record has it");
  } else if (reading.text(*print).value_or("") != card.fingerprint) {
    reading.blame(*print,
                  fmt::format("the record of another profile: this one is {}{}; a profile "
                              "that was changed after the record was written is another, "
                              "and wants a new record",
                              card.profile.empty() ? "" : fmt::format("\"{}\", ", card.profile),
                              card.fingerprint));
  } else if (title && reading.text(*title).value_or("") != card.profile) {
    reading.blame(*title,
                  fmt::format("the record of another profile: this one is \"{}\"", card.profile));
  }
  head->finish();
}

void read_faces(Section& top, const JobCard& card, Record& record) {
  std::set<std::string> seen;
  for (Section head : top.tables("head")) {
    Record::Face face;
    face.head = known_name(head, "name", card.heads, seen);
    face.out_of_flat_mm = from_nought(head.reading(), typed_length(head, "out_of_flat"));
    head.finish();
    record.faces.push_back(face);
  }
}

std::vector<int> bolts_done(Section& stage, int bolts) {
  const std::optional<Entry> found = typed(stage, "done");
  if (!found) return {};
  Reading& reading = stage.reading();
  const toml::array* list = found->node->as_array();
  if (list == nullptr) {
    reading.blame(*found, "must be a list of bolts as they were done: [1, 2, 3]");
    return {};
  }
  std::vector<int> done;
  for (std::size_t i = 0; i < list->size() && !reading.full(); ++i) {
    const Entry element = found->element(i);
    const std::optional<int> bolt = reading.count(element);
    if (!bolt) continue;
    if (*bolt < 1 || *bolt > bolts) {
      reading.blame(element, fmt::format("must be a bolt from 1 to {}", bolts));
    } else if (std::find(done.begin(), done.end(), *bolt) != done.end()) {
      reading.blame(element, "this bolt stands twice in one stage");
    } else {
      done.push_back(*bolt);
    }
  }
  return done;
}

void read_stages(Section& bolts, const BoltGroup& group, Record& record) {
  std::set<int> seen;
  for (Section stage : bolts.tables("stage")) {
    Reading& reading = stage.reading();
    const std::optional<Entry> found = stage.find("stage");
    const std::optional<int> number = found ? reading.count(*found) : std::nullopt;
    const int last = static_cast<int>(group.stages.size());
    if (!found) {
      reading.blame(stage.self(), "needs stage = its number");
    } else if (number && (*number < 1 || *number > last)) {
      reading.blame(*found, fmt::format("must be a stage from 1 to {}", last));
    } else if (number && !seen.insert(*number).second) {
      reading.blame(*found, "stands twice; keep one");
    }
    Record::Stage one{group.name, number.value_or(0),
                      bolts_done(stage, static_cast<int>(group.bolts.size()))};
    stage.finish();
    record.stages.push_back(std::move(one));
  }
}

void read_bolts_done(Section& top, const JobCard& card, Record& record) {
  std::set<std::string> seen;
  const std::vector<std::string> known = names_of(card.bolts, &BoltGroup::name);
  for (Section bolts : top.tables("bolts")) {
    const std::string name = known_name(bolts, "name", known, seen);
    const auto group = std::find_if(card.bolts.begin(), card.bolts.end(),
                                    [&](const BoltGroup& one) { return one.name == name; });
    if (group == card.bolts.end()) continue;
    read_stages(bolts, *group, record);
    bolts.finish();
  }
}

void read_setting(Section& top, Record& record) {
  std::optional<Section> tensioner = top.table("tensioner");
  if (!tensioner) return;
  Reading& reading = tensioner->reading();
  const auto clock = [&](std::string_view key) -> std::optional<double> {
    const std::optional<Entry> found = typed(*tensioner, key);
    return found ? reading.clock(*found) : std::nullopt;
  };
  record.pointer_deg = clock("pointer_deg");
  record.roller_deg = clock("roller_deg");
  record.roller_mm = from_nought(reading, typed_length(*tensioner, "roller"));
  tensioner->finish();
}

void read_tension_read(Section& top, Record& record) {
  std::optional<Section> tension = top.table("tension");
  if (!tension) return;
  Reading& reading = tension->reading();
  std::optional<Entry> first;
  const auto take = [&](const std::optional<Entry>& found, TensionBy by) {
    const std::optional<double> value = above_nought(reading, found);
    if (!value) return;
    if (first)
      reading.blame(*found, fmt::format("one reading is enough: {} stands as well", first->path));
    first = found;
    record.tension_by = by;
    record.tension_read = *value;
  };
  take(typed(*tension, "read_n"), TensionBy::newton);
  take(typed(*tension, "read_hz"), TensionBy::note);
  take(typed_length(*tension, "give"), TensionBy::give);
  record.tension_push_n = above_nought(reading, typed(*tension, "push_n"));
  tension->finish();
}

void read_marks(Section& top, const JobCard& card, Record& record) {
  std::set<std::string> seen;
  const std::vector<std::string> known = names_of(card.marks, &CardMark::shaft);
  for (Section mark : top.tables("mark")) {
    Record::Mark one;
    one.shaft = known_name(mark, "shaft", known, seen);
    one.back = yes_or_no(mark, "back");
    if (const auto off = typed_length(mark, "off")) one.off_mm = mark.reading().value(*off);
    one.pin_in = yes_or_no(mark, "pin_in");
    mark.finish();
    record.marks.push_back(one);
  }
}

void read_named(Section& top, std::string_view list, std::string_view key, std::string_view said,
                const std::vector<std::string>& known, std::vector<Record::Named>& into) {
  std::set<std::string> seen;
  for (Section one : top.tables(list)) {
    const std::string name = known_name(one, key, known, seen);
    into.push_back({name, yes_or_no(one, said)});
    one.finish();
  }
}

void read_trays(Section& top, const JobCard& card, Record& record) {
  std::set<std::string> seen;
  const std::vector<std::string> known = names_of(card.trays, &CardTray::name);
  for (Section tray : top.tables("tray")) {
    const std::string name = known_name(tray, "name", known, seen);
    record.trays_back.push_back({name, count_of(tray, "back")});
    tray.finish();
  }
}

void read_counts(Section& top, Record& record) {
  if (std::optional<Section> turns = top.table("two_turns")) {
    record.turns_by_hand = count_of(*turns, "turns");
    turns->finish();
  }
  if (std::optional<Section> counted = top.table("counted")) {
    record.pins_counted_in = count_of(*counted, "pins_in");
    record.pins_counted_out = count_of(*counted, "pins_out");
    record.holes_opened = count_of(*counted, "holes_opened");
    record.holes_counted_closed = count_of(*counted, "holes_closed");
    counted->finish();
  }
}

}  // namespace

Record read_record(const std::string& name, const std::string& text, const JobCard& card) {
  const std::string_view body = toml_text::without_mark(text);
  const toml_text::Lines lines(body);
  const toml::table tree = reading::parsed(body, lines, name);
  Reading reading(name, lines, reading::Kind::readings);
  Section top(tree, reading);
  Record record;
  record.file = name;
  judge_profile(top, card, record);
  if (!reading.problems.empty()) reading::refuse(std::move(reading.problems), name);
  read_faces(top, card, record);
  read_bolts_done(top, card, record);
  read_setting(top, record);
  read_tension_read(top, record);
  read_counts(top, record);
  read_marks(top, card, record);
  read_named(top, "pin", "shaft", "out", names_of(card.pins, &CardPin::shaft), record.pins_out);
  read_named(top, "access_hole", "name", "closed", names_of(card.holes, &CardHole::name),
             record.holes_closed);
  read_trays(top, card, record);
  top.finish();
  if (!reading.problems.empty()) reading::refuse(std::move(reading.problems), name);
  return record;
}

}  // namespace twoturn
