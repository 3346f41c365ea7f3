#include "twoturn/read/profile.hpp"

#include <algorithm>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "support/texts.hpp"

using namespace twoturn;
using texts::with;

namespace {

// Inches and thou are turned into mm by one multiplication.
constexpr double kOneRounding = 1e-12;

DriveSpec read(const std::string& text, const std::vector<Override>& settings = {}) {
  return read_profile({"p.toml", text, settings});
}

DriveSpec launch_set(const std::string& key, const std::string& value) {
  return read(samples::kLaunch, {{key, value}});
}

const GivenValue& given(const DriveSpec& spec, const std::string& key) {
  const auto found = std::find_if(spec.given.begin(), spec.given.end(),
                                  [&](const GivenValue& value) { return value.key == key; });
  INFO(key);
  REQUIRE(found != spec.given.end());
  return *found;
}

const SwingSpec& swing(const DriveSpec& spec) {
  return std::get<SwingSpec>(spec.pulleys.at(1).tensioner.value().path);
}

}  // namespace

TEST_CASE("The launch's profile reads value for value") {
  const DriveSpec spec = read(samples::kLaunch);
  CHECK(spec.title == "Harbour launch, single-cam four");
  CHECK(spec.crank_turns == Turn::clockwise);
  CHECK(spec.belt.section == "ZA");
  CHECK(spec.belt.teeth == 111);
  REQUIRE(spec.heads.size() == 1);
  CHECK(spec.heads[0].deck_deg == 0.0);
  CHECK(spec.heads[0].deck_from_crank_mm == 210.0);
  REQUIRE(spec.pulleys.size() == 4);
  CHECK(spec.pulleys[0].role == Role::crankshaft);
  CHECK(spec.pulleys[0].at_mm == Vec2(0, 0));
  CHECK(spec.pulleys[1].face == Face::back);
  CHECK(spec.pulleys[1].diameter_mm == 60.0);
  CHECK(swing(spec).pivot_mm == Vec2(-40, 170));
  CHECK(swing(spec).arm_mm == 6.0);
  CHECK(swing(spec).slack_deg == 300.0);
  CHECK(swing(spec).tight_deg == 200.0);
  CHECK(swing(spec).tightens == Turn::clockwise);
  CHECK(spec.pulleys[1].tensioner->set_deg == 346.0);
  CHECK(spec.pulleys[2].name == "cam");
  CHECK(spec.pulleys[2].fixing == Fixing::keyed);
  CHECK(spec.pulleys[2].mount == "head");
  CHECK(spec.pulleys[2].pin->radius_mm == 35.0);
  CHECK(spec.pulleys[2].pin->play_mm == 0.15);
  CHECK(spec.pulleys[3].at_mm == Vec2(62, 150));
  CHECK(spec.build.skim_mm == std::map<std::string, double>{{"head", 0.3}});
  CHECK(spec.build.teeth_out == std::map<std::string, int>{{"cam", -1}});
}

TEST_CASE("Tooth counts alone are a profile") {
  const DriveSpec spec = read(samples::kCounts);
  CHECK(spec.belt.teeth == 111);
  CHECK_FALSE(spec.belt.section);
  CHECK_FALSE(spec.crank_turns);
  CHECK_FALSE(spec.pulleys.at(1).at_mm);
}

