// How fast shafts turn, and how well numbers are usually known: common practice and arithmetic.
#include "twoturn/drive/rates.hpp"

#include "support/catch.hpp"
#include "support/drives.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/sections.hpp"

using namespace twoturn;

namespace {

// A shaft of some role geared off the water pump, which turns 20/19 times as fast as the crank.
GearedSpec geared(std::optional<double> ratio, std::optional<Role> role) {
  GearedSpec shaft;
  shaft.name = "shaft";
  shaft.from = "water pump";
  shaft.ratio = ratio;
  shaft.role = role;
  return shaft;
}

}  // namespace

TEST_CASE("Two gears in mesh turn against each other by their teeth") {
  DriveSpec spec = drives::worked_example();
  GearedSpec shaft = geared(2.0, {});
  shaft.gear_teeth = GearTeeth{40, 20};
  const GearRatio ratio = gear_ratio(spec, shaft).value();
  CHECK(ratio.own_turns == -2.0);
  CHECK_FALSE(ratio.taken);
  CHECK_FALSE(gear_ratio(spec, geared({}, {})).has_value());
}

TEST_CASE("A decimal that rounds the ratio its shaft needs is taken for that ratio") {
  const DriveSpec spec = drives::worked_example();
  // Twice the crank off a shaft at 20/19 of it: 1.9. Half of it: 0.475.
  const auto ratio = [&](double written, Role role) {
    return gear_ratio(spec, geared(written, role)).value();
  };
  CHECK(ratio(1.9, Role::balance_shaft).own_turns == 1.9);
  CHECK_FALSE(ratio(1.9, Role::balance_shaft).taken);
  CHECK_FALSE(ratio(1.95, Role::balance_shaft).taken);

  // A camshaft off one of 20/23: 0.575. To two digits, 0.58 or 0.57, that could be any gears.
  DriveSpec other = spec;
  drives::named(other, "water pump").teeth = 27;  // 20/27: half of the crank is 0.675
  drives::named(other, "crank").teeth = 21;       // 21/27 = 7/9: 0.642857...
  const auto needed = [&](double written) {
    return gear_ratio(other, geared(written, Role::camshaft)).value();
  };
  CHECK(needed(0.643).taken);
  CHECK_THAT(needed(0.643).own_turns, WithinAbs(9.0 / 14.0, 1e-15));
  CHECK(needed(-0.6429).taken);
  CHECK_THAT(needed(-0.6429).own_turns, WithinAbs(-9.0 / 14.0, 1e-15));
  CHECK_FALSE(needed(0.64).taken);   // half of its last digit is 0.8 % of it
  CHECK_FALSE(needed(0.642).taken);  // rounds something else
  CHECK_FALSE(needed(0.6428).taken);
  CHECK(needed(0.642).own_turns == 0.642);
  CHECK(needed(0.642857).taken);

  // 56/12 of the crank: half of it is 3/28, 0.10714. Half of 0.107's last digit is 0.5 % of that.
  DriveSpec slow = spec;
  drives::named(slow, "crank").teeth = 56;
  drives::named(slow, "water pump").teeth = 12;
  CHECK_FALSE(gear_ratio(slow, geared(0.107, Role::camshaft))->taken);
  CHECK(gear_ratio(slow, geared(0.1071, Role::camshaft))->taken);

  // Needed 20: half of 20's last digit is half, far more than a quarter of a hundredth.
  DriveSpec fast = spec;
  drives::named(fast, "water pump").teeth = 200;
  CHECK_FALSE(gear_ratio(fast, geared(21.0, Role::balance_shaft))->taken);
  CHECK_FALSE(gear_ratio(fast, geared(20.0, Role::balance_shaft))->taken);
}

TEST_CASE("Without counts or a role a ratio is what it says") {
  DriveSpec spec = drives::worked_example();
  CHECK(gear_ratio(spec, geared(0.643, {}))->own_turns == 0.643);
  drives::named(spec, "water pump").teeth.reset();
  CHECK(gear_ratio(spec, geared(0.475, Role::camshaft))->own_turns == 0.475);
}

