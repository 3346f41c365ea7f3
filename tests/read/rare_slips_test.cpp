// Slips that few people make, each with the place and the words that it is answered with.
#include <map>
#include <string>
#include <vector>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "support/texts.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

std::string said_of(const std::string& text, const std::vector<Override>& settings = {}) {
  try {
    const DriveSpec spec = read_profile({"p.toml", text, settings});
    return spec.pulleys.empty() ? "no pulley read" : "";
  } catch (const InputError& error) {
    return error.what();
  }
}

std::string times(const std::string& piece, int count) {
  std::string text;
  for (int i = 0; i < count; ++i) text += (text.empty() ? "" : ", ") + piece;
  return text;
}

// A text, and what is said of it.
struct Row {
  std::string text;
  std::string said;
};

}  // namespace

TEST_CASE("Gears are read as two counts, and what is none is refused at its place") {
  const auto with_teeth = [](const std::string& teeth) {
    return samples::kLaunch +
           "[[geared]]\nname = \"pump\"\nfrom = \"cam\"\nrole = \"injection pump\"\nteeth = " +
           teeth + "\n";
  };
  const DriveSpec spec = read_profile({"p.toml", with_teeth("[27, 66]"), {}});
  REQUIRE(spec.geared.size() == 1);
  REQUIRE(spec.geared[0].gear_teeth.has_value());
  CHECK(spec.geared[0].gear_teeth->driving == 27);
  CHECK(spec.geared[0].gear_teeth->own == 66);
  const std::string two = ": must be two counts in brackets: [27, 66]";
  for (const Row& row :
       {Row{"27", "47:9: geared.pump.teeth = 27" + two},
        Row{"[27]", "47:9: geared.pump.teeth = [27]" + two},
        Row{"[27, 66, 3]", "47:9: geared.pump.teeth = [27, 66, 3]" + two},
        Row{"[27.5, 66]", "47:10: geared.pump.teeth[0] = 27.5: must be a whole number"},
        Row{"[27, \"66\"]",
            "47:14: geared.pump.teeth[1] = \"66\": must be a whole number, not text; write 66 "
            "without the quotes"},
        Row{"[27, 0]", "47:9: geared.pump.teeth = 0: must be 3 or more"}}) {
    INFO(row.text);
    CHECK(said_of(with_teeth(row.text)) == "p.toml:" + row.said);
  }
}

TEST_CASE("Lists and tables by name are refused where they are none, or longer than any engine's") {
  const std::string cover = "[[cover]]\nname = \"guard\"\npoints_mm = ";
  const std::string cylinders = ": must be a list of numbers in brackets, one for each cylinder";
  const std::string words =
      ": must be a number, early above 0 and late below it, or words like \"1 late\", \"2 early\" "
      "and \"right\"";
  std::string names;
  for (int i = 0; i < 201; ++i) names += "n" + std::to_string(i) + " = 0.1\n";
  for (const Row& row : {
           Row{cover + "3",
               "45:13: cover.guard.points_mm = 3 mm: must be a list of points, [[right, up], "
               "[right, up], ...]"},
           Row{cover + "[" + times("[0, 0]", 1001) + "]", "...: must be 1000 points at most"},
           Row{cover + "[[0, 0], [1, 2, 3, 4, 5]]",
               "45:22: cover.guard.points_mm[1] = [1, 2, 3, 4, 5]: must be two numbers in "
               "brackets, [right, up], not 5"},
           Row{"[engine]\nbores_deg = 45", "44:13: engine.bores_deg = 45 deg" + cylinders},
           Row{"[engine]\nbores_deg = [" + times("45", 101) + "]",
               "...: must be 100 numbers at most"},
           Row{"[engine]\nfiring_order = [1, 3, \"4\", 2]",
               "44:23: engine.firing_order[2] = \"4\": must be a whole number, not text; write 4 "
               "without the quotes"},
           Row{"[[valve]]\nname = \"inlet\"\ncylinders = 4",
               "45:13: valve.inlet.cylinders = 4" + cylinders},
           Row{"[seen.mark_mm]\n" + names, "43:1: seen.mark_mm: must be 200 at most, not 201"},
           Row{"[seen]\nmark_teeth = 3",
               "44:14: seen.mark_teeth = 3: must be a table by name: mark_teeth = { NAME = ... }"},
           Row{"[seen]\nprior = { tooth-out = \"often\" }",
               "44:23: seen.prior.tooth-out = \"often\": must be a number, not text"},
           Row{"[seen]\nmark_mm = { cam = \"9 latex\" }",
               "44:19: seen.mark_mm.cam = \"9 latex\"" + words},
           Row{"[seen]\nmark_mm = { cam = \"9 mmlate\" }",
               "44:19: seen.mark_mm.cam = \"9 mmlate\"" + words},
           Row{"[seen]\nmark_mm = { cam = \"9\" }",
               "44:19: seen.mark_mm.cam = \"9\": must be a number, not text; write 9 without the "
               "quotes"},
       }) {
    INFO(row.text.substr(0, 80));
    CHECK_THAT(said_of(samples::kLaunch + row.text + "\n"), ContainsSubstring(row.said));
  }
}

