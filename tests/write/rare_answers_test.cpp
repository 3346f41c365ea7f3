// What hardly any drive comes to, in words, document and table: answers of demos with one thing
// changed, or made by hand where no demo has the kind.
#include <nlohmann/json.hpp>
#include <string>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/job_card.hpp"
#include "twoturn/study/turns_beside.hpp"
#include "twoturn/write/csv.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/record.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;
using texts::on_one_line;

namespace {

using Json = nlohmann::json;

const CheckAnswer& mill() {
  static const CheckAnswer answer = check_drive(demos::spec_of("mill-generator"));
  return answer;
}

const CheckAnswer& launch() {
  static const CheckAnswer answer = check_drive(demos::spec_of("harbour-launch"));
  return answer;
}

std::size_t shaft_named(const TurnsAnswer& turns, const std::string& name) {
  for (std::size_t k = 0; k < turns.assembly.shafts.size(); ++k) {
    if (turns.assembly.shafts[k].name == name) return k;
  }
  FAIL(name);
  return 0;
}

std::string told(const TurnsAnswer& turns, const TurnsBeside& beside = {}) {
  return on_one_line(turns_text(headings::of("turns"), turns, beside, {}));
}

WarmAnswer warm() {
  WarmAnswer answer;
  answer.at = WarmSpec{};
  answer.at.cold_c = 20.0;
  answer.at.block_c = answer.at.head_c = 85.0;
  answer.at.belt_c = 60.0;
  answer.path_grows_mm = 0.75;
  answer.belt_grows_mm = 0.25;
  answer.shafts = {{"cam", 0.0, -0.5, {}}};
  return answer;
}

FeelAnswer feel() {
  FeelAnswer answer;
  answer.belt.emplace();
  answer.belt->snaps = {{50.0, "cam", 3.25}};
  answer.belt->undetermined = {"idler shaft"};
  return answer;
}

}  // namespace

TEST_CASE("Two turns tell of a loose pulley, of teeth that are tied to a mark, and of no shaft") {
  TurnsAnswer turns = mill().judged.turns.value();
  const std::size_t pump = shaft_named(turns, "injection pump");
  turns.assembly.fits[pump].turned_on_shaft_deg = 0.5;
  turns.assembly.fits[pump].drawn_remainder_teeth = -0.25;
  const std::string text = told(turns);
  CHECK_THAT(text, ContainsSubstring("the pulley of the injection pump is loose while the belt is "
                                     "tensioned: it takes up 0.50 deg on its shaft (ahead)"));
  CHECK_THAT(text, ContainsSubstring("the injection pump: the drawn drive itself is 0.25 of a "
                                     "tooth off, as its teeth are tied to its mark."));

  turns.after.back().shafts.back().pin = PinState::out;
  turns.after.back().shafts.back().pin_sure = false;
  CHECK_THAT(on_one_line(turns_text(headings::of("turns"), turns, {}, {4})),
             ContainsSubstring("may not go in"));
  for (AfterTurns& after : turns.after) after.shafts.resize(1);
  CHECK_THAT(told(turns), StartsWith("Nothing but the crank is timed here."));
}

