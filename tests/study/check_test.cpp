#include "twoturn/study/check.hpp"

#include <algorithm>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"

using namespace twoturn;

namespace {

std::vector<const Finding*> all_of(const CheckAnswer& answer, std::string_view code,
                                   std::string_view about = "") {
  std::vector<const Finding*> found;
  for (const Finding& finding : answer.findings) {
    if (finding.code == code && (about.empty() || finding.about == about)) {
      found.push_back(&finding);
    }
  }
  return found;
}

bool has(const CheckAnswer& answer, std::string_view code, Level level) {
  const auto found = all_of(answer, code);
  return std::any_of(found.begin(), found.end(),
                     [level](const Finding* finding) { return finding->level == level; });
}

bool open(const CheckAnswer& answer, std::string_view key) {
  return std::any_of(answer.not_checked.begin(), answer.not_checked.end(),
                     [key](const Missing& missing) { return missing.key == key; });
}

// The worked example with everything given that a check asks for, so that one change shows alone.
DriveSpec complete() {
  DriveSpec spec = drives::worked_example();
  spec.engine.interference = true;
  drives::named(spec, "water pump").role = Role::water_pump;
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  tensioner.pointer_deg = 90.0;
  std::get<SwingSpec>(tensioner.path).tight_deg = 80.0;
  drives::named(spec, "crank").pin = PinSpec{60.0, 0.1, {}, {}, {}};
  CoverSpec cover;
  cover.name = "cover";
  cover.points_mm = {Vec2(-200, 0), Vec2(-200, 300)};
  spec.covers = {cover};
  spec.engine.cylinders = 4;
  spec.engine.stroke_mm = 80.0;
  spec.engine.rod_mm = 140.0;
  spec.engine.firing_order = {1, 3, 4, 2};
  spec.engine.timing_position_deg = 90.0;
  for (const ValveSide side : {ValveSide::inlet, ValveSide::exhaust}) {
    ValveSpec valve;
    valve.name = side == ValveSide::inlet ? "inlet" : "exhaust";
    valve.cam = "cam";
    valve.side = side;
    valve.lift_mm = 8.0;
    valve.lobe_centre_deg = 112.0;
    valve.duration_deg = 230.0;
    valve.law = LiftLaw::harmonic;
    valve.room_tdc_mm = 9.0;
    spec.valves.push_back(valve);
  }
  return spec;
}

}  // namespace

TEST_CASE("Each demo has the verdict that its scenario tells") {
  const auto verdict = [](const std::string& name) {
    return check_drive(demos::spec_of(name)).verdict;
  };
  CHECK(verdict("cam-bench") == Verdict::agrees);
  CHECK(verdict("harbour-launch") == Verdict::agrees);
  CHECK(verdict("hill-climb-saloon") == Verdict::agrees);
  CHECK(verdict("mill-generator") == Verdict::agrees);
  CHECK(verdict("orchard-sprayer") == Verdict::look_again);
  CHECK(verdict("roadside-counts") == Verdict::look_again);
  CHECK(verdict("valley-rescue-v6") == Verdict::look_again);
  CHECK(verdict("night-bakery-van") == Verdict::stop);
}

TEST_CASE("A complete drive with nothing against it agrees and leaves nothing open") {
  const CheckAnswer answer = check_drive(complete());
  CHECK(answer.verdict == Verdict::agrees);
  CHECK(answer.not_checked.empty());
  CHECK_THAT(answer.headline, StartsWith("On paper: agrees"));
  CHECK_THAT(answer.headline, ContainsSubstring("The fitting itself has not been seen"));
}

TEST_CASE("No verdict says that an engine is safe, ready or good to go") {
  for (const std::string& name : demos::names()) {
    const CheckAnswer answer = check_drive(demos::spec_of(name));
    for (const char* word : {"safe", "ready", "good to go"}) {
      CHECK_THAT(answer.headline, !ContainsSubstring(word));
    }
  }
}

