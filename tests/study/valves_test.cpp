#include "twoturn/study/valves.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>
#include <string>

#include "support/catch.hpp"
#include "support/demos.hpp"
#include "support/drives.hpp"
#include "support/oracle_engine.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/engine_curves.hpp"
#include "twoturn/study/skim.hpp"

using namespace twoturn;

namespace {

using drives::four;
using drives::valve;

const ValveAnswer& named(const CheckAnswer& answer, const std::string& name) {
  REQUIRE(answer.engine.valves);
  for (const ValveAnswer& one : answer.engine.valves->valves) {
    if (one.name == name) return one;
  }
  throw std::out_of_range("no valve is named " + name);
}

const ValveRoom& at_teeth(const ValveAnswer& answer, int teeth) {
  for (const ValveRoomAtTeeth& out : answer.teeth) {
    if (out.teeth_out == teeth) return out.room;
  }
  throw std::out_of_range("no room at " + std::to_string(teeth) + " teeth out");
}

bool has(const CheckAnswer& answer, const char* code, Level level) {
  return std::any_of(answer.findings.begin(), answer.findings.end(), [&](const Finding& finding) {
    return finding.code == code && finding.level == level;
  });
}

bool open(const CheckAnswer& answer, std::string_view key) {
  return std::any_of(answer.not_checked.begin(), answer.not_checked.end(),
                     [key](const Missing& missing) { return missing.key == key; });
}

// The example's inlet valve as the oracle has it: centre midway, flanks alike.
oracle::Valve oracle_inlet(double room_tdc) {
  return {oracle::polynomial_345, 9.0L, 0.0L, (180.0L + 52.0L - 12.0L) / 2, 122.0L, 122.0L, 1.0L,
          oracle::real(room_tdc)};
}

const oracle::Piston kPiston{43.0L, 143.0L, 0.0L};

}  // namespace

TEST_CASE("Trade timing becomes the right lobe: the room is that of an independent computation") {
  const CheckAnswer answer = check_drive(four(), Fit::by_the_book);
  const oracle::Least least = oracle::least_room(kPiston, oracle_inlet(5.0), 0);
  CHECK_THAT(named(answer, "inlet").fitted.least_mm,
             WithinAbs(static_cast<double>(least.room), 1e-6));
  CHECK_THAT(named(answer, "inlet").fitted.at_deg,
             WithinAbs(static_cast<double>(least.at_deg), 1e-2));
}

TEST_CASE("Inlet and exhaust with mirrored timing have the same room, mirrored in time") {
  const CheckAnswer answer = check_drive(four(), Fit::by_the_book);
  const ValveAnswer& inlet = named(answer, "inlet");
  const ValveAnswer& exhaust = named(answer, "exhaust");
  CHECK_THAT(inlet.fitted.least_mm, WithinAbs(exhaust.fitted.least_mm, 1e-9));
  CHECK_THAT(inlet.fitted.at_deg, WithinAbs(-exhaust.fitted.at_deg, 1e-4));
  for (int teeth = -kMostTeethOut; teeth <= kMostTeethOut; ++teeth) {
    CHECK_THAT(at_teeth(inlet, teeth).least_mm,
               WithinAbs(at_teeth(exhaust, -teeth).least_mm, 1e-9));
  }
}

TEST_CASE("A tooth of a 40-tooth cam pulley is 18 crank deg, and each tooth is taken whole") {
  // Common practice.
  const CheckAnswer answer = check_drive(four(), Fit::by_the_book);
  const ValveAnswer& inlet = named(answer, "inlet");
  REQUIRE(inlet.tooth_crank_deg);
  CHECK_THAT(*inlet.tooth_crank_deg, WithinAbs(18.0, 1e-12));
  REQUIRE(inlet.teeth.size() == 9);
  for (int teeth = -4; teeth <= 4; ++teeth) {
    const oracle::Least least =
        oracle::least_room(kPiston, oracle_inlet(5.0), static_cast<oracle::Real>(18 * teeth));
    CHECK_THAT(at_teeth(inlet, teeth).least_mm, WithinAbs(static_cast<double>(least.room), 1e-6));
  }
  // An early inlet comes nearer, a late one goes away.
  CHECK(at_teeth(inlet, 1).least_mm < at_teeth(inlet, 0).least_mm);
  CHECK(at_teeth(inlet, -1).least_mm > at_teeth(inlet, 0).least_mm);
}

