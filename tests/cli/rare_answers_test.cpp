// Answers of commands that few profiles bring about: sheet, card, park, tension, feel, face, turns.
// Numbers beside them are by hand.
#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <vector>

#include "cli/command.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

using texts::on_one_line;
using texts::with;

std::string demo(const std::string& name) { return demos::text_of(name); }

// Without the lines that begin so.
std::string without(const std::string& text, const std::vector<std::string>& starts) {
  std::string left;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1);
    const std::string line = text.substr(at, end - at + 1);
    bool taken = false;
    for (const std::string& start : starts) taken = taken || line.rfind(start, 0) == 0;
    if (!taken) left += line;
    at = end + 1;
  }
  return left;
}

std::string van() {
  return with(demo("night-bakery-van"), "teeth_out = { \"inlet cam\" = \"1 late\" }", "");
}

std::string told(const Bench& bench, const std::string& profile, const std::string& arguments) {
  bench.write("p.toml", profile);
  const Ran ran = bench.run(arguments);
  INFO("twoturn " << arguments << "\n" << ran.err);
  CHECK(ran.code <= 1);
  CHECK(ran.err.empty());
  return on_one_line(ran.out);
}

std::string counts(int belt, const std::string& crank_role = "role = \"crankshaft\"\n") {
  return "[belt]\nteeth = " + std::to_string(belt) + "\n[[pulley]]\nname = \"crank\"\n" +
         crank_role + "teeth = 20\n[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = 40\n";
}

// Crank and cam on fixed centres, and a third pulley. A straight run from pitch circle to circle.
std::string fixed_centres(const std::string& third, int teeth, const std::string& more = "") {
  return "crank_turns = \"clockwise\"\n[belt]\nsection = \"ZA\"\nteeth = " + std::to_string(teeth) +
         "\n[[head]]\nname = \"head\"\ndeck_deg = 0\ndeck_from_crank_mm = 200\n"
         "[[pulley]]\nname = \"crank\"\nrole = \"crankshaft\"\nteeth = 20\nat_mm = [0, 0]\n"
         "mark_deg = 0\n[[pulley]]\nname = \"cam\"\nrole = \"camshaft\"\nteeth = 40\n"
         "at_mm = [10, 333]\nmount = \"head\"\nfixing = \"keyed\"\nmark_deg = 0\n" +
         third + more;
}

std::string pump(const std::string& at) {
  return "[[pulley]]\nname = \"pump\"\nrole = \"auxiliary shaft\"\nturns_per_crank = 1\nteeth = "
         "20\n"
         "fixing = \"keyed\"\nmark_deg = 0\nat_mm = " +
         at + "\n";
}

}  // namespace

TEST_CASE("sheet: on fixed centres the belt's own length decides, and is told") {
  const Bench bench;
  const std::string vary = " Its length may vary by 0.66 mm each way.";
  const std::string one = told(bench, fixed_centres(pump("[65, 60]"), 103), "sheet p.toml --phone");
  CHECK_THAT(one, ContainsSubstring(
                      "No tensioner: on these centres the belt is 0.86 mm too short." + vary));
  CHECK_THAT(one,
             ContainsSubstring("Right until tensioned, then part of a tooth late: Slack was left "
                               "on the run from crank"));
  CHECK_THAT(told(bench, fixed_centres(pump("[65, 60]"), 104), "sheet p.toml --phone"),
             ContainsSubstring("on these centres the belt is 8.66 mm too long." + vary));
  CHECK_THAT(told(bench, without(fixed_centres(pump("[65, 60]"), 104), {"teeth = 104"}),
                  "sheet p.toml --phone"),
             ContainsSubstring("No tensioner: the centres alone make the belt tight." + vary));
}

