// A record that was filled in by hand: what is read of it, and each slip with its place.
#include "twoturn/read/record.hpp"

#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/texts.hpp"

using namespace twoturn;

namespace {

JobCard card() {
  JobCard card;
  card.profile = "A launch";
  card.fingerprint = "0123456789abcdef";
  card.heads = {"head"};
  BoltGroup bolts;
  bolts.name = "head bolts";
  for (int i = 1; i <= 4; ++i) bolts.bolts.push_back({i, i, {}});
  bolts.stages = {{1}, {2}};
  card.bolts = {bolts};
  card.marks = {{"crank", "pin"}, {"cam", "pin"}};
  card.pins = {{"cam", "pin"}};
  card.holes = {{"plug", ""}};
  card.trays = {{"followers", 2, 4}};
  return card;
}

const std::string kFilled = R"([record]
profile = "A launch"
fingerprint = "0123456789abcdef"
by = "the second shift"
date = "Tuesday"
[[head]]
name = "head"
out_of_flat_thou = 2
[[bolts]]
name = "head bolts"
[[bolts.stage]]
stage = 2
done = [3, 1]
[tensioner]
pointer_deg = "4:30"
roller_deg = 90
roller_mm = 3
[tension]
read_hz = 90.5
push_n = 10
[two_turns]
turns = 2
[counted]
pins_in = 1
pins_out = 1
holes_opened = 1
holes_closed = 1
[[mark]]
shaft = "cam"
back = true
off_in = -0.1
pin_in = false
[[pin]]
shaft = "cam"
out = "no"
[[access_hole]]
name = "plug"
closed = " yes "
[[tray]]
name = "followers"
back = 8
)";