TEST_CASE("A skim brings the valves nearer by itself and turns the cam late as two turns show") {
  DriveSpec spec = four();
  spec.build.skim_mm["head"] = 0.3;
  const CheckAnswer answer = check_drive(spec);
  const ValveAnswer& inlet = named(answer, "inlet");
  const ValveAnswer& exhaust = named(answer, "exhaust");
  CHECK(inlet.nearer_mm == 0.3);
  CHECK_THAT(inlet.nearer.least_mm, WithinAbs(inlet.book.least_mm - 0.3, 1e-9));
  // The design's own check of the drive: 0.5620 crank deg late.
  CHECK_THAT(inlet.fitted.error_crank_deg, WithinAbs(-0.5620, 5e-5));
  CHECK(inlet.phase_from == PhaseFrom::two_turns);
  CHECK(inlet.fitted.least_mm > inlet.nearer.least_mm);
  CHECK(exhaust.fitted.least_mm < exhaust.nearer.least_mm);
  const oracle::Least least =
      oracle::least_room(kPiston, oracle_inlet(4.7), oracle::real(inlet.fitted.error_crank_deg));
  CHECK_THAT(inlet.fitted.least_mm, WithinAbs(static_cast<double>(least.room), 1e-6));
}

TEST_CASE("A thicker gasket takes the valves away, a skimmed block brings them nearer") {
  DriveSpec spec = four();
  spec.build.gasket_change_mm["head"] = 0.2;
  spec.build.block_skim_mm["head"] = 0.05;
  CHECK_THAT(named(check_drive(spec), "inlet").nearer_mm, WithinAbs(-0.15, 1e-12));
  CHECK(named(check_drive(spec, Fit::by_the_book), "inlet").nearer_mm == 0.0);
}

TEST_CASE("Teeth out stand in the grid's own row, with the skim's rest beside them") {
  DriveSpec spec = four();
  spec.build.skim_mm["head"] = 0.3;
  spec.build.teeth_out["cam"] = 2;
  const ValveAnswer inlet = named(check_drive(spec), "inlet");
  CHECK(inlet.fitted_teeth_out == 2);
  CHECK_THAT(inlet.rest_crank_deg, WithinAbs(-0.5620, 5e-5));
  CHECK(at_teeth(inlet, 2).least_mm == inlet.fitted.least_mm);
  CHECK_THAT(at_teeth(inlet, 0).error_crank_deg, WithinAbs(-0.5620, 5e-5));
}

TEST_CASE("The crank a tooth early makes every valve late") {
  DriveSpec spec = four();
  spec.build.teeth_out["crank"] = 1;
  CHECK_THAT(named(check_drive(spec), "inlet").fitted.error_crank_deg, WithinAbs(-18.0, 1e-9));
  // And the same from counts alone, where the drive's places are not known.
  drives::named(spec, "water pump").at_mm.reset();
  const ValveAnswer inlet = named(check_drive(spec), "inlet");
  CHECK(inlet.phase_from == PhaseFrom::counts);
  CHECK_THAT(inlet.fitted.error_crank_deg, WithinAbs(-18.0, 1e-9));
}

TEST_CASE("A touching valve is a stop, with the cylinder that meets first and where") {
  DriveSpec spec = four();
  spec.valves[0].room_tdc_mm = 0.5;
  spec.build.teeth_out["cam"] = 2;
  const CheckAnswer answer = check_drive(spec);
  CHECK(answer.verdict == Verdict::stop);
  CHECK(has(answer, "valve-touches", Level::stop));
  const ValveRoom room = named(answer, "inlet").fitted;
  CHECK(room.stands == RoomStands::touches);
  REQUIRE(room.touches_from_deg);
  CHECK(*room.touches_from_deg < room.at_deg);
  // Pins in at 90: cylinder 2 fires at 540, so its overlap lies at 180, and is the next to come.
  REQUIRE(room.where);
  CHECK(room.where->cylinder == 2);
  CHECK_THAT(room.where->crank_deg, WithinAbs(180.0 + *room.touches_from_deg, 1e-9));
}

TEST_CASE("Less room than the limit is looked at, and the limit is an input") {
  DriveSpec spec = four();
  const double least = named(check_drive(spec, Fit::by_the_book), "inlet").book.least_mm;
  spec.valves[0].room_tdc_mm = 5.0 - least + 1.99;  // common practice: 2.0 at an inlet valve
  CHECK(has(check_drive(spec), "valve-room", Level::look));
  CHECK(check_drive(spec).verdict == Verdict::look_again);
  spec.limits.inlet_room_mm = 1.9;
  CHECK_FALSE(has(check_drive(spec), "valve-room", Level::look));
  spec.valves[1].room_tdc_mm = 5.0 - least + 2.4;  // common practice: 2.5 at an exhaust valve
  CHECK(has(check_drive(spec), "valve-room", Level::look));
}

