// Faults as few drives show them, on answers made by hand: without edges, without a way, without
// anything else to look at. At a cam pulley of 40 teeth a tooth is 9 cam deg, 18 crank deg.
#include <nlohmann/json.hpp>
#include <string>

#include "support/catch.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;
using texts::on_one_line;

namespace {

using Json = nlohmann::json;

// A shaft a tooth late after so many turns, its mark at no known radius.
WhyShaft tooth_late_at(const std::vector<int>& turns) {
  WhyShaft shaft;
  shaft.name = "cam";
  shaft.role = Role::camshaft;
  shaft.has_mark = true;
  for (const int after : turns) {
    WhyStop stop;
    stop.turns = after;
    stop.mark_crank_deg = stop.shaft_crank_deg = -18.0;
    stop.mark_own_deg = -9.0;
    stop.mark_teeth = -1.0;
    shaft.stops.push_back(stop);
  }
  return shaft;
}

WhyFault late_by_a_tooth() {
  WhyFault fault;
  Fault cause;
  cause.kind = FaultKind::tooth_out;
  cause.about = "cam";
  fault.suspect.faults = {cause};
  fault.title = "the cam 1 tooth late";
  fault.shafts = {tooth_late_at({0, 2})};
  return fault;
}

WhyAnswer answer_with(const WhyFault& fault) {
  WhyAnswer answer;
  answer.layout.shafts.resize(2);
  answer.layout.shafts[0].name = "crank";
  answer.layout.shafts[1].name = "cam";
  answer.catalogue = {fault};
  answer.priors = {{FaultKind::tooth_out, 1.0, false, 0.5}};
  return answer;
}

std::string why_told(const WhyAnswer& answer) {
  return on_one_line(why_text(headings::of("why"), answer, Catalogue::always));
}

// Seen, with the catalogue left to be asked for.
std::string seen_told(const WhyAnswer& answer) {
  return on_one_line(why_text(headings::of("why"), answer, Catalogue::where_nothing_was_seen));
}

}  // namespace

TEST_CASE("A mark at no known radius is told in degrees, and of no known way as out") {
  WhyAnswer answer = answer_with(late_by_a_tooth());
  const std::string text = why_told(answer);
  CHECK_THAT(text, StartsWith("What 1 possible fault on this drive would show on the bench."));
  CHECK_THAT(text, ContainsSubstring("the cam: mark 18.0 crank deg late (9.00 cam deg, 1 tooth). "
                                     "As far off after 0 and 2 turns."));
  CHECK_THAT(text, ContainsSubstring("Where a solid stop would be is not known"));
  CHECK_THAT(text, !ContainsSubstring("early and late are not told apart"));
  answer.direction = Direction::assumed;
  const std::string assumed = why_told(answer);
  CHECK_THAT(assumed,
             ContainsSubstring("the cam: mark 18.0 crank deg out (9.00 cam deg, 1 tooth)"));
  CHECK_THAT(assumed, ContainsSubstring("Which way the crank turns is not given, so early and "
                                        "late are not told apart."));
}

TEST_CASE("A shaft looked at but once has no pattern, and one without a mark is told itself") {
  WhyFault fault = late_by_a_tooth();
  fault.shafts = {tooth_late_at({1})};
  CHECK_THAT(why_told(answer_with(fault)),
             ContainsSubstring("the cam: mark 18.0 crank deg late (9.00 cam deg, 1 tooth)."));
  fault.shafts[0].has_mark = false;
  CHECK_THAT(why_told(answer_with(fault)),
             ContainsSubstring("- the cam: the shaft 18.0 crank deg late."));
  fault.shafts[0].stops.clear();
  CHECK_THAT(why_told(answer_with(fault)), ContainsSubstring("marks and pins show nothing of it."));
  CHECK_THAT(why_told(answer_with(fault)), !ContainsSubstring("as without it"));
}

