#include <cmath>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

constexpr double kOneRounding = 1e-12;  // inches and thou become mm by one multiplication
constexpr int kFirstLine = 43;          // the launch's profile ends on the line before

DriveSpec seen_in(const std::string& lines, const std::vector<Override>& settings = {}) {
  return read_profile({"p.toml", samples::kLaunch + "[seen]\n" + lines, settings});
}

// What is said against the lines, without the file and line that all of them share; "" where
// they read.
std::string said_of_seen(const std::string& lines) {
  try {
    seen_in(lines);
    return "";
  } catch (const InputError& error) {
    return error.what();
  }
}

// The cam's mark as one of the keys reads it.
double mark_mm(const std::string& value, const std::string& key = "mark_mm") {
  return seen_in(key + " = { cam = " + value + " }").seen.mark_mm.at("cam");
}

const GivenValue* given_as(const DriveSpec& spec, const std::string& key) {
  for (const GivenValue& given : spec.given) {
    if (given.key == key) return &given;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("What was seen reads value for value") {
  const SeenSpec seen = seen_in(R"(pin = { crank = "in", cam = "out", "water pump" = "tight" }
mark_mm = { cam = "9.5 late" }
mark_teeth = { crank = "1 early" }
mark_crank_deg = { "water pump" = "18 late" }
give_mm = 1.5
after_turns = 2
again = "wanders"
pointer_deg = "4:30"
turned = "backwards"
stop_deg = 75
moved_when_tensioned = true
right_forwards = false
rocks = true
seated = false
pointer_moves = true
same_each_try = false
prior = { tooth-out = 3, "eye" = 0.5 }
[[seen.count]]
from = "crank"
to = "cam"
teeth = 41
)")
                            .seen;
  CHECK(seen.pin == std::map<std::string, PinFelt>{{"crank", PinFelt::in},
                                                   {"cam", PinFelt::out},
                                                   {"water pump", PinFelt::tight}});
  CHECK(seen.mark_mm == std::map<std::string, double>{{"cam", -9.5}});
  CHECK(seen.mark_teeth == std::map<std::string, double>{{"crank", 1.0}});
  CHECK(seen.mark_crank_deg == std::map<std::string, double>{{"water pump", -18.0}});
  CHECK(seen.give_mm == 1.5);
  CHECK(seen.after_turns == 2);
  CHECK(seen.again == SeenAgain::wanders);
  CHECK(seen.pointer_deg == 135.0);
  CHECK_FALSE(seen.pointer_mm);
  CHECK(seen.turned == LastTurned::backwards);
  CHECK(seen.stop_deg == 75.0);
  CHECK(seen.moved_when_tensioned == true);
  CHECK(seen.right_forwards == false);
  CHECK(seen.rocks == true);
  CHECK(seen.seated == false);
  CHECK(seen.pointer_moves == true);
  CHECK(seen.same_each_try == false);
  CHECK(seen.prior == std::map<std::string, double>{{"tooth-out", 3.0}, {"eye", 0.5}});
  CHECK(seen.count == std::vector<TeethCounted>{{"crank", "cam", 41}});
}

TEST_CASE("A profile without [seen], or with an empty one, has seen nothing") {
  CHECK(read_profile({"p.toml", samples::kLaunch, {}}).seen == SeenSpec{});
  CHECK(seen_in("").seen == SeenSpec{});
  CHECK_FALSE(seen_in("prior = { seat = 2 }\nafter_turns = 2\ngive_mm = 1").seen.any());
  CHECK(seen_in("rocks = false").seen.any());
}

TEST_CASE("A place where the crank stopped says that it stopped") {
  CHECK(seen_in("stop_deg = 0").seen.stops == true);
  CHECK(seen_in("stops = false").seen.stops == false);
  CHECK_FALSE(seen_in("rocks = true").seen.stops);
}

TEST_CASE("A mark is early above 0 and late below it, in the words of the bench or as a number") {
  CHECK(mark_mm("1.2") == 1.2);
  CHECK(mark_mm("\"1.2 early\"") == 1.2);
  CHECK(mark_mm("\"1.2 mm advanced\"") == 1.2);
  CHECK(mark_mm("\"9.5 late\"") == -9.5);
  CHECK(mark_mm("\" 9.5  retarded \"") == -9.5);
  CHECK(mark_mm("\"right\"") == 0.0);
  CHECK_FALSE(std::signbit(mark_mm("\"0 late\"")));
}

TEST_CASE("Words about a mark are in the unit of their key: an inch is 25.4 mm") {
  CHECK_THAT(mark_mm("\"0.3 late\"", "mark_in"), WithinAbs(-7.62, kOneRounding));
  CHECK_THAT(mark_mm("\"0.3 in late\"", "mark_in"), WithinAbs(-7.62, kOneRounding));
  CHECK_THAT(mark_mm("\"40 early\"", "mark_thou"), WithinAbs(1.016, kOneRounding));
  CHECK_THAT(mark_mm("40", "mark_thou"), WithinAbs(1.016, kOneRounding));
  const DriveSpec spec = seen_in("mark_thou = { cam = \"40 early\" }");
  REQUIRE(given_as(spec, "seen.mark_mm.cam") != nullptr);
  CHECK_THAT(given_as(spec, "seen.mark_mm.cam")->number, WithinAbs(1.016, kOneRounding));
  CHECK(given_as(spec, "seen.mark_mm.cam")->text == "\"40 early\"");
  CHECK(given_as(spec, "seen.mark_mm.cam")->line == kFirstLine + 1);
}

TEST_CASE("Marks by names with dots and spaces, in thou, among all else, keep their origin") {
  const DriveSpec spec = read_profile({"p.toml", samples::kEverything, {}});
  CHECK(spec.seen.pin.at("pump No. 2") == PinFelt::out);
  CHECK(spec.seen.mark_teeth.at("pump No. 2") == 1.0);
  CHECK_THAT(spec.seen.mark_mm.at("damper"), WithinAbs(-1.016, kOneRounding));
  CHECK_THAT(spec.seen.mark_mm.at("cam"), WithinAbs(-0.508, kOneRounding));
  CHECK(spec.seen.mark_crank_deg.at("second balance") == 0.0);
  CHECK(spec.seen.pointer_mm == 5.0);
  const GivenValue* damper = given_as(spec, "seen.mark_mm.damper");
  REQUIRE(damper != nullptr);
  CHECK(damper->origin == Origin::measured);
  REQUIRE(damper->give_or_take);
  CHECK_THAT(*damper->give_or_take, WithinAbs(0.254, kOneRounding));
}

TEST_CASE("What a name ends in is no unit") {
  std::string text = samples::kLaunch;
  for (std::size_t at = 0; (at = text.find("water pump", at)) != std::string::npos;) {
    text.replace(at, 10, "pump_in");
  }
  const DriveSpec spec = read_profile(
      {"p.toml", text + "[seen]\nmark_teeth = { pump_in = 2 }\npin = { pump_in = \"in\" }\n", {}});
  CHECK(spec.seen.mark_teeth.at("pump_in") == 2.0);
  REQUIRE(given_as(spec, "seen.mark_teeth.pump_in") != nullptr);
  CHECK(given_as(spec, "seen.mark_teeth.pump_in")->text == "2");
}

TEST_CASE("What was seen is set for one run, by name") {
  const auto set = [](const std::string& key, const std::string& value) {
    return read_profile({"p.toml", samples::kLaunch, {{key, value}}}).seen;
  };
  CHECK(set("seen.pin.cam", "out").pin.at("cam") == PinFelt::out);
  CHECK(set("seen.pin.water pump", "in").pin.at("water pump") == PinFelt::in);
  CHECK(set("seen.mark_mm.cam", "9.5 late").mark_mm.at("cam") == -9.5);
  CHECK(set("seen.mark_teeth.cam", "-1").mark_teeth.at("cam") == -1.0);
  CHECK(set("seen.mark_crank_deg.cam", "right").mark_crank_deg.at("cam") == 0.0);
  CHECK(set("seen.pointer_deg", "4:30").pointer_deg == 135.0);
  CHECK(set("seen.rocks", "true").rocks == true);
  CHECK(set("seen.prior.tooth-out", "3").prior.at("tooth-out") == 3.0);
  CHECK(set("seen.count", "[{from='crank', to='cam', teeth=41}]").count.at(0).teeth == 41);
  const std::string file = "mark_mm = { cam = 2 }\npin = { cam = \"in\" }";
  CHECK_THAT(seen_in(file, {{"seen.mark_in.cam", "1 late"}}).seen.mark_mm.at("cam"),
             WithinAbs(-25.4, kOneRounding));
  CHECK(seen_in(file, {{"seen.pin.cam", "tight"}}).seen.pin.at("cam") == PinFelt::tight);
}

TEST_CASE("What cannot have been seen is refused at its place") {
  struct Bad {
    const char* lines;
    const char* said;
  };
  for (const Bad& bad : {
           Bad{"pin = { cam = \"inn\" }",
               "p.toml:44:15: seen.pin.cam = \"inn\": must be \"in\", \"tight\" or \"out\"; did "
               "you mean \"in\"?"},
           Bad{"pin = \"out\"",
               "p.toml:44:7: seen.pin = \"out\": must be a table by name: pin = { NAME = ... }"},
           Bad{"mark_mm = 9.5",
               "p.toml:44:11: seen.mark_mm = 9.5 mm: must be a table by name, for a number alone "
               "does not say which mark: mark_mm = { NAME = ... }"},
           Bad{"mark_mm = { cam = \"9.5 teeth late\" }",
               "p.toml:44:19: seen.mark_mm.cam = \"9.5 teeth late\": must be in mm, as its key "
               "says, not in teeth"},
           Bad{"mark_teeth = { cam = \"18 crank deg late\" }",
               "p.toml:44:22: seen.mark_teeth.cam = \"18 crank deg late\": must be in teeth, as "
               "its key says, not in crank deg"},
           Bad{"mark_mm = { cam = \"late\" }",
               "p.toml:44:19: seen.mark_mm.cam = \"late\": must be a number, early above 0 and "
               "late below it, or words like \"1 late\", \"2 early\" and \"right\""},
           Bad{"mark_mm = { cam = 1 }\nmark_in = { cam = 1 }",
               "p.toml:45:19: seen.mark_in.cam = 1 in: the same length stands twice, in another "
               "unit; keep one"},
           Bad{"mark_thou = { cma = 40 }",
               "p.toml:44:21: seen.mark_mm.cma = 1.016 mm: no timed shaft and no [[pulley.mark]] "
               "is named \"cma\"; did you mean \"cam\"?"},
           Bad{"mark_mm = { cam = 1 }\nmark_teeth = { cam = 1 }",
               "p.toml:45:22: seen.mark_teeth.cam = 1: the same mark is given by "
               "seen.mark_mm.cam as well; keep one"},
           Bad{"after_turns = 1.5", "p.toml:44:15: seen.after_turns = 1.5: must be a whole number"},
           Bad{"again = \"repeat\"",
               "p.toml:44:9: seen.again = \"repeat\": must be \"repeats\" or \"wanders\"; did you "
               "mean \"repeats\"?"},
           Bad{"stops = \"yes\"",
               "p.toml:44:9: seen.stops = \"yes\": must be true or false, without quotes, not "
               "text"},
           Bad{"prior = { tooth_out = 3 }",
               "p.toml:44:23: seen.prior.tooth_out = 3: no fault goes by the code \"tooth_out\"; "
               "did you mean \"tooth-out\"?"},
           Bad{"[seen.count]\nfrom = \"crank\"",
               "p.toml:44:1: seen.count: write [[seen.count]] with two pairs of brackets, once "
               "for each"},
           Bad{"mark = { cam = 1 }",
               "p.toml:44:1: seen.mark: no such key; did you mean \"mark_mm\"?"},
       }) {
    INFO(bad.lines);
    CHECK(said_of_seen(bad.lines) == bad.said);
  }
}
