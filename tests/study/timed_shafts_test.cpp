// Which shafts are judged as timed, at which rate they turn, and what is asked where that is open.
#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/findings.hpp"
#include "twoturn/drive/rates.hpp"
#include "twoturn/drive/validate.hpp"
#include "twoturn/study/check.hpp"

using namespace twoturn;
using findings::found;

namespace {

PulleySpec& pulley(DriveSpec& spec, std::string_view name) { return drives::named(spec, name); }

GearedSpec balance_shaft(double ratio) {
  GearedSpec geared;
  geared.name = "balance shaft";
  geared.from = "water pump";
  geared.ratio = ratio;
  geared.role = Role::balance_shaft;
  return geared;
}

// Crank 20, water pump 19: a balance shaft off the pump needs 2 / (20 / 19) = 1.9 turns of it.
DriveSpec with_balance_shaft(double ratio) {
  DriveSpec spec = drives::worked_example();
  pulley(spec, "water pump").role = Role::water_pump;
  spec.geared = {balance_shaft(ratio)};
  return spec;
}

const ShaftAfter& after_two_of(const CheckAnswer& answer, std::string_view name) {
  const TurnsAnswer& turns = *answer.judged.turns;
  for (const ShaftAfter& seen : after_two(turns)->shafts) {
    if (turns.assembly.shafts[static_cast<std::size_t>(seen.shaft)].name == name) return seen;
  }
  throw std::out_of_range("no timed shaft is named " + std::string(name));
}

bool is_asked_for(const DriveSpec& spec, std::string_view about) {
  const CheckAnswer answer = check_drive(spec);
  const std::optional<Finding> role = found(answer, "role", about);
  return role && role->level == Level::look && answer.verdict != Verdict::agrees;
}

}  // namespace

TEST_CASE("A shaft that shows it is timed and is not said to be is asked for") {
  const auto changed = [](auto change) {
    DriveSpec spec = drives::worked_example();
    pulley(spec, "water pump").role = Role::water_pump;
    change(spec, pulley(spec, "water pump"));
    return is_asked_for(spec, "water pump");
  };
  CHECK_FALSE(changed([](DriveSpec&, PulleySpec&) {}));
  CHECK(changed([](DriveSpec&, PulleySpec& pump) { pump.role.reset(); }));
  CHECK(changed([](DriveSpec&, PulleySpec& pump) { pump.pin = PinSpec{20.0, 0.1, {}, {}, {}}; }));
  CHECK(changed([](DriveSpec&, PulleySpec& pump) { pump.fixing = Fixing::adjustable; }));
  CHECK(changed([](DriveSpec& spec, PulleySpec&) {
    spec.valves.emplace_back().cam = "water pump";
    spec.valves.back().name = "inlet";
  }));
  const auto auxiliary = [&](auto change) {
    return changed([&](DriveSpec&, PulleySpec& pump) {
      pump.role = Role::auxiliary_shaft;
      change(pump);
    });
  };
  CHECK_FALSE(auxiliary([](PulleySpec&) {}));
  CHECK(auxiliary([](PulleySpec& pump) { pump.mark_deg = 10.0; }));
  CHECK(auxiliary([](PulleySpec& pump) { pump.fixing = Fixing::adjustable; }));
  CHECK_FALSE(auxiliary([](PulleySpec& pump) {
    pump.mark_deg = 10.0;
    pump.turns_per_crank = 20.0 / 19.0;
  }));
}

TEST_CASE("A geared shaft without its role or its gears is asked for, one off a roller refused") {
  CHECK_FALSE(is_asked_for(with_balance_shaft(-1.9), "balance shaft"));
  DriveSpec spec = with_balance_shaft(-1.9);
  spec.geared[0].role.reset();
  CHECK(is_asked_for(spec, "balance shaft"));
  spec = with_balance_shaft(-1.9);
  spec.geared[0].ratio.reset();
  CHECK(is_asked_for(spec, "balance shaft"));
  spec = with_balance_shaft(-1.9);
  spec.geared[0].from = "tensioner";
  const std::vector<Problem> problems = validate(spec);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].key == "geared.balance shaft.from");
  CHECK_THAT(problems[0].rule, ContainsSubstring("smooth pulley"));
}

