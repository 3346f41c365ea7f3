// why and exercise through the command: what was seen goes in as options, and comes out ranked.
#include <cmath>

#include "cli/command.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

std::string demo(const std::string& name) {
  return std::string("'") + TWOTURN_SOURCE_DIR + "/profiles/" + name + ".toml' ";
}
const std::string kDemoLaunch = demo("harbour-launch");

const Json& fault_titled(const Json& document, const std::string& part) {
  for (const Json& fault : document["catalogue"]) {
    if (fault["title"].get<std::string>().find(part) != std::string::npos) return fault;
  }
  FAIL("no fault is called \"" << part << "\"");
  return document;
}

const Json& shaft_named(const Json& fault, const std::string& name) {
  for (const Json& shaft : fault["shafts"]) {
    if (shaft["shaft"] == name) return shaft;
  }
  FAIL("no shaft is called \"" << name << "\"");
  return fault;
}

const Json& after_two_turns(const Json& shaft) {
  for (const Json& stop : shaft["after_turns"]) {
    if (stop["turns"] == 2) return stop;
  }
  FAIL("nothing is told for after two turns");
  return shaft;
}

const Json& likeliest(const Json& document) {
  return document["seen"]["groups"][0]["members"][0]["fault"];
}

TEST_CASE("A further look is offered only where two faults would show different things in it") {
  const Bench bench;
  int offered = 0;
  for (const char* name : {"harbour-launch", "hill-climb-saloon", "mill-generator",
                           "night-bakery-van", "orchard-sprayer", "weir-keeper"}) {
    for (const char* seen :
         {"--rocks", "--not-seated", "--pointer-stuck", "--differs-each-try", "--right-forwards",
          "--moved-when-tensioned", "--after 2 --again wanders", "--no-stop",
          "--mark 'crank=right'", "--mark 'crank=0.4 mm late'", "--mark 'crank=1 tooth early'"}) {
      INFO(name << " " << seen);
      const Json document = bench.run("why " + demo(name) + seen + " --json").json();
      if (!document["seen"].is_object() || document["seen"]["next_look"].is_null()) continue;
      const Json& next = document["seen"]["next_look"];
      ++offered;
      CHECK(next["if_first"] != next["if_second"]);
      CHECK(next["first"] != next["second"]);
    }
  }
  CHECK(offered > 20);
}

TEST_CASE("Of one remedy for two cylinders both are named first") {
  const Bench bench;
  // Of four cylinders the first and the last come up together.
  const std::string text =
      texts::on_one_line(done(bench, "why " + kDemoLaunch + "--stop-at 255 --pin cam=in").out);
  CHECK_THAT(text, ContainsSubstring("in the way of the piston of cylinder 1; or something is in "
                                     "the way of the piston of cylinder 4."));
}

TEST_CASE("A further mark is told of a fault where the fault moves it") {
  const Bench bench;
  const std::string text = texts::on_one_line(
      done(bench, "why " + kDemoLaunch +
                      "--set 'pulley.cam.mark=[{name=\"petrol mark\", at_deg=30}]' --rocks")
          .out);
  CHECK_THAT(text, ContainsSubstring("as without it: the crank, the cam, the petrol mark and"));
  CHECK_THAT(text, !ContainsSubstring("the mark of the petrol mark"));
  CHECK_THAT(text, ContainsSubstring("by what [build] says: - the cam: mark 0.19 mm late"));
}

TEST_CASE("A verdict on what was seen names all that it points to, not the first of them") {
  const Bench bench;
  const std::string seen = "--set seen.after_turns=2 --set seen.pin.cam=out ";
  const std::string check = texts::on_one_line(bench.run("check " + kDemoLaunch + seen).out);
  const Json why = bench.run("why " + kDemoLaunch + seen + "--json").json();
  const std::string opening = "Seen: most likely ";
  const std::string headline = why["seen"]["headline"];
  REQUIRE(headline.rfind(opening, 0) == 0);
  CHECK_THAT(headline, ContainsSubstring("; or others"));
  CHECK_THAT(check, ContainsSubstring("what was seen points to this " +
                                      headline.substr(opening.size()) + "; look next "));
}

TEST_CASE("Where the crank's way is not given, nothing is early or late") {
  const Bench bench;
  bench.write("open.toml",
              texts::with(demos::text_of("harbour-launch"), "crank_turns = \"clockwise\"\n", ""));
  const std::string why = done(bench, "why open.toml").out;
  const std::string table = why.substr(why.find("What a mm of slack does"));
  CHECK_THAT(table, !ContainsSubstring("late"));
  static_cast<void>(bench.run("report open.toml -o open.html"));
  const std::string page = bench.read("open.html");
  CHECK_THAT(page, !ContainsSubstring("early up"));
  CHECK_THAT(page, !ContainsSubstring(">half late<"));
  CHECK_THAT(page, ContainsSubstring("one way up, the other down"));
}

}  // namespace