TEST_CASE("Agrees needs route, fit and phasing all judged") {
  DriveSpec spec = complete();
  spec.belt.teeth.reset();
  CHECK(check_drive(spec).verdict == Verdict::look_again);
  spec = complete();
  spec.crank_turns.reset();
  CHECK(check_drive(spec).verdict == Verdict::look_again);
  spec = complete();
  drives::named(spec, "cam").at_mm.reset();
  const CheckAnswer answer = check_drive(spec);
  CHECK(answer.verdict == Verdict::look_again);
  CHECK_THAT(answer.headline, ContainsSubstring("not enough given"));
  CHECK(answer.paint->all_meet_turns == 222);  // common practice: 111 teeth on 20/40
}

TEST_CASE("Half a tooth out is a stop, a hair less is a look") {
  DriveSpec spec = complete();
  PulleySpec& cam = drives::named(spec, "cam");
  cam.fixing = Fixing::adjustable;
  cam.range_deg = 20.0;
  spec.build.adjusted_deg["cam"] = -4.5;  // exact: half of 360/40
  CHECK(has(check_drive(spec), "phase", Level::stop));
  CHECK(has(check_drive(spec), "pin", Level::stop));
  spec.build.adjusted_deg["cam"] = -4.499;
  CHECK(has(check_drive(spec), "phase", Level::look));
  CHECK(has(check_drive(spec), "pin", Level::look));
  CHECK_FALSE(has(check_drive(spec), "phase", Level::stop));
}

TEST_CASE(
    "Without a pin the phase is looked at beyond one crank degree, with one beyond its play") {
  DriveSpec spec = complete();
  PulleySpec& cam = drives::named(spec, "cam");
  cam.fixing = Fixing::adjustable;
  cam.range_deg = 20.0;
  spec.build.adjusted_deg["cam"] = 0.49;
  CHECK(has(check_drive(spec), "phase", Level::look));
  cam.pin.reset();
  CHECK_FALSE(has(check_drive(spec), "phase", Level::look));
  spec.build.adjusted_deg["cam"] = 0.51;
  CHECK(has(check_drive(spec), "phase", Level::look));
  spec.limits.phase_crank_deg = 1.1;
  CHECK_FALSE(has(check_drive(spec), "phase", Level::look));
}

TEST_CASE("A tooth out names the pulley, the way and the number of teeth to move") {
  DriveSpec spec = complete();
  spec.build.teeth_out["cam"] = -1;
  const CheckAnswer late = check_drive(spec);
  CHECK(late.verdict == Verdict::stop);
  CHECK_THAT(late.headline, StartsWith("On paper: STOP, do not turn it: cam 18.0 crank deg late"));
  CHECK_THAT(late.headline, ContainsSubstring("turn the cam 1 tooth on (clockwise)"));
  // Late is back: it is the cam that stands back in the belt; on it the belt lies further on.
  CHECK_THAT(late.findings.front().text,
             ContainsSubstring("In the belt it stands 1 tooth further back than by the book."));
  spec.build.teeth_out["cam"] = 2;
  const CheckAnswer early = check_drive(spec);
  CHECK_THAT(early.headline, ContainsSubstring("turn the cam 2 teeth back (anticlockwise)"));
  CHECK_THAT(early.findings.front().text,
             ContainsSubstring("In the belt it stands 2 teeth further on than by the book."));
}

TEST_CASE("A belt with a tooth more or less does not fit, and what would is named") {
  for (const int teeth : {110, 112}) {
    DriveSpec spec = complete();
    spec.belt.teeth = teeth;
    const CheckAnswer answer = check_drive(spec);
    CHECK(answer.verdict == Verdict::stop);
    REQUIRE(all_of(answer, "belt-fit").size() == 1);
    CHECK_THAT(all_of(answer, "belt-fit")[0]->text, ContainsSubstring("111"));
  }
}

