// What no demo has, told by the command: a sprung tensioner, a cam with two marks, gears whose cure
// is at their driver, centres that a bearing or coordinates spoil.
#include <array>
#include <string>
#include <vector>

#include "cli/command.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

using texts::on_one_line;

const std::string kLaunch =
    std::string("'") + TWOTURN_SOURCE_DIR + "/profiles/harbour-launch.toml' ";
const std::string kSprung = kLaunch + "--set pulley.tensioner.tensioner.holds=sprung ";

std::string told(const Bench& bench, const std::string& arguments) {
  const Ran ran = bench.run(arguments);
  INFO("twoturn " << arguments << "\n" << ran.err);
  CHECK(ran.code <= 1);
  CHECK(ran.err.empty());
  return on_one_line(ran.out);
}

// A cam on the head, a jackshaft beside it that drives a balance shaft by gears: twice as fast, the
// other way round. Another `jackshaft` has other keys.
std::string geared(const std::string& jackshaft,
                   const std::string& build = "skim_mm = { head = 0.3 }") {
  return R"(crank_turns = "clockwise"
[belt]
section = "ZA"
teeth = 111
[[head]]
name = "head"
deck_deg = 0
deck_from_crank_mm = 210
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]
mark_deg = 0
[[pulley]]
name = "tensioner"
diameter_mm = 60
face = "back"
[pulley.tensioner]
pivot_mm = [-40, 170]
arm_mm = 6
slack_deg = 300
tight_deg = 200
tightens = "clockwise"
set_deg = 346
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 40
at_mm = [0, 375]
fixing = "keyed"
mark_deg = 0
pin = { radius_mm = 35, play_mm = 0.15 }
[[pulley]]
name = "jackshaft"
role = "auxiliary shaft"
teeth = 20
at_mm = [62, 250]
mount = "head"
)" + jackshaft +
         R"(
[[geared]]
name = "balance"
from = "jackshaft"
ratio = -2
role = "balance shaft"
mark_deg = 90
mark_radius_mm = 20
pin = { radius_mm = 15, play_mm = 0.1 }
[build]
)" + build +
         "\n";
}

std::string distance(const std::string& from, const std::string& to, double mm) {
  return "[[measured]]\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\ndistance_mm = " + std::to_string(mm) + "\n";
}

std::string bearing(const std::string& from, const std::string& to, double deg) {
  return "[[measured]]\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\nbearing_deg = " + std::to_string(deg) + "\n";
}

// Crank, cam and pump, each distance of a right triangle of 90, 120 and 150 mm.
std::string triangle(const std::string& cam, const std::string& pump, const std::string& measured) {
  return "[belt]\nsection = \"ZA\"\nteeth = 60\n[origin]\ndefault = \"measured\"\n"
         "[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = 20\n"
         "[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = 40\n" +
         cam + "[[pulley]]\nname = \"pump\"\nrole = \"water pump\"\nteeth = 20\n" + pump + measured;
}

const std::string kSides =
    distance("crank", "cam", 120) + distance("crank", "pump", 90) + distance("cam", "pump", 150);

}  // namespace

TEST_CASE("why: a sprung tensioner gives as it is turned backwards, and its transit pin stays in") {
  const Bench bench;
  const std::string all = told(bench, "why " + kSprung);
  CHECK_THAT(all, ContainsSubstring("It was turned backwards last, and the tensioner gave 1.00 mm "
                                    "of belt:"));
  CHECK_THAT(all, ContainsSubstring("- right again once come up to forwards."));
  CHECK_THAT(all, ContainsSubstring("The transit pin of the tensioner is still in:"));
  CHECK_THAT(all, ContainsSubstring("- the pointer does not move, and a run of belt hangs loose."));
  CHECK_THAT(told(bench, "why " + kLaunch), !ContainsSubstring("transit pin"));

  const std::string back =
      told(bench, "why " + kSprung +
                      "--pin crank=in --pin cam=out --mark 'cam=0.8 mm early' --after 2 --turned "
                      "backwards --set seen.right_forwards=true");
  CHECK_THAT(back, StartsWith("Seen: most likely (more than 99 in 100): it was turned backwards "
                              "last, and the tensioner gave 1.0"));
  CHECK_THAT(back, ContainsSubstring("1. Turn well back, then come up to the marks forwards, and "
                                     "look again. 2. Two turns by hand"));
  CHECK_THAT(back, ContainsSubstring("whether it is right once turned well back and come up to "
                                     "forwards yes yes for it"));
  const std::string pin = told(bench, "why " + kSprung +
                                          "--pin crank=in --pin cam=in --pointer 12:00 --after 2 "
                                          "--set seen.pointer_moves=false");
  CHECK_THAT(pin, ContainsSubstring("the transit pin of the tensioner is still in."));
  CHECK_THAT(pin, ContainsSubstring("1. Take the transit pin out, let the tensioner take up, then "
                                    "two turns."));
  CHECK_THAT(pin, ContainsSubstring("whether the pointer moves as the engine is turned no no"));
}

