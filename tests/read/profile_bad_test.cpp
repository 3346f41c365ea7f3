#include <string>
#include <vector>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "support/texts.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

// The launch's profile with one piece of it written otherwise.
std::string launch_with(const std::string& piece, const std::string& otherwise) {
  return texts::with(samples::kLaunch, piece, otherwise);
}

// Everything said against a profile, one line a problem; "" where it reads.
std::string said_of(const std::string& text, const std::vector<Override>& settings = {}) {
  try {
    const DriveSpec spec = read_profile({"p.toml", text, settings});
    return spec.pulleys.empty() ? "no pulley read" : "";
  } catch (const InputError& error) {
    return error.what();
  }
}

struct Bad {
  const char* piece;
  const char* otherwise;
  const char* said;
};

void check_each(const std::vector<Bad>& cases) {
  for (const Bad& bad : cases) {
    INFO(bad.piece << " written as " << bad.otherwise);
    CHECK(said_of(launch_with(bad.piece, bad.otherwise)) == bad.said);
  }
}

const char* const kCam = "teeth = 40";
const char* const kArm = "arm_mm = 6 ";
const char* const kPump = "at_mm = [62, 150]";
const char* const kCamName = "name = \"cam\"";
const char* const kSection = "section = \"ZA\"";

}  // namespace

TEST_CASE("Keys that are unknown are called out with the nearest known one") {
  check_each({
      {kCam, "teth = 40", "p.toml:30:1: pulley.cam.teth: no such key; did you mean \"teeth\"?"},
      {kCam, "Teeth = 40", "p.toml:30:1: pulley.cam.Teeth: no such key; did you mean \"teeth\"?"},
      {kArm, "arm = 6 ",
       "p.toml:22:1: pulley.tensioner.tensioner.arm: no such key; did you mean \"arm_mm\"?"},
      {kCam, "teeth = 40\narm_mm = 3",
       "p.toml:31:1: pulley.cam.arm_mm: no such key here; it belongs in [pulley.tensioner]"},
      {"[belt]", "teeth = 3\n[belt]", "p.toml:3:1: teeth: no such key here; it belongs in [belt]"},
      {kCam, "teeth = 40\nweight_kg = 3", "p.toml:31:1: pulley.cam.weight_kg: no such key"},
      {"[build]", "[bulid]", "p.toml:40:2: bulid: no such key; did you mean \"build\"?"},
      {"play_mm = 0.15", "pley_mm = 0.15",
       "p.toml:35:25: pulley.cam.pin.pley_mm: no such key; did you mean \"play_mm\"?"},
      {kCamName, "nmae = \"cam\"",
       "p.toml:28:1: pulley.3.nmae: no such key; did you mean \"name\"?"},
  });
}

TEST_CASE("Tables that are none, and a length in two units, are refused with their place") {
  check_each({
      {"[belt]", "origin = 3\n[belt]",
       "p.toml:3:10: origin = 3: must be a table: [origin] with its keys below it"},
      {"[belt]", "example = 3\n[belt]",
       "p.toml:3:11: example = 3: must be a table: [example] with its keys below it"},
      {"[build]", "[example]\nbelt.teeth = \"many\"\n[build]",
       "p.toml:41:14: example.belt.teeth = \"many\": must be the example's number"},
      {"{ head = 0.3 }", "{ head = 0.3 }\nskim_thou = { head = 12 }",
       "p.toml:42:22: build.skim_thou.head = 12 thou: the same length stands twice, in another "
       "unit; keep one"},
  });
}