TEST_CASE("A warm drive is told by its tensioner: none, one without a place, one that follows") {
  const TurnsAnswer& turns = mill().judged.turns.value();
  TurnsBeside beside;
  beside.warm = warm();
  const std::string tighter = told(turns, beside);
  CHECK_THAT(tighter, ContainsSubstring("On its fixed centres, the path grows by 0.75 mm and the "
                                        "belt by 0.25 mm: it is tighter by 0.50 mm."));
  CHECK_THAT(tighter, ContainsSubstring("cam right 0.50 crank deg late"));
  CHECK_THAT(tighter, !ContainsSubstring("spring"));
  CHECK_THAT(tighter, !ContainsSubstring("follows"));

  beside.warm->belt_grows_mm = 0.75;
  CHECK_THAT(told(turns, beside), ContainsSubstring("by 0.75 mm: it is as tight as cold."));
  beside.warm->belt_grows_mm = 1.0;
  beside.warm->kind = TensionerKind::swing;
  const std::string slacker = told(turns, beside);
  CHECK_THAT(slacker, ContainsSubstring("With the tensioner locked where it was set cold, the "
                                        "path grows by 0.75 mm and the belt by 1.00 mm: it is "
                                        "slacker by 0.25 mm. One that follows on a spring has no "
                                        "place for it in its travel."));
  CHECK_THAT(slacker, ContainsSubstring("warm, tensioner locked cam"));

  beside.warm->cold_setting = beside.warm->sprung_setting = turns.assembly.fitted_setting;
  beside.warm->shafts.front().sprung_crank_deg = 0.25;
  const std::string follows = told(turns, beside);
  CHECK_THAT(follows, ContainsSubstring("One that follows on a spring goes from clock"));
  CHECK_THAT(follows, ContainsSubstring("warm, tensioner locked warm, tensioner follows"));
  CHECK_THAT(follows, ContainsSubstring("0.50 crank deg late 0.25 crank deg early"));
}

TEST_CASE("A part of [build] that cannot be put together alone says so beside the others") {
  TurnsBeside beside;
  beside.shares.shafts = {"cam"};
  beside.shares.kind = TensionerKind::slide;
  BuildShare skim{"build.skim_mm.head", "head skimmed 0.3 mm", true, 0.5, {-0.75}, {0.125}};
  BuildShare teeth{"build.teeth_out.cam", "cam 9 teeth late", false, {}, {}, {}};
  beside.shares.parts = {skim, teeth};
  const std::string text = told(mill().judged.turns.value(), beside);
  CHECK_THAT(text, ContainsSubstring("head skimmed 0.3 mm cam 0.75 crank deg late 0.1"));
  CHECK_THAT(text, ContainsSubstring("cam 9 teeth late cannot be put together alone"));
}

TEST_CASE("Tooth counts are told where centres are fixed, no tolerance is known, or nothing fits") {
  const CheckAnswer bench = check_drive(demos::spec_of("cam-bench"));
  TeethAnswer teeth = bench.judged.teeth.value();
  const auto text = [&](const CheckAnswer& of) {
    return on_one_line(teeth_text(headings::of("teeth"), *of.judged.drive(), teeth));
  };
  teeth.tolerance_mm.reset();
  teeth.fits.clear();
  CHECK_THAT(text(bench), StartsWith("The path measures 120.00 teeth."));
  CHECK_THAT(text(bench), ContainsSubstring("The profile's belt of 120 teeth does not go on"));
  CHECK_THAT(text(bench), ContainsSubstring("tolerance is not known (belt.length_tolerance_mm), so "
                                            "which count is near enough is not judged."));
  CHECK_THAT(text(bench), ContainsSubstring("Moves of the cam spindle are + towards"));
  teeth.moved.reset();
  teeth.move_along_deg.reset();
  for (NearbyCount& near : teeth.nearby) near.move_mm.reset();
  CHECK_THAT(text(bench), ContainsSubstring("move a pulley"));
  CHECK_THAT(text(bench), !ContainsSubstring("Moves of"));
  teeth.nearby.clear();
  CHECK_THAT(text(bench), StartsWith("No tooth count fits these fixed centres."));
  CHECK_THAT(text(bench), !ContainsSubstring("profile's belt"));

  teeth = launch().judged.teeth.value();
  NearbyCount within;
  within.teeth = 113;
  teeth.nearby = {within};
  teeth.fits.front().probability = 0.75;
  CHECK_THAT(
      text(launch()),
      ContainsSubstring("113 teeth: within the travel, yet no belt can run at that setting."));
  CHECK_THAT(text(launch()), ContainsSubstring("112 teeth: goes on 75 times in 100"));
  teeth.nearby.clear();
  CHECK_THAT(text(launch()), !ContainsSubstring("The next counts do not go on"));
  teeth.fits.clear();
  CHECK_THAT(text(launch()), StartsWith("No tooth count goes on within the tensioner's travel."));
}

