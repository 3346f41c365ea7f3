// The belt put on. Evidence: two pulleys in closed form, three alike whose arcs are atan by hand,
// and for every number that may be off the same drive built a little otherwise.
#include "twoturn/timing/assembly.hpp"

#include <cmath>
#include <functional>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "support/worked_values.hpp"
#include "timing/turned.hpp"

using namespace twoturn;
using turned_over::belt_on;
using turned_over::fit_of;
using turned_over::geared;
using turned_over::mishapped;
using turned_over::seen;
using turned_over::three_alike;

namespace {

constexpr double kExactDeg = 1e-9;

// Crank 22 and cam 44, 8 mm, one above the other, clockwise: the right-hand run is taut.
constexpr double kApartMm = 300.0;
const double kMoreMm = 22 * 8.0 / (2.0 * kPi);
const double kCamMm = 2.0 * kMoreMm;

DriveSpec two() {
  DriveSpec spec = drives::two_pulleys(8.0, 22, 44, kApartMm, 108);
  drives::named(spec, "cam").mark_deg = 90.0;
  return spec;
}

// From the cam's mark at 3 o'clock to the crank's at 6: the run, the arc by which it tilts, and a
// quarter turn of the crank.
double way_mm(double apart_mm) {
  return std::sqrt(apart_mm * apart_mm - kMoreMm * kMoreMm) +
         kMoreMm * std::asin(kMoreMm / apart_mm) + 44.0;
}

double cam_deg(double mm) { return Angle::radians(mm / kCamMm).degrees(); }

NoAssembly why_not(const DriveSpec& spec) {
  const AssemblyResult result = drives::assembled(spec);
  REQUIRE(result.none.has_value());
  REQUIRE_FALSE(result.assembly.has_value());
  return *result.none;
}

bool goes_on(const DriveSpec& spec) { return drives::assembled(spec).assembly.has_value(); }

// What a shaft's error moves by for a unit of a number of [build]: the same drive built either
// side.
double slope(const DriveSpec& spec, const std::function<void(DriveSpec&, double)>& move,
             std::string_view shaft) {
  constexpr double kStep = 1e-4;
  const auto error = [&](double by) {
    DriveSpec other = spec;
    move(other, by);
    return seen(turned_over::turned(other), shaft, 0).error_own_deg;
  };
  return (error(kStep) - error(-kStep)) / (2.0 * kStep);
}

// A cam on a head that was skimmed, behind an idler and a pump that were renewed.
DriveSpec all_renewed() {
  DriveSpec spec = drives::worked_example();
  spec.pulleys.insert(spec.pulleys.begin() + 3, drives::back_roller("idler", 44.0, 92.0, 262.0));
  turned_over::take_fitting_belt(spec);
  spec.heads[0].deck_deg = 25.0;
  spec.build.skim_mm["head"] = 0.3;
  spec.build.block_skim_mm["head"] = 0.1;
  spec.build.gasket_change_mm["head"] = 0.2;
  spec.build.renewed["idler"].at_mm = Vec2(91.5, 262.5);
  spec.build.renewed["idler"].diameter_mm = 45.0;
  spec.build.renewed["water pump"].at_mm = Vec2(62.5, 150.5);
  spec.build.stretch_percent = 0.05;
  spec.build.adjusted_deg["cam"] = 0.2;
  return spec;
}

struct Number {
  const char* key;
  double give;
  std::function<void(DriveSpec&, double)> move;
};

std::vector<Number> numbers_of_build() {
  const auto at = [](const char* name, int which) {
    return [name, which](DriveSpec& s, double by) { (*s.build.renewed[name].at_mm)[which] += by; };
  };
  return {
      {"build.skim_mm.head", 0.05, [](auto& s, double by) { s.build.skim_mm["head"] += by; }},
      {"build.block_skim_mm.head", 0.02,
       [](auto& s, double by) { s.build.block_skim_mm["head"] += by; }},
      {"build.gasket_change_mm.head", 0.03,
       [](auto& s, double by) { s.build.gasket_change_mm["head"] += by; }},
      {"build.renewed.idler.at_mm[0]", 0.3, at("idler", 0)},
      {"build.renewed.idler.at_mm[1]", 0.4, at("idler", 1)},
      {"build.renewed.idler.diameter_mm", 0.1,
       [](auto& s, double by) { *s.build.renewed["idler"].diameter_mm += by; }},
      {"build.renewed.water pump.at_mm[0]", 0.2, at("water pump", 0)},
      {"build.renewed.water pump.at_mm[1]", 0.25, at("water pump", 1)},
      {"build.stretch_percent", 0.01, [](auto& s, double by) { *s.build.stretch_percent += by; }},
      {"build.adjusted_deg.cam", 0.5,
       [](auto& s, double by) { s.build.adjusted_deg["cam"] += by; }},
  };
}

}  // namespace