TEST_CASE("sheet: paint, the way to the mark and what is not said of the crank") {
  const Bench bench;
  // Two turns are 40 teeth: none past a belt of 40, one past 39; a belt of 20 goes round with each.
  for (const auto& [teeth, says] : std::vector<std::pair<int, const char*>>{
           {40,
            "Paint: the belt's and the crank's then meet. They meet after 2 turns, all paint "
            "after 2 turns."},
           {39,
            "Paint: the belt's is then 1 tooth past the crank's, the way it runs, and that is "
            "right. They meet after 39 turns, all paint after 78 turns."},
           {20, "then meet. They meet after 1 turn, all paint after 2 turns."}}) {
    CHECK_THAT(told(bench, counts(teeth), "sheet p.toml --phone"), ContainsSubstring(says));
  }
  // Nothing is counted from a crank that is not said to be one.
  const std::string none = told(bench, counts(40, ""), "sheet p.toml --phone");
  CHECK_THAT(none, !ContainsSubstring("off by"));
  CHECK_THAT(none, ContainsSubstring("A solid stop at one place"));
  const std::string open =
      told(bench, without(demo("harbour-launch"), {"crank_turns"}), "sheet p.toml --phone");
  CHECK_THAT(open, ContainsSubstring("Right until tensioned, then part of a tooth out: Slack"));
  CHECK_THAT(open, ContainsSubstring("Over crank, pumps and cams; every run taut but"));
  CHECK_THAT(open, ContainsSubstring("Seen from the belt end the crank runs ____"));
  bench.write("hill-climb-saloon-inlet.csv", demos::file_text("hill-climb-saloon-inlet.csv"));
  const std::string head = "belt off, ";
  const std::string forwards = "NOT forwards: there a piston meets a valve.";
  const std::string back = "NOT back: there a piston meets a valve.";
  for (const auto& [deg, says] : std::vector<std::pair<int, std::string>>{
           {40, "on paper 50 deg back. " + forwards + " Stop"},
           {100, "on paper 10 deg forwards. " + back + " Stop"},
           {300, "the way the manual says. " + forwards + " " + back + " Stop"}}) {
    CHECK_THAT(told(bench, demo("hill-climb-saloon"),
                    "sheet p.toml --phone --set engine.timing_position_deg=" + std::to_string(deg)),
               ContainsSubstring(head + says));
  }
}

TEST_CASE("sheet: a sprung tensioner may have given as it was turned back, and humps are told") {
  const Bench bench;
  const std::string sprung =
      told(bench, demo("harbour-launch"),
           "sheet p.toml --phone --set pulley.tensioner.tensioner.holds=sprung");
  CHECK_THAT(sprung,
             ContainsSubstring("Off only after turning backwards: Slack: well back, then come "
                               "forwards again."));
  CHECK_THAT(told(bench, demo("harbour-launch"), "sheet p.toml --phone"),
             !ContainsSubstring("Off only after turning backwards"));
  CHECK_THAT(
      told(bench, van(), "sheet p.toml --phone"),
      ContainsSubstring("Humps of the valve springs at 129, 309, 489 and 669 deg on from pins "
                        "in, up to 14 Nm (10 lbf ft): 46 N at 300 mm of spanner."));
}

TEST_CASE(
    "sheet: without pins the card asks for teeth between marks, without a radius for degrees") {
  const Bench bench;
  const std::string bare = without(van(), {"pin = ", "pointer_deg"});
  CHECK_THAT(told(bench, bare, "sheet p.toml --card --phone"),
             ContainsSubstring("Count belt teeth from the mark of the crank to that of the exhaust "
                               "cam: - 80 or fewer: "));
  CHECK_THAT(bench.run("sheet p.toml --card").out, ContainsSubstring("81 or more"));
  const std::string balance = fixed_centres("", 103, R"([[pulley]]
name = "oil pump"
role = "oil pump"
teeth = 40
at_mm = [65, 60]
fixing = "keyed"
[[geared]]
name = "balance"
from = "oil pump"
ratio = -4
role = "balance shaft"
mark_deg = 90
)");
  CHECK_THAT(told(bench, without(balance, {"mark_deg = 0"}), "sheet p.toml --card --phone"),
             ContainsSubstring(" deg late to "));
}

