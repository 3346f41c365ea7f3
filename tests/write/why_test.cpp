// The words and the document of fault finding, on answers made by hand. What one tooth comes to is
// exact: at a cam pulley of 40 teeth 360 / 40 = 9 cam deg, 18 crank deg, at the pitch line one
// pitch of 9.525 mm.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;

namespace {

using Json = nlohmann::json;

constexpr double kPitchMm = 9.525;
constexpr double kToothCamDeg = 360.0 / 40.0;
constexpr double kToothCrankDeg = 2.0 * kToothCamDeg;

WhyStop right_at(int turns, std::optional<PinFelt> pin) {
  WhyStop stop;
  stop.turns = turns;
  stop.mark_mm = 0.0;
  stop.mark_at_deg = 20.0;
  stop.belongs_deg = 20.0;
  stop.pin = pin;
  return stop;
}

WhyShaft right_shaft(const std::string& name, Role role) {
  WhyShaft shaft;
  shaft.name = name;
  shaft.role = role;
  shaft.has_mark = true;
  for (const int turns : {0, 1, 2, 4}) {
    const bool due = turns != 1 || role == Role::crankshaft;
    shaft.stops.push_back(right_at(turns, due ? std::optional(PinFelt::in) : std::nullopt));
  }
  return shaft;
}

// The cam so many teeth out after each of the four stops.
WhyShaft cam_out(const std::vector<double>& teeth) {
  WhyShaft shaft = right_shaft("cam", Role::camshaft);
  for (std::size_t k = 0; k < shaft.stops.size(); ++k) {
    WhyStop& stop = shaft.stops[k];
    stop.mark_crank_deg = teeth[k] * kToothCrankDeg;
    stop.mark_own_deg = teeth[k] * kToothCamDeg;
    stop.mark_teeth = teeth[k];
    stop.mark_mm = teeth[k] * kPitchMm;
    stop.mark_at_deg = 20.0 + teeth[k] * kToothCamDeg;
    stop.shaft_crank_deg = stop.mark_crank_deg;
    if (stop.pin && teeth[k] != 0.0) stop.pin = PinFelt::out;
  }
  shaft.same_each_time =
      std::all_of(teeth.begin(), teeth.end(), [&](double one) { return one == teeth.front(); });
  return shaft;
}

WhyFault fault_with(const WhyShaft& cam, FaultKind kind, const std::string& title) {
  WhyFault fault;
  Fault cause;
  cause.kind = kind;
  cause.about = "cam";
  fault.suspect.faults = {cause};
  fault.suspect.weight = 0.25;
  fault.title = title;
  fault.shafts = {right_shaft("crank", Role::crankshaft), cam};
  fault.counts = {{"crank", "cam", 42.0, 42.0, true}};
  fault.pointer = 346.06;
  fault.pointer_should = 346.06;
  fault.adjustment_left_mm = 2.95;
  fault.remedy = "move the belt on the cam's pulley";
  return fault;
}

WhyFault tooth_late() {
  WhyFault fault =
      fault_with(cam_out({-1, -1, -1, -1}), FaultKind::tooth_out, "the cam 1 tooth late");
  fault.counts.front().teeth = 41.0;
  fault.stops_deg = std::vector<double>{212.0};
  return fault;
}

WhyFault eye() {
  return fault_with(right_shaft("cam", Role::camshaft), FaultKind::eye,
                    "the marks were read from aside");
}

WhyFault wrong_count() {
  WhyFault fault = fault_with(cam_out({0.25, 1.25, 2.25, 4.25}), FaultKind::tooth_count,
                              "the cam's pulley with a tooth more");
  fault.wanders = true;
  fault.loose_mm = 1.25;
  fault.rocks_crank_deg = 3.5;
  fault.signs = {"the belt stands proud of the cam's pulley"};
  fault.rubs = {"the lower cover"};
  fault.pointer = 12.5;
  return fault;
}

WhyFault no_belt() {
  WhyFault fault = eye();
  fault.suspect.faults.front().kind = FaultKind::belt_count;
  fault.title = "a belt with a tooth more";
  fault.goes_on = false;
  fault.none = "nowhere in its travel does the tensioner take it";
  fault.shafts.clear();
  return fault;
}

WhyFault two_together() {
  WhyFault fault = tooth_late();
  fault.title = "the cam 1 tooth late, and slack left on the tight side";
  Fault slack;
  slack.kind = FaultKind::slack_left;
  slack.about = "cam";
  slack.size = SizeRange{0.5, 8.0, 1.0, "mm"};
  fault.suspect.faults.push_back(slack);
  return fault;
}

WhyAnswer answer_of_four() {
  WhyAnswer answer;
  answer.layout.shafts.resize(2);
  answer.layout.shafts[0].name = "crank";
  answer.layout.shafts[1].name = "cam";
  answer.layout.tensioner = TensionerKind::swing;
  answer.layout.tensioner_name = "eccentric";
  answer.layout.has_engine = true;
  answer.catalogue = {tooth_late(), wrong_count(), eye(), no_belt(), two_together()};
  answer.slack = {{"cam", 0.9375, 1.875, true, 1.875}};
  answer.backwards = WhyBackwards{1.5, {"cam"}, {2.8125}};
  answer.priors = {{FaultKind::tooth_out, 3.0, true, 0.13}, {FaultKind::eye, 1.0, false, 0.0625}};
  answer.two_together_share = 0.08;
  return answer;
}

WhyAnswer answer_with_seen() {
  WhyAnswer answer = answer_of_four();
  WhySeen seen;
  seen.headline = "Seen: most likely (91 in 100) the cam 1 tooth late";
  WhyCandidate late;
  late.fault = tooth_late();
  late.probability = 0.91;
  using Weighs = WhyEvidence::Weighs;
  late.evidence = {
      {"seen.pin.cam", "the pin of the cam", "out", "out", 1.5, Weighs::for_it},
      {"seen.again", "after further turns", "wanders", "repeats", -4.0, Weighs::against_it}};
  WhyCandidate twin = late;
  twin.fault.title = "the cam set by another mark";
  twin.probability = 0.03;
  WhyCandidate aside;
  aside.fault = eye();
  aside.probability = 0.06;
  seen.groups = {{0.94, {late, twin}, 2}, {0.06, {aside}, 0}};
  seen.steps = {"Belt off the cam's pulley", "turn the cam 1 tooth on."};
  seen.next = WhyNext{"count the belt teeth from crank to cam",
                      "the cam 1 tooth late",
                      "the marks were read from aside",
                      "41",
                      "42",
                      0.9};
  seen.not_used = {"seen.pin.pump"};
  answer.seen = seen;
  return answer;
}

std::vector<double> numbers_of(const Json& value) {
  std::vector<double> found;
  if (value.is_number()) found.push_back(value.get<double>());
  if (value.is_structured()) {
    for (const Json& inner : value) {
      const std::vector<double> more = numbers_of(inner);
      found.insert(found.end(), more.begin(), more.end());
    }
  }
  return found;
}

// As a text may print it: any number of decimals, its size alone.
bool stands_in(const std::string& printed, const std::vector<double>& numbers) {
  const std::size_t point = printed.find('.');
  const int decimals =
      point == std::string::npos ? 0 : static_cast<int>(printed.size() - point - 1);
  return std::any_of(numbers.begin(), numbers.end(), [&](double number) {
    return fixed(std::abs(number), decimals) == printed ||
           fixed(100.0 * number, decimals) == printed;  // a share as so many in 100
  });
}

std::vector<std::string> not_in(const std::string& text, const Json& document) {
  std::vector<double> numbers = numbers_of(document);
  // What words say by themselves: in 100, the turns looked after, steps by their place.
  for (const double said : {0.0, 1.0, 2.0, 3.0, 4.0, 100.0}) numbers.push_back(said);
  const std::string all = document.dump();
  std::vector<std::string> strange;
  const std::regex number(R"(\d+(?:\.\d+)?(?::\d\d)?)");
  for (std::sregex_iterator at(text.begin(), text.end(), number), end; at != end; ++at) {
    const std::string printed = at->str();
    const bool quoted = all.find(printed) != std::string::npos;  // in a title or as a clock
    if (!quoted && !stands_in(printed, numbers)) strange.push_back(printed);
  }
  return strange;
}

std::vector<std::string> too_wide(const std::string& text) {
  std::vector<std::string> wide;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.size() > 80) wide.push_back(line);
  }
  return wide;
}

}  // namespace

