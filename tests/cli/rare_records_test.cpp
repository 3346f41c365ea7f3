// A record that is filled in, then with one thing otherwise: what the verdict's line says of it.
#include <regex>
#include <string>
#include <utility>
#include <vector>

#include "cli/command.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

using texts::on_one_line;
using texts::with;

// The van with its belt in the right tooth: nothing is wrong on paper.
std::string van() {
  return with(demos::text_of("night-bakery-van"), "teeth_out = { \"inlet cam\" = \"1 late\" }\n",
              "");
}

std::string blank_for(const Bench& bench, const std::string& profile) {
  bench.write("p.toml", profile);
  std::filesystem::remove(bench.path("r.toml"));
  const Ran ran = bench.run("sheet p.toml --record r.toml");
  REQUIRE(ran.code <= 1);
  return bench.read("r.toml");
}

std::string filled(std::string record) {
  using Rows = std::vector<std::pair<const char*, const char*>>;
  for (const auto& [blank, done] :
       Rows{{"out_of_flat_mm = \"\"", "out_of_flat_mm = 0.03"},
            {"pointer_deg = \"\"", "pointer_deg = \"9:00\""},
            {"read_hz = \"\"", "read_hz = 110"},
            {"\nturns = \"\"", "\nturns = 2"},
            {"back = \"\"( .*of 16)", "back = 16$1"},
            {"(pins_in|pins_out) = \"\"", "$1 = 3"},
            {"(holes_opened|holes_closed) = \"\"", "$1 = 1"},
            {"(back|pin_in|out|closed) = \"\"", "$1 = \"yes\""},
            {"done = \\[\\](.*bolts 1 to 10)", "done = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]$1"},
            {"done = \\[\\](.*bolts 1 to 1 )", "done = [1]$1"}}) {
    record = std::regex_replace(record, std::regex(blank), done);
  }
  return record;
}

std::string told(const Bench& bench, const std::string& record, const std::string& command) {
  bench.write("r.toml", record);
  const Ran ran = bench.run(command + " p.toml --record r.toml");
  INFO(ran.err);
  REQUIRE(ran.err.empty());
  return on_one_line(ran.out);
}

const std::string kNotDone = "By the record: 3 pins out of 3, 1 plug closed of 1: NOT DONE: ";

}  // namespace

TEST_CASE("record: one thing otherwise is told first, with its numbers and what to do") {
  const Bench bench;
  const std::string record = filled(blank_for(bench, van()));
  CHECK_THAT(told(bench, record, "check"),
             StartsWith("By paper and record: geometry and record agree; this is not leave to "
                        "start. 3 pins out of 3, 1 plug closed of 1. Nobody but you has seen "
                        "the fitting."));
  const std::string run = "the run inlet cam to water pump has ";
  const std::string pluck = "; pluck again in the middle.";
  const std::string again = ", turn twice by hand, and read it again.";
  struct Row {
    std::string otherwise;
    std::string says;
    std::string was = "read_hz = 110";
  };
  // The note of the run is the square root of its tension: twice the note, four times 247 N.
  for (const Row& row : std::vector<Row>{
           {"read_hz = \"\"",
            "no tension was read on the run inlet cam to water pump; read it as N, Hz or mm of "
            "give."},
           {"give_mm = 100",
            "what was read on the run inlet cam to water pump says nothing of its tension; read "
            "it in another way: N, Hz or mm of give.",
            "give_mm = \"\""},
           {"read_hz = 220", run + "987 N, give or take 18, and should have 247 N, about twice"},
           {"read_hz = 220", "you caught another note of this run, or another run" + pluck},
           {"read_hz = 55",
            "about half the note that belongs here; you caught another run, or "
            "something beside it" +
                pluck},
           {"read_hz = 117",
            "off by more than a tenth, but this reading may be off by as much; "
            "measure it again, or another way."},
           {"read_hz = 130", "too tight; let the tensioner back" + again},
           {"read_hz = 95", "too slack; move the tensioner on towards tight" + again},
           {"out_of_flat_mm = 0.07",
            "the head is out of flat by 0.07 mm, over 0.05 mm; see what the manual allows, and "
            "\"twoturn face\" for what a skim does.",
            "out_of_flat_mm = 0.03"},
           {"pointer_deg = \"10:00\"",
            "the pointer stands at clock 300.0 (10:00), on paper at clock 270.1 (9:00): more "
            "apart than 3.0 deg;",
            "pointer_deg = \"9:00\""},
           {"back = 15",
            "15 of 16 bucket tappets back in their places; put each back where the "
            "tray's map has it.",
            "back = 16"},
           {"", "not said how many of 16 bucket tappets are back", "back = 16"},
           {"pins_in = 2\npins_out = 2",
            "pins and bars: 2 counted in, 2 counted out, while the profile knows of 3;",
            "pins_in = 3"},
           {"turns = 3", "3 turns made by hand, not two; make two:", "turns = 2"},
           {"turns = \"\"", "not said how many turns were made by hand;", "turns = 2"},
           {"back = \"no\"",
            "the mark of the crank did not come back after two turns; turn twice "
            "again; if it stays, \"twoturn why\" tells what does that.",
            "back = \"yes\""},
           {"off_mm = -1.5",
            "the mark of the crank is off by 1.5 mm after two turns, late; turn "
            "twice again;",
            "off_mm = \"\""},
           {"pin_in = \"no\"",
            "the pin of the crank did not go in after two turns; do not force it:",
            "pin_in = \"yes\""},
           {"", "pins and bars: not said how many were counted in;", "pins_in = 3"},
           {"", "pins and bars: not said how many were counted out;", "pins_out = 3"}}) {
    INFO(row.otherwise);
    std::string other = with(record, row.was, row.otherwise);
    if (row.was == "give_mm = \"\"") other = with(other, "read_hz = 110", "");
    if (row.was == "pins_in = 3" && !row.otherwise.empty()) other = with(other, "pins_out = 3", "");
    const std::string text = told(bench, other, "check");
    CHECK_THAT(text, StartsWith(kNotDone));
    CHECK_THAT(text, ContainsSubstring(row.says));
  }
  // What was done wrong stops; so does what a face cannot have.
  for (const Row& row : std::vector<Row>{
           {"out = \"no\"",
            "the pin of the crank is still in; take it out and count it. 2 pins out of "
            "3, 1 plug closed of 1: NOT DONE.",
            "out = \"yes\""},
           {"closed = \"no\"",
            "the crank pin hole is open; close it: a forgotten one pumps the oil "
            "out. 3 pins out of 3, 0 plugs closed of 1: NOT DONE.",
            "closed = \"yes\""},
           {"pins_out = 2", "pins and bars: 3 counted in, 2 counted out; count again,",
            "pins_out = 3"},
           {"out_of_flat_mm = 0.12",
            "the head is out of flat by 0.12 mm, over 0.1 mm; see what the "
            "manual allows,",
            "out_of_flat_mm = 0.03"},
           {"off_mm = 12", "the mark of the crank is off by 12 mm after two turns, early; ",
            "off_mm = \"\""}}) {
    INFO(row.otherwise);
    CHECK_THAT(told(bench, with(record, row.was, row.otherwise), "check"),
               StartsWith("By the record: STOP, do not turn it: " + row.says));
  }
}