TEST_CASE("park: bores and crank pins that were measured leave their part open") {
  const Bench bench;
  const std::string v6 = demo("valley-rescue-v6");
  CHECK_THAT(told(bench, v6, "park p.toml"),
             ContainsSubstring("every piston is 16.43 mm, give or take 0.03, beyond the margin"));
  const std::string measured =
      v6 +
      "\"engine.bores_deg\" = { from = \"measured\", give_or_take = 1 }\n"
      "\"engine.crank_pins_deg\" = { from = \"measured\", give_or_take = 2 }\n";
  bench.write("p.toml", measured);
  const Json park = done(bench, "park p.toml --json").json()["park"];
  const Json& unsure = park["best_spare_unsure"];
  // Pins of 2 deg against bores of 1: four parts in five of the square.
  CHECK(unsure["most"] == "engine.crank_pins_deg");
  CHECK_THAT(unsure["most_share"].get<double>(), WithinAbs(0.8, 1e-3));
  const double both = unsure["give_or_take_mm"].get<double>();
  CHECK_THAT(
      told(bench, with(measured, "give_or_take = 2 }", "give_or_take = 1e-9 }"), "park p.toml"),
      ContainsSubstring("give or take 1"));
  CHECK_THAT(both, WithinAbs(2.25, 0.01));
}

TEST_CASE("tension: a give is told with its push, by the run that was pushed") {
  const Bench bench;
  const std::string run = "tension p.toml --run 'inlet cam,water pump' --give-mm ";
  // A quarter of length over give, times the push: 207.9 / 4 / 6 x 30 = 260 N.
  CHECK_THAT(
      told(bench, van(), run + "6"),
      StartsWith("6 mm of give to 30 N, give or take 0.5 mm on the run from the inlet cam to "
                 "the water pump is 260 N, give or take 48: 105 % of what it should have; "
                 "that fits."));
  CHECK_THAT(
      told(bench, van(), run + "6 --push-n 20 --give-or-take 0.2"),
      StartsWith("6 mm of give to 20 N, give or take 0.2 mm on the run from the inlet cam to "
                 "the water pump is 173 N, give or take 44: 70 %"));
  for (const auto& [asked, says] : std::vector<std::pair<std::string, const char*>>{
           {"--run 'inlet cam,water pump' --give-mm 40",
            "a run of 208 mm that gives 40 mm is slack: push less, or tension it first."},
           {"--run 'inlet cam,crank' --newtons 200",
            "no straight of belt goes from the inlet cam to the crank: name two neighbours in belt "
            "order"},
           // Two in a hundred of 170000 N.
           {"--newtons 9000",
            "that would be 9000 N, and no belt like this has more than 3400 N: look at the "
            "reading, "
            "its unit and the run"}}) {
    INFO(asked);
    const Ran ran = bench.run("tension p.toml " + asked);
    CHECK(ran.code != 0);
    CHECK_THAT(on_one_line(ran.out + ran.err), ContainsSubstring(says));
  }
}