std::string said_of(const std::string& text, const JobCard& job = card()) {
  try {
    static_cast<void>(read_record("r.toml", text, job));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("A record that is filled in reads value for value, lengths in any unit") {
  const Record record = read_record("r.toml", kFilled, card());
  CHECK(record.by == "the second shift");
  CHECK(record.date == "Tuesday");
  CHECK_THAT(record.faces.at(0).out_of_flat_mm.value(), WithinAbs(0.0508, 1e-12));
  CHECK(record.stages.at(0).stage == 2);
  CHECK(record.stages.at(0).done == std::vector<int>{3, 1});
  CHECK(record.pointer_deg == 135.0);
  CHECK(record.roller_deg == 90.0);
  CHECK(record.roller_mm == 3.0);
  CHECK(record.tension_by == TensionBy::note);
  CHECK(record.tension_read == 90.5);
  CHECK(record.tension_push_n == 10.0);
  CHECK(record.turns_by_hand == 2);
  CHECK(record.marks.at(0).back == true);
  CHECK_THAT(record.marks.at(0).off_mm.value(), WithinAbs(-2.54, 1e-12));
  CHECK(record.marks.at(0).pin_in == false);
  CHECK(record.pins_out.at(0).yes == false);
  CHECK(record.holes_closed.at(0).yes == true);
  CHECK(record.trays_back.at(0).count == 8);
}

TEST_CASE("What was left blank, or taken out, is blank") {
  std::string blank = "[record]\nfingerprint = \"0123456789abcdef\"\n";
  CHECK(read_record("r.toml", blank, card()).marks.empty());
  blank +=
      "[[head]]\nname = \"head\"\nout_of_flat_mm = \"\"\n[[mark]]\nshaft = \"cam\"\n"
      "back = \"\"\noff_mm = \" \"\n[two_turns]\nturns = \"\"\n[tensioner]\n"
      "pointer_deg = \"\"\n[tension]\nread_n = \"\"\n[[bolts]]\nname = \"head bolts\"\n"
      "[[bolts.stage]]\nstage = 1\ndone = \"\"\n";
  const Record record = read_record("r.toml", blank, card());
  CHECK_FALSE(record.faces.at(0).out_of_flat_mm.has_value());
  CHECK_FALSE(record.marks.at(0).back.has_value());
  CHECK_FALSE(record.marks.at(0).off_mm.has_value());
  CHECK_FALSE(record.turns_by_hand.has_value());
  CHECK_FALSE(record.pointer_deg.has_value());
  CHECK_FALSE(record.tension_by.has_value());
  CHECK(record.stages.at(0).done.empty());
}

TEST_CASE("Whose record it is comes before anything that it says") {
  const std::string bad = "[[mark]]\nshaft = \"nobody\"\n";
  CHECK_THAT(said_of(bad), EndsWith("needs a [record] that says of which profile it is: \"twoturn "
                                    "sheet PROFILE --record FILE\" writes a blank one"));
  CHECK(said_of("[record]\nfingerprint = \" \"\n" + bad) ==
        "r.toml:1:1: record: needs the fingerprint of its profile, as the blank record has it");
  const std::string other = "[record]\nfingerprint = \"fedcba9876543210\"\n" + bad;
  const std::string rule =
      "r.toml:2:15: record.fingerprint = \"fedcba9876543210\": the record of another profile: this "
      "one is ";
  CHECK_THAT(said_of(other), StartsWith(rule + "\"A launch\", 0123456789abcdef; a profile that"));
  JobCard nameless = card();
  nameless.profile.clear();
  CHECK_THAT(said_of(other, nameless), StartsWith(rule + "0123456789abcdef; a profile that"));
  CHECK(said_of(texts::with(kFilled, "\"A launch\"", "\"A barge\"")) ==
        "r.toml:2:11: record.profile = \"A barge\": the record of another profile: this one is "
        "\"A launch\"");
  CHECK(said_of(texts::with(kFilled, "by =", "buy =")) ==
        "r.toml:4:1: record.buy: no such key; did you mean \"by\"?");
}

TEST_CASE("Each slip in a record is told with its place") {
  struct Slip {
    std::string piece;
    std::string otherwise;
    std::string place;
    std::string rule;
  };
  const std::string yes = "must be \"yes\", \"no\", or \"\" where it was not done";
  const std::string number = "must be a number, not text; write ";
  const std::string nought = "must be 0 or more";
  for (const Slip& slip : {
           Slip{"back = true", "back = 3", "30:8: mark.1.back = 3", yes},
           Slip{"back = true", "back = \"perhaps\"", "30:8: mark.1.back = \"perhaps\"", yes},
           Slip{"out = \"no\"", "out = [1]", "35:7: pin.1.out = [1]", yes},
           Slip{"out_of_flat_thou = 2", "out_of_flat_thou = \"2\"",
                "8:20: head.head.out_of_flat_thou = \"2\"", number + "2 without the quotes"},
           Slip{"out_of_flat_thou = 2", "out_of_flat_thou = -2",
                "8:20: head.head.out_of_flat_thou = -2 thou", nought},
           Slip{"stage = 2", "stage = \"two\"", "12:9: bolts.head bolts.stage.1.stage = \"two\"",
                "must be a whole number, not text"},
           Slip{"done = [3, 1]", "done = [3, \"one\"]",
                "13:12: bolts.head bolts.stage.1.done[1] = \"one\"",
                "must be a whole number, not text"},
           Slip{"done = [3, 1]", "done = [3, 0]", "13:12: bolts.head bolts.stage.1.done[1] = 0",
                "must be a bolt from 1 to 4"},
           Slip{"done = [3, 1]", "done = [3, 5]", "13:12: bolts.head bolts.stage.1.done[1] = 5",
                "must be a bolt from 1 to 4"},
           Slip{"done = [3, 1]", "done = [3, 3]", "13:12: bolts.head bolts.stage.1.done[1] = 3",
                "this bolt stands twice in one stage"},
           Slip{"read_hz = 90.5", "read_hz = \"90.5\"", "19:11: tension.read_hz = \"90.5\"",
                number + "90.5 without the quotes"},
           Slip{"read_hz = 90.5", "give_mm = 0", "19:11: tension.give_mm = 0 mm",
                "must be more than 0"},
           Slip{"roller_mm = 3", "roller_mm = -3", "17:13: tensioner.roller_mm = -3 mm", nought},
           Slip{"turns = 2", "turns = 2.5", "22:9: two_turns.turns = 2.5",
                "must be a whole number"},
           Slip{"pins_out = 1", "pins_out = -1", "25:12: counted.pins_out = -1", nought},
           Slip{"pins_in = 1", "pins_in = -1", "24:11: counted.pins_in = -1", nought},
           Slip{"name = \"head bolts\"", "name = 3", "10:8: bolts.1.name = 3",
                "must be text in quotes, not a whole number; write \"3\""},
           Slip{"off_in = -0.1", "off_in = \"late\"", "31:10: mark.1.off_in = \"late\"",
                "must be a number, not text"},
           Slip{"name = \"head bolts\"", "name = \"main bolts\"",
                "10:8: bolts.main bolts.name = \"main bolts\"",
                "the profile has nothing of this name here"},
           Slip{"shaft = \"cam\"\nback", "back", "28:1: mark.1", "needs shaft = \"...\""},
       }) {
    INFO(slip.piece << " written as " << slip.otherwise);
    CHECK(said_of(texts::with(kFilled, slip.piece, slip.otherwise)) ==
          "r.toml:" + slip.place + ": " + slip.rule);
  }
}

TEST_CASE("Of a record that is wrong all over the first hundred problems are told") {
  std::string bolts = "0";
  for (int i = 0; i < 300; ++i) bolts += ", 0";
  const std::string said = said_of(texts::with(kFilled, "[3, 1]", "[" + bolts + "]"));
  CHECK_THAT(said, StartsWith("r.toml:13:9: bolts.head bolts.stage.1.done[0] = 0: must be a bolt "
                              "from 1 to 4\n"));
  CHECK_THAT(said, EndsWith("r.toml: more than 100 problems; these are the first"));
}
