// Words for what no demo has: answers made by hand, each number in them told once.
#include <string>

#include "support/catch.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/study/tension_report.hpp"
#include "twoturn/write/commands_document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;
using texts::on_one_line;

namespace {

FeelAnswer two_humps() {
  FeelAnswer answer;
  answer.springs_known = true;
  answer.greatest = hand_pull(12.0);
  for (const double deg : {40.0, 400.0}) {
    FeelHump hump;
    hump.crank_deg = deg;
    hump.pull = hand_pull(12.0);
    hump.parts = {{"inlet", 1, 0.5}, {"exhaust", 2, 0.3}, {"inlet", 3, 0.2}};
    answer.humps.push_back(hump);
  }
  return answer;
}

ComparedCount count(int teeth, bool goes_on) {
  ComparedCount one;
  one.teeth = teeth;
  one.length_mm = teeth * 9.525;
  one.goes_on = goes_on;
  return one;
}

std::string compared(const CompareAnswer& answer) {
  return on_one_line(compare_text(headings::of("feel"), answer));
}

}  // namespace

TEST_CASE("A recording without a note says why, and what to do") {
  NoNote none;
  none.reason = NoNote::Reason::too_short;
  none.length_s = 0.05;
  CHECK_THAT(no_note_words(none), ContainsSubstring("lasts 0.05 s"));
  CHECK_THAT(no_note_words(none), ContainsSubstring("takes 0.10 s at least"));
  none.reason = NoNote::Reason::silent;
  CHECK_THAT(no_note_words(none), ContainsSubstring("silent"));
  none.reason = NoNote::Reason::noise;
  CHECK_THAT(no_note_words(none), ContainsSubstring("out of the noise"));
  for (const bool heard : {false, true}) {
    if (heard) none.hz = 50.04;
    none.reason = NoNote::Reason::standing;
    CHECK((no_note_words(none).find("heard, at 50.0 Hz: a fan") != std::string::npos) == heard);
    CHECK_THAT(no_note_words(none), ContainsSubstring("goes on"));
    none.reason = NoNote::Reason::beyond_range;
    CHECK((no_note_words(none).find("note heard, 50.0 Hz, is none") != std::string::npos) == heard);
    CHECK_THAT(no_note_words(none), ContainsSubstring("plucked?"));
  }
}

TEST_CASE("What the hand feels is told with and without springs, drag and the engine's place") {
  FeelAnswer answer = two_humps();
  const std::string whole = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(whole, ContainsSubstring("2 humps; the highest is 12.0 Nm (8.9 lbf ft), 40 N"));
  CHECK_THAT(whole, ContainsSubstring("inlet 1, exhaust 2 and inlet 3"));
  CHECK_THAT(whole, ContainsSubstring("Drag of pistons, bearings and pumps is not given"));
  CHECK_THAT(whole, !ContainsSubstring("by themselves"));
  answer.drag_known = true;
  answer.drag_nm = 2.5;
  answer.runs_on = {{10.0, 20.0}, {370.0, 380.0}};
  answer.least_nm = -3.5;
  answer.at_engine_place = true;
  answer.humps.front().past_firing_deg = 123.0;
  const std::string more = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(more, ContainsSubstring("at 10 to 20, 370 to 380 crank deg, with up to 3.5 Nm"));
  CHECK_THAT(more, ContainsSubstring("2.5 Nm is the drag that the profile states"));
  CHECK_THAT(more, ContainsSubstring(" 123 "));
  answer.springs_known = false;
  for (FeelHump& hump : answer.humps) hump.pull.reset();
  const std::string bare = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(bare, ContainsSubstring("how high they are hangs on the valve springs"));
  CHECK_THAT(bare, !ContainsSubstring("12.0"));
  CHECK_THAT(bare, !ContainsSubstring("by themselves"));
}