TEST_CASE("A profile with every table reads value for value") {
  const DriveSpec spec = read(samples::kEverything);
  CHECK(spec.crank_turns == Turn::anticlockwise);
  CHECK(spec.lean_deg == -12.5);
  CHECK(spec.belt.double_sided);
  CHECK(spec.belt.least_teeth == 18);
  CHECK(spec.belt.reference_tension_n == 200.0);
  REQUIRE(spec.pulleys[0].marks.size() == 2);
  CHECK(spec.pulleys[0].marks[0].name == "damper");
  CHECK(spec.pulleys[0].marks[0].at_deg == 135.0);
  CHECK(spec.pulleys[0].mark_on == MarkOn::tooth);
  CHECK(spec.pulleys[2].fixing == Fixing::free_until_tightened);
  CHECK(spec.pulleys[3].range_deg == 5.0);
  CHECK(spec.pulleys[3].pin->slot_mm == 5.1);
  const auto& slide = std::get<SlideSpec>(spec.pulleys[4].tensioner->path);
  CHECK(slide.slack_at_mm == Vec2(-52, 235));
  CHECK(slide.tight_at_mm == Vec2(-44, 238));
  CHECK(spec.pulleys[4].tensioner->set_mm == 4.0);
  CHECK(spec.pulleys[5].turns_per_crank == 1.1);
  REQUIRE(spec.geared.size() == 2);
  CHECK(spec.geared[0].ratio == -2.0);
  CHECK(spec.geared[1].from == "balance");
  REQUIRE(spec.covers.size() == 2);
  CHECK(spec.covers[0].points_mm.size() == 3);
  CHECK(spec.covers[0].kind == Outline::open);
  CHECK(spec.covers[1].kind == Outline::closed);
  CHECK(spec.build.block_skim_mm.at("right") == 0.1);
  CHECK(spec.build.renewed.at("water pump").teeth == 21);
  CHECK(spec.build.renewed.at("idler").at_mm == Vec2(56, 105));
  CHECK(spec.build.teeth_out == std::map<std::string, int>{{"cam", 2}, {"water pump", -1}});
  CHECK(spec.build.adjusted_deg.at("cam") == -1.5);
  CHECK(spec.limits.adjustment_left_percent == 10.0);
  CHECK(spec.engine.interference == true);
}

TEST_CASE("Lengths in inches and thou come out in mm, under their mm name, as written") {
  const DriveSpec spec = read(samples::kEverything);
  CHECK_THAT(spec.rough_centre_mm.value(), WithinAbs(14.8 * 25.4, kOneRounding));
  CHECK_THAT(spec.belt.land_to_pitch_line_mm.value(), WithinAbs(0.6858, kOneRounding));
  CHECK_THAT(spec.build.skim_mm.at("left"), WithinAbs(0.3048, kOneRounding));
  CHECK_THAT(spec.pulleys[1].at_mm->y(), WithinAbs(4.13 * 25.4, kOneRounding));
  CHECK(given(spec, "rough_centre_mm").text == "14.8 in");
  CHECK(given(spec, "belt.land_to_pitch_line_mm").text == "27 thou");
  CHECK(given(spec, "build.skim_mm.left").text == "12 thou");
  CHECK(given(spec, "pulley.idler.at_mm[1]").text == "4.13 in");
}

TEST_CASE("Clock angles are taken as degrees or as the hour") {
  const auto slack = [](const std::string& value) {
    return swing(read(with(samples::kLaunch, "slack_deg = 300", "slack_deg = " + value))).slack_deg;
  };
  CHECK(slack("135") == 135.0);
  CHECK(slack("\"4:30\"") == 135.0);
  CHECK(slack("\"04:30\"") == 135.0);
  CHECK(slack("04:30:00") == 135.0);
  CHECK(slack("\"12:00\"") == 0.0);
  CHECK(slack("\"0:30\"") == 15.0);
  CHECK(slack("\"12:59\"") == 29.5);
  CHECK(slack("\"9 o'clock\"") == 270.0);
  CHECK(slack("-60") == -60.0);
}

TEST_CASE("Teeth out are taken as a number or in words") {
  const auto out = [](const std::string& value) {
    return read(with(samples::kLaunch, "\"1 late\"", value)).build.teeth_out.at("cam");
  };
  CHECK(out("-1") == -1);
  CHECK(out("0") == 0);
  CHECK(out("\"1 tooth late\"") == -1);
  CHECK(out("\"1 retarded\"") == -1);
  CHECK(out("\"2 teeth retarded\"") == -2);
  CHECK(out("\"1 early\"") == 1);
  CHECK(out("\" 2  advanced \"") == 2);
}