TEST_CASE("A tensioner past over centre, off its marks or without a place is told first") {
  TensionerAnswer answer = launch().judged.tensioner.value();
  const auto text = [&] { return on_one_line(tensioner_text(headings::of("tensioner"), answer)); };
  answer.meant->over_centre = OverCentre::past;
  CHECK_THAT(text(), StartsWith("112 teeth: the tensioner stands at clock 345.0 (11:30)"));
  CHECK_THAT(text(), ContainsSubstring("past over centre: the wrong side."));
  answer.fit = Fit::by_the_book;
  answer.apart = answer.set_give + 5.0;
  CHECK_THAT(text(), ContainsSubstring("(more than the "));
  answer.meant.reset();
  CHECK_THAT(text(),
             StartsWith("A belt of 112 teeth does not go on anywhere in the tensioner's travel."));
  answer.belt_teeth.reset();
  CHECK_THAT(text(), ContainsSubstring("mm of belt; the belt's teeth are not given."));
  answer.usable.clear();
  CHECK_THAT(text(), StartsWith("Nowhere in the tensioner's travel can the belt run."));
  CHECK_THAT(text(), !ContainsSubstring("Usable travel"));
  CHECK_THAT(text(), !ContainsSubstring("over centre in its travel"));
}

TEST_CASE("Belts side by side are a table too: one row a count, empty where nothing is known") {
  CompareAnswer answer;
  ComparedCount right;
  right.teeth = 111;
  right.length_mm = 1057.275;
  right.goes_on = true;
  right.probability = 0.75;
  ComparedCount other = right;
  other.teeth = 112;
  other.length_mm = 1066.8;
  other.goes_on = false;
  other.probability = 0.0;
  other.mismatch_mm = 9.5;
  answer.counts = {right, other};
  CHECK_THAT(compare_csv(answer), StartsWith("teeth,length_mm,goes_on,probability,mismatch_mm"));
  CHECK_THAT(compare_csv(answer), ContainsSubstring("\r\n111,1057.275,yes,0.75,0"));
  CHECK_THAT(compare_csv(answer), ContainsSubstring("\r\n112,1066.8,no,0,9.5"));
  answer.kind = TensionerKind::slide;
  CHECK_THAT(compare_csv(answer), ContainsSubstring("at_mm,give_or_take_mm"));
  CHECK_THAT(compare_csv(answer), ContainsSubstring("112,1066.8,no,0,9.5,,"));
}

TEST_CASE("Of many drives none is told where it was interrupted before the first") {
  SpreadAnswer answer;
  const std::string text = on_one_line(spread_text(headings::of("spread"), answer));
  CHECK_THAT(text, StartsWith("Interrupted before any drive was built. A pump engine."));
  CHECK_THAT(text, !ContainsSubstring("standard deviation"));
}

TEST_CASE("Where a shaft snaps forwards stands in the document, with its place") {
  const Json belt = Json::parse(feel_document(headings::of("feel"), feel()))["belt"];
  REQUIRE(belt["snaps"].size() == 1);
  CHECK(belt["snaps"][0]["crank_deg"] == 50.0);
  CHECK(belt["snaps"][0]["shaft"] == "cam");
  CHECK(belt["snaps"][0].dump().find("3.25") != std::string::npos);
}