TEST_CASE(
    "A belt that goes on only if poorly known numbers are right is told, and what settles it") {
  DriveSpec spec = complete();
  CHECK(all_of(check_drive(spec), "belt-fit-open").empty());
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 8.0)};
  const CheckAnswer poor = check_drive(spec);
  REQUIRE(all_of(poor, "belt-fit-open").size() == 1);
  const Finding& finding = *all_of(poor, "belt-fit-open")[0];
  CHECK(finding.level == Level::note);
  CHECK(finding.value < 95.0);
  CHECK_THAT(finding.text, ContainsSubstring("Measure the place of the cam better"));
  spec.given = {drives::measured("pulley.cam.at_mm[1]", 0.05)};
  CHECK(all_of(check_drive(spec), "belt-fit-open").empty());
}

TEST_CASE("A set mark more than its give away from the belt's own setting is looked at") {
  DriveSpec spec = complete();
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  tensioner.set_deg = 346.06 + 2.9;
  CHECK_FALSE(has(check_drive(spec), "setting-marks", Level::look));
  tensioner.set_deg = 346.06 + 3.1;
  CHECK(has(check_drive(spec), "setting-marks", Level::look));
  tensioner.set_give_deg = 3.5;
  CHECK_FALSE(has(check_drive(spec), "setting-marks", Level::look));
}

TEST_CASE("A skim does not count against the book's own setting") {
  DriveSpec spec = complete();
  spec.build.skim_mm["head"] = 0.14;  // moves the as-fitted setting by some 7 deg
  CHECK_FALSE(has(check_drive(spec), "setting-marks", Level::look));
}

TEST_CASE("A tensioner set past over centre is a stop") {
  DriveSpec spec = complete();
  TensionerSpec& tensioner = *drives::named(spec, "tensioner").tensioner;
  std::get<SwingSpec>(tensioner.path).tight_deg = 200.0;
  tensioner.set_deg = 187.0;
  const CheckAnswer answer = check_drive(spec);
  CHECK(has(answer, "over-centre", Level::stop));
  CHECK_THAT(all_of(answer, "over-centre")[0]->text, ContainsSubstring("346.1"));
}

TEST_CASE("A tensioner near an end is looked at") {
  DriveSpec spec = complete();
  auto& swing = std::get<SwingSpec>(drives::named(spec, "tensioner").tensioner->path);
  swing.tight_deg = 350.0;
  CHECK(has(check_drive(spec), "tensioner-end", Level::look));
  swing.tight_deg = 80.0;
  swing.slack_deg = 340.0;
  CHECK(has(check_drive(spec), "tensioner-end", Level::look));
}

TEST_CASE("A wrong tooth count on the cam is a wrong ratio, and a stop") {
  DriveSpec spec = complete();
  drives::named(spec, "cam").teeth = 41;
  drives::named(spec, "tensioner").tensioner->path = SlideSpec{Vec2(-120, 170), Vec2(40, 170)};
  drives::named(spec, "tensioner").tensioner->set_deg.reset();
  drives::named(spec, "tensioner").tensioner->pointer_deg.reset();
  spec.belt.teeth = 112;
  CHECK(has(check_drive(spec), "wrong-ratio", Level::stop));
}

TEST_CASE("A run that passes too near a cover is looked at, one that touches is a stop") {
  DriveSpec spec = complete();
  // The right-hand run between cam and pump; the belt's back is on its outside.
  const RouteAnswer route = *check_drive(spec).judged.route;
  const RouteSpan& run = route.spans[2];
  const Vec2 middle = (run.start_mm + run.end_mm) / 2.0;
  const Vec2 along = (run.end_mm - run.start_mm).normalized();
  const Vec2 outward(-along.y(), along.x());
  const double back = 4.1 - 1.91 - 0.686;  // ZA: thickness less tooth height less a
  const auto with_stud_at = [&](double gap) {
    const Vec2 point = middle + (back + gap) * outward;
    spec.covers[0].points_mm = {point, point + 20.0 * outward};
    return check_drive(spec);
  };
  CHECK_FALSE(has(with_stud_at(2.1), "near", Level::look));
  const CheckAnswer near = with_stud_at(1.9);
  REQUIRE(has(near, "near", Level::look));
  CHECK_THAT(all_of(near, "near")[0]->value, WithinAbs(1.9, 1e-9));
  CHECK(has(with_stud_at(-0.1), "path-refused", Level::stop));
}