TEST_CASE("A fault's block tells the error in mm, crank deg, cam deg and teeth, and what to do") {
  const std::string text = texts::on_one_line(
      why_text(headings::of("why"), answer_of_four(), Catalogue::where_nothing_was_seen));
  CHECK_THAT(text,
             ContainsSubstring("the cam: mark 9.5 mm late (18.0 crank deg, 9.00 cam deg, 1 "
                               "tooth), at clock 11.0 (12:22), should be clock 20.0 (12:40); "
                               "the pin does not go in. As far off after 0, 1, 2 and 4 turns."));
  CHECK_THAT(text, ContainsSubstring("belt teeth between marks: 41 from crank to cam in place of "
                                     "42."));
  CHECK_THAT(text, ContainsSubstring("it stops dead at 212 crank deg on from pins in."));
  CHECK_THAT(text, ContainsSubstring("as without it: the crank and the pointer at clock 346.1"));
  CHECK_THAT(text, ContainsSubstring("Do: Move the belt on the cam's pulley."));
}

TEST_CASE("What wanders is told at every stop, what shows nothing is said to show nothing") {
  const std::string text = texts::on_one_line(
      why_text(headings::of("why"), answer_of_four(), Catalogue::where_nothing_was_seen));
  // A quarter of a tooth and 1, 2 and 4 teeth more of 9.525 mm.
  CHECK_THAT(text,
             ContainsSubstring("It changes: 2.4 mm early after 0, 11.9 mm early after 1, 21.4 "
                               "mm early after 2 and 40.5 mm early after 4 turns."));
  CHECK_THAT(text, ContainsSubstring("marks and pins show nothing of it."));
  CHECK_THAT(text, ContainsSubstring("the belt cannot be put on so: nowhere in its travel"));
  CHECK_THAT(text, ContainsSubstring("Two faults together"));
}

