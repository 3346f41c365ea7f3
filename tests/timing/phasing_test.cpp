#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <variant>
#include <vector>

#include "support/assembled.hpp"
#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/worked_values.hpp"
#include "timing/turned.hpp"
#include "twoturn/timing/turns.hpp"

using namespace twoturn;
using turned_over::index_of;
using turned_over::seen;
using turned_over::take_fitting_belt;
using turned_over::turned;

namespace {

constexpr double kExactDeg = 1e-9;  // what is worked out exactly is printed to nine decimals

}  // namespace

TEST_CASE("A belt tooth moved by hand changes every later error") {
  AssemblyResult result = drives::assembled(drives::worked_example());
  const Assembly& assembly = *result.assembly;
  const std::size_t cam = index_of(assembly, "cam");
  RunState state = start_of_run(assembly);
  advance(assembly, state, Angle::degrees(200.0));
  const double before = read_shafts(assembly, state)[cam].shaft.degrees() - 100.0;
  for (Mesh& mesh : state.in_mesh[cam]) mesh.groove += 1;
  for (int k = 201; k <= 1440; k += 13) {
    advance(assembly, state, Angle::degrees(k));
    const double error = read_shafts(assembly, state)[cam].shaft.degrees() - k / 2.0;
    CHECK_THAT(error - before, WithinAbs(-9.0, kExactDeg));  // one tooth of forty, late
  }
}

TEST_CASE("A belt tooth moved at the crank moves every other shaft") {
  AssemblyResult result = drives::assembled(drives::worked_example());
  const Assembly& assembly = *result.assembly;
  const std::size_t cam = index_of(assembly, "cam");
  RunState state = start_of_run(assembly);
  for (Mesh& mesh : state.in_mesh[0]) mesh.groove += 1;
  advance(assembly, state, Angle::degrees(720.0));
  CHECK_THAT(read_shafts(assembly, state)[cam].shaft.degrees() - 360.0, WithinAbs(9.0, kExactDeg));
}

TEST_CASE("The run and the pure state agree at any angle, either way, at any step") {
  AssemblyResult result = drives::assembled(drives::worked_example());
  const Assembly& assembly = *result.assembly;
  const double step = GENERATE(0.37, 1.0, 17.3, 18.0, 90.0, 1000.0);
  const double way = GENERATE(1.0, -1.0);
  RunState state = start_of_run(assembly);
  for (int k = 1; k <= 40; ++k) {
    const Angle crank = Angle::degrees(way * k * step);
    advance(assembly, state, crank);
    REQUIRE(state == state_at(assembly, crank));
  }
  advance(assembly, state, Angle());
  CHECK(state == start_of_run(assembly));
}

TEST_CASE("A skim of 0.3 retards the worked example's cam as its tight way says") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  const TurnsAnswer answer = turned(spec);
  const ShaftAfter& cam = seen(answer, "cam", 2);
  CHECK_THAT(cam.error_own_deg, WithinAbs(-worked::kLateOwnDeg, worked::kLateHalfDigitDeg));
  CHECK_THAT(cam.error_crank_deg,
             WithinAbs(-2.0 * worked::kLateOwnDeg, 2.0 * worked::kLateHalfDigitDeg));
  CHECK_THAT(answer.assembly.fitted_setting->reading.value,
             WithinAbs(worked::kSkimmedSetDeg, worked::kHalfDigitDeg));
  CHECK(answer.patterns[index_of(answer.assembly, "cam")] == Pattern::repeats);
}

TEST_CASE("In-line skims retard the cam by the exact two-pulley values") {
  // Exact: crank and cam in one line, taut run on one side, centre C to C - d. With k = r2 - r1 the
  // run and the two arcs between marks are C - d long each side: span sqrt(C^2 - k^2), turned by
  // asin(k/C); the cam lags by the change of span + k asin(k/C) over r2.
  const worked::InLineSkim row = GENERATE(from_range(worked::kInLineSkims));
  DriveSpec spec =
      drives::two_pulleys(row.pitch_mm, row.crank_teeth, row.cam_teeth, row.centre_mm, 100);
  spec.crank_turns = GENERATE(Turn::clockwise, Turn::anticlockwise);
  spec.build.skim_mm["head"] = row.skim_mm;
  const TurnsAnswer answer = turned(spec);
  CHECK_THAT(seen(answer, "cam", 2).error_own_deg, WithinAbs(-row.cam_deg, kExactDeg));
  CHECK_THAT(seen(answer, "cam", 2).error_crank_deg, WithinAbs(-row.crank_deg, 2 * kExactDeg));
}