TEST_CASE("why: without anything seen a catalogue, in which a tooth is a tooth") {
  const Bench bench;
  const Ran ran = done(bench, "why " + kDemoLaunch);
  CHECK_THAT(ran.out, ContainsSubstring("\nA shaft whole teeth out\n"));
  CHECK_THAT(ran.out, ContainsSubstring("As far off after 0, 1, 2 and 4"));
  const Json document = done(bench, "why " + kDemoLaunch + "--json").json();
  CHECK(document["seen"].is_null());
  // Exact: a tooth of a pulley with N is 360/N of its own deg, twice that at the crank, whatever
  // was skimmed; the skim that this demo has comes on top and is no fault of the belt's.
  const Json route = done(bench, "route " + kDemoLaunch + "--json").json();
  double teeth = 0.0;
  for (const Json& pulley : route["pulleys"]) {
    if (pulley["name"] == "cam") teeth = pulley["teeth"].get<double>();
  }
  const auto cam_deg = [&](const std::string& title) {
    return after_two_turns(shaft_named(fault_titled(document, title), "cam"))["mark_own_deg"]
        .get<double>();
  };
  CHECK_THAT(cam_deg("1 tooth early") - cam_deg("1 tooth late"),
             WithinAbs(2.0 * 360.0 / teeth, 1e-9));
}

TEST_CASE(
    "why: a pin that stays out and a mark a tooth late point to the tooth, and say what next") {
  const Bench bench;
  const std::string seen = "why " + kDemoLaunch +
                           "--pin crank=in --pin cam=out --mark 'cam=1 tooth late' --after 2 "
                           "--again repeats ";
  const Ran ran = done(bench, seen);
  CHECK_THAT(ran.out, ContainsSubstring("in 100"));
  CHECK_THAT(ran.out, !ContainsSubstring("\nA shaft whole teeth out\n"));
  CHECK_THAT(done(bench, seen + "--catalogue").out,
             ContainsSubstring("\nA shaft whole teeth out\n"));
  const Json document = done(bench, seen + "--json").json();
  const Json& first = likeliest(document);
  CHECK(first["causes"][0]["fault"].get<std::string>().find("tooth") != std::string::npos);
  double sum = 0.0;
  for (const Json& group : document["seen"]["groups"]) sum += group["probability"].get<double>();
  CHECK(sum <= 1.0 + 1e-9);
}

TEST_CASE("why: the options are the keys of [seen]") {
  const Bench bench;
  // Not the whole document: the keys are the same, what is told of them must be too.
  const Json options = done(bench, "why " + kDemoLaunch +
                                       "--pin cam=tight --mark 'cam=1.5 mm late' --pointer 4:30 "
                                       "--turned backwards --json")
                           .json();
  const Json keys =
      done(bench, "why " + kDemoLaunch +
                      "--set seen.pin.cam=tight --set 'seen.mark_mm.cam=1.5 late' --set "
                      "seen.pointer_deg=135 --set seen.turned=backwards --json")
          .json();
  CHECK(options["seen"] == keys["seen"]);
  CHECK_FALSE(options["seen"].is_null());
}

TEST_CASE("why: what cannot be read is wrong usage, with how to write it") {
  const Bench bench;
  for (const char* options :
       {"--pin cam", "--pin cam=loose", "--pin =out", "--mark cam=9.5", "--mark 'cam=9.5 late'",
        "--mark 'cam=9.5 deg late'", "--mark 'cam=late'", "--mark 'cam=1.2.3 mm late'",
        "--mark 'cam=9.5 mm behind'", "--count crank-cam=41", "--count 'crank to cam=4.5'",
        "--count 'a to b to c=4'", "--after 3", "--again sometimes", "--turned left",
        "--pointer 25:00", "--pointer 'twelve mm'", "--stop-at 800", "--stop-at 90 --no-stop"}) {
    INFO(options);
    const Ran ran = refused(bench, "why " + kDemoLaunch + options, 2);
    CHECK_THAT(ran.err, ContainsSubstring("--"));
  }
}

TEST_CASE("why: a shaft that is not there cannot be looked at: exit 3, with the nearest name") {
  const Bench bench;
  CHECK_THAT(refused(bench, "why " + kDemoLaunch + "--pin cma=out", 3).err,
             ContainsSubstring("cma"));
}

TEST_CASE("why and exercise: counts alone are too little to try faults on, and exit is 1") {
  const Bench bench;
  for (const char* command : {"why ", "exercise "}) {
    const Ran ran = done(bench, command + demo("roadside-counts"), 1);
    CHECK_THAT(ran.out, ContainsSubstring("Not enough is given"));
  }
}

TEST_CASE("exercise: the same seed hides the same fault, which is told only on asking") {
  const Bench bench;
  const Ran asked = done(bench, "exercise " + kDemoLaunch + "--seed 3");
  CHECK(done(bench, "exercise " + kDemoLaunch + "--seed 3").out == asked.out);
  CHECK_THAT(asked.out, ContainsSubstring("--seed 3 --answer"));
  CHECK_THAT(asked.out, !ContainsSubstring("Hidden was"));
  CHECK_THAT(done(bench, "exercise " + kDemoLaunch + "--seed 3 --answer").out,
             ContainsSubstring("Hidden was"));
  const Json document = done(bench, "exercise " + kDemoLaunch + "--json").json();
  CHECK(document["seed"] == 1);
  CHECK(document["answer"].is_null());
}

}  // namespace twoturn::test