TEST_CASE("What stands twice is refused with both places") {
  check_each({
      {kCam, "teeth = 40\nteeth = 41",
       "p.toml:31:9: teeth stands twice, first in line 30; keep one"},
      {"[build]", "[belt]\n[build]",
       "p.toml:40:1: [belt] stands twice, first in line 3; what a profile has several of, each "
       "[[pulley]], [[head]], [[geared]] or [[cover]], has two pairs of brackets every time"},
      {"[[pulley]]                        # in", "[pulley] # in",
       "p.toml:16:1: [[pulley]] stands twice, first in line 10; what a profile has several of, "
       "each [[pulley]], [[head]], [[geared]] or [[cover]], has two pairs of brackets every time"},
      {kArm, "arm_mm = 6\narm_in = 0.24",
       "p.toml:23:10: pulley.tensioner.tensioner.arm_in = 0.24 in: the same length stands twice, "
       "pulley.tensioner.tensioner.arm_mm as well; keep one"},
  });
  CHECK(said_of("[pulley]\nname = \"crank\"\n") ==
        "p.toml:1:1: pulley: write [[pulley]] with two pairs of brackets, once for each");
  CHECK(said_of(launch_with("[belt]", "[[belt]]")) ==
        "p.toml:3:1: belt: stands once: write [belt] with one pair of brackets");
}

TEST_CASE("Wrong kinds of value say what was wanted and what was given") {
  check_each({
      {kCam, "teeth = 4.5", "p.toml:30:9: pulley.cam.teeth = 4.5: must be a whole number"},
      {kCam, "teeth = \"40\"",
       "p.toml:30:9: pulley.cam.teeth = \"40\": must be a whole number, not text; write 40 without "
       "the quotes"},
      {kCam, "teeth = [40]",
       "p.toml:30:9: pulley.cam.teeth = [40]: must be a whole number, not a list"},
      {kCam, "teeth = true",
       "p.toml:30:9: pulley.cam.teeth = true: must be a whole number, not true or false"},
      {kCam, "teeth = { of = 40 }",
       "p.toml:30:9: pulley.cam.teeth: must be a whole number, not a table"},
      {kCam, "teeth = 1979-05-27",
       "p.toml:30:9: pulley.cam.teeth = 1979-05-27: must be a whole number, not a date or time"},
      {kArm, "arm_mm = \"0,3\" ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = \"0,3\": must be a number, not text; "
       "write 0.3 with a point for the comma and without the quotes"},
      {kArm, "arm_mm = \"6 mm\" ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = \"6 mm\": must be a number, not text; "
       "write the number 6 alone, the key already says mm"},
      {kCamName, "name = 3",
       "p.toml:28:8: pulley.3.name = 3: must be text in quotes, not a whole number; write \"3\""},
      {kSection, "section = \"ZA\"\ndouble_sided = \"yes\"",
       "p.toml:5:16: belt.double_sided = \"yes\": must be true or false, without quotes, not text"},
      {kPump, "at_mm = 62",
       "p.toml:39:9: pulley.water pump.at_mm = 62 mm: must be two numbers in brackets, [right, "
       "up], "
       "not a whole number"},
      {kPump, "at_mm = [62]",
       "p.toml:39:9: pulley.water pump.at_mm = [62]: must be two numbers in brackets, [right, up], "
       "not 1"},
      {kPump, "at_mm = [62,5, 150,2]",
       "p.toml:39:9: pulley.water pump.at_mm = [62,5, 150,2]: must be two numbers in brackets, "
       "[right, up], not 4; was a decimal comma used? write 62.5, not 62,5"},
      {kPump, "at_mm = [\"62\", 150]",
       "p.toml:39:10: pulley.water pump.at_mm[0] = \"62\": must be a number, not text; write 62 "
       "without the quotes"},
      {"pin = { radius_mm = 35, play_mm = 0.15 }", "pin = 35",
       "p.toml:35:7: pulley.cam.pin = 35: must be a table: [pin] with its keys below it"},
      {"skim_mm = { head = 0.3 }", "renewed = { cam = 41 }",
       "p.toml:41:19: build.renewed.cam = 41: must be a table: { teeth = ..., diameter_mm = ... }"},
  });
}