TEST_CASE("A thicker gasket does the same the other way, and a block skim the same as a head's") {
  DriveSpec spec = drives::two_pulleys(8, 22, 44, 300, 100);
  spec.build.skim_mm["head"] = 0.2;
  const double skim = seen(turned(spec), "cam", 2).error_own_deg;
  spec.build = {};
  spec.build.block_skim_mm["head"] = 0.2;
  CHECK_THAT(seen(turned(spec), "cam", 2).error_own_deg, WithinAbs(skim, kExactDeg));
  spec.build.gasket_change_mm["head"] = 0.2;
  CHECK_THAT(seen(turned(spec), "cam", 2).error_own_deg, WithinAbs(0.0, kExactDeg));
  spec.build.block_skim_mm.clear();
  CHECK(seen(turned(spec), "cam", 2).error_own_deg > 0.0);
}

TEST_CASE("What lies on the slack side does not reach the phasing") {
  // Exact: the reference way holds neither tensioner nor anything before it.
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  const double with_60 = seen(turned(spec), "cam", 2).error_own_deg;
  spec.build.renewed["tensioner"].diameter_mm = 61.0;
  CHECK_THAT(seen(turned(spec), "cam", 2).error_own_deg, WithinAbs(with_60, 1e-10));
}

TEST_CASE("A wrong pump on the tight side shifts the cam after it") {
  // Common practice: on the tight side every cam after a wrong pump shifts.
  DriveSpec spec = drives::worked_example();
  spec.build.renewed["water pump"].teeth = 20;
  CHECK(std::abs(seen(turned(spec), "cam", 2).error_own_deg) > 0.05);
}

TEST_CASE("One tooth at a forty-tooth cam is 9 cam degrees and 18 crank degrees") {
  // Common practice, and exact: 360/40, and a cam turns once for two turns of the crank.
  DriveSpec spec = drives::worked_example();
  spec.build.teeth_out["cam"] = -1;
  const TurnsAnswer answer = turned(spec);
  for (const int turns : {0, 1, 2, 4}) {
    const ShaftAfter& cam = seen(answer, "cam", turns);
    CHECK_THAT(cam.error_own_deg, WithinAbs(-9.0, kExactDeg));
    CHECK_THAT(cam.error_crank_deg, WithinAbs(-18.0, kExactDeg));
    CHECK_THAT(cam.error_teeth, WithinAbs(-1.0, kExactDeg));
    CHECK_THAT(cam.error_edge_mm.value(), WithinAbs(-9.525, kExactDeg));
  }
  REQUIRE(answer.cures.size() == 1);
  CHECK(answer.cures[0].teeth_on == 1);
  CHECK(answer.cures[0].rest_own_deg == 0.0);
}

TEST_CASE("The crank a tooth on makes every other shaft a tooth late, and is cured at the crank") {
  // Common practice: cams agree with each other, all out to the crank.
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "water pump").teeth = 40;
  drives::named(spec, "water pump").role = Role::injection_pump;
  drives::named(spec, "water pump").mark_deg = 90.0;
  take_fitting_belt(spec);
  spec.build.teeth_out["crank"] = 1;
  const TurnsAnswer answer = turned(spec);
  CHECK_THAT(seen(answer, "cam", 2).error_teeth, WithinAbs(-1.0, kExactDeg));
  CHECK_THAT(seen(answer, "water pump", 2).error_teeth, WithinAbs(-1.0, kExactDeg));
  REQUIRE(answer.cure_at_crank.has_value());
  CHECK(*answer.cure_at_crank == -1);
}