TEST_CASE("A point that is none is told once, and not as a point too few") {
  const std::string said =
      said_of(samples::kLaunch + "[[cover]]\nname = \"guard\"\npoints_mm = [[0, 0], [1]]\n");
  CHECK_THAT(said, ContainsSubstring("must be two numbers in brackets"));
  CHECK_THAT(said, !ContainsSubstring("needs 2 points"));
}

TEST_CASE("Slips of TOML that few people make are told in plain words") {
  const std::string no_pulley =
      "pulley: a belt runs on two pulleys or more, not 0; write [[pulley]] for each";
  const std::string open = "the quote that closes the text is missing";
  const std::string twice =
      "; what a profile has several of, each [[pulley]], [[head]], [[geared]] or [[cover]], has "
      "two pairs of brackets every time";
  const std::string list = "the list is not closed; write [1, 2] with its last bracket";
  for (const Row& row : {
           Row{"pulley = []", ":1:10: " + no_pulley},
           Row{"pulley = [1, 2]",
               ":1:10: pulley = [1, 2]: write [[pulley]] with two pairs of brackets, once for "
               "each"},
           Row{"title = \"\"\"\"quoted\"\"\"\"", ": " + no_pulley},
           Row{"title = '''quoted''''", ": " + no_pulley},
           Row{"title = \"\"\"quoted", ":1:18: " + open},
           Row{"title = \"ends in a backslash\\", ":1:30: " + open},
           Row{"[belt]\nteeth = -.5\n", ":2:9: a number starts with a digit: write teeth = -0.5"},
           Row{"[belt]\nteeth = [\n", ":2:11: " + list},
           Row{"t = [1, 2\nu = 3\n", ":2:1: " + list},
           Row{"[belt]\n= 3\n",
               ":2:1: a line holds key = value, a [table] or a # comment, nothing else"},
           Row{"teeth\n= 3\n", ":1:6: an equals sign stands between key and value: key = value"},
           Row{"[belt]\n[pulley]\n[belt]\n", ":3:1: [belt] stands twice, first in line 1" + twice},
           Row{"belt.teeth = 1\n[belt]\nteeth = 2\n", ":2:1: [belt] stands twice" + twice},
           Row{"[belt]\nteeth = 1\n[head]\nteeth = 2\nteeth = 3\n",
               ":5:9: teeth stands twice, first in line 4; keep one"},
           Row{"[belt]\nteeth = 1\n\"teeth\" = 2\n", ":3:11: \"teeth\" stands twice; keep one"},
           Row{"[belt]\nteeth = 99999999999999999999\n", ":2:29: the number is too large"},
           Row{"[belt]\nteeth = 3,\n", ":2:10: a comma stands behind the value: take it away"},
           Row{"[belt]\nteeth = 3_\n", ":2:10: something stands behind the value: take it away"},
           Row{"[belt]\nteeth = 3.\n", ":2:11: a digit is missing behind the point: 3 or 3.0"},
           Row{"[belt]\nteeth = 012\n", ":2:12: a number does not begin with a 0: 12, not 012"},
           Row{"[belt]\npitch_mm = 1e999\n", ":2:17: the number is too large"},
           Row{"title = \"a\\q\"\n",
               ":1:12: a backslash stands in the text: write it twice, or put the text in single "
               "quotes"},
           Row{"[]\n", ":1:2: the brackets are empty; between them stands a name: [belt]"},
           Row{"[[pulley]\n", ":1:10: a closing bracket is missing: [belt], [[pulley]]"},
           Row{"p = { a = 1\n, b = 2 }\n",
               ":1:12: a table in braces stands on one line: { radius_mm = 35, play_mm = 0.15 }"},
           Row{std::string("\xFE\xFF\0t", 4),
               ":1:1: the text is UTF-16; save it again as UTF-8 (plain text)"},
       }) {
    INFO(row.text);
    CHECK(said_of(row.text) == "p.toml" + row.said);
  }
}