TEST_CASE("Numbers that cannot be are refused with their unit") {
  check_each({
      {kCam, "teeth = nan", "p.toml:30:9: pulley.cam.teeth = nan: must be a whole number"},
      {kCam, "teeth = -inf", "p.toml:30:9: pulley.cam.teeth = -inf: must be a whole number"},
      {kCam, "teeth = 0", "p.toml:30:9: pulley.cam.teeth = 0: must be 3 or more"},
      {kCam, "teeth = -40", "p.toml:30:9: pulley.cam.teeth = -40: must be 3 or more"},
      {kCam, "teeth = 1001", "p.toml:30:9: pulley.cam.teeth = 1001: must be 1000 or less"},
      {kCam, "teeth = 9999999999999999",
       "p.toml:30:9: pulley.cam.teeth = 9999999999999999: must be smaller: no such count"},
      {kCam, "teeth = 99999999999999999999", "p.toml:30:29: the number is too large"},
      {kArm, "arm_mm = inf ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = inf mm: must be a finite number"},
      {kArm, "arm_in = 1e308 ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_in = 1e308 in: must be a finite number"},
      {kArm, "arm_mm = -6 ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = -6 mm: must be more than 0"},
      {kArm, "arm_mm = 0 ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = 0 mm: must be more than 0: the roller "
       "would turn about its own centre, with no travel"},
      // Found by tests/fuzz: a stroke of next to nothing came to a compression ratio of no number.
      {kArm, "arm_mm = 1e-300 ",
       "p.toml:22:10: pulley.tensioner.tensioner.arm_mm = 1e-300 mm: is next to nothing; must be a "
       "number that can be measured"},
      {kPump, "at_mm = [nan, 150]",
       "p.toml:39:10: pulley.water pump.at_mm[0] = nan mm: must be a finite number"},
      {kPump, "at_mm = [62000, 150]",
       "p.toml:39:9: pulley.water pump.at_mm = [62000, 150] mm: must lie within 10 m of the crank "
       "each way"},
      {"teeth = 111", "teeth = 9", "p.toml:5:9: belt.teeth = 9: must be 10 or more"},
      {"{ head = 0.3 }", "{ head = 30 }",
       "p.toml:41:20: build.skim_mm.head = 30 mm: must be from -5 to 5 mm; hundredths of a mm, or "
       "thou taken for mm?"},
      {"slack_deg = 300", "slack_deg = 3000",
       "p.toml:23:13: pulley.tensioner.tensioner.slack_deg = 3000 deg: must be from -720 to 720 "
       "deg"},
  });
}

TEST_CASE("Slips of the pen are refused with their likely cause and the mend") {
  check_each({
      {kArm, "arm_mm = 0,3", "p.toml:22:10: a decimal comma: write arm_mm = 0.3 with a point"},
      {"play_mm = 0.15", "play_mm = 0,15",
       "p.toml:35:35: a decimal comma: write play_mm = 0.15 with a point"},
      {kPump, "at_mm = 62, 150",
       "p.toml:39:9: two numbers stand in brackets: write at_mm = [62, 150]"},
      {kArm, "arm_mm = .3", "p.toml:22:10: a number starts with a digit: write arm_mm = 0.3"},
      {kArm, "arm_mm = 6 mm",
       "p.toml:22:10: a number stands alone, its unit is part of the key: write arm_mm = 6 without "
       "\"mm\" (a length may be a key in _mm, _in or _thou)"},
      {"slack_deg = 300", "slack_deg = 4:30",
       "p.toml:23:13: a clock time stands in quotes: write slack_deg = \"4:30\""},
      {kCamName, "name = “cam”",
       "p.toml:28:8: a curly quote “: type it again as a straight \" in a plain text editor"},
      {kCamName, "name = ‘cam’",
       "p.toml:28:8: a curly quote ‘: type it again as a straight \" in a plain text editor"},
      {kCamName, "name = \"cam”",
       "p.toml:28:12: the text opens with \" and closes with a curly ”: type it again as a "
       "straight \""},
      {kCamName, "name = cam", "p.toml:28:8: text stands in quotes: write name = \"cam\""},
      {kCamName, "name: \"cam\"",
       "p.toml:28:5: an equals sign stands between key and value: write name = ..."},
      {kCamName, "name \"cam\"",
       "p.toml:28:6: an equals sign stands between key and value: key = value"},
      {kCamName, "name = \"cam",
       "p.toml:28:12: the quote that closes the text is missing, or a control character stands in "
       "it"},
      {kCam, "teeth =",
       "p.toml:30:8: nothing stands behind the equals sign; take the line out if it is not known"},
  });
}