TEST_CASE("All that puts a cam out adds up: skim, stretch, teeth, slack, seat and adjustment") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> by(-1.0, 1.0);
  for (int k = 0; k < 50; ++k) {
    DriveSpec spec = two();
    const double skim = 0.5 * by(random);
    const double stretch_percent = 0.1 * by(random);
    const double adjusted = by(random);
    const int teeth = static_cast<int>(4.0 * by(random));
    spec.build.skim_mm["head"] = skim;
    spec.build.stretch_percent = stretch_percent;
    spec.build.adjusted_deg["cam"] = adjusted;
    spec.build.teeth_out["cam"] = teeth;
    spec.build.teeth_out["crank"] = 1;
    Mishap mishap;
    mishap.teeth_out["cam"] = 2;
    mishap.late_mm["cam"] = 3.0 * by(random);
    mishap.seat_deg["cam"] = 2.0 * by(random);
    const Assembly assembly = mishapped(spec, mishap);
    // Exact: what the way got shorter by, and a belt whose teeth lie further apart reaches less
    // far.
    const double change = way_mm(kApartMm - skim) - way_mm(kApartMm);
    const double late = -change + 0.01 * stretch_percent * way_mm(kApartMm);
    const double error = cam_deg(-late - mishap.late_mm["cam"]) + (teeth + 2 - 1) * 360.0 / 44 -
                         mishap.seat_deg["cam"] + adjusted;
    CAPTURE(k);
    CHECK_THAT(fit_of(assembly, "cam").shaft_shift_deg(), WithinAbs(error, kExactDeg));
    CHECK_THAT(fit_of(assembly, "cam").way_change_mm, WithinAbs(late, 1e-10));
    CHECK(fit_of(assembly, "cam").way_change_teeth == teeth + 1);
    const TurnsAnswer answer = two_turns(assembly, {});
    for (const int turns : {0, 1, 2, 4}) {
      CHECK_THAT(seen(answer, "cam", turns).error_own_deg, WithinAbs(error, 10 * kExactDeg));
    }
  }
}

TEST_CASE("Slack shifts the arc that a pulley holds by as many teeth, stretch by what it lacks") {
  const Assembly plain = belt_on(two());
  Mishap mishap;
  mishap.late_mm["cam"] = 2.0;
  const Assembly late = mishapped(two(), mishap);
  CHECK_THAT(fit_of(late, "cam").arc_start_teeth - fit_of(plain, "cam").arc_start_teeth,
             WithinAbs(2.0 / 8.0, 1e-12));
  CHECK(fit_of(late, "cam").hold == fit_of(plain, "cam").hold);
  DriveSpec spec = two();
  spec.build.stretch_percent = 0.1;
  CHECK_THAT(fit_of(belt_on(spec), "cam").arc_start_teeth - fit_of(plain, "cam").arc_start_teeth,
             WithinAbs(0.001 * way_mm(kApartMm) / 8.0, 1e-12));
}

TEST_CASE("A belt goes on in the nearest whole-tooth place, a tooth more from half of one on") {
  // Exact: by hand half a tooth, 4 mm of way, is reached just after 4 mm of skim.
  for (const double skim : {3.9, 3.99, 4.1, 7.0, -3.9, -4.1, 11.9, 12.3}) {
    DriveSpec spec = two();
    spec.build.skim_mm["head"] = skim;
    const double change = way_mm(kApartMm - skim) - way_mm(kApartMm);
    const double teeth = std::round(change / 8.0);
    const TurnsAnswer answer = turned_over::turned(spec);
    CAPTURE(skim);
    CHECK_THAT(seen(answer, "cam", 2).error_own_deg,
               WithinAbs(cam_deg(change - 8.0 * teeth), kExactDeg));
    CHECK(fit_of(answer.assembly, "cam").way_change_teeth == -static_cast<int>(teeth));
  }
}

