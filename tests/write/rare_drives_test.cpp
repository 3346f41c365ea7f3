// Faces, skims, valves, routes and documents as hardly any drive has them: answers of demos with
// one thing changed.
#include <array>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/faces.hpp"
#include "support/headings.hpp"
#include "support/texts.hpp"
#include "twoturn/study/card_answer.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/engine_report.hpp"
#include "twoturn/study/face_report.hpp"
#include "twoturn/study/picture_made.hpp"
#include "twoturn/study/skim.hpp"
#include "twoturn/study/skim_verdict.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

using namespace twoturn;
using texts::on_one_line;

namespace {

using Json = nlohmann::json;

const CheckAnswer& launch() {
  static const CheckAnswer answer = check_drive(demos::spec_of("harbour-launch"));
  return answer;
}

SkimAnswer skimmed(const std::string& demo, double mm) {
  return skim_consequences(demos::spec_of(demo), {"", mm, Fit::as_fitted});
}

FaceReport report_of(const faces::Points& points, const FaceQuestion& question = {}) {
  FaceReport report;
  report.heights = examine_face(points, question);
  report.verdict = judge_face(report.heights, std::nullopt, {});
  return report;
}

std::string face_told(const FaceReport& report) { return on_one_line(face_text(report)); }

}  // namespace

TEST_CASE("A skim that no belt goes on with says why, in words and in the document") {
  FaceReport report;
  report.profile = "Harbour launch";
  report.skim = skimmed("harbour-launch", 5.0);
  REQUIRE(report.skim->none);
  const std::string text = face_told(report);
  CHECK_THAT(text, StartsWith("A skim of 5.000 mm (196.9 thou)"));
  CHECK_THAT(text, ContainsSubstring("112 teeth"));
  CHECK_THAT(text, ContainsSubstring("mm"));
  const Json none = Json::parse(face_document(report))["skim"]["none"];
  CHECK(none["reason"] == "no-setting");
  CHECK_THAT(text, ContainsSubstring(on_one_line(none["text"].get<std::string>())));
  CHECK(none.size() > 3);
}

TEST_CASE("A skim of a drive whose keys, roles and pins are not given is told all the same") {
  FaceReport report;
  report.profile = "Harbour launch";
  report.skim = skimmed("harbour-launch", 0.1);
  REQUIRE(report.skim->shafts.size() == 1);
  SkimmedShaft& cam = report.skim->shafts[0];
  cam.role.reset();
  cam.fixing.reset();
  cam.pin = PinState::not_given;
  CHECK_THAT(face_told(report), ContainsSubstring("cam keyed?"));
  const Json shaft = Json::parse(face_document(report))["skim"]["shafts"][0];
  CHECK(shaft["role"].is_null());
  CHECK(shaft["fixing"].is_null());
  cam.pin = PinState::not_due;
  CHECK_THAT(face_told(report), ContainsSubstring("not due"));
  cam.fixing = Fixing::free_until_tightened;
  cam.turned_on_shaft_deg = -0.25;
  CHECK_THAT(face_told(report), ContainsSubstring("it takes up 0.25 deg on its shaft (behind)"));
  cam.turned_on_shaft_deg = 0.0;
  CHECK_THAT(face_told(report), !ContainsSubstring("What would put it back"));
  cam.error_crank_deg = 0.0;
  CHECK_THAT(face_told(report), ContainsSubstring("leaves every timed shaft in phase."));
  report.skim->shafts.clear();
  report.skim->tensioner_before.reset();
  report.skim->headline.clear();
  report.skim->head.clear();
  CHECK_THAT(face_told(report), StartsWith("A skim of 0.100 mm (3.9 thou), on top of 0.2 mm that "
                                           "[build] says already (0.3 mm together)."));
  CHECK_THAT(face_told(report), !ContainsSubstring("(before:"));
  const Json skim = Json::parse(face_document(report))["skim"];
  CHECK(skim["head"].is_null());
  CHECK(skim["verdict"].is_null());
  CHECK(skim["headline"].is_null());
}