TEST_CASE("What is out of place without any fault is told once, and is no part of a fault") {
  WhyAnswer answer = answer_of_four();
  WhyShaft skimmed = cam_out({-0.04, -0.04, -0.04, -0.04});
  for (WhyStop& stop : skimmed.stops) {
    if (stop.pin) stop.pin = PinFelt::in;
  }
  answer.without = {right_shaft("crank", Role::crankshaft), skimmed};
  WhyFault aside = eye();
  aside.shafts.back() = skimmed;
  answer.catalogue = {aside};
  const std::string text =
      texts::on_one_line(why_text(headings::of("why"), answer, Catalogue::where_nothing_was_seen));
  CHECK_THAT(text,
             ContainsSubstring("Without any fault, by what [build] says: - the cam: mark 0.38 "
                               "mm late (0.72 crank deg, 0.36 cam deg, 0.04 of a tooth)"));
  CHECK_THAT(text, ContainsSubstring("marks and pins show nothing of it. - as without it: the "
                                     "crank, the cam, the teeth between marks and the pointer"));
}

TEST_CASE("Kinds stand under their headings in the answer's order, two faults together last") {
  const std::string text =
      why_text(headings::of("why"), answer_of_four(), Catalogue::where_nothing_was_seen);
  std::vector<std::size_t> places;
  for (const char* heading : {"\nA shaft whole teeth out\n", "\nA timed pulley with a tooth more",
                              "\nNothing wrong but the eye\n",
                              "\nA belt with a tooth more or less\n", "\nTwo faults together\n"}) {
    places.push_back(text.find(heading));
    INFO(heading);
    CHECK(places.back() != std::string::npos);
  }
  CHECK(std::is_sorted(places.begin(), places.end()));
}