TEST_CASE("A byte order mark and line ends of either kind change nothing") {
  const DriveSpec plain = read(samples::kLaunch);
  std::string other = "\xEF\xBB\xBF";
  for (const char c : samples::kLaunch)
    other += c == '\n' ? std::string("\r\n") : std::string(1, c);
  const DriveSpec marked = read(other);
  CHECK(marked.title == plain.title);
  REQUIRE(marked.given.size() == plain.given.size());
  for (std::size_t i = 0; i < plain.given.size(); ++i) {
    CHECK(marked.given[i].key == plain.given[i].key);
    CHECK(marked.given[i].text == plain.given[i].text);
    CHECK(marked.given[i].line == plain.given[i].line);
  }
}

TEST_CASE("Every number of the file is given with its line and text, in the file's order") {
  const DriveSpec spec = read(samples::kLaunch);
  CHECK(spec.given.size() == 25);
  CHECK(std::is_sorted(spec.given.begin(), spec.given.end(),
                       [](const auto& a, const auto& b) { return a.line < b.line; }));
  CHECK(spec.given.front().key == "belt.teeth");
  CHECK(spec.given.front().text == "111");
  CHECK(spec.given.front().line == 5);
  CHECK(given(spec, "pulley.cam.at_mm[1]").number == 375.0);
  CHECK(given(spec, "pulley.cam.at_mm[1]").line == 31);
  CHECK(given(spec, "pulley.cam.pin.play_mm").text == "0.15 mm");
  CHECK(given(spec, "pulley.tensioner.tensioner.set_deg").text == "346 deg");
  CHECK(given(spec, "build.teeth_out.cam").text == "\"1 late\"");
  CHECK(given(spec, "build.teeth_out.cam").number == -1.0);
}

TEST_CASE("A pulley without a name is spoken of by its number") {
  try {
    read(with(samples::kLaunch, "name = \"cam\"", ""));
    FAIL("read without a name");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    CHECK(error.problems()[0].key == "pulley.3.name");
    CHECK(error.problems()[0].line == 27);
  }
}

TEST_CASE("Origins go by key, by table, or by default; nothing said is not said") {
  CHECK(given(read(samples::kLaunch), "belt.teeth").origin == Origin::not_said);
  const DriveSpec spec = read(samples::kEverything);
  CHECK(given(spec, "pulley.crank.teeth").origin == Origin::manual);
  CHECK(given(spec, "pulley.cam.at_mm[0]").origin == Origin::measured);
  CHECK(given(spec, "pulley.cam.at_mm[1]").give_or_take == 0.3);
  CHECK(given(spec, "pulley.pump No. 2.teeth").origin == Origin::measured);
  CHECK_FALSE(given(spec, "pulley.pump No. 2.teeth").give_or_take);
  CHECK(given(spec, "pulley.idler.diameter_mm").origin == Origin::assumed);
}

TEST_CASE("A give-or-take is in the unit of the key it stands with") {
  const DriveSpec spec = read(
      samples::kLaunch +
      "[origin]\n\"pulley.tensioner.diameter_thou\" = { from = \"measured\", give_or_take = 4 }\n"
      "\"pulley.4.at_mm[0]\" = { give_or_take = 0.5 }\n");
  CHECK_THAT(given(spec, "pulley.tensioner.diameter_mm").give_or_take.value(),
             WithinAbs(0.1016, kOneRounding));
  CHECK(given(spec, "pulley.water pump.at_mm[0]").give_or_take == 0.5);
  CHECK(given(spec, "pulley.water pump.at_mm[0]").origin == Origin::measured);
  CHECK_FALSE(given(spec, "pulley.water pump.at_mm[1]").give_or_take);
}

