// What check finds in few drives: a demo with one or two lines otherwise, and the sentence of it.
#include "study/rare_profiles.hpp"

using namespace rare;

namespace {

// The sprayer's cam pulley rides the slack run by itself: an injection pump that is the tensioner.
const char* const kOwnTensioner = R"(crank_turns = "clockwise"
[belt]
section = "ZA"
teeth = 102
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
at_mm = [0, 0]
mark_deg = 0
[[pulley]]
name = "pump"
role = "injection pump"
teeth = 40
fixing = "keyed"
mark_deg = 0
[pulley.tensioner]
slack_at_mm = [10, 320]
tight_at_mm = [10.6, 350]
set_mm = 21.4
[[pulley]]
name = "idler"
diameter_mm = 60
face = "back"
at_mm = [78, 160]
[origin]
default = "manual"
)";

}  // namespace

TEST_CASE("Two lines that cannot both be so are told, whichever of them it is") {
  check_rows({
      {kLaunch,
       {{"pulley.cam.fixing", "adjustable"}, {"pulley.cam.range_deg", "5"}},
       Level::look,
       "fixing-contradicted",
       "cam",
       "The cam is said to be adjustable, and has a key's radius.",
       "and has a key"},
      {kSaloon,
       {{"valve.inlet.lobe_centre_deg", "80"}},
       Level::look,
       "valve-events",
       "inlet",
       "an inlet valve stands nearer to bottom",
       "opens as the other side does"},
      {kSaloon,
       {{"valve.exhaust.lobe_centre_deg", "80"}},
       Level::look,
       "valve-events",
       "exhaust",
       "an exhaust valve stands nearer to bottom",
       "opens as the other side does"},
      {kLaunch,
       {{"valve.inlet.opens_deg", "50"}},
       Level::look,
       "valve-events",
       "inlet",
       "Are inlet and exhaust swapped, or opening and closing?",
       ""},
      {kSaloon,
       {{"valve.inlet.cam", "exhaust cam"}},
       Level::look,
       "idle-camshaft",
       "inlet cam",
       "The inlet cam is a camshaft, and none of the valves given is said to be on it",
       "no valve is said to be on the inlet cam"},
      {kSaloon,
       {{"valve.inlet.side", "exhaust"}},
       Level::look,
       "one-sided",
       "exhaust",
       "both are said to be exhaust valves",
       "all valves are said to be exhaust valves"},
      {kSaloon,
       {{"valve.exhaust.side", "inlet"}},
       Level::look,
       "one-sided",
       "exhaust",
       "both are said to be inlet valves",
       "all valves are said to be inlet valves"},
      {kLaunch,
       {{"engine.firing_order", "[1, 2, 3, 4]"}},
       Level::look,
       "firing-order",
       "engine",
       "Crank pins and firing order do not agree: ",
       "do not agree"},
      {kLaunch,
       {{"engine.interference", "false"}},
       Level::look,
       "interference-contradicts",
       "valves",
       "a fully open valve at top dead centre reaches 4.40 mm into its piston",
       "by the numbers it is not"},
  });
  // A valve on a shaft that is geared off the camshaft keeps that busy.
  std::string geared = with(launch(), "cam = \"cam\"", "cam = \"overhead\"");
  geared = with(geared, "cam = \"cam\"", "cam = \"overhead\"");
  geared = with(geared, "[[cover]]",
                "[[geared]]\nname = \"overhead\"\nfrom = \"cam\"\nratio = 1\n"
                "role = \"camshaft\"\nmark_deg = 10\n[[cover]]");
  const CheckAnswer answer = checked(geared);
  CHECK(answer.verdict == Verdict::agrees);
  CHECK(find(answer, "idle-camshaft", "") == nullptr);
  CHECK(answer.engine.valves->complete);
}