TEST_CASE("With something seen the headline comes first and the catalogue waits to be asked for") {
  const std::string asked =
      why_text(headings::of("why"), answer_with_seen(), Catalogue::where_nothing_was_seen);
  CHECK(asked.find("Seen: most likely (91 in 100) the cam 1 tooth late.\n") == 0);
  CHECK_THAT(asked, !ContainsSubstring("\nA shaft whole teeth out\n"));
  CHECK_THAT(asked, ContainsSubstring("--catalogue"));
  const std::string one = texts::on_one_line(asked);
  CHECK_THAT(one,
             ContainsSubstring("1. 94 in 100: one of these, which cannot be told apart by what was "
                               "seen: - 91 in 100: The cam 1 tooth late. - 3 in 100: The cam set "
                               "by another mark. - 2 less likely ones."));
  CHECK_THAT(one, ContainsSubstring("the pin of the cam out out for it"));
  CHECK_THAT(one, ContainsSubstring("after further turns wanders repeats against it"));
  CHECK_THAT(one, ContainsSubstring("1. Belt off the cam's pulley. 2. Turn the cam 1 tooth on."));
  CHECK_THAT(one,
             ContainsSubstring("- Count the belt teeth from crank to cam. - 41: most likely the "
                               "cam 1 tooth late. - 42: most likely the marks were read"));
  CHECK_THAT(one, ContainsSubstring("seen.pin.pump"));
  CHECK_THAT(one, ContainsSubstring("tooth-out 3 (13 in 100); two faults together 8 in 100."));
  CHECK_THAT(why_text(headings::of("why"), answer_with_seen(), Catalogue::always),
             ContainsSubstring("\nA shaft whole teeth out\n"));
}

TEST_CASE("Every number of the text stands in the document, and no line is wider than 80") {
  const WhyAnswer answer = answer_with_seen();
  const std::string text = why_text(headings::of("why"), answer, Catalogue::always);
  const Json document = Json::parse(why_document(headings::of("why"), answer));
  CHECK(not_in(text, document) == std::vector<std::string>());
  CHECK(too_wide(text) == std::vector<std::string>());
  // The looking itself: a number that is nowhere is found out.
  CHECK(not_in("17.77 mm", document) == std::vector<std::string>{"17.77"});
}

TEST_CASE("An exercise keeps its fault to itself until the answer is asked for") {
  Exercise made;
  made.seed = 7;
  made.seen.pin = {{"cam", PinFelt::out}};
  made.seen.mark_mm = {{"cam", -9.5}};
  made.shows = {"the pin of the cam does not go in", "its mark stands 9.5 mm late"};
  made.hidden = tooth_late();
  made.working = answer_with_seen();
  const Heading heading = headings::of("exercise");
  const std::string asked = exercise_text(heading, made, Solution::hidden);
  CHECK_THAT(asked, ContainsSubstring("- Its mark stands 9.5 mm late."));
  CHECK_THAT(asked, ContainsSubstring("--seed 7 --answer"));
  CHECK_THAT(asked, !ContainsSubstring("tooth"));
  const Json kept = Json::parse(exercise_document(heading, made, Solution::hidden));
  CHECK(kept["answer"].is_null());
  CHECK(kept["seen"]["pins"][0]["pin"] == "out");
  const std::string told = exercise_text(heading, made, Solution::shown);
  CHECK_THAT(told, ContainsSubstring("Hidden was the cam 1 tooth late."));
  CHECK_THAT(told, ContainsSubstring("most likely (91 in 100)"));
  const Json whole = Json::parse(exercise_document(heading, made, Solution::shown));
  CHECK(whole["answer"]["hidden"]["title"] == "the cam 1 tooth late");
  CHECK(not_in(told, whole) == std::vector<std::string>());
  CHECK(too_wide(told) == std::vector<std::string>());
}