TEST_CASE("A shaft turns as the teeth between it and the crank have it") {
  DriveSpec spec = drives::worked_example();
  CHECK(turns_made(spec, "crank") == 1.0);
  CHECK(turns_made(spec, "cam") == 0.5);
  CHECK_FALSE(turns_made(spec, "tensioner").has_value());
  CHECK_FALSE(turns_made(spec, "nobody").has_value());
  GearedSpec first = geared({}, {});
  first.name = "first";
  first.from = "cam";
  first.gear_teeth = GearTeeth{30, 20};
  GearedSpec second = geared(-2.0, {});
  second.name = "second";
  second.from = "first";
  spec.geared = {first, second};
  CHECK_THAT(*turns_made(spec, "first"), WithinAbs(0.75, 1e-15));
  CHECK_THAT(*turns_made(spec, "second"), WithinAbs(1.5, 1e-15));
  spec.geared[1].ratio.reset();
  CHECK_FALSE(turns_made(spec, "second").has_value());
  spec.geared[1].ratio = -2.0;
  spec.geared[1].from = "second";
  CHECK_FALSE(turns_made(spec, "second").has_value());
  spec.geared[1].from = "tensioner";
  CHECK_FALSE(turns_made(spec, "second").has_value());
  drives::named(spec, "crank").teeth.reset();
  CHECK_FALSE(turns_made(spec, "cam").has_value());
  CHECK(same_rate(0.5, 0.5 + 1e-12));
  CHECK_FALSE(same_rate(0.5, 0.5001));
  CHECK_FALSE(same_rate(0.5, 0.4999));
}

TEST_CASE("Every kind of number is usually known as what it is taken with") {
  struct Row {
    const char* key;
    double value;
    TakenWith with;
  };
  const std::vector<Row> rows{
      {"limits.pin_tight_mm", 0.0, TakenWith::nothing},
      {"rough_centre_mm", 1.0, TakenWith::tape},
      {"head.head.deck_from_crank_mm", 1.0, TakenWith::tape},
      {"pulley.cam.at_mm[1]", 0.5, TakenWith::shaft_to_shaft},
      {"pulley.cam.near_mm[0]", 0.5, TakenWith::shaft_to_shaft},
      {"cover.cover.points_mm[3]", 0.5, TakenWith::shaft_to_shaft},
      {"measured.1.distance_mm", 0.5, TakenWith::shaft_to_shaft},
      {"pulley.t.tensioner.pivot_mm[0]", 0.5, TakenWith::shaft_to_shaft},
      {"bolts.head.joint_stiffness_n_mm", 0.0, TakenWith::counted},
      {"pulley.t.tensioner.spring_n_per_mm", 0.0, TakenWith::counted},
      {"belt.weighed_g", 2.0, TakenWith::scale},
      {"pulley.cam.pin.play_mm", 0.1, TakenWith::calliper},
      {"build.skim_mm.head", 0.1, TakenWith::calliper},
      {"engine.crank_pins_deg[2]", 0.0, TakenWith::counted},
      {"engine.bores_deg[0]", 0.0, TakenWith::counted},
      {"valve.inlet.rocker_ratio", 0.01, TakenWith::calliper},
      {"pulley.cam.mark_deg", 3.0, TakenWith::eye},
      {"belt.teeth", 0.0, TakenWith::counted},
  };
  for (const Row& row : rows) {
    CAPTURE(row.key);
    CHECK(usual_give_or_take(row.key).value == row.value);
    CHECK(usual_give_or_take(row.key).with == row.with);
  }
}

TEST_CASE("What is known of a number is what it says, else what it comes from") {
  GivenValue value;
  value.key = "pulley.cam.at_mm[0]";
  value.origin = Origin::assumed;
  CHECK(give_or_take(value).value == 0.0);
  CHECK(give_or_take(value).with == TakenWith::nothing);
  value.origin = Origin::manual;
  CHECK(give_or_take(value).with == TakenWith::book);
  value.give_or_take = 0.3;
  CHECK(give_or_take(value).value == 0.3);
  CHECK(give_or_take(value).with == TakenWith::shaft_to_shaft);
  CHECK(give_or_take(value).stated);
  value.give_or_take.reset();
  value.origin = Origin::measured;
  CHECK(give_or_take(value).value == 0.5);
  CHECK_FALSE(give_or_take(value).stated);
  DriveSpec spec;
  spec.given = {value};
  CHECK(find_given(spec, "pulley.cam.at_mm[0]") == &spec.given[0]);
  CHECK(find_given(spec, "pulley.cam.at_mm[1]") == nullptr);
}