TEST_CASE("A tension read stands in the document by its own unit, with what it comes to") {
  struct Row {
    TensionBy by;
    const char* word;
    const char* value;
    const char* give;
  };
  TensionReport report;
  report.answer.kind = TensionerKind::slide;
  report.answer.pointer = TensionPointer{};
  report.answer.pointer->n_per_unit = 40.0;
  report.answer.hands = HandTests{"crank", "cam", 6.0, 100.0, 200.0, {}, {}};
  for (const Row& row : {Row{TensionBy::newton, "newton", "value_n", "give_or_take_n"},
                         Row{TensionBy::note, "note", "value_hz", "give_or_take_hz"},
                         Row{TensionBy::give, "give", "value_mm", "give_or_take_mm"}}) {
    TensionReading reading;
    reading.by = row.by;
    reading.value = 7.5;
    reading.give_or_take = 0.5;
    reading.push_n = 10.0;
    report.answer.reading = reading;
    const Json read = Json::parse(tension_document(headings::of("tension"), report))["reading"];
    CHECK(read["by"] == row.word);
    CHECK(read[row.value] == 7.5);
    CHECK(read[row.give] == 0.5);
    CHECK(read["stands"].is_null());
    CHECK(read.contains("push_n") == (row.by == TensionBy::give));
  }
  using Stands = TensionStands;
  const std::pair<Stands, const char*> stands[] = {
      {Stands::fits, "fits"},
      {Stands::open, "open"},
      {Stands::low, "low"},
      {Stands::high, "high"},
      {Stands::another_note_up, "another note, up"},
      {Stands::another_note_down, "another note, down"}};
  for (const auto& [is, word] : stands) {
    report.answer.reading->stands = is;
    CHECK(Json::parse(tension_document(headings::of("tension"), report))["reading"]["stands"] ==
          word);
  }
  Json document = Json::parse(tension_document(headings::of("tension"), report));
  CHECK(document["pointer"]["n_per_mm"] == 40.0);
  CHECK(document["hands"]["twist_least_n"].is_null());
  report.answer.kind = TensionerKind::swing;
  document = Json::parse(tension_document(headings::of("tension"), report));
  CHECK(document["pointer"]["n_per_deg"] == 40.0);
}

TEST_CASE("Bolts that are all done, or whose stages nobody gave, are told in one line") {
  BoltGroup group;
  group.name = "head bolts";
  BoltsAnswer answer;
  answer.groups = {group};
  const auto text = [&] { return on_one_line(bolts_text(headings::of("bolts"), answer)); };
  CHECK_THAT(text(), StartsWith("Head bolts: the stages are not given."));
  CHECK_THAT(text(), ContainsSubstring("Head bolts: count not given."));
  BoltStage stage;
  stage.stage = 1;
  stage.move = "30 Nm";
  answer.groups[0].stages = {stage};
  CHECK_THAT(text(), ContainsSubstring("1. 30 Nm"));
  CHECK_THAT(text(), !ContainsSubstring("["));
  answer.groups[0].bolts = {{1, 1}, {2, 2}};
  NextBolt next;
  next.group = "head bolts";
  next.all_done = true;
  next.reached = {1, 1};
  next.ticks = next.of = 2;
  answer.next = {next};
  CHECK_THAT(text(), StartsWith("Head bolts: every bolt has been through every stage, 2 of 2 "
                                "ticks."));
  CHECK_THAT(text(), ContainsSubstring("1 [x] 2 [x]"));
  BoltBound bound;
  bound.modulus_n_mm2 = 100000.0;
  answer.groups[0].bound = bound;
  CHECK_THAT(text(), ContainsSubstring("modulus 100000 N/mm2, that of steel"));
  answer.groups[0].bound->modulus_given = true;
  CHECK_THAT(text(), ContainsSubstring("modulus 100000 N/mm2, as given"));
}

TEST_CASE("A blank record asks a slide's roller in mm, and any name goes through its quotes") {
  JobCard card;
  card.profile = "a\"b\\c\x01\x7f";
  card.setting = CardSetting{};
  card.setting->by = CardSetting::By::roller_mm;
  card.holes = {{"flywheel hole", ""}};
  card.marks = {{}};
  card.marks[0].shaft = "cam";
  const std::string text = blank_record(card);
  CHECK_THAT(text, ContainsSubstring("profile = \"a\\\"b\\\\c\\u0001\\u007f\""));
  CHECK_THAT(text, ContainsSubstring("roller_mm = \"\""));
  CHECK_THAT(text, ContainsSubstring("after two turns; from the slack end"));
  CHECK_THAT(text, ContainsSubstring("closed = \"\""));
  CHECK_THAT(text, ContainsSubstring("# yes or no"));
  CHECK_THAT(text, ContainsSubstring("# after two turns yes or no"));
  CHECK_THAT(text, !ContainsSubstring("pin_in = "));
  card.setting->by = CardSetting::By::roller_deg;
  CHECK_THAT(blank_record(card), ContainsSubstring("the roller's centre from its pivot"));
}