TEST_CASE("Several slips in one text are all found at once") {
  std::string text = launch_with(kArm, "arm_mm = 0,3 ");
  text.replace(text.find(kCamName), std::string(kCamName).size(), "name = “cam”");
  CHECK(said_of(text) ==
        "p.toml:22:10: a decimal comma: write arm_mm = 0.3 with a point\n"
        "p.toml:28:8: a curly quote “: type it again as a straight \" in a plain text editor");
}

TEST_CASE("Curly quotes and commas inside texts and comments are nobody's business") {
  CHECK(said_of(launch_with("title = \"Harbour launch", "title = \"Tom’s “launch”, 0,3")) == "");
  CHECK(said_of(launch_with("# crank centre", "# “0,3” = 0,3")) == "");
}

TEST_CASE("Pitches miscounted or misplaced are refused with the likely cause") {
  check_each({
      {kSection, "over_10_teeth_mm = 85.7",
       "p.toml:4:20: belt.over_10_teeth_mm = 85.7 mm: gives a pitch of 8.57 mm, but over nine gaps "
       "it is 9.525 mm: ten gaps end at the eleventh tooth; measure from tooth 1 to tooth 11"},
      {kSection, "section = \"ZA\"\nover_10_teeth_mm = 85.7",
       "p.toml:5:20: belt.over_10_teeth_mm = 85.7 mm: gives a pitch of 8.57 mm, but over nine gaps "
       "it is 9.525 mm: ten gaps end at the eleventh tooth; measure from tooth 1 to tooth 11"},
      {kSection, "over_10_teeth_mm = 9.525",
       "p.toml:4:20: belt.over_10_teeth_mm = 9.525 mm: gives a pitch of 0.953 mm, but one tooth of "
       "9.525 mm is a known pitch: write pitch_mm, or measure over ten teeth"},
      {kSection, "pitch_mm = 95.25",
       "p.toml:4:12: belt.pitch_mm = 95.25 mm: ten teeth taken for one: over ten teeth it is a "
       "pitch of 9.525 mm; write over_10_teeth_mm = 95.25"},
      {kSection, "section = \"ZA\"\npitch_mm = 95.25",
       "p.toml:5:12: belt.pitch_mm = 95.25 mm: ten teeth taken for one: over ten teeth it is a "
       "pitch of 9.525 mm; write over_10_teeth_mm = 95.25"},
      {kSection, "section = \"ZA\"\npitch_mm = 8",
       "p.toml:5:12: belt.pitch_mm = 8 mm: section ZA has a pitch of 9.525 mm; leave one of the "
       "two "
       "out"},
      {kSection, "section = \"ZA\"\nover_10_teeth_mm = 80",
       "p.toml:5:20: belt.over_10_teeth_mm = 80 mm: gives a pitch of 8 mm, but section ZA says "
       "9.525 mm; leave one of the two out"},
  });
}

TEST_CASE("Pitches that are right in any of their forms are taken") {
  for (const char* right :
       {"over_10_teeth_mm = 95.3", "over_10_teeth_mm = 80", "over_10_teeth_mm = 100",
        "over_10_teeth_mm = 200", "over_10_teeth_in = 3.75", "pitch_mm = 9.525", "pitch_mm = 8",
        "pitch_mm = 20", "pitch_in = 0.375", "section = \"ZA\"\npitch_mm = 9.525",
        "section = \"ZA\"\nover_10_teeth_mm = 95.5", "over_10_teeth_mm = 71", "pitch_mm = 8.57"}) {
    INFO(right);
    CHECK(said_of(launch_with(kSection, right)) == "");
  }
}