TEST_CASE("The belt's give is told with its sprung tensioner, its snaps and what stays open") {
  FeelAnswer answer = two_humps();
  FeelBelt belt;
  belt.static_n = 250.0;
  belt.runs = {{"crank", "cam", 300.0, 90.0, 10.0, 410.0, 20.0, {}}};
  belt.shafts = {{"cam", 0.25, 30.0, -0.75, 40.0}};
  answer.belt = belt;
  const std::string quiet = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(quiet, ContainsSubstring("250 N in every run"));
  CHECK_THAT(quiet, ContainsSubstring("No run goes slack."));
  CHECK_THAT(quiet, ContainsSubstring("cam 0.25 30 0.75 40"));
  CHECK_THAT(quiet, !ContainsSubstring("sprung tensioner"));
  CHECK_THAT(quiet, !ContainsSubstring("no balance"));

  answer.belt->runs.front().slack = {{100.0, 120.0}};
  answer.belt->kind = TensionerKind::slide;
  answer.belt->least_reading = 1.5;
  answer.belt->greatest_reading = 4.5;
  const std::string slack = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(slack, ContainsSubstring("the belt may jump a tooth"));
  CHECK_THAT(slack, ContainsSubstring("goes from 1.5"));
  CHECK_THAT(slack, !ContainsSubstring("must not be"));
  CHECK_THAT(slack, !ContainsSubstring("stop of its travel"));

  answer.belt->over_centre = answer.belt->on_stop = true;
  answer.belt->settled = false;
  answer.belt->snaps = {{50.0, "cam", 3.3}, {410.0, "pump", -2.0}};
  answer.belt->undetermined = {"idler shaft"};
  const std::string all = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(all, ContainsSubstring("comes to a stop of its travel"));
  CHECK_THAT(all, ContainsSubstring("over centre: that must not be."));
  CHECK_THAT(all, ContainsSubstring("at 50 crank deg the cam snaps 3.3 deg forwards"));
  CHECK_THAT(all, ContainsSubstring("at 410 crank deg the pump snaps 2.0 deg back"));
  CHECK_THAT(all, ContainsSubstring("where the idler shaft stands between its two slack runs"));
  CHECK_THAT(all, ContainsSubstring("some steps have no balance"));
}

TEST_CASE("Where a valve stops the crank, and what tight plugs add, is told") {
  FeelAnswer answer = two_humps();
  answer.stops_known = true;
  CHECK_THAT(on_one_line(feel_text(headings::of("feel"), answer)),
             ContainsSubstring("No valve that is known meets its piston"));
  answer.stops = {{"inlet", 1, 0, true, 350.0, 20.0},
                  {"inlet", 2, 1, false, 351.0, 21.0},
                  {"exhaust", 3, -2, false, 352.0, 22.0}};
  answer.compression = FeelCompression{9.5, hand_pull(30.0), 25.0};
  const std::string text = on_one_line(feel_text(headings::of("feel"), answer));
  CHECK_THAT(text, ContainsSubstring("cylinder 1, as it stands: at 350 and at 20 crank deg"));
  CHECK_THAT(text, ContainsSubstring("cylinder 2, with its cam 1 tooth early: at 351"));
  CHECK_THAT(text, ContainsSubstring("cylinder 3, with its cam 2 teeth late: at 352"));
  CHECK_THAT(text, ContainsSubstring("air squeezed 9.5 to 1 asks at most 30.0 Nm"));
  CHECK_THAT(text, ContainsSubstring("25 crank deg before each top dead centre"));
}

TEST_CASE("Of counts compared it is said which goes on, and what would tell them apart") {
  CompareAnswer answer;
  answer.counts = {count(110, false), count(111, false)};
  CHECK_THAT(compared(answer), StartsWith("None of these goes on."));
  answer.counts[1].goes_on = true;
  CHECK_THAT(compared(answer), StartsWith("111 teeth: of these the only count that goes on."));
  answer.counts[0].goes_on = true;
  CHECK_THAT(compared(answer), StartsWith("2 of these go on; which is right nothing given"));
  answer.kind = TensionerKind::swing;
  answer.set_give = 5.0;
  CHECK_THAT(compared(answer), StartsWith("2 of these go on, and the marks do not tell them"));
  CHECK_THAT(compared(answer), ContainsSubstring("From marks: by the book, 5 deg"));
  answer.counts[0].goes_on = false;
  CHECK_THAT(compared(answer), ContainsSubstring("yet it does not meet the maker's marks"));
  answer.meant_teeth = 111;
  CHECK_THAT(compared(answer), StartsWith("111 teeth: that belt puts the tensioner where"));
  answer.kind.reset();
  answer.set_give.reset();
  answer.tolerance_mm = 0.6;
  CHECK_THAT(compared(answer), ContainsSubstring("Tolerance of the belt's length: 0.60 mm"));
}

TEST_CASE("Commands are told with what each option takes") {
  using Takes = OptionAbout::Takes;
  CommandAbout command{"check", "judges a drive", {}};
  command.options = {{"PROFILE", "the profile", Takes::text},
                     {"--json", "one document", Takes::nothing},
                     {"--fit", "which", Takes::text, "", {"book", "fitted"}},
                     {"--rows", "how many", Takes::whole, "N", {}, 2.0, 99.0, "11"},
                     {"--crank", "where", Takes::number}};
  const std::string text = on_one_line(commands_text({command, command}));
  CHECK_THAT(text, ContainsSubstring("check: judges a drive"));
  CHECK_THAT(text, ContainsSubstring("PROFILE (text): the profile"));
  CHECK_THAT(text, ContainsSubstring("--json: one document"));
  CHECK_THAT(text, ContainsSubstring("--fit (text: book, fitted): which"));
  CHECK_THAT(text, ContainsSubstring("--rows (whole number from 2 to 99; else 11): how many"));
  CHECK_THAT(text, ContainsSubstring("--crank (number): where"));
}