TEST_CASE("tension: a note wants the belt's mass, by the metre or by its own weight") {
  const Bench bench;
  const std::string pluck = "tension p.toml --hz 110 --run 'water pump,inlet cam'";
  const std::string says =
      "110.0 Hz, give or take 2 on the run from the inlet cam to the water pump "
      "is 247 N, give or take 9: 100 % of what it should have; that fits.";
  CHECK_THAT(told(bench, van(), pluck), StartsWith(says));
  // 140 teeth of 8 mm at 118 g a metre.
  CHECK_THAT(told(bench, with(van(), "mass_g_per_m = 118", "weighed_g = 132.16"), pluck),
             StartsWith(says));
  const std::string launch = demo("harbour-launch");
  CHECK_THAT(told(bench, launch, "tension p.toml --hz 90"),
             StartsWith("a note says nothing without the belt's mass: weigh it (belt.weighed_g)."));
  // Without a tension to compare with it is told, and not judged.
  CHECK_THAT(
      told(bench, launch, "tension p.toml --newtons 200"),
      StartsWith("200 N, give or take 5 on the run from the cam to the water pump. Harbour"));
  // 232.9 / 4 / 5 x 30 = 349 N.
  CHECK_THAT(
      told(bench, launch, "tension p.toml --give-mm 5"),
      StartsWith("5 mm of give to 30 N, give or take 0.5 mm on the run from the cam to the water "
                 "pump is 349 N, give or take 68. Harbour"));
  CHECK_THAT(told(bench, without(van(), {"stiffness_n"}), "tension p.toml"),
             ContainsSubstring("valve springs load one run more than another, and are not counted "
                               "here"));
  CHECK_THAT(told(bench, without(van(), {"mass_g_per_m"}), "tension p.toml"),
             ContainsSubstring("weigh the old belt (belt.weighed_g)"));
}

TEST_CASE("bolts: those tightened by angle are used once, and it is said") {
  const Bench bench;
  CHECK_THAT(
      told(bench, van(), "bolts p.toml --set 'bolts.head bolts.condition=reused'"),
      ContainsSubstring("Tightened by angle and used before: such bolts are stretched as they "
                        "are tightened, and as a rule are used once (common practice)."));
  CHECK_THAT(told(bench, van(), "bolts p.toml"), !ContainsSubstring("used before"));
}

TEST_CASE("turns: a drive that cannot carry its timing is refused with the numbers") {
  const Bench bench;
  CHECK_THAT(
      told(bench, fixed_centres(pump("[27, 160]"), 100), "turns p.toml"),
      StartsWith("Only 0.29 teeth of the pump are in mesh; at least 1 must be for the belt to "
                 "turn it in time. Check its place and the order of the pulleys."));
  CHECK_THAT(told(bench, fixed_centres(pump("[48, 160]"), 102), "why p.toml"),
             ContainsSubstring("the belt cannot be put on so: nothing is in mesh on the pump"));
  // Cam 60.64 and idler 31.50 on their pitch lines: 92.14 mm. By the book 92.04 apart.
  const std::string idler =
      "[[pulley]]\nname = \"idler\"\ndiameter_mm = 60\nface = \"back\"\nat_mm = [70, 263.2]\n";
  CHECK_THAT(
      told(bench, fixed_centres(idler, 103, "[build]\ngasket_change_mm = { head = 0.6 }\n"),
           "turns p.toml"),
      StartsWith("No straight run of belt fits between cam and idler: their centres are 92.04 "
                 "mm apart and would have to be more than 92.14 mm."));
}

TEST_CASE("turns: each part of [build] is told alone, and all of it together") {
  const Bench bench;
  bench.write("hill-climb-saloon-inlet.csv", demos::file_text("hill-climb-saloon-inlet.csv"));
  const std::string slots = "turns p.toml --set 'build.adjusted_deg.inlet cam=2 late' ";
  const std::string all = told(bench, demo("hill-climb-saloon"),
                               slots +
                                   "--set build.stretch_percent=-0.1 --set "
                                   "'build.teeth_out.exhaust cam=1 early'");
  // 2 deg of the cam are 4 of the crank, a tooth of 44 is 16.36.
  CHECK_THAT(all,
             ContainsSubstring("exhaust cam 1 tooth early exhaust cam 16.36 crank deg early 0.0"));
  CHECK_THAT(all, ContainsSubstring("inlet cam adjusted 2 deg late exhaust cam right 0.0 inlet cam "
                                    "4.00 crank deg late"));
  CHECK_THAT(all, ContainsSubstring("belt 0.1 % short exhaust cam 1.40 crank deg early"));
  CHECK_THAT(told(bench, demo("hill-climb-saloon"), slots + "--set build.stretch_percent=0.1"),
             ContainsSubstring("belt 0.1 % stretched exhaust cam 1.40 crank deg late"));
  const std::string nothing =
      told(bench, demo("hill-climb-saloon"),
           "turns p.toml --set 'build.adjusted_deg.inlet cam=0' --set build.stretch_percent=0 "
           "--set 'build.teeth_out.exhaust cam=0'");
  CHECK_THAT(nothing, !ContainsSubstring("part of [build]"));
}