TEST_CASE("A face is told by a datum, in steps where its points are many, and with its tilt") {
  FaceQuestion question;
  question.datum = std::array<Vec3, 3>{Vec3(0, 0, 0), Vec3(100, 0, 0), Vec3(0, 100, 0.01)};
  faces::Points points = faces::grid();
  for (Vec3& point : points) point.z() = 1e-4 * point.x() - 2e-4 * point.y();
  FaceReport report = report_of(points, question);
  std::string text = face_told(report);
  CHECK_THAT(text, ContainsSubstring("least skim, by the datum"));
  CHECK_THAT(text, ContainsSubstring("cut parallel to the datum"));
  // 1e-4 x 200 mm and 2e-4 x 200 mm.
  CHECK_THAT(text, ContainsSubstring("0.020 mm more at the"));
  CHECK_THAT(text, ContainsSubstring("end of x, 0.040 mm more at the"));
  CHECK_THAT(text, StartsWith(on_one_line(report.verdict->headline)));
  CHECK(Json::parse(face_document(report))["readings"].is_null());

  faces::Random random(5);
  report = report_of(faces::random_face(random, kMostPointsForEverySquare + 1));
  text = face_told(report);
  CHECK_THAT(text, ContainsSubstring("2001 points over"));
  CHECK_THAT(text, ContainsSubstring(", in steps of 10 mm"));
  CHECK_THAT(text, ContainsSubstring("With more than 2000 points, squares are looked at in steps "
                                     "of a tenth of their side."));
  report.heights->high_count = static_cast<int>(report.heights->high.size()) + 3;
  CHECK_THAT(face_told(report), ContainsSubstring("; and 3 more."));
  report.verdict.reset();
  CHECK_THAT(face_told(report), StartsWith("2001 points over"));
  CHECK_FALSE(Json::parse(face_document(report)).contains("verdict"));
  report.heights.reset();
  CHECK(face_text(report).empty());
}

TEST_CASE("Valves are told by where their cams are taken, and what can reach a piston") {
  ValvesReport report;
  report.engine = launch().engine;
  REQUIRE(report.engine.valves);
  ValvesAnswer& valves = *report.engine.valves;
  const auto text = [&] { return on_one_line(valves_text(headings::of("valves"), report)); };
  valves.can_meet = false;
  for (ValveAnswer& valve : valves.valves) valve.phase_from = PhaseFrom::book;
  CHECK_THAT(text(), ContainsSubstring("inlet valve: its cam is taken in its place"));
  CHECK_THAT(text(), ContainsSubstring("By these numbers no valve reaches a piston wherever the "
                                       "cams stand. That is the numbers, not the engine: turn it "
                                       "by hand with the same care."));
  ValveAnswer& inlet = valves.valves.front();
  inlet.phase_from = PhaseFrom::two_turns;
  inlet.fitted.error_crank_deg = 0.0;
  CHECK_THAT(text(), ContainsSubstring("two turns of the drive leave its cam in its place"));
  inlet.nearer_mm = -0.25;
  CHECK_THAT(text(), ContainsSubstring("head and piston 0.25 mm farther apart"));
  inlet.tooth_crank_deg.reset();
  for (ValveAnswer& valve : valves.valves) valve.teeth.clear();
  CHECK_THAT(text(), !ContainsSubstring("A cam whole teeth out"));
  CHECK_THAT(text(), !ContainsSubstring("Where they touch first"));
  inlet.fitted.where.reset();
  inlet.fitted.stands = RoomStands::touches;
  inlet.fitted.least_mm = -1.5;
  inlet.fitted.touches_from_deg = -10.0;
  CHECK_THAT(text(), StartsWith("TOUCHES: the inlet valve meets its piston, 1.5"));
  report.engine.pistons->at_pins.reset();
  CHECK_THAT(text(), !ContainsSubstring("with all pins in"));
}

TEST_CASE("Counting from nothing says so, and a shaft that stands further off is told as such") {
  MarksAnswer answer;
  CHECK(marks_text(headings::of("marks"), answer).rfind("Nothing is given to count from.", 0) == 0);
  answer.skims = {{"cam", Role::camshaft, 300.0, -0.25, 0.1, 0.2, 0.05}};
  CHECK_THAT(on_one_line(marks_text(headings::of("marks"), answer)),
             ContainsSubstring("With its centre, 300 mm from the crank's, further off by 0.25 mm "
                               "the cam is 0.20 crank deg (0.10 cam deg) early, 0.05 mm at"));
}

