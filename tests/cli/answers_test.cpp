// The numbers of the commands against values from outside: those agreed for the first profile
// (derived by hand before the program was written), exact two-pulley values, and tooth arithmetic.
#include <cmath>

#include "cli/command.hpp"
#include "cli/drives.hpp"
#include "support/worked_values.hpp"

namespace twoturn::test {
namespace {

// The agreed values have two decimals of a degree or a mm, four of a cam degree.
constexpr double kTwoDecimals = 0.005;
constexpr double kFourDecimals = 0.00005;

TEST_CASE("By the book 111 teeth go on before and past over centre; 110 and 112 do not") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json teeth = done(bench, "teeth launch.toml --by-the-book --json").json();
  CHECK(teeth["fit"] == "by the book");
  REQUIRE(teeth["fits"].size() == 1);
  CHECK(teeth["fits"][0]["teeth"] == 111);
  const Json& settings = teeth["fits"][0]["settings"];
  REQUIRE(settings.size() == 2);
  CHECK_THAT(settings[0]["at_deg"].get<double>(), WithinAbs(346.06, kTwoDecimals));
  CHECK(settings[0]["over_centre"] == "before");
  CHECK(settings[0]["meant"] == true);
  CHECK_THAT(settings[0]["adjustment_left_mm"].get<double>(), WithinAbs(2.95, kTwoDecimals));
  CHECK_THAT(settings[1]["at_deg"].get<double>(), WithinAbs(186.25, kTwoDecimals));
  CHECK(settings[1]["over_centre"] == "past");
  REQUIRE(teeth["nearby"].size() == 2);
  CHECK(teeth["nearby"][0]["teeth"] == 110);
  CHECK(teeth["nearby"][0]["mismatch_mm"] < 0.0);
  CHECK(teeth["nearby"][1]["teeth"] == 112);
  CHECK(teeth["nearby"][1]["mismatch_mm"] > 0.0);
  CHECK_THAT(done(bench, "teeth launch.toml").out, StartsWith("111 teeth: this is the only"));
}

TEST_CASE("Over centre, both settings and the way to tighten stand in the tensioner's answer") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json book = done(bench, "tensioner launch.toml --by-the-book --rows 5 --json").json();
  CHECK(book["tightens"] == "clockwise");
  CHECK_THAT(book["over_centres"][0]["at_deg"].get<double>(), WithinAbs(86.31, kTwoDecimals));
  CHECK_THAT(book["meant"]["at_deg"].get<double>(), WithinAbs(346.06, kTwoDecimals));
  CHECK(book["settings"].size() == 2);
  REQUIRE(book["rows"].size() == 5);
  CHECK(book["rows"][0]["travel"] == 0.0);
  CHECK(book["rows"][4]["travel"] == 1.0);
  const Ran text = done(bench, "tensioner launch.toml --by-the-book");
  CHECK_THAT(text.out,
             StartsWith("111 teeth: the tensioner stands at clock 346 (11:32), give or take"));
  CHECK_THAT(text.out, ContainsSubstring("turn the spanner clockwise"));
}

TEST_CASE("No setting, no tensioner and no belt are answers: exit 1") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("fixed.toml", kFixed);
  bench.write("refused.toml", kRefused);
  done(bench, "tensioner launch.toml --set belt.teeth=112", 1);
  CHECK(done(bench, "turns launch.toml --set belt.teeth=112 --json", 1).json()["none"]["reason"] ==
        "no-setting");
  CHECK(done(bench, "tensioner fixed.toml --json", 1).json()["none"]["reason"] == "no-tensioner");
  const Ran route = done(bench, "route refused.toml", 1);
  CHECK_THAT(route.out, StartsWith("No belt can run so."));
  CHECK_THAT(route.out, ContainsSubstring("not a belt"));
  const Json document = done(bench, "route refused.toml --json", 1).json();
  CHECK(document["is_belt"] == false);
  REQUIRE_FALSE(document["refused"].empty());
  for (const char* command : {"teeth", "turns"}) {
    const Json none = done(bench, std::string(command) + " refused.toml --json", 1).json();
    CHECK(none["none"]["reason"] == "refused");
    CHECK(none["refused"].size() == document["refused"].size());
  }
  done(bench, "teeth fixed.toml --set 'pulley.spindle.at_mm=[382,0]'", 1);
}