TEST_CASE(
    "turns: warm, the tensioner locked or sprung; without the head's place that is asked for") {
  const Bench bench;
  const std::string warm = demo("mill-generator") +
                           "[build.warm]\ncold_c = 20\nblock_c = 90\nhead_c = 95\nbelt_c = 60\n"
                           "block_ppm_per_c = 11.4\nhead_ppm_per_c = 21.5\nbelt_ppm_per_c = 5\n";
  // The belt: 139 teeth of 9.525 mm, 40 C at 5 ppm are 0.26 mm.
  CHECK_THAT(told(bench, warm, "turns p.toml"),
             ContainsSubstring("With the tensioner locked where it was set cold, the path grows by "
                               "0.88 mm and the belt by 0.26 mm: it is tighter by 0.62 mm."));
  const std::string open = "where marks and tensioner stand warm: ";
  CHECK_THAT(told(bench, without(warm, {"deck_deg"}), "turns p.toml"),
             ContainsSubstring(open + "see which way the head lifts off, as on a clock face "
                                      "(head.head.deck_deg)"));
  CHECK_THAT(told(bench, without(warm, {"deck_from_crank_mm"}), "turns p.toml"),
             ContainsSubstring(open + "measure from the crank's centre to the head's face "
                                      "(head.head.deck_from_crank_mm)"));
  // A head that carries nothing need not be known.
  CHECK_THAT(
      told(bench, without(warm, {"deck_deg", "deck_from_crank_mm", "mount"}), "turns p.toml"),
      ContainsSubstring("Warm: block 90 C, head 95 C, belt 60 C, put together at 20 C"));
  CHECK_THAT(told(bench, without(warm, {"teeth = 139"}), "check p.toml"),
             ContainsSubstring("build.warm.belt_ppm_per_c (two turns cannot be told yet)"));
}

TEST_CASE("why: a fault that moves the roller into a cover says which") {
  const Bench bench;
  const std::string cut = with(demo("harbour-launch"), "[[-92, 60], [-92, 330], [-80, 420]]",
                               "[[-78, 140], [-78, 200]]");
  const std::string all =
      told(bench, cut, "why p.toml --set pulley.tensioner.tensioner.holds=sprung");
  CHECK_THAT(all, ContainsSubstring("the belt then rubs on"));
  CHECK_THAT(told(bench, demo("harbour-launch"),
                  "why p.toml --set pulley.tensioner.tensioner.holds=sprung"),
             !ContainsSubstring("the belt then rubs on"));
}

TEST_CASE("feel: geared cams are felt too; what is not given is asked for by its key") {
  const Bench bench;
  const std::string launch = demo("harbour-launch");
  const std::string over = with(with(launch, "cam = \"cam\"", "cam = \"overhead\""),
                                "cam = \"cam\"", "cam = \"overhead\"");
  const std::string geared =
      with(with(over, "role = \"camshaft\"", "role = \"auxiliary shaft\"\nturns_per_crank = 0.5"),
           "[[cover]]",
           "[[geared]]\nname = \"overhead\"\nfrom = \"cam\"\nratio = 1\nrole = \"camshaft\"\n"
           "mark_deg = 10\n[[cover]]");
  CHECK_THAT(told(bench, geared, "feel p.toml"),
             StartsWith("Two turns by hand have 4 humps; how high they are hangs on the valve "
                        "springs, which are not all given."));
  for (const auto& [starts, says] : std::vector<std::pair<std::string, const char*>>{
           {"firing_order", "take the firing order from the manual (engine.firing_order)"},
           {"cam = ", "name the camshaft that opens it (valve.inlet.cam)"},
           {"lift_mm", "give lift and timing of the inlet valve (valve.inlet.opens_deg)"}}) {
    CHECK_THAT(told(bench, without(launch, {starts}), "feel p.toml"), ContainsSubstring(says));
  }
  CHECK_THAT(told(bench, counts(40), "feel p.toml"),
             ContainsSubstring("give each kind of valve a [[valve]]: lift, timing and its cam"));
}