TEST_CASE("why: a cam set by the mark of another engine is told with that mark and the teeth") {
  const Bench bench;
  // 38 deg lie between the marks: of a cam with 40 teeth the nearest whole number is 4.
  const std::string seen =
      told(bench, "why " + kLaunch +
                      "--set 'pulley.cam.mark=[{name=\"petrol mark\", at_deg=30}]' --pin crank=in "
                      "--pin cam=out --mark 'cam=38 mm late' --after 2");
  CHECK_THAT(seen, ContainsSubstring("The cam was set by its other mark (petrol mark)."));
  CHECK_THAT(seen, ContainsSubstring("2. Turn the cam 4 teeth on (clockwise) with the belt off"));
}

TEST_CASE("why: a slide's place is read in mm from its slack end") {
  const Bench bench;
  const std::string sprayer =
      std::string("why '") + TWOTURN_SOURCE_DIR + "/profiles/orchard-sprayer.toml' ";
  const std::string seen =
      told(bench, sprayer + "--pin crank=in --mark cam=right --pointer '1 mm' --after 2");
  CHECK_THAT(seen, ContainsSubstring("where the tensioner stands 1.0 mm from the slack end 1.1 mm "
                                     "from the slack end"));
  CHECK_THAT(seen, ContainsSubstring("the tensioner stands 6.5 mm short of its place"));
}

TEST_CASE(
    "why: what was seen without a radius is told in degrees, and what nothing holds is not used") {
  const Bench bench;
  const std::string gears = geared("fixing = \"keyed\"");
  bench.write("p.toml", texts::with(texts::with(gears, "mark_radius_mm = 20\n", ""),
                                    "pin = { radius_mm = 15, play_mm = 0.1 }\n", ""));
  const std::string unused = "Not used, for this drive has nothing to hold it against: ";
  CHECK_THAT(told(bench, "why p.toml --mark 'balance=2 mm late' --pin cam=in --after 2"),
             ContainsSubstring(unused + "seen.mark_mm.balance."));
  CHECK_THAT(told(bench, "why p.toml --pin balance=out --pin cam=in --after 2"),
             ContainsSubstring(unused + "seen.pin.balance."));
  // Two turns a turn of the crank.
  CHECK_THAT(told(bench, "why p.toml --mark 'balance=2 crank deg late' --mark cam=right --after 2"),
             ContainsSubstring("the mark of the balance 4.0 deg late"));
  refused(bench, "why p.toml --mark 'balance=2 teeth late'", 3);
  // The crank's mark stands clear of the belt: no whole tooth can be counted from it.
  CHECK_THAT(told(bench, "why " + kLaunch + "--count 'crank to cam=52' --pin cam=in --after 2"),
             ContainsSubstring(unused + "seen.count.crank.cam."));
}

TEST_CASE("why: a stop is held against the nearest one that a fault makes, a datum is told") {
  const Bench bench;
  const std::string at_255 = told(bench, "why " + kLaunch + "--stop-at 255 --pin cam=in");
  CHECK_THAT(at_255, ContainsSubstring("Something is in the way of the piston of cylinder 4."));
  CHECK_THAT(at_255, ContainsSubstring("whether anything stops the crank dead at 255 crank deg at "
                                       "255 crank deg for it"));
  CHECK_THAT(told(bench, "why " + kLaunch + "--stop-at 250 --mark 'cam=19 mm early' --pin cam=out"),
             ContainsSubstring("at 250 crank deg at 277 crank deg against it"));
  CHECK_THAT(told(bench, "why " + kLaunch + "--no-stop --pin cam=in"),
             ContainsSubstring("whether anything stops the crank dead nothing does nothing does"));
  CHECK_THAT(told(bench, "why " + kLaunch + "--pin crank=out --pin cam=in --after 2"),
             ContainsSubstring("Everything is counted from the cam, as the crank itself was looked "
                               "at."));
}

TEST_CASE("sheet: a card has its letter for another mark, the transit pin and turning back") {
  const Bench bench;
  const std::string card =
      told(bench, "sheet " + kSprung +
                      "--card --phone --set 'pulley.cam.mark=[{name=\"petrol mark\", at_deg=30}]'");
  CHECK_THAT(card, ContainsSubstring(". Another mark was used: set that shaft by its own."));
  CHECK_THAT(card, ContainsSubstring(". Take the transit pin out, let the tensioner take up, then "
                                     "two turns."));
  CHECK_THAT(card, ContainsSubstring(". Turn well back, then come up to the marks forwards, and "
                                     "look again."));
  // 9 deg at the cam's 60.6 mm: 60.6 x 9 x pi/180 = 9.5.
  CHECK_THAT(card, ContainsSubstring("One tooth at the edge: 9.5 mm (cam)."));
}