TEST_CASE("A way that did not change has changed by nothing at all, one that did by a hair does") {
  DriveSpec spec = two();
  CHECK(fit_of(belt_on(spec), "cam").way_change_mm == 0.0);
  const double rate = std::sqrt(1.0 - std::pow(kMoreMm / kApartMm, 2));
  for (const double skim : {1e-6, 1e-8, 2e-9, -1e-8}) {
    spec.build.skim_mm["head"] = skim;
    CHECK_THAT(fit_of(belt_on(spec), "cam").way_change_mm, WithinAbs(skim * rate, 1e-12));
  }
}

TEST_CASE("A tooth out is early at the cam that went on, late at every other for the crank") {
  for (const int teeth : {-2, -1, 1, 2}) {
    DriveSpec spec = turned_over::two_timed_shafts();
    spec.build.teeth_out["cam"] = teeth;
    TurnsAnswer answer = turned_over::turned(spec);
    CHECK_THAT(seen(answer, "cam", 2).error_own_deg, WithinAbs(9.0 * teeth, kExactDeg));
    CHECK_THAT(seen(answer, "injection pump", 2).error_own_deg, WithinAbs(0.0, kExactDeg));
    spec.build.teeth_out = {{"crank", teeth}};
    answer = turned_over::turned(spec);
    CHECK_THAT(seen(answer, "crank", 2).error_own_deg, WithinAbs(0.0, kExactDeg));
    CHECK_THAT(seen(answer, "cam", 2).error_own_deg, WithinAbs(-9.0 * teeth, kExactDeg));
    CHECK_THAT(seen(answer, "injection pump", 2).error_own_deg, WithinAbs(-9.0 * teeth, kExactDeg));
  }
}

TEST_CASE("Grooves tied to a mark lie under it or half a pitch beside it, others anywhere in one") {
  DriveSpec spec = turned_over::two_timed_shafts();
  drives::named(spec, "crank").mark_on = MarkOn::groove;
  drives::named(spec, "cam").mark_on = MarkOn::tooth;
  const Assembly tied = belt_on(spec);
  CHECK(fit_of(tied, "crank").groove_phase == 0.0);
  CHECK(fit_of(tied, "cam").groove_phase == 0.5);
  CHECK(fit_of(tied, "injection pump").drawn_remainder_teeth == 0.0);  // cut to suit
  drives::named(spec, "crank").mark_on = MarkOn::tooth;
  CHECK(fit_of(belt_on(spec), "crank").groove_phase == 0.5);
  for (const MarkOn crank : {MarkOn::as_made, MarkOn::tooth}) {
    for (const char* which : {"cam", "injection pump"}) {
      DriveSpec other = turned_over::two_timed_shafts();
      drives::named(other, "crank").mark_on = crank;
      drives::named(other, which).mark_on = MarkOn::groove;
      const Assembly assembly = belt_on(other);
      for (const ShaftFit& fit : assembly.fits) {
        CHECK(fit.groove_phase >= 0.0);
        CHECK(fit.groove_phase < 1.0);
        CHECK(std::abs(fit.drawn_remainder_teeth) <= 0.5);
      }
      CHECK(fit_of(assembly, which).groove_phase == 0.0);
      // An untied crank suits the one shaft that is tied, wherever that stands in the list.
      if (crank == MarkOn::as_made) {
        CHECK_THAT(fit_of(assembly, which).drawn_remainder_teeth, WithinAbs(0.0, 1e-9));
      }
    }
  }
}

TEST_CASE("A toothed pulley that holds less than a tooth carries no timing") {
  // Exact: the belt turns by 2 atan(out / 150) there; of 20 teeth one is 18 degrees.
  const double least_mm = 150.0 * std::tan(kPi / 20.0);
  CHECK(goes_on(three_alike(least_mm + 0.01)));
  const NoAssembly none = why_not(three_alike(least_mm - 0.01));
  CHECK(none.reason == NoAssembly::Reason::not_in_mesh);
  CHECK(none.about == "pump");
  CHECK(none.limit == 1.0);
  CHECK_THAT(none.value, WithinAbs(20.0 * std::atan((least_mm - 0.01) / 150.0) / kPi, 1e-9));
  // Neither before nor after what [build] moves; a plain roller carries none anyway.
  DriveSpec spec = three_alike(least_mm + 0.01);
  spec.build.renewed["pump"].at_mm = Vec2(least_mm - 0.01, 150.0);
  CHECK(why_not(spec).about == "pump");
  spec = three_alike(least_mm - 0.01);
  spec.build.renewed["pump"].at_mm = Vec2(least_mm + 0.01, 150.0);
  CHECK(why_not(spec).about == "pump");
  drives::named(spec, "pump").teeth.reset();
  drives::named(spec, "pump").diameter_mm = 50.0;
  drives::named(spec, "pump").face = Face::tooth;
  spec.belt.tooth_height_mm = 3.0;
  spec.belt.land_to_pitch_line_mm = 0.7;
  spec.build = {};
  CHECK(goes_on(spec));
}