TEST_CASE("face: what a skim does where little of the drive is given, or the belt no longer fits") {
  const Bench bench;
  const std::string face = "face --profile p.toml --skim ";
  CHECK_THAT(told(bench, demo("harbour-launch"), face + "3"),
             ContainsSubstring("nowhere in its travel does the tensioner give it that length: it "
                               "takes 1059.74 to 1063.41 mm."));
  const std::string no_head = told(bench, counts(111), face + "0.2");
  CHECK_THAT(no_head, ContainsSubstring("what the skim moves: add a [[head]] with its name and "
                                        "deck_deg, and mount the cam on it (head.name)"));
  // From counts and a tape alone.
  CHECK_THAT(
      told(bench,
           with("rough_centre_mm = 360\n" + counts(111), "[belt]\n", "[belt]\npitch_mm = 9.525\n"),
           face + "0.2"),
      StartsWith("A skim of 0.200 mm (7.9 thou) makes the cam late by about 0.19 cam deg = "
                 "0.38 crank deg (from counts and a tape, over one straight run)."));
  CHECK_THAT(
      told(bench, without(demo("harbour-launch"), {"deck_deg"}), face + "0.2"),
      ContainsSubstring("which way the skim moves the cam: say which way the head lifts off, "
                        "as on a clock face (head.head.deck_deg)"));
  CHECK_THAT(told(bench, without(demo("harbour-launch"), {"mount"}), face + "0.2"),
             ContainsSubstring("say which pulleys are mounted on the head (pulley.NAME.mount)"));
}

TEST_CASE("face: least height, one square and feelers beside heights each have their say") {
  const Bench bench;
  bench.write("h.csv",
              "x_mm,y_mm,height_mm\n0,0,0\n100,0,0\n200,0,0\n0,100,0\n100,100,0.03\n200,100,0\n"
              "0,200,0\n100,200,0\n200,200,0.05\n");
  const std::string out = "Out of flat by 0.040 mm (1.6 thou): ";
  for (const auto& [arguments, says] : std::vector<std::pair<std::string, std::string>>{
           {"h.csv", out + "within the strict 0.05 mm (common practice)."},
           {"h.csv --limit-local 0.5", out + "within the strict 0.05 mm (common practice)."},
           {"h.csv --limit-local 0.01", out +
                                            "refused. Within 100 mm it is out of flat by 0.040 mm "
                                            "(1.6 thou), more than the 0.01 mm given for that."},
           {"h.csv --height 120 --least-height 120.01",
            out + "refused. The part is 120 mm high, below its least 120.01 mm."},
           {"h.csv --along 0.2..0.3", out +
                                          "refused. A gap of 0.200 mm (7.9 thou) or more under the "
                                          "straight edge (along) is far too much"},
           {"--along 0.2..",
            "Out of flat by at least 0.200 mm (7.9 thou): refused, 0.20 mm under the "
            "straight edge is far too much (common practice). Skim it"},
           {"--along 0.11..0.12",
            "Out of flat by at least 0.110 mm (4.3 thou): refused, more than the "
            "loose 0.10 mm (common practice). Skim it"},
           {"--along 0.06..0.07",
            "Out of flat by at least 0.060 mm (2.4 thou): between the strict"},
           {"--along ..0.03 --across ..0.03",
            "Out of flat by an amount no feeler showed; no line felt is out by more than 0.030 mm"},
           {"--along 0..0.06",
            "Out of flat by an amount no feeler showed: the feelers leave open "
            "whether it is within the strict 0.05 mm"}}) {
    INFO(arguments);
    CHECK_THAT(on_one_line(bench.run("face " + arguments).out), StartsWith(says));
  }
  CHECK_THAT(on_one_line(bench.run("face h.csv --height 120 --least-height 119.99").out),
             ContainsSubstring("The least skim would leave it 0.0"));
  CHECK_THAT(
      on_one_line(bench.run("face h.csv --along 0.06..0.07").out),
      ContainsSubstring("The feelers show at least 0.060 mm (2.4 thou), the heights 0.040 mm"));
}