TEST_CASE("An example's number is one until it is edited or its origin is said") {
  const std::string example =
      "[example]\n\"belt.teeth\" = 111\n\"pulley.cam.at_mm\" = [0, 374]\n\"pulley.1.teeth\" = 20\n"
      "\"pulley.gone.teeth\" = 20\n";
  const DriveSpec untouched = read(samples::kLaunch + example);
  CHECK(given(untouched, "belt.teeth").origin == Origin::example);
  CHECK(given(untouched, "pulley.crank.teeth").origin == Origin::example);
  CHECK(given(untouched, "pulley.cam.at_mm[0]").origin == Origin::example);
  CHECK(given(untouched, "pulley.cam.at_mm[1]").origin == Origin::not_said);
  const DriveSpec edited = read(with(samples::kLaunch, "teeth = 111", "teeth = 112") + example);
  CHECK(given(edited, "belt.teeth").origin == Origin::not_said);
  const DriveSpec said =
      read(samples::kLaunch + example + "[origin]\n\"belt.teeth\" = \"measured\"\n");
  CHECK(given(said, "belt.teeth").origin == Origin::measured);
  const DriveSpec otherwise = read(samples::kLaunch + example + "[origin]\ndefault = \"manual\"\n");
  CHECK(given(otherwise, "belt.teeth").origin == Origin::example);
}

TEST_CASE("A setting takes the place of the file's value, by name or by number") {
  CHECK(launch_set("pulley.cam.teeth", "39").pulleys[2].teeth == 39);
  CHECK(launch_set("pulley.3.teeth", "39").pulleys[2].teeth == 39);
  CHECK(launch_set("pulley.water pump.teeth", "20").pulleys[3].teeth == 20);
  CHECK(launch_set("belt.teeth", "110").belt.teeth == 110);
  CHECK(launch_set("build.skim_mm.head", "0.35").build.skim_mm.at("head") == 0.35);
  CHECK(launch_set("pulley.cam.at_mm", "[0,376]").pulleys[2].at_mm == Vec2(0, 376));
  CHECK(launch_set("pulley.cam.at_mm[1]", "376").pulleys[2].at_mm == Vec2(0, 376));
  CHECK(launch_set("pulley.tensioner.tensioner.set_deg", "11:30").pulleys[1].tensioner->set_deg ==
        345.0);
  CHECK(launch_set("pulley.cam.pin.play_mm", ".2").pulleys[2].pin->play_mm == 0.2);
  CHECK(launch_set("pulley.crank.pin.radius_mm", "20").pulleys[0].pin->radius_mm == 20.0);
  CHECK(launch_set("crank_turns", "anticlockwise").crank_turns == Turn::anticlockwise);
  CHECK(launch_set("build.teeth_out.water pump", "2 early").build.teeth_out.at("water pump") == 2);
  CHECK(launch_set("build.renewed.water pump.teeth", "20").build.renewed.at("water pump").teeth ==
        20);
  CHECK(launch_set("title", "\"quoted\"").title == "quoted");
  CHECK(launch_set("limits.near_mm", "3").limits.near_mm == 3.0);
}

TEST_CASE("A setting in another unit takes the place of the file's length") {
  CHECK(launch_set("pulley.tensioner.diameter_in", "2").pulleys[1].diameter_mm == 50.8);
  CHECK_THAT(launch_set("build.skim_thou.head", "10").build.skim_mm.at("head"),
             WithinAbs(0.254, kOneRounding));
  const DriveSpec two = read(samples::kEverything, {{"build.skim_mm.right", "0.2"}});
  CHECK(two.build.skim_mm.at("right") == 0.2);
  CHECK_THAT(two.build.skim_mm.at("left"), WithinAbs(0.3048, kOneRounding));
}

TEST_CASE("Settings make no measured or example number, and stand behind the file's") {
  const DriveSpec spec = read(samples::kEverything, {{"pulley.cam.at_mm", "[10, 401]"}});
  CHECK(given(spec, "pulley.cam.at_mm[1]").origin == Origin::assumed);
  CHECK_FALSE(given(spec, "pulley.cam.at_mm[1]").give_or_take);
  CHECK(given(spec, "pulley.cam.at_mm[1]").line == 0);
  CHECK(spec.given.back().key == "pulley.cam.at_mm[1]");
  CHECK(spec.given.back().text == "401 mm");
}

TEST_CASE("The last of two settings of one key is the one that counts") {
  CHECK(read(samples::kLaunch, {{"belt.teeth", "110"}, {"belt.teeth", "112"}}).belt.teeth == 112);
}