TEST_CASE("A tension read is told by its own measure, with what to do") {
  TensionReport report;
  TensionAnswer& answer = report.answer;
  const auto text = [&] { return on_one_line(tension_text(headings::of("feel"), report)); };
  CHECK_THAT(text(), StartsWith("How tight this belt should be is not given."));
  answer.target_n = 300.0;
  CHECK_THAT(text(), StartsWith("300 N."));
  CHECK_THAT(text(), ContainsSubstring("are not counted here"));
  answer.springs_counted = true;
  answer.push_n = 10.0;
  TensionRun run;
  run.from = "crank";
  run.to = "cam";
  run.length_mm = 250.0;
  run.tension_n = 310.0;
  run.note_hz = 95.0;
  run.give_mm = 6.3;
  run.best = true;
  answer.runs = {run, run, run};
  answer.runs[1].best = false;
  answer.runs[1].target = true;
  answer.runs[2].best = false;
  answer.runs[2].give_mm.reset();
  CHECK_THAT(text(), StartsWith("310 N, or 95 Hz, or 6.3 mm of give to 10 N on the run from the"));
  CHECK_THAT(text(), ContainsSubstring("what the valve springs add or take"));
  CHECK_THAT(text(), ContainsSubstring("measure here"));
  CHECK_THAT(text(), ContainsSubstring("the one that is meant"));
  CHECK_THAT(text(), ContainsSubstring(" slack "));

  TensionReading reading;
  reading.from = "crank";
  reading.to = "cam";
  reading.tension_n = 240.0;
  reading.tension_give_n = 12.0;
  reading.value = 240.0;
  reading.give_or_take = 12.0;
  answer.reading = reading;
  CHECK_THAT(text(), StartsWith("240 N, give or take 12 on the run from the crank to the cam."));
  answer.reading->share = 0.8;
  struct Row {
    TensionStands stands;
    const char* says;
  };
  for (const Row& row :
       {Row{TensionStands::fits, "that fits"}, Row{TensionStands::open, "off by more than a tenth"},
        Row{TensionStands::low, "too slack: move the tensioner on"},
        Row{TensionStands::high, "too tight: let the tensioner back"},
        Row{TensionStands::another_note_up, "about twice the note"},
        Row{TensionStands::another_note_down, "about half the note"}}) {
    answer.reading->stands = row.stands;
    CHECK_THAT(text(), ContainsSubstring("80 % of what it should have; " + std::string(row.says)));
  }
  answer.reading->by = TensionBy::note;
  answer.reading->value = 88.3;
  CHECK_THAT(text(), StartsWith("88.3 Hz"));
  answer.reading->by = TensionBy::give;
  answer.reading->value = 7.5;
  answer.reading->push_n = 10.0;
  CHECK_THAT(text(), StartsWith("7.5 mm of give to 10 N"));
  CHECK_THAT(text(), ContainsSubstring("on the run from the crank to the cam is 240 N, give or"));
}

TEST_CASE("A note that might be another says so, bare hands and pointer are told where known") {
  TensionReport report;
  NoteFound note;
  note.plucked_at_s = 0.4;
  note.note_hz = 110.0;
  note.give_or_take_hz = 0.05;
  note.sureness = 0.9;
  note.other_hz = 55.0;
  note.other_sureness = 0.01;
  report.note = note;
  const auto text = [&] { return on_one_line(tension_text(headings::of("feel"), report)); };
  CHECK_THAT(text(), ContainsSubstring("110.0 Hz, give or take 0.1"));
  CHECK_THAT(text(), ContainsSubstring("90 % sure."));
  CHECK_THAT(text(), !ContainsSubstring("instead"));
  report.note->other_sureness = 0.08;
  CHECK_THAT(text(), ContainsSubstring("It might be 55.0 Hz instead (8 %)."));

  HandTests hands{"crank", "cam", 6.0, 100.0, 200.0, {}, {}};
  report.answer.hands = hands;
  CHECK_THAT(text(), ContainsSubstring("moves it 6 mm the belt has some 100 to 200 N. What a"));
  report.answer.hands->twist_least_n = 150.0;
  report.answer.hands->twist_greatest_n = 250.0;
  CHECK_THAT(text(), ContainsSubstring("just a quarter turn, 150 to 250 N."));

  report.answer.kind = TensionerKind::slide;
  report.answer.pointer = TensionPointer{};
  CHECK_THAT(text(), ContainsSubstring("No place in the tensioner's travel pulls the belt so"));
  report.answer.pointer->target = Setting{};
  report.answer.pointer->n_per_unit = 40.0;
  CHECK_THAT(text(), ContainsSubstring("on towards tight is 40 N more"));
}