TEST_CASE("Two tooth counts are a ratio, and the one that their decimal rounds") {
  // 66 on the shaft, 27 on the driving gear: 27 / 66 = 0.40909..., common practice for two gears.
  DriveSpec spec = with_balance_shaft(0.0);
  GearedSpec& geared = spec.geared[0];
  geared.ratio.reset();
  geared.gear_teeth = GearTeeth{27, 66};
  CHECK(gear_ratio(spec, geared)->own_turns == -27.0 / 66.0);
  CHECK_FALSE(gear_ratio(spec, geared)->taken);
  geared.role = Role::auxiliary_shaft;
  geared.turns_per_crank = 20.0 / 19.0 * 27.0 / 66.0;
  CHECK_THAT(*turns_made(spec, "balance shaft"), WithinRel(*geared.turns_per_crank, 1e-15));
  CHECK_FALSE(found(check_drive(spec), "wrong-ratio"));

  geared.gear_teeth.reset();
  geared.ratio = -0.409;
  CHECK_THAT(gear_ratio(spec, geared)->own_turns, WithinRel(-27.0 / 66.0, 1e-15));
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(found(answer, "ratio-taken"));
  CHECK_THAT(found(answer, "ratio-taken")->text, ContainsSubstring("0.409"));
  CHECK_FALSE(found(answer, "wrong-ratio"));
  geared.ratio = -0.41;  // could be 41 on 100: not taken for it
  CHECK(found(check_drive(spec), "wrong-ratio", "balance shaft")->level == Level::stop);
  geared.ratio = -0.408;  // beyond its own last digit
  CHECK(found(check_drive(spec), "wrong-ratio", "balance shaft")->level == Level::stop);

  geared.gear_teeth = GearTeeth{27, 66};
  CHECK(validate(spec).front().key == "geared.balance shaft.ratio");
}

TEST_CASE("Turns below nought are used without their sign, whoever is asked") {
  DriveSpec spec = with_balance_shaft(-1.9);
  spec.geared[0].role = Role::auxiliary_shaft;
  spec.geared[0].turns_per_crank = -2.0;
  CHECK(turns_per_crank(spec.geared[0]) == 2.0);
  CHECK(check_drive(spec).judged.turns->assembly.shafts.back().turns_per_crank == 2.0);
  CHECK_FALSE(found(check_drive(spec), "wrong-ratio"));
}

TEST_CASE("A wrong ratio is told from counts alone") {
  DriveSpec spec;  // no coordinates, no belt
  spec.crank_turns = Turn::clockwise;
  PulleySpec crank;
  crank.name = "crank";
  crank.role = Role::crankshaft;
  crank.teeth = 20;
  PulleySpec cam;
  cam.name = "cam";
  cam.role = Role::camshaft;
  cam.teeth = 41;
  spec.pulleys = {crank, cam};
  const CheckAnswer answer = check_drive(spec);
  CHECK(answer.verdict == Verdict::stop);
  const std::optional<Finding> wrong = found(answer, "wrong-ratio", "cam");
  REQUIRE(wrong);
  // In two turns of the crank the cam makes 40 / 41 of a turn: 360 / 41 cam deg late, twice in
  // crank.
  CHECK_THAT(wrong->value, WithinRel(-720.0 / 41.0, 1e-12));
  spec.pulleys[1].teeth = 40;
  CHECK_FALSE(found(check_drive(spec), "wrong-ratio"));
}

