#include <algorithm>

#include "cli/command.hpp"
#include "cli/drive_valves.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

const std::string kProfiles = std::string("'") + TWOTURN_SOURCE_DIR + "/profiles/";

Ran on_demo(const Bench& bench, const std::string& command, const std::string& demo,
            const std::string& more = "") {
  return bench.run(command + " " + kProfiles + demo + ".toml' " + more);
}

}  // namespace

TEST_CASE("valves: clear is 0, touching is 1, near is 0 and with --strict 1") {
  const Bench bench;
  CHECK(on_demo(bench, "valves", "harbour-launch").code == 0);
  CHECK(on_demo(bench, "valves", "orchard-sprayer").code == 0);
  CHECK(on_demo(bench, "valves", "orchard-sprayer", "--strict").code == 1);
  const Ran touching =
      on_demo(bench, "valves", "harbour-launch", "--set build.teeth_out.cam=\"4 early\"");
  CHECK(touching.code == 1);
  CHECK_THAT(touching.out, StartsWith("TOUCHES"));
  CHECK(touching.err.empty());
}

TEST_CASE("valves --csv: a row for each valve and each of nine whole teeth out") {
  const Bench bench;
  const Ran ran = on_demo(bench, "valves", "valley-rescue-v6", "--csv");
  CHECK(ran.code == 0);
  CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') == 1 + 4 * 9);
  CHECK_THAT(ran.out, StartsWith("valve,side,teeth_out,error_crank_deg,least_room_mm"));
  CHECK_THAT(ran.out, ContainsSubstring("\r\nright exhaust,exhaust,-4,"));
}

TEST_CASE("valves: without valve data it is not known, treat as if they do, exit 1") {
  const Bench bench;
  const Ran ran = on_demo(bench, "valves", "mill-generator");
  CHECK(ran.code == 1);
  CHECK_THAT(ran.out, ContainsSubstring("treat as if they do"));
}

TEST_CASE("valves: a table is read from beside the profile, and from the folder for stdin") {
  const Bench bench;
  CHECK(on_demo(bench, "valves", "hill-climb-saloon").code == 0);
  bench.write("p.toml", std::string(kLaunch) + kValves +
                            "[[valve]]\nname = \"other\"\ncam = \"cam\"\nside = \"inlet\"\n"
                            "table = \"lobe.csv\"\nlobe_centre_deg = 110\nroom_tdc_mm = 6\n");
  const Ran missing = bench.run("valves p.toml");
  CHECK(missing.code == 3);
  CHECK_THAT(missing.err, ContainsSubstring("there is no such file"));
  bench.write("lobe.csv", "cam_deg,lift_mm\n0,0\n30,2\n60,8\n90,2\n120,0\n");
  CHECK(bench.run("valves p.toml").code < 2);
  CHECK(bench.run("valves - --json", "<p.toml").json()["valves"][2]["law"] == "table");
}

TEST_CASE("park: the number of cylinders alone is enough, and five have none") {
  const Bench bench;
  const Ran four = bench.run("park --cylinders 4 --json");
  CHECK(four.code == 0);
  CHECK(four.json()["counted_park"]["from_top_deg"] == 90.0);  // common practice
  const Ran five = bench.run("park --cylinders 5");
  CHECK(five.code == 1);
  CHECK_THAT(five.out, StartsWith("None: with 5 cylinders"));
  CHECK(bench.run("park --cylinders 5 --json").json()["any"] == false);
  for (const char* count : {"3", "6", "8"}) {
    CHECK(bench.run(std::string("park --cylinders ") + count).code == 0);
  }
  CHECK(bench.run("park --cylinders 7").code == 1);
  CHECK(bench.run("park --cylinders 6 --layout v --bank 60 --json")
            .json()["counted_park"]["from_top_deg"] == 30.0);  // six dead centres, shared pins
}

TEST_CASE("park: what cannot be asked together is wrong usage") {
  const Bench bench;
  for (const char* wrong :
       {"park", "park --cylinders 2", "park --cylinders 9",
        "park --cylinders 5 --layout v --bank 60", "park --cylinders 4 --layout v",
        "park --cylinders 4 --bank 60", "park --cylinders 4 --pins 0,180",
        "park --cylinders 4 --bores 0,0,0,0", "park --cylinders 4 --margin 2",
        "park --cylinders 4 --layout w", "valves"}) {
    INFO(wrong);
    const Ran ran = bench.run(wrong);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
  }
  CHECK(on_demo(bench, "park", "harbour-launch", "--cylinders 4").code == 2);
}

TEST_CASE("park: a profile's own valves give intervals, the best place and the way to the pins") {
  const Bench bench;
  const Ran ran = on_demo(bench, "park", "harbour-launch", "--json");
  CHECK(ran.code == 0);
  const Json park = ran.json()["park"];
  CHECK(park["clear"].size() == 2);
  CHECK_THAT(park["best_deg"].get<double>(), WithinAbs(90.0, 1e-3));
  CHECK(park["best_is_timing"] == true);
  const Ran text = on_demo(bench, "park", "orchard-sprayer");
  CHECK_THAT(text.out, ContainsSubstring("Backwards is allowed"));
  CHECK(on_demo(bench, "park", "harbour-launch", "--margin 49").code == 1);
  CHECK(on_demo(bench, "park", "mill-generator").code == 1);
}

TEST_CASE("valves and park never say that an engine is good to start") {
  const Bench bench;
  for (const char* demo : {"harbour-launch", "hill-climb-saloon", "night-bakery-van",
                           "orchard-sprayer", "valley-rescue-v6"}) {
    for (const char* command : {"valves", "park"}) {
      const std::string text = on_demo(bench, command, demo).out;
      for (const char* word : {"safe", "ready", "good to go"}) {
        CHECK_THAT(text, !ContainsSubstring(word));
      }
    }
  }
}

}  // namespace twoturn::test