TEST_CASE("Without a count, a setting or a tangent no belt goes on, and the reason is told") {
  DriveSpec spec = two();
  spec.belt.teeth.reset();
  CHECK(why_not(spec).reason == NoAssembly::Reason::belt_teeth_unknown);
  spec = drives::worked_example();
  spec.belt.teeth = 100;
  const NoAssembly short_belt = why_not(spec);
  CHECK(short_belt.reason == NoAssembly::Reason::no_setting);
  CHECK(short_belt.about == "tensioner");
  CHECK_THAT(short_belt.value, WithinAbs(952.5, 1e-9));
  REQUIRE(short_belt.least_mm.has_value());
  CHECK(*short_belt.least_mm > 952.5);
  CHECK(*short_belt.greatest_mm > *short_belt.least_mm);
  spec = two();
  spec.build.skim_mm["head"] = 280.0;  // nearer than the radii differ
  const NoAssembly none = why_not(spec);
  CHECK(none.reason == NoAssembly::Reason::no_path);
  CHECK_THAT(none.value, WithinAbs(20.0, 1e-9));
}

TEST_CASE(
    "A tensioner is moved when it stands further off than it is allowed, never a fixed drive") {
  DriveSpec spec = drives::worked_example();
  spec.build.skim_mm["head"] = worked::kSkimMm;
  Assembly assembly = belt_on(spec);
  // By hand: from 346.06 past 12 o'clock to 0.51.
  REQUIRE(assembly.setting_moved.has_value());
  CHECK_THAT(*assembly.setting_moved, WithinAbs(360.0 + worked::kSkimmedSetDeg - worked::kSetDeg,
                                                2 * worked::kHalfDigitDeg));
  CHECK(assembly.setting_is_moved());
  assembly.fitted.tensioner->set_give = *assembly.setting_moved;
  CHECK_FALSE(assembly.setting_is_moved());
  assembly.fitted.tensioner->set_give = 14.0;
  CHECK(assembly.setting_is_moved());
  assembly.fitted.tensioner->set_give = 15.0;
  CHECK_FALSE(assembly.setting_is_moved());
  const Assembly fixed = belt_on(two());
  CHECK_FALSE(fixed.setting_moved.has_value());
  CHECK_FALSE(fixed.setting_is_moved());
}

TEST_CASE("Each number of [build] that may be off moves the cam as building it otherwise does") {
  constexpr double kSigmas = 1.959963984540054;  // 95 in 100 of a normal law, any table
  const DriveSpec spec = all_renewed();
  for (const Number& number : numbers_of_build()) {
    DriveSpec alone = spec;
    alone.given = {drives::measured(number.key, number.give),
                   drives::measured("pulley.water pump.at_mm[0]", 0.5),  // as off by the book
                   drives::measured("belt.pitch_mm", 0.01)};
    const std::vector<PhaseEffect> effects = fit_of(belt_on(alone), "cam").effects;
    CAPTURE(number.key);
    REQUIRE(effects.size() == 1);
    const std::string key(number.key);
    CHECK(effects[0].key == key.substr(0, key.find('[')));
    const double expected = slope(spec, number.move, "cam") * number.give / kSigmas;
    CHECK(std::abs(expected) > 1e-4);
    CHECK_THAT(effects[0].own_deg, WithinRel(expected, 1e-5));
  }
  DriveSpec deck = spec;
  deck.given = {drives::measured("head.head.deck_deg", 2.0)};
  const std::vector<PhaseEffect> effects = fit_of(belt_on(deck), "cam").effects;
  REQUIRE(effects.size() == 1);
  const auto turn = [](DriveSpec& s, double by) { *s.heads[0].deck_deg += by; };
  // Early or late: an angle off either way is as likely.
  CHECK_THAT(std::abs(effects[0].own_deg),
             WithinRel(std::abs(slope(spec, turn, "cam")) * 2.0 / kSigmas, 1e-4));
}