TEST_CASE("A wrong pulley's error is known within half a tooth, and no key cures it") {
  DriveSpec spec = drives::worked_example();
  pulley(spec, "cam").key_radius_mm = 14.0;
  pulley(spec, "cam").teeth = 41;
  TensionerSpec& tensioner = *pulley(spec, "tensioner").tensioner;
  tensioner.path = SlideSpec{Vec2(-120, 170), Vec2(40, 170)};  // takes up what the pulley needs
  tensioner.set_deg.reset();
  spec.belt.teeth = 114;
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(answer.judged.turns);
  CHECK_THAT(*after_two_of(answer, "cam").known_within_own_deg, WithinRel(180.0 / 41.0, 1e-12));
  CHECK(answer.judged.turns->cures.empty());
  CHECK_THAT(found(answer, "wrong-ratio")->text, ContainsSubstring("right pulley is the cure"));
  CHECK_FALSE(found(answer, "phase"));
  CHECK_FALSE(after_two_of(check_drive(drives::worked_example()), "cam").known_within_own_deg);
}

TEST_CASE("A whole own turn of a shaft is no error") {
  // At 1.9 turns to one of the pump, 10 of the pump's 19 teeth are 19 twentieths of its turn.
  DriveSpec spec = demos::spec_of("mill-generator");
  spec.build = {};
  spec.build.teeth_out["oil pump"] = 11;  // of 22: half a turn of the pump, one of the shaft
  const CheckAnswer answer = check_drive(spec);
  CHECK(after_two_of(answer, "balance shaft").error_own_deg == 0.0);
  CHECK(after_two_of(answer, "balance shaft").pin == PinState::in);
  CHECK_FALSE(found(answer, "phase", "balance shaft"));
}

TEST_CASE("A pin's miss is the way between two holes, a diameter at most") {
  for (int teeth = 1; teeth <= 20; ++teeth) {
    DriveSpec spec = drives::worked_example();
    spec.build.teeth_out["cam"] = teeth;
    const double miss = *after_two_of(check_drive(spec), "cam").miss_mm;
    const double turned = teeth * kFullTurn / 40.0;
    const Vec2 hole(35.0, 0.0);
    const Vec2 moved(35.0 * std::cos(turned), 35.0 * std::sin(turned));
    CHECK_THAT(miss, WithinAbs((moved - hole).norm(), 1e-9));
    CHECK(miss <= 70.0 + 1e-9);
  }
}

TEST_CASE("Without marks and pins nothing is said of marks that come back") {
  DriveSpec spec = demos::spec_of("harbour-launch");
  CHECK_THAT(check_drive(spec).headline, ContainsSubstring("marks come back"));
  for (PulleySpec& one : spec.pulleys) {
    one.mark_deg.reset();
    one.marks.clear();
    one.pin.reset();
  }
  const CheckAnswer bare = check_drive(spec);
  CHECK(bare.verdict == Verdict::agrees);
  CHECK_THAT(bare.headline, !ContainsSubstring("marks come back"));
  CHECK_THAT(bare.headline, ContainsSubstring("no mark and no pin is given"));
}

TEST_CASE("A crank pin that lets the crank stand beyond the phase limit is a look") {
  DriveSpec spec = demos::spec_of("harbour-launch");
  pulley(spec, "crank").pin = PinSpec{20.0, 0.3, {}, {}, {}};  // asin(0.3 / 40) * 2 = 0.86 deg
  CHECK_FALSE(found(check_drive(spec), "datum-play"));
  pulley(spec, "crank").pin->play_mm = 0.4;  // 1.15 deg
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(found(answer, "datum-play"));
  CHECK(answer.verdict == Verdict::look_again);
  CHECK_THAT(found(answer, "datum-play")->value,
             WithinAbs(2.0 * std::asin(0.4 / 40.0) * 180.0 / kPi, 1e-12));
}

TEST_CASE("Two marks tied to teeth with a remainder beyond the limit are a look") {
  const auto level = [](double mark_deg) {
    DriveSpec spec = drives::worked_example();
    pulley(spec, "water pump").role = Role::water_pump;
    pulley(spec, "crank").mark_on = MarkOn::groove;
    pulley(spec, "cam").mark_on = MarkOn::groove;
    pulley(spec, "cam").mark_deg = mark_deg;
    const std::optional<Finding> remainder = found(check_drive(spec), "drawn-remainder", "cam");
    return remainder ? std::optional(remainder->level) : std::nullopt;
  };
  int looks = 0;
  int notes = 0;
  for (int k = 0; k < 18;
       ++k) {  // two teeth of the cam in half degrees: beyond 0.5 cam deg is a look
    looks += level(k * 0.5) == Level::look ? 1 : 0;
    notes += level(k * 0.5) == Level::note ? 1 : 0;
  }
  CHECK(looks >= 14);
  CHECK(notes >= 1);
  CHECK(looks + notes == 18);
}

