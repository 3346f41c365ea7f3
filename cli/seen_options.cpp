#include "seen_options.hpp"

#include <array>
#include <string_view>
#include <utility>

#include "common.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/parse_number.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace twoturn::cli {
namespace {

std::string trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(' ');
  if (from == std::string_view::npos) return "";
  return std::string(text.substr(from, text.find_last_not_of(' ') - from + 1));
}

struct Named {
  std::string name;
  std::string value;
};

// "NAME=VALUE" without blanks round either.
Named named(const std::string& option, const std::string& text, const std::string& as_in) {
  const std::size_t equals = text.find('=');
  if (equals != std::string::npos) {
    Named both{trimmed(text.substr(0, equals)), trimmed(text.substr(equals + 1))};
    if (!both.name.empty() && !both.value.empty()) return both;
  }
  throw UsageError(option + " " + text + ": write it as in " + option + " \"" + as_in + "\"");
}

std::string pin_setting(const std::string& text) {
  const Named pin = named("--pin", text, "cam=out");
  if (!from_word<PinFelt>(pin.value)) {
    throw UsageError("--pin " + text +
                     ": a pin is in (it goes in freely), tight (only with force) or out (it does "
                     "not go in), as in --pin \"cam=out\"");
  }
  return "seen.pin." + pin.name + "=" + pin.value;
}

// The units that a mark is read in, and their keys.
constexpr std::array<std::pair<std::string_view, std::string_view>, 6> kMarkUnits{{
    {"mm", "mark_mm"},
    {"in", "mark_in"},
    {"thou", "mark_thou"},
    {"tooth", "mark_teeth"},
    {"teeth", "mark_teeth"},
    {"crank deg", "mark_crank_deg"},
}};

[[noreturn]] void refuse_mark(const std::string& text) {
  throw UsageError("--mark " + text +
                   ": write how far and which way, with its unit, as in \"cam=9.5 mm late\", "
                   "\"cam=1 tooth early\", \"cam=18 crank deg late\" or \"cam=right\"");
}

// "9.5 mm late" as the key's unit and "9.5 late".
std::string mark_setting(const std::string& text) {
  const Named mark = named("--mark", text, "cam=9.5 mm late");
  if (mark.value == "right") return "seen.mark_mm." + mark.name + "=right";
  const std::size_t end = mark.value.find_first_not_of("0123456789.");
  const std::size_t last = mark.value.rfind(' ');
  if (end == std::string::npos || last == std::string::npos || last < end) refuse_mark(text);
  const std::string number_part = mark.value.substr(0, end);
  const std::string unit = trimmed(mark.value.substr(end, last - end));
  const std::string way = mark.value.substr(last + 1);
  if (!parsed_number(number_part) || (way != "late" && way != "early")) refuse_mark(text);
  for (const auto& [word, key] : kMarkUnits) {
    if (word != unit) continue;
    return "seen." + std::string(key) + "." + mark.name + "=" + number_part + " " + way;
  }
  refuse_mark(text);
}

// A clock angle, or how far a slide stands from its slack end.
std::string pointer_setting(const std::string& text) {
  for (const std::string_view unit : {"mm", "thou", "in"}) {
    const bool ends = text.size() > unit.size() &&
                      std::string_view(text).substr(text.size() - unit.size()) == unit;
    if (!ends) continue;
    const std::string value = trimmed(std::string_view(text).substr(0, text.size() - unit.size()));
    if (!parsed_number(value)) {
      throw UsageError("--pointer " + text + ": not a length, as in --pointer \"12.5 mm\"");
    }
    return "seen.pointer_" + std::string(unit) + "=" + value;
  }
  (void)clock_angle("--pointer", text);
  if (parsed_number(text)) return "seen.pointer_deg=" + text;
  return "seen.pointer_deg=\"" + text + "\"";
}

std::string toml_text(const std::string& text) {
  std::string quoted = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') quoted += '\\';
    quoted += letter;
  }
  return quoted + '"';
}

// "crank to cam=41" as one table of [[seen.count]].
std::string count_table(const std::string& text) {
  const std::string as_in = "crank to cam=41";
  const Named count = named("--count", text, as_in);
  constexpr std::string_view kTo = " to ";
  const std::size_t to = count.name.find(kTo);
  const std::optional<int> teeth = parsed_whole(count.value);
  if (to == std::string::npos || !teeth) {
    throw UsageError("--count " + text + ": write from which mark to which, and how many belt " +
                     "teeth lie between them, as in --count \"" + as_in + "\"");
  }
  if (count.name.find(kTo, to + 1) != std::string::npos) {
    throw UsageError("--count " + text +
                     ": a name with \" to \" in it leaves open where the other begins; write this "
                     "count under [[seen.count]] in the profile");
  }
  const std::string to_name = trimmed(count.name.substr(to + kTo.size()));
  return "{ from = " + toml_text(trimmed(count.name.substr(0, to))) +
         ", to = " + toml_text(to_name) + ", teeth = " + std::to_string(*teeth) + " }";
}