TEST_CASE("What a tensioner's marks and ends say against its belt is told in its own words") {
  const auto set = [](const std::string& key, const std::string& value) {
    return Override{kTensioner + key, value};
  };
  check_rows({
      {kLaunch,
       {set("set_deg", "117")},
       Level::look,
       "marks-outside-travel",
       "tensioner",
       "Was set_deg counted from 3 o'clock, anticlockwise? Then write 90 less it.",
       ""},
      {kLaunch,
       {set("set_deg", "243")},
       Level::look,
       "marks-outside-travel",
       "tensioner",
       "Was set_deg counted from 3 o'clock, clockwise? Then write 90 more.",
       ""},
      {kSprayer,
       {set("set_mm", "30")},
       Level::look,
       "marks-outside-travel",
       "tensioner",
       "put the tensioner at 30.00 mm along its slot, which lies outside its travel.",
       ""},
      {no_origin(kLaunch),
       {set("set_deg", "341")},
       Level::look,
       "setting-origin",
       "tensioner",
       "puts the tensioner 8.4 deg from its marks (give 3)",
       "tensioner 8.4 deg from its marks"},
      {no_origin(kSprayer),
       {set("set_mm", "4.8"), {"build.skim_mm.head", "0"}},
       Level::look,
       "setting-origin",
       "tensioner",
       "puts the tensioner 0.6 mm from its marks",
       ""},
      {"mill-generator",
       {set("set_deg", "20")},
       Level::look,
       "setting-marks",
       "tensioner",
       "52.1 deg apart (give 3)",
       ""},
      {kSprayer,
       {set("slack_at_mm", "[76, 155]"), set("tight_at_mm", "[92, 150]")},
       Level::look,
       "ends-contradicted",
       "tensioner",
       "Check which end is which, slack_at_mm and tight_at_mm.",
       "two ends of the tensioner"},
      {kSprayer,
       {set("slack_at_mm", "[76, 155]"), set("tight_at_mm", "[92, 150]")},
       Level::stop,
       "over-centre",
       "tensioner",
       "The tensioner stands past over centre at 9.16 mm along its slot",
       "is past over centre"},
      {kLaunch,
       {{"cover.inner cover.points_mm", "[[-75, 140], [-75, 200]]"}},
       Level::look,
       "travel-cut",
       "tensioner",
       "The tensioner cannot go through its whole travel: before clock 350.4 deg (pointer at clock "
       "62.4 deg), no belt can run.",
       ""},
      {kLaunch,
       {{"cover.inner cover.points_mm", "[[-10, 165], [-10, 172]]"}},
       Level::look,
       "travel-cut",
       "tensioner",
       "beyond clock 359.6 deg (pointer at clock 71.6 deg)",
       ""},
      {kLaunch,
       {{"build.skim_mm.head", "0"}, {"build.gasket_change_mm.head", "0.3"}},
       Level::note,
       "setting-moved",
       "tensioner",
       "Put where it stood by the book, the belt would be 0.57 mm too tight.",
       ""},
      {no_origin(kLaunch),
       {{"build.skim_mm.head", "0"}, {"build.gasket_change_mm.head", "0.9"}},
       Level::look,
       "belt-fit",
       "belt",
       "A belt of 112 teeth may not fit: it is 0.80 mm too short at the slack end",
       "a belt of 112 teeth may not fit"},
      {kOwnTensioner,
       {},
       Level::note,
       "timed-by-tensioner",
       "pump",
       "The pump is itself the tensioner: it is timed along the tight side",
       ""},
      {launch(),
       {{"crank_turns", "anticlockwise"}},
       Level::look,
       "reference-run",
       "cam",
       "is not the tight side",
       "the tensioner sits on the tight side of the cam"},
  });
}

TEST_CASE("A path that holds no timing, and centres at which no belt runs, stop") {
  const std::string pump =
      "role = \"auxiliary shaft\"\nturns_per_crank = 1\nteeth = 20\nfixing = \"keyed\"\nmark_deg = "
      "0\n";
  const CheckAnswer answer = checked(fixed_centres(pump + "at_mm = [27, 160]\n", 100));
  REQUIRE(find(answer, "not-in-mesh", "pump") != nullptr);
  CHECK_THAT(answer.headline, StartsWith("On paper: STOP, do not turn it: nothing holds the timing "
                                         "of the pump; check the route."));
  CHECK_THAT(find(answer, "not-in-mesh", "pump")->text,
             ContainsSubstring("Less than one tooth of the belt is in mesh on the pump (0.29)"));
  const std::string idler = "diameter_mm = 60\nface = \"back\"\n";
  const std::string water = "role = \"water pump\"\nteeth = 20\n";
  check_rows({
      {fixed_centres(water + "at_mm = [65, 60]\n"),
       {},
       Level::look,
       "fixed-mismatch",
       "belt",
       "0.86 mm too short and will not go on (belts themselves vary by 0.66 mm; ",
       "0.86 mm too short"},
      {fixed_centres(water + "at_mm = [65, 60]\n"),
       {},
       Level::look,
       "fixed-mismatch",
       "belt",
       "The pump would have to move 2.23 mm inwards for it.",
       ""},
      {fixed_centres(water + "at_mm = [65, 60]\n", 104),
       {},
       Level::stop,
       "fixed-mismatch",
       "belt",
       "8.66 mm too long and hangs slack",
       "8.66 mm too long"},
      {fixed_centres(water + "at_mm = [65, 60]\n", 104),
       {},
       Level::stop,
       "fixed-mismatch",
       "belt",
       "The pump would have to move 20.87 mm outwards for it.",
       ""},
      {fixed_centres(water + "at_mm = [25, 20]\n"),
       {},
       Level::stop,
       "path-refused",
       "",
       "Crank and pump overlap by 27.25 mm. Check their sizes and places.",
       "cannot run as drawn"},
      {fixed_centres(idler + "at_mm = [76, 60]\n", 103),
       {},
       Level::note,
       "interference-unknown",
       "valves",
       "It is not known whether valves can hit pistons",
       ""},
  });
}