TEST_CASE("Words of choice are refused with the whole choice and the nearest") {
  check_each({
      {"role = \"crankshaft\"", "role = \"crank\"",
       "p.toml:12:8: pulley.crank.role = \"crank\": must be \"crankshaft\", \"camshaft\", "
       "\"injection pump\", \"balance shaft\", \"auxiliary shaft\", \"water pump\", \"oil pump\" "
       "or "
       "\"idler\"; did you mean \"crankshaft\"?"},
      {"fixing = \"keyed\"", "fixing = \"free\"",
       "p.toml:33:10: pulley.cam.fixing = \"free\": must be \"keyed\", \"adjustable\" or \"free "
       "until tightened\"; did you mean \"free until tightened\"?"},
      {"crank_turns = \"clockwise\"", "crank_turns = \"clockwize\"",
       "p.toml:2:15: crank_turns = \"clockwize\": must be \"clockwise\" or \"anticlockwise\"; did "
       "you mean \"clockwise\"?"},
      {kSection, "section = \"za\"",
       "p.toml:4:11: belt.section = \"za\": no such belt section; known are MXL, H3M, H5M, XL, "
       "H8M, "
       "S8M, YH, YS, L, ZA, ZB, H, H14M, XH, XXH. For another belt leave it out and give pitch_mm, "
       "tooth_height_mm, thickness_mm and land_to_pitch_line_mm; did you mean \"ZA\"?"},
      {"mount = \"head\"", "mount = \"haed\"",
       "p.toml:32:9: pulley.cam.mount = \"haed\": must be \"block\" or the name of a [[head]]; did "
       "you mean \"head\"?"},
      {"\"1 late\"", "\"one late\"",
       "p.toml:42:21: build.teeth_out.cam = \"one late\": must be a number, early above 0 and late "
       "below it, or words like \"1 late\", \"2 early\" and \"right\""},
  });
}

TEST_CASE(
    "Words with a number that no count or double can hold are refused, never read as another") {
  const std::string many(401, '9');
  const auto out = [](const std::string& words) {
    return said_of(launch_with("\"1 late\"", "\"" + words + "\""));
  };
  const std::string place = "p.toml:42:21: build.teeth_out.cam = ";
  CHECK(out("2147483648 late") == place + "\"2147483648 late\": must be smaller: no such count");
  CHECK(out("2147483648 early") == place + "\"2147483648 early\": must be smaller: no such count");
  CHECK_THAT(out(many + " late"), EndsWith("must be smaller: no such number"));
  CHECK_THAT(out("1000000 late"), ContainsSubstring("less than a whole turn"));
  CHECK_THAT(out("0.5 late"), EndsWith("must be a whole number"));
  for (const std::string& wrong :
       {many + " to come", std::string("-1 late"), std::string("+1 late")}) {
    CHECK_THAT(out(wrong), ContainsSubstring("words like \"1 late\""));
  }
}

TEST_CASE("Clock times that no clock shows are refused") {
  const std::string key = "p.toml:23:13: pulley.tensioner.tensioner.slack_deg = ";
  const std::string rule =
      ": must be degrees clockwise from 12 o'clock, or a time from \"0:00\" to \"12:59\" with two "
      "digits for the minutes";
  for (const std::string time :
       {"\"13:00\"", "\"4:3\"", "\"4:60\"", "\":30\"", "\"4:\"", "\"-4:30\"", "\"4:30:00\""}) {
    INFO(time);
    CHECK(said_of(launch_with("slack_deg = 300", "slack_deg = " + time)) == key + time + rule);
  }
  CHECK(said_of(launch_with("slack_deg = 300", "slack_deg = \"110°\"")) ==
        key +
            "\"110°\": must be degrees clockwise from 12 o'clock, or a time like \"4:30\", not "
            "text; write the number 110 alone, the key already says degrees");
}

TEST_CASE("A tensioner cannot both swing and slide") {
  CHECK(said_of(launch_with("slack_deg = 300", "slack_at_mm = [1, 2]")) ==
        "p.toml:23:15: pulley.tensioner.tensioner.slack_at_mm = [1, 2]: a slide's key, but "
        "pulley.tensioner.tensioner.pivot_mm makes this tensioner a swing; keep the keys of one of "
        "the two");
}

