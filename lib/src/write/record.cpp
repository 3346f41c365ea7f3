#include "twoturn/write/record.hpp"

#include <fmt/format.h>

#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

// A basic string of TOML; a name may hold anything.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (code < 0x20U || code == 0x7fU) {
      out += fmt::format("\\u{:04x}", code);
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string line(const std::string& key, const std::string& value, const std::string& comment) {
  const std::string said = fmt::format("{} = {}", key, value);
  return comment.empty() ? said + '\n' : fmt::format("{:<23} # {}\n", said, printable(comment));
}

std::string blank(const std::string& key, const std::string& comment) {
  return line(key, "\"\"", comment);
}

std::string head(const JobCard& card) {
  return "# The record of a job, typed from its card. Type over \"\" what you saw and counted: a "
         "number\n# without quotes, or \"yes\" or \"no\"; what was not done stays \"\". Then\n"
         "#     twoturn check PROFILE --record THIS-FILE\n\n[record]\n" +
         line("profile", quoted(card.profile), "") +
         line("fingerprint", quoted(card.fingerprint), "of the profile: leave it") +
         blank("by", "who did it") + blank("date", "");
}

std::string heads(const JobCard& card) {
  std::string text;
  for (const std::string& name : card.heads) {
    text += "\n[[head]]\n" + line("name", quoted(name), "") +
            blank("out_of_flat_mm", "the worst gap or height; _in and _thou are taken too");
  }
  return text;
}

std::string bolts(const JobCard& card) {
  std::string text;
  for (const BoltGroup& group : card.bolts) {
    text += "\n[[bolts]]\n" + line("name", quoted(group.name), "");
    for (const BoltStage& stage : group.stages) {
      text += "[[bolts.stage]]\n" + line("stage", std::to_string(stage.stage), stage.move);
      text += line("done", "[]",
                   group.bolts.empty() ? "how many there are is not given"
                                       : fmt::format("bolts 1 to {} as you do them: [1, 2, 3]",
                                                     group.bolts.size()));
    }
  }
  return text;
}

std::string setting(const JobCard& card) {
  if (!card.setting) return "";
  const std::string after = "after two turns; ";
  switch (card.setting->by) {
    case CardSetting::By::pointer_deg:
      return "\n[tensioner]\n" +
             blank("pointer_deg", after + "where it stands, as on a clock face: \"4:30\" or 135");
    case CardSetting::By::roller_deg:
      return "\n[tensioner]\n" +
             blank("roller_deg", after + "the roller's centre from its pivot, as on a clock face");
    case CardSetting::By::roller_mm:
      return "\n[tensioner]\n" + blank("roller_mm", after + "from the slack end");
  }
  return "";
}

std::string tension(const JobCard& card) {
  if (!card.tension) return "";
  return "\n[tension]\n# Run " + printable(card.tension->from) + " to " +
         printable(card.tension->to) + ": one of the three.\n" + blank("read_n", "N") +
         blank("read_hz", "Hz, plucked") + blank("give_mm", "at its middle, with push_n") +
         blank("push_n", "N");
}

std::string marks(const JobCard& card) {
  std::string text;
  for (const CardMark& mark : card.marks) {
    const std::string where =
        mark.start_deg ? "at " + sentences::clock_face(*mark.start_deg) + " again: " : "";
    text += "\n[[mark]]\n" + line("shaft", quoted(mark.shaft), "") +
            blank("back", "after two turns " + where + "yes or no") +
            blank("off_mm", "if not: so far off at the edge, late below 0");
    if (!mark.held_by.empty())
      text += blank("pin_in", mark.held_by + " goes in by hand: yes or no");
  }
  return text;
}

std::string pins(const JobCard& card) {
  std::string text;
  for (const CardPin& pin : card.pins) {
    text += "\n[[pin]]\n" + line("shaft", quoted(pin.shaft), "") +
            blank("out", pin.held_by + " out again: yes or no");
  }
  return text;
}

std::string holes(const JobCard& card) {
  std::string text;
  for (const CardHole& hole : card.holes) {
    text +=
        "\n[[access_hole]]\n" + line("name", quoted(hole.name), "") +
        blank("closed", (hole.closed_with.empty() ? "" : hole.closed_with + ": ") + "yes or no");
  }
  return text;
}

std::string trays(const JobCard& card) {
  std::string text;
  for (const CardTray& tray : card.trays) {
    text += "\n[[tray]]\n" + line("name", quoted(tray.name), "") +
            blank("back", fmt::format("of {}, each in its own place", tray.parts()));
  }
  return text;
}

}  // namespace

std::string blank_record(const JobCard& card) {
  return head(card) + heads(card) + bolts(card) + setting(card) + tension(card) +
         "\n[two_turns]\n" + blank("turns", "by hand, in the running direction") + marks(card) +
         pins(card) + holes(card) + "\n[counted]\n" + blank("pins_in", "pins and bars put in") +
         blank("pins_out", "and taken out") + blank("holes_opened", "access holes opened") +
         blank("holes_closed", "and closed again") + trays(card);
}

}  // namespace twoturn