TEST_CASE("Mismatch on fixed centres is judged by the belt's length tolerance") {
  DriveSpec spec = demos::spec_of("cam-bench");
  spec.given = {};  // each number exact
  const auto with_mismatch = [&](double mm) {
    // Exact enough: 120 teeth of 8 mm want 346.868 mm, and a mm of centre is near two of belt.
    spec.pulleys[1].at_mm = spec.pulleys[1].at_mm->normalized() * (346.86836251 - mm / 1.993);
    return check_drive(spec);
  };
  CHECK(with_mismatch(0.6).verdict == Verdict::agrees);  // tolerance at 960 mm: 0.66, from memory
  CHECK(has(with_mismatch(0.8), "fixed-mismatch", Level::look));
  CHECK(has(with_mismatch(-0.8), "fixed-mismatch", Level::look));
  CHECK(has(with_mismatch(2.1), "fixed-mismatch", Level::stop));
}

TEST_CASE("A tensioner on the tight side is looked at") {
  DriveSpec spec = complete();
  spec.crank_turns = Turn::anticlockwise;
  CHECK(has(check_drive(spec), "reference-run", Level::look));
}

TEST_CASE("What is assumed for want of a line is look again, and names the line") {
  // A toothed pulley without a role, a timed one without its rate, a pin on a shaft that has none.
  DriveSpec spec = complete();
  drives::named(spec, "water pump").role.reset();
  CheckAnswer answer = check_drive(spec);
  CHECK(has(answer, "role", Level::look));
  CHECK(answer.verdict == Verdict::look_again);
  CHECK_THAT(answer.headline, ContainsSubstring("pulley.water pump.role"));
  for (const Role role : {Role::auxiliary_shaft, Role::water_pump}) {
    spec = complete();
    drives::named(spec, "water pump").role = role;
    drives::named(spec, "water pump").pin = PinSpec{20.0, 0.1, {}, {}, {}};
    CHECK(check_drive(spec).verdict == Verdict::look_again);
  }
  // Without the crank's direction early and late are not told, nor any move.
  spec = complete();
  spec.crank_turns.reset();
  spec.build.teeth_out["cam"] = -1;
  answer = check_drive(spec);
  CHECK(has(answer, "direction", Level::look));
  CHECK(answer.verdict == Verdict::stop);
  CHECK(answer.judged.turns->cures.empty());
  CHECK_THAT(answer.headline, ContainsSubstring("crank deg out"));
  CHECK_THAT(answer.headline, ContainsSubstring("crank_turns"));
  // A skim under a head that is not said to carry the cam, or which way it lifts off.
  spec = complete();
  spec.build.skim_mm["head"] = 0.3;
  drives::named(spec, "cam").mount.reset();
  CHECK(has(check_drive(spec), "head", Level::look));
  drives::named(spec, "cam").mount = "head";
  spec.heads.front().deck_deg.reset();
  CHECK(has(check_drive(spec), "head", Level::look));
}

TEST_CASE("Interference not known is a note and an open question") {
  DriveSpec spec = complete();
  spec.engine.interference.reset();
  spec.valves.clear();
  const CheckAnswer answer = check_drive(spec);
  CHECK(has(answer, "interference-unknown", Level::note));
  CHECK(open(answer, "engine.interference"));
  CHECK(answer.verdict == Verdict::agrees);
}

TEST_CASE("Numbers left at the example's are looked at, each with its line") {
  DriveSpec spec = complete();
  spec.given = {{"pulley.cam.teeth", "40", 40.0, Origin::example, {}, 31},
                {"belt.teeth", "111", 111.0, Origin::measured, {}, 4}};
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(has(answer, "example-numbers", Level::look));
  CHECK_THAT(all_of(answer, "example-numbers")[0]->text,
             ContainsSubstring("pulley.cam.teeth (line 31)"));
  CHECK(all_of(answer, "example-numbers")[0]->value == 1.0);
}