TEST_CASE("Valves by numbers take the place of interference not known") {
  DriveSpec spec = four();
  spec.engine.interference.reset();
  CheckAnswer answer = check_drive(spec);
  CHECK_FALSE(has(answer, "interference-unknown", Level::note));
  CHECK_FALSE(open(answer, "engine.interference"));
  CHECK(has(answer, "interference", Level::note));
  spec.valves.pop_back();  // no exhaust valve: not known after all
  answer = check_drive(spec);
  CHECK(has(answer, "interference-unknown", Level::note));
  CHECK(open(answer, "engine.interference"));
}

TEST_CASE("Said to be free of interference against the numbers is looked at") {
  DriveSpec spec = four();
  spec.engine.interference = false;
  CHECK(has(check_drive(spec), "interference-contradicts", Level::look));
  for (ValveSpec& one : spec.valves) one.room_tdc_mm = 12.0;
  const CheckAnswer answer = check_drive(spec);
  CHECK_FALSE(has(answer, "interference-contradicts", Level::look));
  CHECK(has(answer, "no-interference", Level::note));
  CHECK_FALSE(answer.engine.valves->can_meet);
}

TEST_CASE("What a valve lacks is asked for, one measurement each, and nothing is made up") {
  struct Row {
    void (*take)(DriveSpec&);
    const char* key;
  };
  const Row rows[] = {
      {[](DriveSpec& spec) {
         spec.engine.cylinders.reset(), spec.engine.crank_pins_deg.clear(),
             spec.engine.firing_order.clear();
       },
       "engine.cylinders"},
      {[](DriveSpec& spec) { spec.engine.stroke_mm.reset(); }, "engine.stroke_mm"},
      {[](DriveSpec& spec) { spec.engine.rod_mm.reset(); }, "engine.rod_mm"},
      {[](DriveSpec& spec) { spec.valves[0].side.reset(); }, "valve.inlet.side"},
      {[](DriveSpec& spec) { spec.valves[0].lift_mm.reset(); }, "valve.inlet.lift_mm"},
      {[](DriveSpec& spec) { spec.valves[0].opens_deg.reset(); }, "valve.inlet.opens_deg"},
      {[](DriveSpec& spec) { spec.valves[0].room_tdc_mm.reset(); }, "valve.inlet.room_tdc_mm"},
      {[](DriveSpec& spec) { spec.valves.clear(); }, "valve"},
      {[](DriveSpec& spec) { spec.engine.firing_order.clear(); }, "engine.firing_order"},
      {[](DriveSpec& spec) { spec.engine.timing_position_deg.reset(); },
       "engine.timing_position_deg"},
      {[](DriveSpec& spec) { spec.valves[0].law.reset(); }, "valve.inlet.table"},
      {[](DriveSpec& spec) { spec.valves[0].cam.reset(); }, "valve.inlet.cam"}};
  CHECK_FALSE(open(check_drive(four()), "valve"));
  for (const Row& row : rows) {
    DriveSpec spec = four();
    row.take(spec);
    CAPTURE(row.key);
    CHECK(open(check_drive(spec), row.key));
  }
}

TEST_CASE("An unknown crown is taken as a pocket, the nearer of the two") {
  DriveSpec spec = four();
  spec.valves[0].valve_deg = 20.0;
  const double flat = named(check_drive(spec), "inlet").book.least_mm;
  spec.valves[0].crown = CrownShape::pocket;
  const double pocket = named(check_drive(spec), "inlet").book.least_mm;
  spec.valves[0].crown.reset();
  CHECK(named(check_drive(spec), "inlet").book.least_mm == pocket);
  CHECK(pocket < flat);
}

TEST_CASE("Clay is square to the pocket: along the bore it is more by the cosine") {
  DriveSpec spec = four();
  spec.valves[0].room_tdc_mm.reset();
  spec.valves[0].clay_mm = 2.0;
  spec.valves[0].valve_deg = 60.0;  // exact: half
  spec.valves[0].crown = CrownShape::pocket;
  CHECK_THAT(named(check_drive(spec), "inlet").book.least_mm, WithinAbs(4.0, 1e-9));
  spec.valves[0].crown = CrownShape::flat;
  CHECK_THAT(named(check_drive(spec), "inlet").book.least_mm, WithinAbs(2.0, 1e-9));
}