std::string count_setting(const std::vector<std::string>& counts) {
  std::string list;
  for (const std::string& count : counts) list += (list.empty() ? "" : ", ") + count_table(count);
  return "seen.count=[" + list + "]";
}

void add_numbers(const Command& command, SeenAsked& seen) {
  command
      .option("--pin", seen.pins,
              "a shaft's timing pin goes in, is tight, or stays out: cam=in, cam=tight, cam=out; "
              "may be repeated")
      .hint("NAME=FELT")
      .one_at_a_time();
  command
      .option("--mark", seen.marks,
              "how far a mark stands off: \"cam=9.5 mm late\", \"cam=1 tooth early\", \"cam=18 "
              "crank deg late\", cam=right; may be repeated")
      .hint("NAME=OFF")
      .one_at_a_time();
  command
      .option("--count", seen.counts,
              "belt teeth counted from one mark to another, the way without the tensioner: "
              "\"crank to cam=41\"; in place of the profile's counts; may be repeated")
      .hint("FROM to TO=N")
      .one_at_a_time();
  command
      .option("--pointer", seen.pointer,
              "where the tensioner's pointer stands: 4:30 as on a clock face, 135 degrees, or of a "
              "slide \"12.5 mm\" from its slack end")
      .hint("PLACE");
  command
      .option("--after", seen.after,
              "pins and marks were looked at after so many turns: 0, 1, 2 or 4")
      .hint("TURNS")
      .one_of({"0", "1", "2", "4"});
  command
      .option("--again", seen.again,
              "after further turns: the same again (repeats), or not (wanders)")
      .hint("WORD")
      .one_of(words_of<SeenAgain>());
  command
      .option("--turned", seen.turned, "which way the crank was turned last: forwards or backwards")
      .hint("WAY")
      .one_of(words_of<LastTurned>());
}

void add_yes_or_no(const Command& command, SeenAsked& seen) {
  const Option stop =
      command
          .option("--stop-at", seen.stop_deg,
                  "the crank stopped dead, so many crank deg turned on from pins in")
          .hint("DEG")
          .within(0.0, kTwoTurnsDeg);
  command.flag("--no-stop", seen.no_stop, "nothing stopped the crank in two turns").excludes(stop);
  command.flag("--rocks", seen.rocks, "a shaft moves although its pin is in");
  command.flag("--not-seated", seen.not_seated,
               "the belt does not lie flat and central on every pulley");
  command.flag("--moved-when-tensioned", seen.moved_when_tensioned,
               "the marks were right until the belt was tensioned");
  command.flag("--right-forwards", seen.right_forwards,
               "all is right once the marks are come up to forwards");
  command.flag("--pointer-stuck", seen.pointer_stuck, "the tensioner's pointer never moves");
  command.flag("--differs-each-try", seen.differs_each_try,
               "fitted again with care, it shows something else");
}

}  // namespace

void add_seen(const Command& command, SeenAsked& seen) {
  add_numbers(command, seen);
  add_yes_or_no(command, seen);
}

std::vector<std::string> settings_of(const SeenAsked& seen) {
  std::vector<std::string> settings;
  for (const std::string& pin : seen.pins) settings.push_back(pin_setting(pin));
  for (const std::string& mark : seen.marks) settings.push_back(mark_setting(mark));
  if (!seen.counts.empty()) settings.push_back(count_setting(seen.counts));
  const auto say = [&](const std::string& key, const std::string& value) {
    if (!value.empty()) settings.push_back("seen." + key + "=" + value);
  };
  say("after_turns", seen.after);
  say("again", seen.again);
  say("turned", seen.turned);
  if (!seen.pointer.empty()) settings.push_back(pointer_setting(seen.pointer));
  if (seen.stop_deg) settings.push_back("seen.stop_deg=" + shortest(*seen.stop_deg, 6));
  say("stops", seen.no_stop ? "false" : "");
  say("rocks", seen.rocks ? "true" : "");
  say("seated", seen.not_seated ? "false" : "");
  say("moved_when_tensioned", seen.moved_when_tensioned ? "true" : "");
  say("right_forwards", seen.right_forwards ? "true" : "");
  say("pointer_moves", seen.pointer_stuck ? "false" : "");
  say("same_each_try", seen.differs_each_try ? "false" : "");
  return settings;
}

}  // namespace twoturn::cli