TEST_CASE("record: lines that were taken out are not said, and are named") {
  const Bench bench;
  const std::string record = filled(blank_for(bench, van()));
  const auto without = [&](const std::string& table) {
    return std::regex_replace(record, std::regex("\\[\\[" + table + "\\]\\]\n[^\\[]*"), "");
  };
  for (const auto& [table, says] : std::vector<std::pair<std::string, std::string>>{
           {"head", "not said how far out of flat the head is; lay a straight edge on it"},
           {"mark",
            "not said whether the mark of the crank came back after two turns (and 5 more)"},
           {"pin", "not said whether the pin of the crank is out (and 2 more); take it out"},
           {"access_hole",
            "not said whether the crank pin hole is closed (plug, M12, below the "
            "starter; seal: new copper washer); close it"},
           {"tray", "not said how many of 16 bucket tappets are back in their places"}}) {
    INFO(table);
    const std::string text = told(bench, without(table), "check");
    CHECK_THAT(text, StartsWith("By the record: "));
    CHECK_THAT(text, ContainsSubstring(": NOT DONE: " + says));
  }
}

TEST_CASE("record: beside it stands what paper and sight say") {
  const Bench bench;
  const std::string all = " By the record all is done: 3 pins out of 3, 1 plug closed of 1.";
  const std::string near = van() + "[limits]\ninlet_room_mm = 4\n";
  CHECK_THAT(told(bench, filled(blank_for(bench, near)), "check"),
             StartsWith("By paper and record: look again: 3.24 mm between inlet valve and piston; "
                        "measure that room with clay, turning by hand. The fitting itself has not "
                        "been seen." +
                        all));
  const std::string late = demos::text_of("night-bakery-van");
  CHECK_THAT(
      told(bench, filled(blank_for(bench, late)), "check"),
      StartsWith("By paper and record: STOP, do not turn it: inlet cam 17.1 crank deg late;"));
  const auto seen = [](const std::string& pin, const std::string& mark_mm) {
    return van() + "[seen]\nafter_turns = 2\npointer_deg = \"9:00\"\npin = { crank = \"in\", " +
           "\"inlet cam\" = \"in\", \"exhaust cam\" = \"" + pin + "\" }\nmark_mm = { " +
           "\"inlet cam\" = 0, \"exhaust cam\" = " + mark_mm + " }\n";
  };
  CHECK_THAT(told(bench, filled(blank_for(bench, seen("in", "0"))), "check"),
             StartsWith("By sight and record: geometry and record agree; this is not leave to "
                        "start."));
  const std::string early = told(bench, filled(blank_for(bench, seen("out", "9"))), "check");
  CHECK_THAT(early, StartsWith("By sight and record: STOP, do not turn it: what was seen points to "
                               "this (99 in 100): the exhaust cam is 1 tooth early;"));
  CHECK_THAT(early, ContainsSubstring(" By the record: 3 pins out of 3, 1 plug closed of 1."));
}