TEST_CASE("Timing at a stated lift, at valve or cam, with lash, is met where it is stated") {
  DriveSpec spec = four();
  spec.valves[0].lash_mm = 0.3;
  spec.valves[0].timed_at_lift_mm = 1.0;
  const auto lift_at_opening = [&] {
    const EngineCurves curves = engine_curves(spec, Fit::by_the_book, nullptr, 1, 1.0);
    return curves.valves.front().lift_mm[360 - 12];
  };
  CHECK_THAT(lift_at_opening(), WithinAbs(1.0, 1e-9));
  // At the cam, 1 mm through a rocker of 1.5, less the lash at the valve.
  spec.valves[0].timed_at = LiftAtPart::cam;
  spec.valves[0].rocker_ratio = 1.5;
  spec.valves[0].lift_mm.reset();
  spec.valves[0].cam_lift_mm = 6.2;
  CHECK_THAT(lift_at_opening(), WithinAbs(1.5 - 0.3, 1e-9));
  CHECK_THAT(named(check_drive(spec), "inlet").greatest_lift_mm, WithinAbs(9.0, 1e-12));
}

TEST_CASE("A four pinned at 90 has its pistons level and below half stroke") {
  // Common practice, and exact: 49.618 mm down of 86.
  const CheckAnswer answer = check_drive(four());
  REQUIRE(answer.engine.pistons);
  REQUIRE(answer.engine.pistons->at_pins);
  for (const PistonPlace& place : answer.engine.pistons->at_pins->places) {
    CHECK_THAT(place.depth_mm, WithinAbs(49.61818303, 5e-9));
    CHECK_THAT(place.below_half_mm, WithinAbs(6.61818303, 5e-9));
  }
}

TEST_CASE("A skim's compression ratio is told by the book, before it and after it") {
  DriveSpec spec = four();
  spec.engine.bore_mm = 80.0;
  spec.engine.compression_ratio = 9.0;
  spec.build.skim_mm["head"] = 0.1;
  SkimQuestion question;
  question.head = "head";
  question.skim_mm = 0.2;
  const SkimAnswer answer = skim_consequences(spec, question);
  REQUIRE(answer.compression);
  // Exact: what is left is an eighth of the stroke high over the bore, less the metal taken off.
  const double high = 86.0 / 8.0;
  CHECK_THAT(answer.compression->ratio.value_or(0.0), WithinAbs(9.0, 1e-12));
  CHECK_THAT(answer.ratio_before.value_or(0.0), WithinAbs(1.0 + 86.0 / (high - 0.1), 1e-9));
  CHECK_THAT(answer.compression->ratio_after.value_or(0.0),
             WithinAbs(1.0 + 86.0 / (high - 0.3), 1e-9));
}

TEST_CASE("A parked four goes to its pins without turning, and over a dead centre it may not") {
  const CheckAnswer answer = check_drive(four());
  REQUIRE(answer.engine.park);
  const ParkAnswer& park = *answer.engine.park;
  CHECK(park.best_is_clear);
  CHECK_THAT(park.best_deg, WithinAbs(90.0, 1e-4));
  CHECK(park.best_is_timing);
  CHECK(park.ways.empty());
  CHECK(park.timing_spare_mm.value_or(0.0) > 0.0);
  DriveSpec spec = four();
  spec.engine.timing_position_deg = 0.0;
  spec.valves[0].lobe_centre_deg = 110.0;  // cylinder 4 stands at overlap with pins in
  const CheckAnswer at_top = check_drive(spec);
  REQUIRE(at_top.engine.park);
  CHECK(*at_top.engine.park->timing_spare_mm < 0.0);
  REQUIRE(at_top.engine.park->ways.size() == 2);
  // From 90: forwards over two dead centres, backwards over none.
  CHECK_THAT(at_top.engine.park->ways[0].turn_deg, WithinAbs(270.0, 1e-3));
  CHECK_THAT(at_top.engine.park->ways[1].turn_deg, WithinAbs(90.0, 1e-3));
}

TEST_CASE("Five cylinders of usual sizes have no place to park, and that is an answer") {
  DriveSpec spec = four();
  spec.engine.cylinders = 5;
  spec.engine.crank_pins_deg.clear();
  spec.engine.firing_order = {1, 2, 4, 5, 3};
  for (ValveSpec& one : spec.valves) one.room_tdc_mm = 1.0;
  const CheckAnswer answer = check_drive(spec);
  REQUIRE(answer.engine.park);
  CHECK_FALSE(answer.engine.park->best_is_clear);
  CHECK(answer.engine.park->clear.empty());
  CHECK(answer.engine.park->ways.empty());
}