TEST_CASE("Each open question is there without its number and gone with it") {
  struct Row {
    const char* key;
    void (*take_away)(DriveSpec&);
  };
  const Row row = GENERATE(
      Row{"belt.teeth", [](DriveSpec& spec) { spec.belt.teeth.reset(); }},
      Row{"belt.section", [](DriveSpec& spec) { spec.belt.section.reset(); }},
      Row{"crank_turns", [](DriveSpec& spec) { spec.crank_turns.reset(); }},
      Row{"pulley.cam.at_mm", [](DriveSpec& spec) { drives::named(spec, "cam").at_mm.reset(); }},
      Row{"pulley.cam.mark_deg",
          [](DriveSpec& spec) { drives::named(spec, "cam").mark_deg.reset(); }},
      Row{"pulley.cam.pin", [](DriveSpec& spec) { drives::named(spec, "cam").pin.reset(); }},
      Row{"pulley.cam.fixing", [](DriveSpec& spec) { drives::named(spec, "cam").fixing.reset(); }},
      Row{"pulley.NAME.role", [](DriveSpec& spec) { drives::named(spec, "cam").role.reset(); }},
      Row{"pulley.tensioner.diameter_mm",
          [](DriveSpec& spec) { drives::named(spec, "tensioner").diameter_mm.reset(); }},
      Row{"pulley.tensioner.face",
          [](DriveSpec& spec) { drives::named(spec, "tensioner").face.reset(); }},
      Row{"pulley.tensioner.tensioner.set_deg",
          [](DriveSpec& spec) { drives::named(spec, "tensioner").tensioner->set_deg.reset(); }},
      Row{"pulley.tensioner.tensioner.pointer_deg",
          [](DriveSpec& spec) { drives::named(spec, "tensioner").tensioner->pointer_deg.reset(); }},
      Row{"cover", [](DriveSpec& spec) { spec.covers.clear(); }},
      Row{"valve", [](DriveSpec& spec) { spec.valves.clear(); }},
      Row{"valve.inlet.room_tdc_mm", [](DriveSpec& spec) { spec.valves[0].room_tdc_mm.reset(); }},
      Row{"engine.rod_mm", [](DriveSpec& spec) { spec.engine.rod_mm.reset(); }},
      Row{"engine.interference", [](DriveSpec& spec) {
            spec.engine.interference.reset();
            spec.valves.pop_back();  // by numbers it would be known
          }});
  CAPTURE(row.key);
  DriveSpec spec = complete();
  CHECK_FALSE(open(check_drive(spec), row.key));
  row.take_away(spec);
  CHECK(open(check_drive(spec), row.key));
  for (const Missing& missing : check_drive(spec).not_checked) {
    CHECK_FALSE(missing.answer.empty());
    CHECK_FALSE(missing.measure.empty());
  }
}

TEST_CASE("A skim on a head whose deck is not given is an open question, not a silent nothing") {
  DriveSpec spec = complete();
  spec.build.skim_mm["head"] = 0.2;
  CHECK_FALSE(open(check_drive(spec), "head.head.deck_deg"));
  spec.heads[0].deck_deg.reset();
  CHECK(open(check_drive(spec), "head.head.deck_deg"));
}

TEST_CASE("By the book stands beside as fitted where the build says anything") {
  DriveSpec spec = complete();
  CHECK_FALSE(check_drive(spec).book.has_value());
  spec.build.skim_mm["head"] = 0.2;
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(answer.book.has_value());
  CHECK(answer.book->fit == Fit::by_the_book);
  CHECK(check_drive(spec, Fit::by_the_book).judged.turns->after[2].shafts[1].error_own_deg == 0.0);
}