TEST_CASE("why: pulleys are swapped only where they could be, and one that is free has slipped") {
  const Bench bench;
  std::string saloon = demos::file_text("hill-climb-saloon.toml");
  for (std::size_t at = 0; (at = saloon.find("range_deg")) != std::string::npos;) {
    saloon.erase(at, saloon.find('\n', at) - at);
  }
  bench.write("p.toml", saloon);
  bench.write("hill-climb-saloon-inlet.csv", demos::file_text("hill-climb-saloon-inlet.csv"));
  const std::string swapped = "The pulleys of the exhaust cam and the inlet cam are swapped";
  const std::string why = "why p.toml ";
  CHECK_THAT(told(bench, why), ContainsSubstring(swapped));
  for (const std::string cam : {"exhaust cam", "inlet cam"}) {
    const std::string free =
        told(bench, why + "--set 'pulley." + cam + ".fixing=free until tightened'");
    CHECK_THAT(free, !ContainsSubstring(swapped));
    CHECK_THAT(free, ContainsSubstring("The pulley of the " + cam + " has slipped 3.00 deg"));
  }
  // Another number of teeth, and a mark where the other has its own.
  for (const std::string other : {"teeth=46", "mark_deg=350.5"}) {
    CHECK_THAT(told(bench, why + "--set 'pulley.inlet cam." + other + "'"),
               !ContainsSubstring(swapped));
  }
  const std::string rare = told(bench, "why " + kLaunch +
                                           "--set seen.prior.tooth-out=0.01 --pin crank=in --pin "
                                           "cam=out --mark 'cam=9.5 mm late' --after 2");
  CHECK_THAT(rare, ContainsSubstring("tooth-out 0.01 (fewer than 1 in 100)"));
}

TEST_CASE("route: a list that makes a belt read either way is refused, and no teeth are judged") {
  const Bench bench;
  // A roller between the two runs of large pulleys presses in the one or the other.
  bench.write(
      "p.toml",
      "crank_turns = \"clockwise\"\n[belt]\nsection = \"ZA\"\nteeth = 104\n[[pulley]]\nname "
      "= \"crank\"\nrole = \"crankshaft\"\nteeth = 40\nat_mm = [0, 0]\n[[pulley]]\nname = "
      "\"cam\"\nrole = \"camshaft\"\nteeth = 80\nat_mm = [0, 300]\n[[pulley]]\nname = "
      "\"roller\"\ndiameter_mm = 40\nface = \"back\"\nat_mm = [2, 140]\n");
  const std::string two_ways =
      "The pulleys as listed, and the same list read backwards, both give a path that a belt could "
      "take, and the two differ: check the order and which face of the belt each pulley runs on.";
  CHECK_THAT(told(bench, "route p.toml"),
             StartsWith("No belt can run so.") && ContainsSubstring(two_ways));
  CHECK_THAT(told(bench, "check p.toml"),
             StartsWith("On paper: STOP, do not turn it: the belt cannot "
                        "run as drawn (order)") &&
                 ContainsSubstring("STOP, order: " + two_ways));
  CHECK(bench.run("route p.toml --json").json()["refused"][0]["about"] == "order");
}

TEST_CASE("marks: paint that meets after more turns than can be counted never does in practice") {
  const Bench bench;
  std::string profile =
      "[belt]\nteeth = 997\n[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = 991\n";
  for (const int teeth : {983, 977, 971, 967, 953, 947}) {
    const std::string number = std::to_string(teeth);
    profile += "[[pulley]]\nname = \"shaft " + number +
               "\"\nrole = \"auxiliary shaft\"\nteeth = " + number +
               "\nturns_per_crank = " + std::to_string(991.0 / teeth) + "\n";
  }
  bench.write("p.toml", profile);
  // 2 x 991 = 1 x 997 + 985; 997 is prime.
  CHECK_THAT(
      told(bench, "marks p.toml"),
      ContainsSubstring("stands 985 teeth further on than the crank's, the way it travels. It "
                        "meets the crank's again after 997 turns, all of them never in practice."));
  CHECK_THAT(told(bench, "marks p.toml"), StartsWith("The paint never returns in practice; after"));
  CHECK(bench.run("marks p.toml --json").json()["paint"]["all_meet_turns"].is_null());
}