TEST_CASE("What contradicts is placed at its line, all of it at once, in the order of the file") {
  std::string text = launch_with("section = \"ZA\"", "section = \"ZX\"");
  text.replace(text.find("role = \"camshaft\" "), 18, "role = \"crankshaft\" ");
  text.replace(text.find(kPump), std::string(kPump).size(), "at_mm = [0, 375]\nteth = 3");
  const std::string said = said_of(text);
  CHECK_THAT(said, StartsWith("p.toml:4:11: belt.section = \"ZX\": no such belt section"));
  CHECK_THAT(said,
             ContainsSubstring("\np.toml:29:8: pulley.cam.role = \"crankshaft\": pulley.crank "
                               "is the crankshaft already; a drive has one\n"
                               "p.toml:39:9: pulley.water pump.at_mm = [0, 375] mm: pulley.cam "
                               "has its centre there too\n"));
  CHECK_THAT(said, EndsWith("p.toml:40:1: pulley.water pump.teth: no such key; did you mean "
                            "\"teeth\"?"));
}

TEST_CASE("Names are unique, and a problem with one is not told again where it is used") {
  check_each({
      {kCamName, "name = \"\"",
       "p.toml:28:8: pulley.3.name: each pulley needs a name to be spoken "
       "of"},
      {kCamName, "name = \"crank\"",
       "p.toml:28:8: pulley.3.name = \"crank\": the name is taken by pulley.1; give each its own\n"
       "p.toml:42:21: build.teeth_out.cam = -1: no [[pulley]] is named \"cam\""},
      {"{ head = 0.3 }", "{ heda = 0.3 }",
       "p.toml:41:20: build.skim_mm.heda = 0.3 mm: no [[head]] is named \"heda\"; did you mean "
       "\"head\"?"},
  });
}

TEST_CASE("No crankshaft is missed only where the drive has places") {
  CHECK(
      said_of(launch_with("role = \"crankshaft\"\n", "")) ==
      "p.toml:10:1: pulley.*.role: no pulley is the crankshaft; write role = \"crankshaft\" on the "
      "one that is");
  std::string counts = samples::kCounts;
  counts.erase(counts.find("role = \"crankshaft\"\n"), 20);
  CHECK(said_of(counts) == "");
}

TEST_CASE("A skim without a name needs exactly one head") {
  CHECK(said_of(launch_with("{ head = 0.3 }", "0.3")) == "");
  CHECK(said_of(launch_with("{ head = 0.3 }", "0.3\n[[head]]\nname = \"other\"")) ==
        "p.toml:41:11: build.skim_mm = 0.3 mm: with more than one [[head]] the number alone does "
        "not say which: write skim_mm = { NAME = ... }, and a [[head]] of that name\n"
        "p.toml:44:1: head.other.teeth_out: no such key");
}

TEST_CASE("Texts that are no profile at all are refused in one clear line") {
  const std::string nothing = "p.toml: nothing in it; start with [belt] and [[pulley]]";
  CHECK(said_of("") == nothing);
  CHECK(said_of("\n\n") == nothing);
  CHECK(said_of("# teeth = 40\n") == nothing);
  CHECK(said_of("\xEF\xBB\xBF") == nothing);
  CHECK(said_of("hello world\n") ==
        "p.toml:1:7: an equals sign stands between key and value: key = value");
  CHECK(said_of("teeth") == "p.toml:1:6: the text ends in the middle of a line");
  CHECK(said_of("teeth = *") ==
        "p.toml:1:9: the value is no number, text in quotes, true or false, list or table");
  CHECK(said_of("{\"pulleys\": []}") ==
        "p.toml:1:1: a line holds key = value, a [table] or a # comment, nothing else");
  CHECK(
      said_of("title = \"caf\xE9\"\n") ==
      "p.toml:1:13: the text is not UTF-8 from here on; save it again as UTF-8 (plain text, not a "
      "word processor's file)");
  CHECK(said_of(std::string("\xFF\xFEt\0i\0", 6)) ==
        "p.toml:1:1: the text is UTF-16; save it again as UTF-8 (plain text)");
  CHECK(said_of(std::string("title = \"a\"\n\0", 13)) ==
        "p.toml:2:1: a line holds key = value, a [table] or a # comment, nothing else");
  CHECK(said_of("title = \"only\"\n") ==
        "p.toml: pulley: a belt runs on two pulleys or more, not 0; write [[pulley]] for each");
}