TEST_CASE("check: numbers that decide nothing yet are told with what they wait for") {
  const Bench bench;
  const std::string launch = demo("harbour-launch");
  const std::string unknown = " (how tight the belt should be is not known)";
  for (const auto& [profile, set, says] : std::vector<std::array<std::string, 3>>{
           {launch, "--set belt.mass_g_per_m=100 --set belt.stiffness_n=100000",
            "belt.mass_g_per_m, belt.stiffness_n" + unknown},
           {van(), "--set pulley.tensioner.tensioner.spring_nm_per_deg=0.02",
            "pulley.tensioner.tensioner.spring_nm_per_deg (no tensioner is sprung, or its belt's "
            "tensions are not known)"},
           {with(without(van(), {"from = \"inlet", "to = \"water"}), "target_hz = 110",
                 "target_n = 250\nat_crank_deg = 90"),
            "", "tension.at_crank_deg (valve springs are not counted in the tension)"},
           {without(launch, {"mount"}), "", "head.head.deck_deg (nothing is mounted on the head)"},
           {counts(40), "--set engine.bore_mm=80 --set engine.chamber_cc=40",
            "engine.bore_mm, engine.chamber_cc (bore and stroke are not both given)"},
           {counts(40), "--set build.teeth_out.cam=1",
            "build.teeth_out.cam (two turns cannot be told yet)"},
           {launch, "--set valve.inlet.rocker_ratio=1.3",
            "valve.inlet.rocker_ratio (nothing is given at the cam)"},
           {launch, "--set valve.inlet.head_mm=30",
            "valve.inlet.head_mm (both valves of a chamber need head_mm and across_mm)"},
           {launch, "--set belt.over_10_teeth_mm=95.25",
            "belt.over_10_teeth_mm (the pitch is told exactly, and it only bears that out)"},
           {without(launch, {"room_tdc_mm"}), "",
            "valve.exhaust.closes_deg (the valve's room cannot be told yet)"},
           {without(launch, {"teeth = 112"}), "--set 'build.teeth_out.water pump=1'",
            "build.teeth_out.water pump (two turns cannot be told yet)"},
           {without(launch, {"teeth = 112"}), "--set build.stretch_percent=0.1",
            "build.stretch_percent (two turns cannot be told yet)"},
           {launch, "--set belt.length_tolerance_mm=0.5",
            "belt.length_tolerance_mm (the tensioner takes it up)"}}) {
    INFO(set);
    CHECK_THAT(told(bench, profile, "check p.toml " + set), ContainsSubstring(says));
  }
  // Valves go by the teeth that their cam or the crank is out, also where no belt is on.
  for (const std::string part : {"cam", "crank"}) {
    CHECK_THAT(told(bench, without(launch, {"teeth = 112"}),
                    "check p.toml --set build.teeth_out." + part + "=1"),
               !ContainsSubstring("build.teeth_out." + part + " ("));
  }
  CHECK_THAT(told(bench, demo("weir-keeper"), "check p.toml --set belt.length_tolerance_mm=0.5"),
             !ContainsSubstring("belt.length_tolerance_mm (the tensioner"));
}

}  // namespace twoturn::test