TEST_CASE("Rates, marks and pins that differ are told by how much, and as what") {
  check_rows({
      {"mill-generator",
       {{"geared.balance shaft.ratio", "-2.1"}},
       Level::stop,
       "wrong-ratio",
       "balance shaft",
       "22 teeth on the crank to 22 on the oil pump, and gears of ratio -2.1 from there, leave its "
       "mark 36.0 crank deg early after every two turns.",
       "balance shaft turns at the wrong rate"},
      {with(demos::text_of("mill-generator"), "ratio = -2\n", "teeth = [40, 21]\n"),
       {},
       Level::stop,
       "wrong-ratio",
       "balance shaft",
       "and gears of 40 to 21 teeth from there, leave its mark 34.3 crank deg late",
       ""},
      {with(with(demos::text_of("mill-generator"), "from = \"oil pump\"\nratio = -2",
                 "from = \"layshaft\"\nratio = 2.1"),
            "[[geared]]",
            "[[geared]]\nname = \"layshaft\"\nfrom = \"oil pump\"\nratio = -1\n"
            "role = \"auxiliary shaft\"\n[[geared]]"),
       {},
       Level::stop,
       "wrong-ratio",
       "balance shaft",
       "22 teeth on the crank to 22 on the oil pump, and gears of ratio -1 from there,",
       ""},
      {kLaunch,
       {{"pulley.crank.pin.play_mm", "2"}},
       Level::look,
       "datum-play",
       "crank",
       "The pin of the crank lets it stand 1.91 crank deg either way, more than a shaft may be out "
       "(1)",
       "1.91 crank deg either way"},
      {kSaloon,
       {{"pulley.crank.pin", "{ bar_mm = 4.9, slot_mm = 6, length_mm = 60 }"}},
       Level::look,
       "datum-play",
       "crank",
       "The bar of the crank lets it stand 1.05 crank deg either way",
       ""},
      {kLaunch,
       {{"pulley.cam.mark_on", "tooth"}, {"pulley.crank.mark_on", "tooth"}},
       Level::look,
       "drawn-remainder",
       "cam",
       "the drawn drive itself leaves the cam 0.43 teeth early (3.89 cam deg)",
       "off its own marks"},
      {kLaunch,
       {{"limits.stop_teeth", "0.0195"}},
       Level::look,
       "phase",
       "cam",
       "these numbers leave 0.05 crank deg open: measure the skim of the head better, it settles "
       "most.",
       "cam 0.36 crank deg late"},
      {kLaunch,
       {{"pulley.water pump.pin", "{ radius_mm = 20, play_mm = 0.1 }"}},
       Level::look,
       "role",
       "water pump",
       "The water pump has a pin, but a water pump is not timed, so it was not judged.",
       "has a pin"},
      {with(launch(), "role = \"water pump\"\n", ""),
       {},
       Level::look,
       "role",
       "water pump",
       "A shaft with a toothed pulley may be timed; this one was not judged.",
       "what the water pump"},
      {with(demos::text_of("mill-generator"), "ratio = -2\n", ""),
       {},
       Level::look,
       "role",
       "balance shaft",
       "it is not said how it is geared off the oil pump",
       "is geared"},
      {with(with(demos::text_of("mill-generator"), "ratio = -2\n", ""), "role = \"balance shaft\"",
            "role = \"auxiliary shaft\""),
       {},
       Level::look,
       "role",
       "balance shaft",
       "The balance shaft has a pin, so it is timed, but it is not said how many turns it makes",
       "how fast the balance shaft turns"},
      {with(launch(), "deck_deg = 4\n", ""),
       {},
       Level::look,
       "head",
       "head",
       "it is not said which way it lifts off: their timing was judged without it.",
       "lifts off"},
  });
}