TEST_CASE("After one turn the cam's mark stands opposite and no pin is due") {
  // Common practice: at one turn the cam marks stand opposite.
  const TurnsAnswer answer = turned(drives::worked_example());
  CHECK_THAT(*seen(answer, "cam", 1).mark_deg, WithinAbs(180.0, 1e-9));
  CHECK(seen(answer, "cam", 1).pin == PinState::not_due);
  CHECK_THAT(*seen(answer, "crank", 1).mark_deg, WithinAbs(180.0, 1e-9));
  CHECK(seen(answer, "cam", 2).pin == PinState::in);
  CHECK_THAT(std::remainder(*seen(answer, "cam", 2).mark_deg, 360.0), WithinAbs(0.0, 1e-9));
}

TEST_CASE("A pin goes in up to its play, is tight a tenth more, then out") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  const double miss = std::abs(Angle::degrees(worked::kLateOwnDeg).radians()) * 35.0;
  PinSpec& pin = *drives::named(spec, "cam").pin;
  pin.play_mm = miss + 0.001;
  CHECK(seen(turned(spec), "cam", 2).pin == PinState::in);
  pin.play_mm = miss - 0.001;
  CHECK(seen(turned(spec), "cam", 2).pin == PinState::tight);
  pin.play_mm = miss - 0.101;
  CHECK(seen(turned(spec), "cam", 2).pin == PinState::out);
  CHECK_THAT(*seen(turned(spec), "cam", 2).miss_mm, WithinAbs(miss, 1e-4));
}

TEST_CASE("A bar turns in its slot until its corners touch") {
  // Exact: length sin t + bar cos t = slot.
  const Pin pin = pin_of_bar(4.9, 5.0, 60.0);
  const double t = Angle::degrees(pin.play_deg).radians();
  CHECK_THAT(60.0 * std::sin(t) + 4.9 * std::cos(t), WithinAbs(5.0, 1e-12));
  CHECK_THAT(pin.play_mm, WithinAbs(60.0 * std::sin(t / 2.0), 1e-12));  // straight across
}

TEST_CASE("A pulley free until tightened turns on its shaft and the shaft stays in phase") {
  // Common practice: both shafts are held while the belt is tensioned.
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  drives::named(spec, "cam").fixing = Fixing::free_until_tightened;
  const TurnsAnswer answer = turned(spec);
  CHECK(seen(answer, "cam", 2).error_own_deg == 0.0);
  const ShaftFit& fit = answer.assembly.fits[index_of(answer.assembly, "cam")];
  CHECK_THAT(fit.turned_on_shaft_deg, WithinAbs(-worked::kLateOwnDeg, worked::kLateHalfDigitDeg));
}

TEST_CASE("An adjustable pulley takes the rest out, or its slots run out by so much") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  PulleySpec& cam = drives::named(spec, "cam");
  cam.fixing = Fixing::adjustable;
  cam.range_deg = 0.2;
  cam.key_radius_mm = 20.0;
  const TurnsAnswer answer = turned(spec);
  REQUIRE(answer.cures.size() == 1);
  CHECK_THAT(*answer.cures[0].slots_short_deg,
             WithinAbs(worked::kLateOwnDeg - 0.2, worked::kLateHalfDigitDeg));
  CHECK_THAT(*answer.cures[0].key_offset_mm,
             WithinAbs(Angle::degrees(worked::kLateOwnDeg).radians() * 20.0, 2e-5));
  cam.range_deg = 5.0;
  spec.build.adjusted_deg["cam"] = answer.cures[0].rest_own_deg;
  CHECK_THAT(seen(turned(spec), "cam", 2).error_own_deg, WithinAbs(0.0, kExactDeg));
}

TEST_CASE("A wrong tooth count on a timed pulley wanders, further each two turns") {
  // Common practice: marks wander, further each two turns.
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "cam").teeth = 39;
  take_fitting_belt(spec);
  const TurnsAnswer answer = turned(spec);
  CHECK(answer.patterns[index_of(answer.assembly, "cam")] == Pattern::wanders);
  // Exact: 40 belt teeth turn a 39-tooth pulley a tooth too far in two crank turns.
  CHECK_THAT(seen(answer, "cam", 2).error_own_deg, WithinAbs(360.0 / 39, kExactDeg));
  CHECK_THAT(seen(answer, "cam", 4).error_own_deg, WithinAbs(720.0 / 39, kExactDeg));
}