TEST_CASE("Curves are the room's own: their least is the answer's, over two whole turns") {
  const DriveSpec spec = demos::spec_of("night-bakery-van");
  const CheckAnswer answer = check_drive(spec);
  const EngineCurves curves = engine_curves(spec, Fit::as_fitted, &*answer.judged.turns, 3, 0.1);
  REQUIRE(curves.valves.size() == 2);
  CHECK(curves.crank_deg.size() == 7201);
  for (const ValveCurve& curve : curves.valves) {
    const double least = *std::min_element(curve.room_mm.begin(), curve.room_mm.end());
    const double book = *std::min_element(curve.book_room_mm.begin(), curve.book_room_mm.end());
    CHECK_THAT(least, WithinAbs(named(answer, curve.name).fitted.least_mm, 1e-3));
    CHECK_THAT(book, WithinAbs(named(answer, curve.name).book.least_mm, 1e-3));
    CHECK(least >= named(answer, curve.name).fitted.least_mm - 1e-9);
  }
  const std::vector<double>& lift = curves.valves.front().lift_mm;
  CHECK_THAT(*std::max_element(lift.begin(), lift.end()),
             WithinAbs(named(answer, curves.valves.front().name).greatest_lift_mm, 1e-3));
}

TEST_CASE("Curves tell where the crank stands with pins in, and when each piston comes up") {
  // Pinned at 90 past cylinder 1's firing dead centre, firing 1 3 4 2: cylinder 3 fires at 180.
  const DriveSpec spec = demos::spec_of("night-bakery-van");
  const CheckAnswer answer = check_drive(spec);
  const EngineCurves curves = engine_curves(spec, Fit::as_fitted, &*answer.judged.turns, 3, 2.0);
  REQUIRE(curves.at_pins_deg);
  CHECK_THAT(*curves.at_pins_deg, WithinAbs(90.0 - 180.0 + 720.0, 1e-9));
  REQUIRE(curves.tops.size() == 4);
  for (const CylinderTop& top : curves.tops) {
    const bool outer = top.cylinder == 1 || top.cylinder == 4;
    CHECK_THAT(top.crank_deg, WithinAbs(outer ? 270.0 : 90.0, 1e-9));
  }
}

TEST_CASE("The demos' valves stand as their scenarios tell") {
  const auto stands = [](const char* demo, const char* name) {
    return named(check_drive(demos::spec_of(demo)), name).fitted.stands;
  };
  CHECK(stands("harbour-launch", "inlet") == RoomStands::clears);
  CHECK(stands("harbour-launch", "exhaust") == RoomStands::clears);
  CHECK(stands("hill-climb-saloon", "inlet") == RoomStands::clears);
  CHECK(stands("hill-climb-saloon", "exhaust") == RoomStands::clears);
  CHECK(stands("orchard-sprayer", "exhaust") == RoomStands::below_limit);
  CHECK(stands("night-bakery-van", "inlet") == RoomStands::clears);
  CHECK(named(check_drive(demos::spec_of("night-bakery-van")), "inlet").can_meet());
  CHECK_FALSE(check_drive(demos::spec_of("mill-generator")).engine.valves);
  CHECK(open(check_drive(demos::spec_of("mill-generator")), "valve"));
}

TEST_CASE(
    "Two rows of a lift table a thousandth of a degree apart cost nothing, and change nothing") {
  // A gauge read twice at one place: 0.01 mm apart within 0.001 and 0.00005 cam deg. A bound on the
  // curve's bend that is the whole curve's would look at millions of places.
  const auto least = [](double apart_deg) {
    DriveSpec spec = demos::spec_of("hill-climb-saloon");
    std::vector<LiftRow>& rows = spec.valves[0].rows;
    REQUIRE(rows.size() > 10);
    if (apart_deg > 0.0) {
      const std::size_t at = rows.size() / 3;
      LiftRow again = rows[at];
      again.crank_deg += 2.0 * apart_deg;
      again.lift_mm += 0.01;
      rows.insert(rows.begin() + static_cast<std::ptrdiff_t>(at) + 1, again);
    }
    const auto begun = std::chrono::steady_clock::now();
    const double room = named(check_drive(spec), spec.valves[0].name).fitted.least_mm;
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    CHECK(took.count() < 5.0);  // 20 s and over a minute before the bound belonged to each piece
    return room;
  };
  const double plain = least(0.0);
  constexpr double kReadingMm = 0.01;
  CHECK_THAT(least(0.001), WithinAbs(plain, kReadingMm));
  CHECK_THAT(least(0.00005), WithinAbs(plain, kReadingMm));
}