TEST_CASE(
    "A stop that a tooth cures tells the whole move, from the parked crank to two turns again") {
  DriveSpec spec = complete();
  CHECK(check_drive(spec).whole_move.empty());
  spec.build.teeth_out["cam"] = -1;
  const auto joined = [](const DriveSpec& drive) {
    std::string all;
    for (const std::string& step : check_drive(drive).whole_move) all += step + "\n";
    return all;
  };
  const std::string move = joined(spec);
  // In this order: crank, tensioner, the move with its tool, belt and pins, tension, two turns.
  std::size_t at = 0;
  for (const char* step : {"crank at its mark", "Slacken the tensioner", "turn the cam 1 tooth on",
                           "never the cam bolt", "every pin in (crank, cam)", "Set the tension",
                           "All pins out and counted. Two turns by hand at the crank, clockwise"}) {
    CAPTURE(step, move);
    REQUIRE(move.find(step, at) != std::string::npos);
    at = move.find(step, at);
  }
  // No valves known: the manual says where. None that meet: it stays at its mark.
  DriveSpec unknown = spec;
  unknown.valves.clear();
  CHECK_THAT(joined(unknown),
             ContainsSubstring("Park the crank clear of the valves as the manual"));
  unknown.engine.interference = false;
  CHECK_THAT(joined(unknown), ContainsSubstring("no valve meets a piston"));
  // At top dead centre it is not clear: parked elsewhere, and brought back the way that is clear.
  DriveSpec top = spec;
  top.engine.timing_position_deg = 0.0;
  for (ValveSpec& valve : top.valves) valve.room_tdc_mm = 1.0;
  top.engine.crank_pins_deg = {0, 180, 180, 0};
  const CheckAnswer parked = check_drive(top);
  REQUIRE(parked.engine.park);
  REQUIRE(parked.engine.park->best_is_clear);
  const std::string back = joined(top);
  CHECK_THAT(back, ContainsSubstring("past top dead centre of cylinder 1"));
  CHECK_THAT(back, ContainsSubstring("the crank back to its mark"));
  for (const ParkWay& way : parked.engine.park->ways) {
    if (!way.clear) CHECK_THAT(back, ContainsSubstring("NOT this way"));
  }
  // What a skim moves does not decide the tension.
  CHECK(move.find("not the place of the pointer") == std::string::npos);
  spec.build.skim_mm["head"] = 0.3;
  CHECK_THAT(joined(spec), ContainsSubstring("the tension decides, not the place of the pointer"));
}

TEST_CASE("Alike findings are told as one, and a caution once") {
  const CheckAnswer answer = check_drive(demos::spec_of("valley-rescue-v6"));
  const std::vector<ToldFinding> all = told(answer.findings);
  CHECK(all_of(answer, "phase").size() == 4);
  CHECK(all_of(answer, "pin").size() == 4);
  const auto with = [&](std::string_view about) {
    return std::count_if(all.begin(), all.end(),
                         [&](const ToldFinding& finding) { return finding.about == about; });
  };
  CHECK(with("left exhaust cam, left inlet cam") == 2);
  CHECK(with("right inlet cam, right exhaust cam") == 2);
  const auto saying = [&](std::string_view words) {
    return std::count_if(all.begin(), all.end(), [&](const ToldFinding& finding) {
      return finding.text.find(words) != std::string::npos;
    });
  };
  CHECK(saying("Tight is not in") == 1);
  CHECK(saying("The same goes for the left inlet cam.") == 2);
  // Nothing is lost: each finding is among those told, itself or by name.
  for (const Finding& finding : answer.findings) {
    INFO(finding.about << ": " << finding.text);
    CHECK(std::any_of(all.begin(), all.end(), [&](const ToldFinding& one) {
      return one.level == finding.level && one.about.find(finding.about) != std::string::npos;
    }));
  }
  // A name is no likeness where it stands within another word.
  Finding one{Level::look, "x", "cam", "The cam is camped on."};
  Finding other{Level::look, "x", "pump", "The pump is pumped on."};
  CHECK(told({one, other}).size() == 2);
}