TEST_CASE("A geared shaft follows the pulley that drives it, teeth and all") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "water pump").teeth = 20;
  drives::named(spec, "water pump").role = Role::oil_pump;
  take_fitting_belt(spec);
  GearedSpec balance;
  balance.name = "balance shaft";
  balance.from = "water pump";
  balance.ratio = -2.0;
  balance.role = Role::balance_shaft;
  balance.mark_deg = 30.0;
  spec.geared = {balance};
  const TurnsAnswer right = turned(spec);
  CHECK(seen(right, "balance shaft", 2).error_own_deg == 0.0);
  CHECK_THAT(*seen(right, "balance shaft", 1).mark_deg, WithinAbs(30.0, 1e-9));
  spec.build.teeth_out["water pump"] = 1;
  const TurnsAnswer out = turned(spec);
  CHECK_THAT(seen(out, "balance shaft", 2).error_own_deg, WithinAbs(36.0, kExactDeg));
  CHECK_THAT(seen(out, "balance shaft", 2).error_teeth, WithinAbs(1.0, kExactDeg));
  // A mark whose radius nobody gave has no edge; at 10 mm 36 deg are a fifth of pi times it.
  CHECK_FALSE(seen(out, "balance shaft", 2).error_edge_mm.has_value());
  spec.geared.front().mark_radius_mm = 10.0;
  CHECK_THAT(seen(turned(spec), "balance shaft", 2).error_edge_mm.value(),
             WithinAbs(10.0 * kPi / 5.0, 1e-9));
}

TEST_CASE("Turned backwards the errors are the same ones") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = 0.3;
  AssemblyResult result = drives::assembled(spec);
  TurnsQuestion question;
  question.running = Running::backwards;
  const TurnsAnswer back = two_turns(std::move(*result.assembly), question);
  CHECK_THAT(seen(back, "cam", -2).error_own_deg,
             WithinAbs(-worked::kLateOwnDeg, worked::kLateHalfDigitDeg));
}

TEST_CASE("Paint meets again after as many turns as the counts say") {
  // Common practice, and exact: lcm(belt, crank, cam)/crank turns.
  CHECK(paint_after_two(111, 20, {40}).teeth_further_on == 40);
  CHECK(paint_after_two(111, 20, {40}).all_meet_turns == 222);
  CHECK(paint_after_two(120, 20, {40}).all_meet_turns == 6);
  CHECK(paint_after_two(121, 22, {44}).all_meet_turns == 22);
  // Primes share nothing: their products leave every whole number behind.
  const std::vector<int> primes{199, 197, 193, 191, 181, 179, 173, 167, 163, 157};
  CHECK_FALSE(paint_after_two(211, 20, primes).all_meet_turns);
  CHECK(paint_after_two(211, 20, {199, 197}).all_meet_turns == 211LL * 199 * 197);
}

TEST_CASE("Teeth tied to marks leave the drawn drive a remainder of its own, kept apart") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "crank").mark_on = MarkOn::groove;
  drives::named(spec, "cam").mark_on = MarkOn::tooth;
  const TurnsAnswer drawn = turned(spec, Fit::by_the_book);
  const ShaftFit& fit = drawn.assembly.fits[index_of(drawn.assembly, "cam")];
  CHECK(std::abs(fit.drawn_remainder_teeth) <= 0.5);
  CHECK(std::abs(fit.drawn_remainder_teeth) > 1e-6);
  CHECK(seen(drawn, "cam", 2).error_own_deg == 0.0);
  // From a tooth to a groove is half a tooth.
  drives::named(spec, "cam").mark_on = MarkOn::groove;
  const TurnsAnswer other = turned(spec, Fit::by_the_book);
  const double apart = other.assembly.fits[index_of(other.assembly, "cam")].drawn_remainder_teeth -
                       fit.drawn_remainder_teeth;
  CHECK_THAT(std::abs(std::remainder(apart, 1.0)), WithinAbs(0.5, 1e-9));
  // Untied at one end, the teeth can be cut to suit, and are.
  drives::named(spec, "crank").mark_on = MarkOn::as_made;
  const TurnsAnswer suited = turned(spec, Fit::by_the_book);
  CHECK_THAT(suited.assembly.fits[index_of(suited.assembly, "cam")].drawn_remainder_teeth,
             WithinAbs(0.0, 1e-9));
}