TEST_CASE("turns: a geared shaft is put right where its driver meets the belt") {
  const Bench bench;
  const std::string shop =
      "no whole tooth cures that; ask the engine's maker or an engine shop whether it may stay.";
  const std::string key = "an offset key of 0.13 mm";  // 14 mm x 0.55 x pi/180
  const std::string at = key + " at 14 mm radius would, turning the jackshaft on (clockwise)";
  const std::string in_slots =
      "turn the jackshaft 0.55 deg of the jackshaft on in its adjustable pulley";
  const std::string would = "no whole tooth cures that; " + key + " would.";
  for (const auto& [jackshaft, cure, in_short] : std::vector<std::array<std::string, 3>>{
           {"fixing = \"adjustable\"\nrange_deg = 5", in_slots, in_slots},
           {"fixing = \"adjustable\"\nrange_deg = 0.1",
            "the pulley's slots run out 0.45 deg short of it", shop},
           {"fixing = \"adjustable\"\nrange_deg = 0.1\nkey_radius_mm = 14",
            "the pulley's slots run out 0.45 deg short of it; " + at, would},
           {"fixing = \"keyed\"\nkey_radius_mm = 14", at, would},
           {"fixing = \"keyed\"\nkey_radius_mm = 0.5", "it is too little for an offset key", shop},
           {"fixing = \"keyed\"", "only an adjustable pulley or an offset key would", shop}}) {
    INFO(jackshaft);
    bench.write("p.toml", geared(jackshaft));
    const std::string whole =
        "no whole tooth takes out 1.10 deg of the balance (0.55 crank deg); " + cure + ".";
    CHECK_THAT(told(bench, "turns p.toml"), ContainsSubstring("- the balance: " + whole));
    const std::string check = told(bench, "check p.toml");
    CHECK_THAT(check, StartsWith("On paper: look again: balance 0.55 crank deg late; " + in_short));
    CHECK_THAT(check, ContainsSubstring("As it stands, " + whole));
  }
  // A tooth of the jackshaft's 20 is 18 crank deg.
  bench.write("p.toml", geared("fixing = \"keyed\"", "teeth_out = { jackshaft = \"1 late\" }"));
  const std::string tooth =
      "turn the jackshaft, off which the balance is geared, 1 tooth on (clockwise) with the belt "
      "off its pulley.";
  CHECK_THAT(told(bench, "turns p.toml"), ContainsSubstring("- the balance: " + tooth));
  CHECK_THAT(told(bench, "check p.toml"),
             StartsWith("On paper: STOP, do not turn it: balance 18.0 crank deg late; " + tooth));
}

TEST_CASE("place: what is known worst is told with the distance that would help most") {
  const Bench bench;
  // Two directions by eye, 3 deg each: 120 mm x 3 x pi/180 = 6.28 mm across, times 2.448/1.96 for
  // the ellipse: 7.85.
  bench.write("p.toml", triangle("near_mm = [0, 120]\n", "near_mm = [90, 0]\n",
                                 distance("crank", "cam", 120) + distance("crank", "pump", 90) +
                                     bearing("crank", "pump", 90) + bearing("crank", "cam", 0)));
  const std::string text = told(bench, "place p.toml");
  CHECK_THAT(text, StartsWith("3 centres are placed; worst known is the cam, to 7.85 mm."));
  CHECK_THAT(text, ContainsSubstring("the distance from cam to pump would make that 5.6 mm."));
}

TEST_CASE("place: a wrong bearing is told in degrees, a wrong place by its name") {
  const Bench bench;
  const std::string near = "near_mm = [0, 120]\n";
  bench.write("p.toml",
              triangle(near, "near_mm = [90, 0]\n",
                       kSides + bearing("crank", "cam", 0) + bearing("crank", "pump", 90) +
                           bearing("crank", "pump", 90) + bearing("crank", "cam", 20)));
  CHECK_THAT(
      told(bench, "place p.toml"),
      ContainsSubstring("Most likely wrong is measurement 7 (the bearing from crank to cam): "
                        "it lies "));
  bench.write("p.toml",
              triangle("at_mm = [0, 120]\n", "at_mm = [90, 6]\n",
                       kSides + distance("cam", "pump", 150) + distance("crank", "pump", 90)));
  CHECK_THAT(told(bench, "place p.toml"), ContainsSubstring("the place given of the pump"));
}

TEST_CASE("spread: a number with a law of its own is told with it") {
  const Bench bench;
  const std::string spread = "spread " + kLaunch + "--samples 100 ";
  CHECK_THAT(told(bench, spread + "--law limits --law-of build.skim_mm.head=uniform"),
             ContainsSubstring("100 drives, seed 1, thrown at one or the other limit of each "
                               "number's give-or-take; build.skim_mm.head: uniform."));
  CHECK_THAT(told(bench, spread + "--law uniform --law-of build.skim_mm.head=normal"),
             ContainsSubstring("evenly within each number's give-or-take; build.skim_mm.head: "
                               "normal."));
}

}  // namespace twoturn::test