TEST_CASE("Geared and auxiliary timed shafts count for the reference run and for teeth in mesh") {
  DriveSpec spec = demos::spec_of("mill-generator");
  CHECK_FALSE(found(check_drive(spec), "reference-run"));
  spec = with_balance_shaft(-1.9);
  pulley(spec, "water pump").at_mm = Vec2(62, 150);
  CHECK_FALSE(found(check_drive(spec), "reference-run"));
  spec.crank_turns = Turn::anticlockwise;
  const CheckAnswer turned = check_drive(spec);
  CHECK(found(turned, "reference-run", "water pump"));
  CHECK(found(turned, "reference-run", "cam"));

  DriveSpec wide = drives::worked_example();
  PulleySpec& pump = pulley(wide, "water pump");
  pump.role = Role::water_pump;
  const std::optional<Finding> note = found(check_drive(wide), "teeth-in-mesh", "water pump");
  REQUIRE(note);
  CHECK(note->level == Level::note);
  pump.role = Role::auxiliary_shaft;
  pump.turns_per_crank = 20.0 / 19.0;
  CHECK(found(check_drive(wide), "teeth-in-mesh", "water pump")->level == Level::look);
}

TEST_CASE("Half a turn out is the crank once round, a tooth at the crank is the crank's") {
  DriveSpec spec = demos::spec_of("harbour-launch");
  spec.build.teeth_out["cam"] = 20;
  CheckAnswer answer = check_drive(spec);
  CHECK(answer.judged.turns->crank_once_round);
  CHECK_THAT(answer.headline, ContainsSubstring("once round"));
  CHECK_THAT(answer.headline, !ContainsSubstring("20 teeth"));

  spec = demos::spec_of("mill-generator");
  spec.build.teeth_out["crank"] = 1;
  answer = check_drive(spec);
  CHECK(answer.judged.turns->cure_at_crank == -1);
  CHECK_THAT(answer.headline, ContainsSubstring("turn the crank 1 tooth back"));
  spec.build.teeth_out["cam"] = 1;  // the pump that drives the balance shaft alone is out now
  answer = check_drive(spec);
  CHECK_FALSE(answer.judged.turns->cure_at_crank);
  CHECK_THAT(
      found(answer, "phase", "balance shaft")->text,
      ContainsSubstring("turn the oil pump, off which the balance shaft is geared, 1 tooth"));
}

TEST_CASE("Slots of the driving pulley cure a geared shaft") {
  DriveSpec spec = with_balance_shaft(-1.9);
  PulleySpec& pump = pulley(spec, "water pump");
  pump.role = Role::auxiliary_shaft;
  pump.turns_per_crank = 20.0 / 19.0;
  pump.fixing = Fixing::adjustable;
  pump.range_deg = 8.0;
  spec.build.adjusted_deg["water pump"] = 3.0;
  const CheckAnswer answer = check_drive(spec);
  for (const Cure& cure : answer.judged.turns->cures) {
    if (answer.judged.turns->assembly.shafts[static_cast<std::size_t>(cure.shaft)].name !=
        "balance shaft") {
      continue;
    }
    CHECK(cure.slots_short_deg == 0.0);
    CHECK_THAT(cure.rest_moved_deg, WithinAbs(-3.0, 1e-9));
    CHECK_THAT(cure.rest_own_deg, WithinAbs(-5.7, 1e-9));
    CHECK_THAT(found(answer, "phase", "balance shaft")->text,
               ContainsSubstring("turn the water pump 3.00 deg of the water pump back in its "
                                 "adjustable pulley"));
    return;
  }
  FAIL("no cure for the balance shaft");
}