TEST_CASE("A setting that cannot be says so, placed at --set") {
  const auto said = [](const std::string& key, const std::string& value) {
    return said_of(samples::kLaunch, {{key, value}});
  };
  CHECK(said("pulley.cma.teeth", "39") ==
        "--set: pulley.cma.teeth = 39: no pulley of 4 is named \"cma\"; did you mean \"cam\"?");
  CHECK(said("pulley.9.teeth", "39") ==
        "--set: pulley.9.teeth = 39: no pulley of 4 is named \"9\"");
  CHECK(said("pulley.cam.tooth", "39") ==
        "--set: pulley.cam.tooth: no such key; did you mean \"teeth\"?");
  CHECK(said("bolt.teeth", "39") == "--set: bolt: no such key; did you mean \"belt\"?");
  CHECK(said("pulley.cam.teeth", "many") ==
        "--set: pulley.cam.teeth = \"many\": must be a whole number, not text");
  CHECK(said("pulley.cam.teeth", "0") == "--set: pulley.cam.teeth = 0: must be 3 or more");
  CHECK(said("belt.teeth", "") == "--set: belt.teeth = \"\": must be a whole number, not text");
  CHECK(said("pulley.cam", "3") ==
        "--set: pulley.cam = 3: names a whole table; go on with one of its keys");
  CHECK(said("", "3") == "--set: must be KEY=VALUE with a key such as pulley.cam.teeth");
  CHECK(said("belt..teeth", "3") ==
        "--set: belt..teeth = 3: must be KEY=VALUE with a key such as pulley.cam.teeth");
  CHECK(said("belt.teeth", "1\nx = 2") != "");
}

TEST_CASE("Origins that belong to nothing, or are none, are refused") {
  const auto said = [](const std::string& lines) {
    return said_of(samples::kLaunch + "[origin]\n" + lines);
  };
  CHECK(said("default = \"book\"") ==
        "p.toml:44:11: origin.default = \"book\": must be \"example\", \"assumed\", \"manual\" or "
        "\"measured\"");
  CHECK(said("\"pulley.cam.at\" = \"measured\"") ==
        "p.toml:44:19: origin.pulley.cam.at = \"measured\": no number is given under this key; did "
        "you mean \"pulley.cam.at_mm\"?");
  CHECK(
      said("\"belt.teeth\" = { from = \"measured\", give_or_take = -1 }") ==
      "p.toml:44:52: origin.belt.teeth.give_or_take = -1: must be a number, 0 or more: how far off "
      "the value may be, 95 times in 100");
  CHECK(said("\"belt.teeth\" = { from = \"measured\", giv_or_take = 1 }") ==
        "p.toml:44:51: origin.belt.teeth.giv_or_take = 1: no such key; did you mean "
        "\"give_or_take\"?");
}

TEST_CASE("A problem reads as place, key, value, rule, nearest; what is empty is left out") {
  CHECK(describe({"pulley.cam.teeth", "0", "must be 3 or more", "", "file.toml", 12, 8}) ==
        "file.toml:12:8: pulley.cam.teeth = 0: must be 3 or more");
  CHECK(describe({"", "", "nothing in it", "", "", 0, 0}) == "nothing in it");
  CHECK(describe({"belt.teth", "", "no such key", "teeth", "f", 0, 0}) ==
        "f: belt.teth: no such key; did you mean \"teeth\"?");
  const std::string hostile =
      describe({"a\x1B[31m\nb", std::string(500, 'x'), "r\x1B[0m", "n\n", "", 0, 0});
  CHECK(hostile.find('\x1B') == std::string::npos);
  CHECK(hostile.find('\n') == std::string::npos);
  CHECK(hostile.size() < 120);
}