TEST_CASE("Measured places of which all are exact are counted, not ranked") {
  MeasuredPlaces places;
  MeasuredPoint crank;
  crank.name = "crank";
  crank.at_mm = Vec2(0, 0);
  places.points = {crank};
  CHECK_THAT(place_text(headings::of("place"), places),
             StartsWith("Nothing is measured: 1 centre is taken as the profile gives them."));
  places.rows.resize(1);
  places.rows[0].from = "crank";
  CHECK_THAT(place_text(headings::of("place"), places), StartsWith("1 centre is placed."));
}

TEST_CASE(
    "A route tells where its tensioner was taken, what runs near, and how far its sums agree") {
  RouteAnswer route = launch().judged.route.value();
  const Drive& drive = *launch().judged.drive();
  const auto text = [&] { return on_one_line(route_text(headings::of("route"), drive, route)); };
  using Choice = SettingChoice;
  for (const auto& [choice, words] :
       {std::pair(Choice::as_asked, ": as asked"), std::pair(Choice::maker_marks, "maker's marks"),
        std::pair(Choice::belt_length, "where the belt's 112 teeth are at their own length"),
        std::pair(Choice::mid_travel, "the middle of its travel, as nothing says better")}) {
    route.choice = choice;
    CHECK_THAT(text(), ContainsSubstring(words));
  }
  route.setting->in_travel = false;
  CHECK_THAT(text(), ContainsSubstring("as nothing says better, outside its travel."));
  CHECK_THAT(text(), ContainsSubstring("off by less than a millionth of a mm."));
  route.faults.open_end_mm = 0.0025;
  CHECK_THAT(text(), ContainsSubstring("off by 0.002500 mm."));
  route.cover_points = {{"inner cover", 1, Vec2(0, 0), 12.25},
                        {"inner cover", 2, Vec2(0, 9), 8.5},
                        {"bracket", 1, Vec2(9, 0), 3.75}};
  CHECK_THAT(text(), ContainsSubstring("- inner cover: 12.2, 8.5. - bracket: 3.8."));
  NamedApproach near;
  near.approach.kind = Neighbour::own_run;
  near.approach.gap_mm = 4.0;
  near.piece = "the run from crank to cam";
  near.least_in_travel_mm = 2.5;
  near.least_at_reading = TensionerReading{4.25, TensionerKind::slide};
  route.approaches = {near};
  CHECK_THAT(text(), ContainsSubstring("- another run of its own: 4.0 mm from the run from crank "
                                       "to cam; in the tensioner's travel least 2.5 mm, at 4.2 "
                                       "mm."));
  route.order = Order::reversed;
  CHECK_THAT(text(), ContainsSubstring("The pulleys are listed against the belt's travel"));
  route.is_belt = false;
  CHECK_THAT(text(), StartsWith("No belt can run so. The tangent path is"));
  route.setting.reset();
  CHECK_THAT(text(), !ContainsSubstring("Tensioner at"));
  route.pulleys.clear();
  CHECK_THAT(text(), StartsWith("No belt can run so: there is no path round the pulleys."));
  CHECK_THAT(text(), !ContainsSubstring("Checked a second way"));
}