TEST_CASE("A setting goes where its path leads, or says where that ends") {
  const auto said = [](const std::string& key, const std::string& value) {
    return said_of(samples::kLaunch, {{key, value}});
  };
  const auto pulleys = [](const std::string& text, const std::string& key,
                          const std::string& value) {
    return read_profile({"p.toml", text, {{key, value}}}).pulleys;
  };
  for (const Row& row :
       {Row{"pulley.cam.at_mm[2]", ": no such key"}, Row{"pulley.cam.at_mm[up]", ": no such key"},
        Row{"pulley.cam.teeth[0]", ": no such key"},
        Row{"pulley.0.teeth", " = 39: no pulley of 4 is named \"0\""},
        Row{".belt", " = 39: must be KEY=VALUE with a key such as pulley.cam.teeth"},
        Row{"belt.", " = 39: must be KEY=VALUE with a key such as pulley.cam.teeth"}}) {
    CHECK(said(row.text, "39") == "--set: " + row.text + row.said);
  }
  CHECK(said("pulley.cam.teeth.of", "39") ==
        "--set: pulley.cam.teeth: must be a whole number, not a table");
  CHECK_THAT(said(std::string(301, 'x'), "39"),
             EndsWith("xx... = 39: must be KEY=VALUE with a key such as pulley.cam.teeth"));
  CHECK(said("belt.teeth", "\xE9") ==
        "--set: belt.teeth = \"?\": must be a whole number, not text");
  CHECK(said("belt.length_tolerance_mm", ".5") == "");
  CHECK_THAT(said_of("", {{"belt.teeth", "111"}}), EndsWith("write [[pulley]] for each"));
  CHECK(said_of("x = [1, 2]\n" + samples::kLaunch, {{"pulley.cam.teeth", "41"}}) ==
        "p.toml:1:1: x: no such key");
  CHECK(pulleys(samples::kLaunch, "pulley.cam.at_mm[1]", "380")[2].at_mm == Vec2(0, 380));
  // Of two names that a path begins with, the longer one is meant.
  const std::string two =
      texts::with(samples::kLaunch, "name = \"water pump\"", "name = \"cam.2\"");
  CHECK(pulleys(two, "pulley.cam.2.teeth", "21")[3].teeth == 21);
  CHECK(pulleys(two, "pulley.cam.teeth", "41")[2].teeth == 41);
}

TEST_CASE("One length for the only head is its own, gives way to one by name, and needs a head") {
  const std::string alone = texts::with(samples::kLaunch, "{ head = 0.3 }", "0.3");
  const auto skim = [&](const std::vector<Override>& settings) {
    return read_profile({"p.toml", alone, settings}).build.skim_mm;
  };
  CHECK(skim({}) == std::map<std::string, double>{{"head", 0.3}});
  CHECK(skim({{"build.skim_in.head", "0.01"}}) == std::map<std::string, double>{{"head", 0.254}});
  CHECK_THAT(said_of("[build]\nskim_mm = 0.3\n" + samples::kCounts),
             StartsWith("p.toml:2:11: build.skim_mm = 0.3 mm: with no [[head]] the number alone "
                        "does not say which: write skim_mm = { NAME = ... }, and a [[head]] of "
                        "that name"));
}

TEST_CASE("What is said of a number that is not given, or is no number, is refused") {
  const auto said = [](const std::string& lines) { return said_of(samples::kLaunch + lines); };
  CHECK(said("[origin]\n\"belt.teeth\" = {}\n") == "");
  CHECK_THAT(said("[origin]\n\"belt.teeth\" = { from = 3 }\n"),
             ContainsSubstring("44:25: origin.belt.teeth.from = 3: must be text in quotes"));
  CHECK(said("[example]\npulley.cam.at_mm = [0, 375]\n\"belt.teeth\" = 111\n") == "");
  CHECK(said("[example]\nbelt.section = \"ZA\"\n") ==
        "p.toml:44:16: example.belt.section = \"ZA\": must be the example's number");
  std::string many = "[origin]\n";
  for (int i = 0; i < 300; ++i) many += "x" + std::to_string(i) + " = \"guessed\"\n";
  CHECK_THAT(said(many), ContainsSubstring("44:6: origin.x0 = \"guessed\": must be "));
  CHECK_THAT(said(many), EndsWith("p.toml: more than 100 problems; these are the first"));
}

TEST_CASE("The fingerprint goes by what a profile says, not by its words, origins or sights") {
  const auto print = [](const std::string& text) {
    return read_profile({"p.toml", text, {}, {}, ProfileText::Fingerprint::wanted}).fingerprint;
  };
  const std::string own = print(samples::kLaunch);
  CHECK(own.size() == 16);
  CHECK(print("# another word\n" + samples::kLaunch +
              "[seen]\nafter_turns = 2\n[origin]\ndefault = \"manual\"\n[example]\nbelt.teeth = "
              "111\n") == own);
  CHECK(print(texts::with(samples::kLaunch, "deck_from_crank_mm = 210",
                          "deck_from_crank_in = 8.26771653543307")) == own);
  CHECK(print(texts::with(samples::kLaunch, "[62, 150]", "[62.0, 1.5e2]")) == own);
  CHECK(print(texts::with(samples::kLaunch, "at_mm = [0, 0] ", "at_mm = [-0.0, 0] ")) == own);
  CHECK(print(texts::with(samples::kLaunch, "[62, 150]", "[150, 62]")) != own);
  CHECK(print(texts::with(samples::kLaunch, "teeth = 111", "teeth = 112")) != own);
  CHECK(read_profile({"p.toml", samples::kLaunch, {}}).fingerprint.empty());
}