TEST_CASE("Fixed centres at the exact distance fit 110 teeth and no pulley has to move") {
  const Bench bench;
  bench.write("fixed.toml", kFixed);
  const Json teeth = done(bench, "teeth fixed.toml --move spindle --along 3:00 --json").json();
  REQUIRE(teeth["fits"].size() == 1);
  CHECK(teeth["fits"][0]["teeth"] == 110);
  CHECK(teeth["moved"] == "spindle");
  CHECK(teeth["move_along_deg"] == 90.0);
  // The centre distance has nine decimals, the length twice its error.
  CHECK_THAT(teeth["nearby"][1]["mismatch_mm"].get<double>(), WithinAbs(0.0, 2e-9));
  const Json route = done(bench, "route fixed.toml --json").json();
  CHECK_THAT(route["pulleys"][0]["mesh_exact"].get<double>(), WithinAbs(9.4912375, 5e-8));
  CHECK_THAT(route["pulleys"][1]["mesh_exact"].get<double>(), WithinAbs(21.017525, 5e-7));
  CHECK(route["pulleys"][0]["teeth_in_mesh"] == 9);
}

TEST_CASE("The route is taken where it was asked for, as degrees or as on a clock face") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("slide.toml", kSlide);
  const Json degrees = done(bench, "route launch.toml --at 135 --json").json();
  CHECK(degrees["setting_from"] == "as asked");
  CHECK_THAT(degrees["setting"]["at_deg"].get<double>(), WithinAbs(135.0, 1e-12));
  CHECK(done(bench, "route launch.toml --at 4:30 --json").json() == degrees);
  const Json slide = done(bench, "route slide.toml --at 5 --json").json();
  CHECK_THAT(slide["setting"]["at_mm"].get<double>(), WithinAbs(5.0, 1e-12));
  refused(bench, "route slide.toml --at 4:30", 2);
}

TEST_CASE("A skim of 0.3 alone retards the cam by 0.2810 cam deg and moves the setting to 0.51") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json turns = done(bench, "turns launch.toml --set build.teeth_out.cam=0 --json").json();
  int seen = 0;
  for (const Json& after : turns["after_turns"]) {
    if (after["shaft"] != "cam") continue;
    ++seen;
    CHECK_THAT(after["error_own_deg"].get<double>(), WithinAbs(-0.2810, kFourDecimals));
    CHECK_THAT(after["error_crank_deg"].get<double>(), WithinAbs(-0.5620, kFourDecimals));
    CHECK(after["pin"] == (after["turns"] == 1 ? "not due" : "tight"));
  }
  CHECK(seen == 4);
  CHECK_THAT(turns["setting"]["at_deg"].get<double>(), WithinAbs(0.51, kTwoDecimals));
  CHECK_THAT(turns["setting_by_the_book"]["at_deg"].get<double>(), WithinAbs(346.06, kTwoDecimals));
}

TEST_CASE("A tooth late on top is nine cam degrees more, and the cure is a tooth on and the rest") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json turns = done(bench, "turns launch.toml --json", 1).json();
  REQUIRE(turns["cures"].size() == 1);
  CHECK(turns["cures"][0]["shaft"] == "cam");
  CHECK(turns["cures"][0]["teeth_on"] == 1);
  CHECK_THAT(turns["cures"][0]["rest_own_deg"].get<double>(), WithinAbs(0.2810, kFourDecimals));
  const Ran text = done(bench, "turns launch.toml", 1);
  CHECK_THAT(text.out,
             StartsWith("After two turns the cam is 18.56 crank deg (9.28 cam deg) late."));
  CHECK_THAT(text.out, ContainsSubstring("turn the cam 1 tooth on (clockwise)"));
  // By the book nothing is out, forwards and backwards.
  for (const char* way : {"", " --backwards"}) {
    const Json book =
        done(bench, std::string("turns launch.toml --by-the-book --json") + way).json();
    for (const Json& after : book["after_turns"]) CHECK(after["error_crank_deg"] == 0.0);
    CHECK(book["cures"].empty());
  }
}

TEST_CASE("More turns are looked at where asked, and the text shows them") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json turns = done(bench, "turns launch.toml --turns 6,222 --json", 1).json();
  CHECK(turns["after_turns"].back()["turns"] == 222);
  CHECK_THAT(done(bench, "turns launch.toml --turns 222", 1).out,
             ContainsSubstring("After 222 turns:"));
  // Nought and four are told by number alone: with nothing asked they are in the document only.
  for (const auto& [asked, heading] :
       {std::pair{"0", "Before the first turn:"}, {"4", "After 4 turns:"}}) {
    const std::string with = std::string("turns launch.toml --turns ") + asked;
    CHECK_THAT(done(bench, with, 1).out, ContainsSubstring(heading));
    CHECK_THAT(done(bench, "turns launch.toml", 1).out, !ContainsSubstring(heading));
    CHECK_THAT(done(bench, "turns launch.toml --turns 6", 1).out, !ContainsSubstring(heading));
  }
  const std::string both = done(bench, "turns launch.toml --backwards --turns 4,0", 1).out;
  CHECK_THAT(both, ContainsSubstring("Before the first turn:"));
  CHECK_THAT(both, ContainsSubstring("After 4 turns backwards:"));
}