TEST_CASE("By the book and as fitted stand side by side, a dash where the belt has no place") {
  CheckAnswer check = launch();
  const auto text = [&] { return on_one_line(check_text(headings::of("check"), check)); };
  REQUIRE(check.book);
  CHECK_THAT(text(), ContainsSubstring("tensioner's roller at clock 332.6 (11:05) clock 345.0"));
  check.book->turns->assembly.fitted_setting.reset();
  CHECK_THAT(text(), ContainsSubstring("tensioner's roller at - clock 345.0"));
  CHECK_THAT(text(), ContainsSubstring("belt it can still take up - 2.31 mm"));
  check.judged.turns->assembly.fitted_setting->pointer_deg.reset();
  CHECK_THAT(text(), ContainsSubstring("its pointer at - not given"));
  check.unused = {{"origin.default", "no number hangs on it"},
                  {"origin.build.skim_mm.head.give_or_take", "it is exact"},
                  {"origin.build.skim_mm.head.from", "it is exact"}};
  CHECK_THAT(text(), ContainsSubstring("Given but not used by anything yet: origin.default (no "
                                       "number hangs on it); the give-or-take of "
                                       "build.skim_mm.head, origin.build.skim_mm.head.from (it is "
                                       "exact)."));
  RecordAnswer record;
  record.counts = "1 pin out of 2";
  record.open = 1;
  check.record = record;
  CHECK_THAT(text(), ContainsSubstring("By the record: - 1 pin out of 2: NOT DONE."));
  CHECK_THAT(text(), !ContainsSubstring("ticks at bolts"));
  check.record->by = "a learner";
  check.record->date = "1 June";
  check.record->open = 0;
  check.record->bolt_ticks = check.record->bolt_ticks_of = 30;
  CHECK_THAT(text(), ContainsSubstring("By the record of a learner, 1 June: - 1 pin out of 2. - 30 "
                                       "of 30 ticks at bolts."));
  check.book.reset();
  CHECK_THAT(text(), ContainsSubstring("Tensioner at clock 345 (11:30), give or take 8 deg"));
  CHECK_THAT(text(), !ContainsSubstring("By the book and as fitted"));
}

TEST_CASE("Documents say what ends a tensioner's travel, and of two orders that both run") {
  TensionerAnswer answer = launch().judged.tensioner.value();
  NamedRefusal rubs;
  rubs.refusal = {Refused::rubs_obstacle, 1, 0, -0.5, 1.0};
  rubs.about = "inner cover";
  rubs.text = "the belt touches the inner cover";
  answer.usable.front().second.cause = rubs;
  answer.only_tightens = Turn::anticlockwise;
  const Drive& drive = *launch().judged.drive();
  const Json document = Json::parse(tensioner_document(headings::of("tensioner"), drive, answer));
  CHECK(document["only_tightens"] == "anticlockwise");
  CHECK(document.dump().find("\"about\":\"inner cover\"") != std::string::npos);
  CHECK_THAT(on_one_line(tensioner_text(headings::of("tensioner"), answer)),
             ContainsSubstring("(ended by: the belt touches the inner cover)."));

  RouteAnswer route = launch().judged.route.value();
  NamedRefusal orders;
  orders.text = "both orders of the list run";
  route.refused = {orders, rubs};
  const Json refused = Json::parse(route_document(headings::of("route"), drive, route))["refused"];
  REQUIRE(refused.size() == 2);
  CHECK(refused[0]["reason"] == "two-orders");
  CHECK(refused[1]["reason"] != "two-orders");
  CHECK(refused[1]["text"] == rubs.text);
}

TEST_CASE("A picture's kind stands in its document, and how to print it in its words") {
  using Kind = PictureKind;
  PictureMade made;
  made.path = "out.svg";
  for (const auto& [kind, word] :
       {std::pair(Kind::belt_end, "belt end"), std::pair(Kind::true_size, "true size"),
        std::pair(Kind::degree_wheel, "degree wheel"), std::pair(Kind::belt_strip, "belt strip")}) {
    made.kind = kind;
    CHECK(Json::parse(draw_document(headings::of("draw"), made, launch()))["picture"] == word);
    const bool at_full_size = kind != Kind::belt_end;
    CHECK((draw_text(made, launch()).find("Print it at 100 %") != std::string::npos) ==
          at_full_size);
  }
  made.kind = Kind::threading;
  made.pages = 2;
  CHECK_THAT(draw_text(made, launch()), StartsWith("Written: out.svg, 2 pages. NOT TO SCALE"));
}

TEST_CASE("A bench card's document names its file where it went to one") {
  CardAnswer card;
  Json document = Json::parse(card_document(card, {"page", "", 0}));
  CHECK(document["path"].is_null());
  CHECK(document["bytes"].is_null());
  document = Json::parse(card_document(card, {"page", "card.html", 1234}));
  CHECK(document["path"] == "card.html");
  CHECK(document["bytes"] == 1234);
}