TEST_CASE("Belt teeth between marks add up round the belt") {
  DriveSpec spec = drives::worked_example();
  const TurnsAnswer answer = turned(spec);
  REQUIRE(answer.between_marks.size() == 1);
  const TeethBetween& count = answer.between_marks[0].count;
  CHECK(count.from_in_mesh);
  CHECK(count.to_in_mesh);
  CHECK_THAT(count.teeth + *count.other_way, WithinAbs(111.0, 1e-12));
  // Exact: moving the cam's mark a tooth on takes a tooth off the way.
  drives::named(spec, "cam").mark_deg = 9.0;
  CHECK_THAT(turned(spec).between_marks[0].count.teeth, WithinAbs(count.teeth - 1.0, 1e-9));
}

TEST_CASE("A mark clear of the belt says so and is counted from the last tooth in mesh") {
  DriveSpec spec = drives::worked_example();
  drives::named(spec, "crank").mark_deg = 0.0;
  const TeethBetween count = turned(spec).between_marks.at(0).count;
  CHECK_FALSE(count.from_in_mesh);
  CHECK(count.to_in_mesh);
  CHECK_FALSE(count.other_way.has_value());
}

TEST_CASE("A timed pulley on the belt's back turns the other way and keeps its phase") {
  // A double-sided belt: the shaft runs against the crank, and its mark goes round that way.
  DriveSpec spec = drives::worked_example();
  spec.belt.double_sided = true;
  PulleySpec& roller = drives::named(spec, "tensioner");
  roller.diameter_mm.reset();
  roller.teeth = 20;
  roller.role = Role::auxiliary_shaft;
  roller.turns_per_crank = 1.0;
  roller.mark_deg = 70.0;
  take_fitting_belt(spec);
  AssemblyResult result = drives::assembled(spec);
  REQUIRE(result.assembly.has_value());
  const Assembly& assembly = *result.assembly;
  const std::size_t shaft = index_of(assembly, "tensioner");
  CHECK(assembly.shafts[shaft].sense == -assembly.crank().sense);
  CHECK(assembly.fits[shaft].reference == Way::against_travel);  // its own tensioner: tight side
  const TurnsAnswer answer = two_turns(*result.assembly, TurnsQuestion{});
  CHECK(seen(answer, "tensioner", 2).error_own_deg == 0.0);
  RunState state = start_of_run(assembly);
  advance(assembly, state, Angle::degrees(30.0));
  CHECK_THAT(read_shafts(assembly, state)[shaft].pulley.degrees(), WithinAbs(30.0, kExactDeg));
}

TEST_CASE("Mirrored, or listed the other way round, a drive has the same errors") {
  // Invariance: mirroring a drive and its direction mirrors nothing that an error says.
  DriveSpec spec = drives::worked_example();
  spec.heads[0].deck_deg = 25.0;
  spec.build.skim_mm["head"] = 0.3;
  const double error = seen(turned(spec), "cam", 2).error_own_deg;
  DriveSpec mirror = spec;
  mirror.crank_turns = Turn::anticlockwise;
  mirror.heads[0].deck_deg = 335.0;
  for (PulleySpec& pulley : mirror.pulleys) {
    if (pulley.at_mm) pulley.at_mm->x() = -pulley.at_mm->x();
    if (pulley.mark_deg) pulley.mark_deg = 360.0 - *pulley.mark_deg;
    if (!pulley.tensioner) continue;
    SwingSpec& swing = std::get<SwingSpec>(pulley.tensioner->path);
    swing.pivot_mm->x() = -swing.pivot_mm->x();
    swing.slack_deg = 360.0 - *swing.slack_deg;
    swing.tight_deg = 360.0 - *swing.tight_deg;
    swing.tightens = Turn::anticlockwise;
    pulley.tensioner->set_deg = 360.0 - *pulley.tensioner->set_deg;
  }
  CHECK_THAT(seen(turned(mirror), "cam", 2).error_own_deg, WithinAbs(error, kExactDeg));
  // A list that starts elsewhere or runs the other way round is the same drive.
  DriveSpec reversed = spec;
  std::reverse(reversed.pulleys.begin(), reversed.pulleys.end());
  CHECK_THAT(seen(turned(reversed), "cam", 2).error_own_deg, WithinAbs(error, kExactDeg));
}