TEST_CASE("Tooth counts alone answer the paint question") {
  struct Case {
    int belt, crank, cam, further_on, all_meet;
  };
  // Common practice: 111 on 20/40 meet after 222 turns, 120 after 6, 121 on 22/44 after 22.
  const Bench bench;
  for (const Case& c :
       {Case{111, 20, 40, 40, 222}, Case{120, 20, 40, 40, 6}, Case{121, 22, 44, 44, 22}}) {
    const std::string arguments = "marks --belt " + std::to_string(c.belt) + " --crank " +
                                  std::to_string(c.crank) + " --cam " + std::to_string(c.cam);
    const Json marks = done(bench, arguments + " --json").json();
    CHECK(marks["paint"]["teeth_further_on"] == c.further_on);
    CHECK(marks["paint"]["all_meet_turns"] == c.all_meet);
    CHECK_THAT(done(bench, arguments).out,
               StartsWith("The paint returns after " + std::to_string(c.all_meet) + " turns"));
  }
}

TEST_CASE("A tooth is 18 crank degrees at the crank of 20 and 9 cam degrees at the cam of 40") {
  const Bench bench;
  const Json marks =
      done(bench, "marks --belt 111 --crank 20 --cam 40 --pitch 9.525 --json").json();
  CHECK(marks["pulleys"][0]["tooth_crank_deg"] == 18.0);
  CHECK(marks["pulleys"][1]["tooth_own_deg"] == 9.0);
  CHECK(marks["pulleys"][1]["tooth_crank_deg"] == 18.0);
  CHECK(marks["pulleys"][1]["tooth_edge_mm"] == 9.525);
  CHECK(marks["pulleys"][1]["wanders_crank_deg"] == 0.0);
  CHECK(marks["skims"].empty());
}

TEST_CASE("A skim over a straight run meets the exact two-pulley values") {
  const Bench bench;
  for (const worked::InLineSkim& row : worked::kInLineSkims) {
    const std::string belt =
        row.pitch_mm == 9.525 ? "--section ZA" : "--pitch " + std::to_string(row.pitch_mm);
    const std::string arguments = belt + " --crank " + std::to_string(row.crank_teeth) + " --cam " +
                                  std::to_string(row.cam_teeth) + " --centre " +
                                  std::to_string(row.centre_mm) + " --skim " +
                                  std::to_string(row.skim_mm);
    const Json skim = done(bench, "marks --json " + arguments).json()["skims"][0];
    // The values have nine decimals.
    CHECK_THAT(skim["error_own_deg"].get<double>(), WithinAbs(-row.cam_deg, 6e-10));
    CHECK_THAT(skim["error_crank_deg"].get<double>(), WithinAbs(-row.crank_deg, 6e-10));
    CHECK(skim["early_or_late"] == "late");
    CHECK(skim["assumed"] == "straight run");
  }
}

TEST_CASE(
    "What is absent never fails: what is left is answered, and one measurement is named each") {
  const Bench bench;
  const Json one = done(bench, "marks --crank 20 --json").json();
  CHECK(one["pulleys"].size() == 1);
  CHECK(one["paint"].is_null());
  CHECK(one["missing"].size() >= 3);
  CHECK(done(bench, "marks --json", 1).json()["pulleys"].empty());
  const Json skim = done(bench, "marks --crank 20 --cam 40 --pitch 8 --skim 0.3 --json").json();
  CHECK(skim["skims"].empty());
  CHECK_THAT(skim["missing"].dump(), ContainsSubstring("rough_centre_mm"));
}

TEST_CASE("A tooth too few at the cam wanders, and marks says how far every two turns") {
  const Bench bench;
  const Ran text = done(bench, "marks --crank 20 --cam 39");
  CHECK_THAT(text.out, ContainsSubstring("wanders"));
  const Json marks = done(bench, "marks --crank 20 --cam 39 --json").json();
  // 40 teeth pass in two turns; the 40th is 1/39 of a turn too far, doubled into crank degrees.
  CHECK_THAT(marks["pulleys"][1]["wanders_crank_deg"].get<double>(), WithinAbs(720.0 / 39.0, 1e-9));
}

TEST_CASE("The table of sections gives pitch, standard and how far each row can be trusted") {
  const Bench bench;
  const Json sections = done(bench, "sections --json").json()["sections"];
  bool za = false;
  for (const Json& section : sections) {
    CHECK_FALSE(section["standard"].get<std::string>().empty());
    CHECK_FALSE(section["trust"].get<std::string>().empty());
    if (section["name"] != "ZA") continue;
    za = true;
    CHECK(section["pitch_mm"] == 9.525);
    CHECK(section["land_to_pitch_line_mm"] == 0.686);
  }
  CHECK(za);
}