TEST_CASE("What is exact, not on the way, or made good by a free pulley has no effect") {
  DriveSpec spec = all_renewed();
  GivenValue manual = drives::measured("build.adjusted_deg.cam", 0.0);
  manual.origin = Origin::manual;
  manual.give_or_take.reset();
  spec.given = {manual};
  CHECK(fit_of(belt_on(spec), "cam").effects.empty());
  // The tensioner lies on the other way.
  spec.build.renewed["tensioner"].diameter_mm = 60.5;
  spec.given = {drives::measured("build.renewed.tensioner.diameter_mm", 0.5)};
  CHECK(fit_of(belt_on(spec), "cam").effects.empty());
  spec.given = {drives::measured("build.adjusted_deg.cam", 0.5)};
  spec.build.adjusted_deg.clear();  // nothing was adjusted
  CHECK(fit_of(belt_on(spec), "cam").effects.empty());
  spec.given = {drives::measured("build.skim_mm.head", 0.05)};
  CHECK(fit_of(belt_on(spec), "cam").effects.size() == 1);
  drives::named(spec, "cam").fixing = Fixing::free_until_tightened;
  CHECK(fit_of(belt_on(spec), "cam").effects.empty());
}

TEST_CASE(
    "A geared shaft has its driver's shift and effects by its ratio, whichever way it turns") {
  DriveSpec spec = all_renewed();
  spec.geared = {geared("balance shaft", "cam", -4.0, Role::balance_shaft)};
  spec.given = {drives::measured("build.skim_mm.head", 0.05)};
  Mishap mishap;
  mishap.seat_deg["balance shaft"] = 1.5;
  mishap.seat_deg["cam"] = 0.25;
  const Assembly assembly = mishapped(spec, mishap);
  const ShaftFit& cam = fit_of(assembly, "cam");
  const ShaftFit& shaft = fit_of(assembly, "balance shaft");
  CHECK(shaft.reference == cam.reference);
  CHECK_THAT(shaft.pulley_shift_deg, WithinAbs(4.0 * cam.shaft_shift_deg(), 1e-12));
  CHECK(shaft.turned_on_shaft_deg == 1.5);
  REQUIRE((shaft.effects.size() == 1 && cam.effects.size() == 1));
  CHECK(shaft.effects[0].key == "build.skim_mm.head");
  CHECK_THAT(shaft.effects[0].own_deg, WithinRel(4.0 * cam.effects[0].own_deg, 1e-12));
  const TurnsAnswer answer = two_turns(assembly, {});
  CHECK_THAT(seen(answer, "balance shaft", 2).error_own_deg,
             WithinAbs(4.0 * cam.shaft_shift_deg() - 1.5, 1e-8));
}

TEST_CASE("A shaft without a mark is followed at the middle of its arc by the book") {
  // Exact: the middle of the upper pulley's arc is at 12 o'clock wherever it stands.
  DriveSpec spec = two();
  spec.build.skim_mm["head"] = 2.0;
  drives::named(spec, "cam").mark_deg = 0.0;
  const Assembly marked = belt_on(spec);
  drives::named(spec, "cam").mark_deg.reset();
  const Assembly bare = belt_on(spec);
  CHECK_THAT(fit_of(bare, "cam").shaft_shift_deg(),
             WithinAbs(fit_of(marked, "cam").shaft_shift_deg(), 1e-9));
  CHECK_THAT(fit_of(bare, "cam").mark_from_entry_mm,
             WithinAbs(fit_of(marked, "cam").mark_from_entry_mm, 1e-9));
}

TEST_CASE("A mark opposite its arc stays on the side it was on by the book") {
  // Exact: whichever way round the mark's angle is counted, the way changes as for a mark at any
  // other angle: turned by the same angle at both, marks cancel.
  DriveSpec spec = two();
  spec.build.skim_mm["head"] = 1.0;
  const double error = fit_of(belt_on(spec), "cam").shaft_shift_deg();
  for (double deg = 0.0; deg < 360.0; deg += 7.0) {
    drives::named(spec, "cam").mark_deg = deg;
    CAPTURE(deg);
    CHECK_THAT(fit_of(belt_on(spec), "cam").shaft_shift_deg(), WithinAbs(error, 1e-9));
  }
}