TEST_CASE("record: bolts are read as far as each has come, in its stages") {
  const Bench bench;
  const std::string record = filled(blank_for(bench, van()));
  CHECK_THAT(told(bench, record, "bolts"),
             StartsWith("Head bolts: every bolt has been through every stage, 30 of 30 ticks."));
  const std::string all = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10]";
  const std::string half = with(with(with(record, all, "[1, 2, 3, 4]"), all, "[1, 2]"), all, "[]");
  CHECK_THAT(
      told(bench, half, "bolts"),
      StartsWith("Head bolts: next is bolt 5 of the order (9 in the list), stage 1: to 40 Nm "
                 "(29.5 lbf ft). 6 of 30 ticks so far. - Bolts 1 and 2 are through stage 2 "
                 "already, while bolt 5 is not through stage 1: leave them there"));
  const std::string check = told(bench, half, "check");
  CHECK_THAT(check,
             ContainsSubstring("NOT DONE: head bolts, stage 1: bolts 5, 6, 7, 8, 9 and 10 not "
                               "ticked (to 40 Nm (29.5 lbf ft)) (and 2 more);"));
  CHECK_THAT(check, ContainsSubstring("none of 10 bolts ticked (90 more:"));
  const std::string swapped = told(bench, with(record, "[1, 2, 3,", "[2, 1, 3,"), "check");
  CHECK_THAT(swapped,
             ContainsSubstring("bolt 2 was done before bolt 1; see what the manual says of "
                               "bolts tightened out of order."));
  const std::string ahead = told(bench, with(record, "[1, 2, 3,", "[2, 3,"), "check");
  CHECK_THAT(ahead,
             ContainsSubstring("bolt 1 is ticked, but not in stage 1: find out which of the two "
                               "is so."));
}

TEST_CASE("record and sheet: bolts of which no stage or no count is given are done by the manual") {
  const Bench bench;
  const std::string profile =
      van() +
      "[[bolts]]\nname = \"pump bolts\"\ncount = 3\n[[bolts]]\nname = \"cover screws\"\n"
      "[[bolts.stage]]\ntorque_nm = 9\n[[access_hole]]\nname = \"bell hole\"\n";
  const std::string record = blank_for(bench, profile);
  const std::string check = told(bench, record, "check");
  CHECK_THAT(check, ContainsSubstring("LOOK, pump bolts: Pump bolts: "));
  CHECK_THAT(check, ContainsSubstring("LOOK, cover screws: Cover screws: "));
  const std::string sheet = on_one_line(bench.run("sheet p.toml --phone").out);
  CHECK_THAT(sheet, ContainsSubstring("[ ] Pump bolts: 3, by the manual: ____ Nm ____ deg"));
  CHECK_THAT(sheet,
             ContainsSubstring("[ ] Cover screws: to 9 Nm (6.6 lbf ft). Ticks on the job card."));
  CHECK_THAT(sheet, ContainsSubstring("[ ] Bell hole. "));
  for (const auto& [group, lack] :
       {std::pair<std::string, std::string>("pump bolts", "what stages they have is"),
        std::pair<std::string, std::string>("cover screws", "their count is")}) {
    CHECK_THAT(refused(bench, "bolts p.toml --reached 1 --group '" + group + "'", 2).err,
               ContainsSubstring(group + ": " + lack + " not given"));
  }
  CHECK_THAT(refused(bench, "bolts p.toml --reached 4 --group 'head bolts'", 2).err,
             ContainsSubstring("4 is no stage: they are 1 to 3, and 0 for none yet"));
}

TEST_CASE("record: of a slide the place from its slack end is read, a bare drive asks for little") {
  const Bench bench;
  const std::string slide = with(blank_for(bench, demos::text_of("orchard-sprayer")),
                                 "roller_mm = \"\"", "roller_mm = 3.2");
  CHECK_THAT(told(bench, slide, "check"),
             ContainsSubstring("The tensioner's roller stands at 3.20 mm from the slack end, on "
                               "paper at 7."));
  const std::string bare = blank_for(bench, demos::text_of("roadside-counts"));
  CHECK_THAT(bare, !ContainsSubstring("pin_in"));
  CHECK_THAT(bare, !ContainsSubstring("[tensioner]"));
  // Half a tooth at the edge is not known without a pitch: off is a look, however far.
  const std::string off = told(bench, with(bare, "off_mm = \"\"", "off_mm = 9"), "check");
  CHECK_THAT(off, StartsWith("By the record: 0 pins out of 0, 0 plugs closed of 0: NOT DONE: "));
  CHECK_THAT(off, ContainsSubstring("LOOK, crank: The mark of the crank is off by 9 mm after two "
                                    "turns, early: turn twice again;"));
}

}  // namespace twoturn::test