// The weir keeper's centres were chosen, distances taken from them and rounded to a tenth: the
// profile says [-6, 342] and [76, 138] nowhere.
TEST_CASE("Measured centres are placed, and every other command takes them") {
  const Bench bench;
  const std::string weir = TWOTURN_SOURCE_DIR "/profiles/weir-keeper.toml";
  const Json place = done(bench, "place " + weir + " --json").json();
  CHECK(place["placed"] == true);
  for (const Json& centre : place["centres"]) {
    if (centre["pulley"] != "cam") continue;
    CHECK_THAT(centre["at_mm"][0].get<double>(), WithinAbs(-6.0, 0.5));
    CHECK_THAT(centre["at_mm"][1].get<double>(), WithinAbs(342.0, 0.5));
  }
  CHECK(done(bench, "check " + weir + " --json").json()["verdict"] == "agrees");
  // A cm misread on one distance: told, and no stop rests on it.
  const Ran wrong = bench.run("check " + weir + " --set measured.3.distance_mm=206.8");
  CHECK(wrong.code == 0);
  CHECK_THAT(wrong.out, ContainsSubstring("contradict each other"));
}

TEST_CASE("Belts side by side name the one that the marks mean") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json compare = done(bench, "teeth launch.toml --compare 111,112 --json").json();
  REQUIRE(compare["compare"].size() == 2);
  CHECK(compare["meant_teeth"] == 111);
  CHECK(compare["compare"][0]["goes_on"] == true);
  CHECK_THAT(done(bench, "teeth launch.toml --compare 111,112").out, StartsWith("111 teeth"));
}

TEST_CASE("Many drives are the same whatever number of threads builds them") {
  const Bench bench;
  const std::string weir = TWOTURN_SOURCE_DIR "/profiles/weir-keeper.toml";
  const std::string asked = "spread " + weir + " --samples 5000";
  const std::string one = done(bench, asked + " --threads 1").out;
  CHECK(one == done(bench, asked + " --threads 3").out);
  CHECK(one != done(bench, asked + " --seed 2").out);
  // The same of the timing errors beside it.
  const std::string launch =
      "spread " TWOTURN_SOURCE_DIR "/profiles/harbour-launch.toml --samples 5000";
  const std::string errors = done(bench, launch + " --threads 1 --json").out;
  CHECK(errors == done(bench, launch + " --threads 3 --json").out);
  const Json cam = Json::parse(errors)["errors"][0];
  CHECK(cam["shaft"] == "cam");
  CHECK(cam["spreads"] == true);
  CHECK(cam["shares"][0]["key"] == "build.skim_mm.head");
  CHECK_THAT(done(bench, launch).out,
             ContainsSubstring("The cam: 0.360 crank deg late with every"));
  CHECK(done(bench, launch + " --by-the-book --json").json()["errors"].empty());
  // Every number from the manual: nothing to spread.
  CHECK(bench.run("spread " TWOTURN_SOURCE_DIR "/profiles/night-bakery-van.toml").code == 1);
}

TEST_CASE("Each number may have its own law, and a key that is none is told with the nearest") {
  const Bench bench;
  const std::string launch = "spread " TWOTURN_SOURCE_DIR "/profiles/harbour-launch.toml";
  const std::string pump = " --law-of \"pulley.water pump.at_mm=uniform\"";
  const Json laws = done(bench, launch + " --samples 1000 --json --law limits" + pump +
                                    " --law-of build.skim_mm.head=normal")
                        .json();
  CHECK(laws["law"] == "limits");
  REQUIRE(laws["laws"].size() == 2);
  CHECK(laws["laws"][0]["key"] == "build.skim_mm.head");
  CHECK(laws["laws"][1]["law"] == "uniform");
  const auto wrong = [&](const std::string& law) {
    const Ran ran = bench.run(launch + " --law-of " + law);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    return ran.err;
  };
  CHECK_THAT(wrong("build.skim.head=uniform"),
             ContainsSubstring("did you mean \"build.skim_mm.head\"?"));
  CHECK_THAT(wrong("build.skim_mm.head=even"), ContainsSubstring("normal, uniform or limits"));
  CHECK_THAT(wrong("build.skim_mm.head"), ContainsSubstring("write KEY=LAW"));
  CHECK_THAT(wrong("pulley.cam.at_mm=uniform"), ContainsSubstring("taken as exact"));
}

}  // namespace
}  // namespace twoturn::test