TEST_CASE("The belt sections are those of their standards") {
  // ISO 5296 (MXL to XXH), ISO 13050 (H, S) and ISO 9010 (ZA, ZB, YH, YS); from memory, as
  // CHECKS.md lists them: pitch, tooth height, thickness, land to pitch line.
  struct Row {
    const char* name;
    double pitch, height, thickness, land;
  };
  const std::vector<Row> rows{{"MXL", 2.032, 0.51, 1.14, 0.254}, {"XL", 5.08, 1.27, 2.3, 0.254},
                              {"L", 9.525, 1.91, 3.6, 0.381},    {"H", 12.7, 2.29, 4.3, 0.686},
                              {"XH", 22.225, 6.35, 11.2, 1.397}, {"XXH", 31.75, 9.53, 15.7, 1.524},
                              {"H3M", 3, 1.22, 2.41, 0.381},     {"H5M", 5, 2.08, 3.81, 0.572},
                              {"H8M", 8, 3.38, 6.0, 0.686},      {"H14M", 14, 6.02, 10.0, 1.397},
                              {"S8M", 8, 3.05, 5.3, 0.686},      {"ZA", 9.525, 1.91, 4.1, 0.686},
                              {"ZB", 9.525, 2.29, 4.5, 0.686},   {"YH", 8, 3.0, 5.2, 0.686},
                              {"YS", 8, 3.0, 5.2, 0.686}};
  CHECK(belt_sections().size() == rows.size());
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const BeltSection* section = find_section(row.name);
    REQUIRE(section != nullptr);
    CHECK(section->pitch_mm == row.pitch);
    CHECK(section->tooth_height_mm == row.height);
    CHECK(section->thickness_mm == row.thickness);
    CHECK(section->land_to_pitch_line_mm == row.land);
    CHECK_THAT(section->back_to_pitch_line_mm(),
               WithinAbs(row.thickness - row.height - row.land, 1e-12));
  }
  CHECK(find_section("za") == nullptr);
}

TEST_CASE("A belt's length is off by what its standard allows, row by row") {
  // ISO 5296 and ANSI/RMA IP-24, from memory (CHECKS.md).
  const std::vector<std::pair<double, double>> rows{{254, 0.41},  {381, 0.46},  {508, 0.51},
                                                    {762, 0.61},  {1016, 0.66}, {1270, 0.76},
                                                    {1524, 0.81}, {1778, 0.86}};
  for (std::size_t k = 0; k < rows.size(); ++k) {
    CHECK(usual_length_tolerance_mm(rows[k].first) == rows[k].second);
    CHECK(usual_length_tolerance_mm(rows[k].first - 0.1) == rows[k].second);
    const auto beyond = usual_length_tolerance_mm(rows[k].first + 0.1);
    if (k + 1 < rows.size()) CHECK(beyond == rows[k + 1].second);
    if (k + 1 == rows.size()) CHECK_FALSE(beyond.has_value());
  }
}

TEST_CASE("A pitch of the trade is known within one in a hundred") {
  CHECK(known_pitch(9.6) == 9.525);
  CHECK(known_pitch(9.43) == 9.525);
  CHECK_FALSE(known_pitch(9.63).has_value());
  CHECK_FALSE(known_pitch(9.42).has_value());
  CHECK(known_pitch(2.5) == 2.5);
  CHECK(known_pitch(10.09) == 10.0);
  CHECK(known_pitch(19.9) == 20.0);
  CHECK_FALSE(known_pitch(7.3).has_value());
  CHECK(same_pitch(9.525, 9.5265));
  CHECK(same_pitch(9.5265, 9.525));
  CHECK_FALSE(same_pitch(9.525, 9.53));
  CHECK_FALSE(same_pitch(9.53, 9.525));
}

TEST_CASE("Choices are read back from their own words, and from two of the other English") {
  CHECK(from_word<Turn>("counterclockwise") == Turn::anticlockwise);
  CHECK(from_word<ValveSide>("intake") == ValveSide::inlet);
  CHECK_FALSE(from_word<Role>("cam shaft").has_value());
  for (const std::string& text : words_of<Role>()) CHECK(word(*from_word<Role>(text)) == text);
  for (const std::string& text : words_of<LiftLaw>()) {
    CHECK(word(*from_word<LiftLaw>(text)) == text);
  }
  CHECK(unit(TensionerKind::swing) == std::string("deg"));
  CHECK(in_unit("at", TensionerKind::slide) == "at_mm");
  CHECK(digits(TensionerKind::swing) == 1);
  CHECK(digits(TensionerKind::slide) == 2);
}