TEST_CASE("A further mark is told by its edge or in degrees, and not where it is right") {
  WhyFault fault = late_by_a_tooth();
  fault.further = {{"damper", -6.0, -7.25}, {"flywheel", 0.5, {}}, {"ring", 0.0, 0.0}};
  fault.loose_mm = -0.25;
  fault.pointer = 12.5;
  fault.pointer_should = 10.0;
  const std::string text = why_told(answer_with(fault));
  CHECK_THAT(text, ContainsSubstring("the mark on the damper: 7.2 mm late (6.00 crank deg)."));
  CHECK_THAT(text, ContainsSubstring("the mark on the flywheel: 0.50 crank deg early."));
  CHECK_THAT(text, ContainsSubstring("as without it: the mark on the ring."));
  CHECK_THAT(text, ContainsSubstring("the belt is stretched over its path by 0.25 mm."));
  CHECK_THAT(text, ContainsSubstring("the tensioner's pointer: clock 12.5 (12:25), should be clock "
                                     "10.0 (12:20)."));
  CHECK_THAT(text, !ContainsSubstring("adjustment left"));
}

TEST_CASE("Two faults together are told in short: which marks, the pointer, or that it cannot be") {
  WhyFault pair = late_by_a_tooth();
  pair.suspect.faults.push_back(pair.suspect.faults.front());
  pair.title = "the cam 1 tooth late, and slack left";
  pair.shafts[0].stops[1].pin = PinFelt::tight;
  pair.pointer = 12.5;
  pair.pointer_should = 10.0;
  CHECK_THAT(why_told(answer_with(pair)),
             ContainsSubstring("- the cam 1 tooth late, and slack left: the cam 18.0 crank deg "
                               "late, its pin is tight; the pointer at clock 12.5 (12:25)."));
  pair.goes_on = false;
  CHECK_THAT(why_told(answer_with(pair)),
             ContainsSubstring("- the cam 1 tooth late, and slack left: the belt cannot be put on "
                               "so."));
  pair.goes_on = true;
  pair.shafts.clear();
  pair.pointer.reset();
  CHECK_THAT(why_told(answer_with(pair)), ContainsSubstring("slack left: marks and pins show "
                                                            "nothing of it."));
}

TEST_CASE("What was seen is ranked with nothing more to do or look at, from another shaft's mark") {
  WhyAnswer answer = answer_with(late_by_a_tooth());
  WhySeen seen;
  seen.headline = "Seen: is it the cam, 1 tooth late?";
  WhyCandidate late;
  late.fault = late_by_a_tooth();
  late.probability = 0.75;
  late.evidence = {
      {"seen.pin.cam", "the pin of the cam", "tight", "-", 0.0, WhyEvidence::Weighs::neither}};
  seen.groups = {{0.75, {late}, 0}, {0.25, {late}, 1}};
  seen.datum = 1;
  answer.seen = seen;
  const std::string text = seen_told(answer);
  CHECK_THAT(text, StartsWith("Seen: is it the cam, 1 tooth late? A pump engine."));
  CHECK_THAT(text, ContainsSubstring("Everything is counted from the cam, as the crank itself was "
                                     "looked at."));
  CHECK_THAT(text, ContainsSubstring("1. 75 in 100: The cam 1 tooth late."));
  CHECK_THAT(text, ContainsSubstring("the pin of the cam tight - neither"));
  CHECK_THAT(text, ContainsSubstring("2. 25 in 100: one of these, which cannot be told apart by "
                                     "what was seen: - 75 in 100: The cam 1 tooth late. - 1 less "
                                     "likely one."));
  CHECK_THAT(text, !ContainsSubstring("in this order"));
  CHECK_THAT(text, !ContainsSubstring("The one look"));
  CHECK_THAT(text, ContainsSubstring("Before anything was seen every kind of fault counted as "
                                     "likely as any other"));
  const Json document = Json::parse(why_document(headings::of("why"), answer))["seen"];
  CHECK(document["next_look"].is_null());
  // Groups without a member are not numbered as if they had one.
  answer.seen->groups = {{0.0, {}, 0}};
  CHECK_THAT(seen_told(answer), !ContainsSubstring("What shows if"));
}
