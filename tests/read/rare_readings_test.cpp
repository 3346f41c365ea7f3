// Readings of a face, lift tables and sound with slips that few people make.
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/read/readings.hpp"
#include "twoturn/read/sound.hpp"

using namespace twoturn;

namespace {

template <class Read>
std::string message_of(const Read& read) {
  try {
    read();
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

std::string said_of(const std::string& text) {
  return message_of([&] { read_readings("head", text); });
}

std::string said_of_table(const std::string& table, const std::string& name = "inlet.csv") {
  const ProfileText profile{"p.toml",
                            "[[valve]]\nname = \"inlet\"\ntable = \"" + name + "\"\n",
                            {},
                            [&](const std::string& file) {
                              return TableText{file, table, ""};
                            }};
  return message_of([&] { read_profile(profile); });
}

struct Row {
  std::string text;
  std::string said;
};

const std::string kHead = "x_mm,y_mm,height_mm\n";
const std::string kFour = "points_mm = [[0, 0, 0], [400, 0, 0], [0, 160, 0], [400, 160, 0.1]]\n";

}  // namespace

TEST_CASE("What is no table of readings, or has a cell too many, is told with its line") {
  for (const Row& row : {

           Row{"x_mm,y_mm=3\n", "1:6: y_mm=3: no such column; did you mean \"y_mm\"?"},
           Row{"\xFF\xFEx", "1:1: the text is UTF-16; save it again as UTF-8 (plain text)"},
           Row{kHead + "\"0,0,0\n", "2:1: x_mm = \"0: must be a number"},
           Row{"x_mm;y_mm;height_mm\n0;0;0;1\n", "2:1: 4 values for 3 columns"},
           Row{kHead + "0,0,1e300\n100,0,0\n0,80,0\n100,80,0\n",
               "2:1: no face is as large as 100000 mm"},
           Row{"x_in,y_in,height_in\n0,0,0\n1e308,0,0\n0,80,0\n100,80,0\n",
               "3:1: no face is as large as 100000 mm"},
           Row{"line,goes_mm,stops_mm\nalong,0.04,x\n", "2:1: along = 0.04..x: must be a number"},
           Row{"line,goes_mm,stops_mm,rocks\nalong,0.04,0.05,perhaps\n",
               "2:1: rocks = perhaps: must be yes or no"},
           Row{"line,goes_mm,stops_thou\nalong,0.04,1\n",
               "1:1: stops_thou: mixed units: stops_thou beside goes_mm; put the whole table in "
               "mm, or in inches with heights in inches or thou"},
       }) {
    INFO(row.text);
    CHECK(said_of(row.text) == "head:" + row.said);
  }
}

TEST_CASE("Readings in TOML that are none are told with their place") {
  const std::string along = "[[line]]\nname = \"along\"\n";
  for (const Row& row : {

           Row{kFour + "[limits]\nstrict_mm = \"0.1\"\n",
               "3:13: limits.strict_mm = \"0.1\": must be a number, not text; write 0.1 without "
               "the quotes"},
           Row{kFour + "[limits]\nlocal_mm = -1\n",
               "3:12: limits.local_mm = -1 mm: must be above nought"},
           Row{kFour + "local_side_mm = 0\n", "2:17: local_side_mm = 0 mm: must be above nought"},
           Row{kFour + "datum_mm = [[0, 0, 0], [400, 0, \"low\"], [0, 160, 0]]\n",
               "2:33: datum_mm[1][2] = \"low\": must be a number, not text"},
           Row{kFour + "datum_mm = 3\n",
               "2:12: datum_mm = 3 mm: must be a list of points, [[x, y, height], [x, y, height], "
               "...]"},
           Row{kFour + "[[point]]\nx_mm = 3\ny_mm = 1\nheight_in = 0\n",
               "2:1: point.1: mixed units: all three in mm, or all in inches and thou"},
           Row{kFour + "[[point]]\nx_mm = 3\ny_mm = 1\nhieght_mm = 0\n",
               "5:1: point.1.hieght_mm: no such key; did you mean \"height_mm\"?"},
           Row{along + "gap_mm = inf\n",
               "3:10: line.along.gap_mm = inf mm: must be a finite number"},
           Row{along + "gap_mm = true\n",
               "3:10: line.along.gap_mm = true: must say which feeler goes and which does not: "
               "0.04..0.05, ..0.03, 0.2.. or one number"},
           Row{along + "gap_mm = 11\n",
               "3:10: line.along.gap_mm = 11 mm: no feeler is that thick; mm or thou?"},
           Row{along + "gap_thou = -1\n",
               "3:12: line.along.gap_thou = -1 thou: a gap cannot be below nought"},
           Row{along + "rocks = \"yes\"\ngap_mm = 0.1\n",
               "3:9: line.along.rocks = \"yes\": must be true or false, without quotes, not text"},
       }) {
    INFO(row.text);
    CHECK(said_of(row.text) == "head:" + row.said);
  }
}

TEST_CASE("Of a list that is wrong all over the first hundred points are told") {
  std::string many = "points_mm = [0";
  for (int i = 0; i < 300; ++i) many += ", 0";
  const std::string said = said_of(many + "]\n");
  CHECK_THAT(
      said,
      StartsWith(
          "head:1:14: points_mm[0] = 0 mm: must be three numbers in brackets, [x, y, height]\n"));
  CHECK_THAT(said, EndsWith("head: more than 100 problems; these are the first"));
}

TEST_CASE("Readings that use what few do come out value for value") {
  const FaceReadings face = read_readings(
      "head.toml", kFour +
                       "[limits]\nstrict_mm = 0.05\nloose_mm = 0.1\n[[line]]\nname = \"across 2\"\n"
                       "gap_thou = 4\n");
  CHECK(face.limits.strict_mm == 0.05);
  CHECK(face.limits.loose_mm == 0.1);
  REQUIRE(face.lines.size() == 1);
  CHECK(face.lines[0].way == EdgeWay::across);
  CHECK_THAT(face.lines[0].goes_mm.value(), WithinAbs(0.1016, 1e-12));
  const FaceReadings lines = read_readings(
      "lines.csv", "line,goes_thou,stops_thou,rocks\nother edge,\"1\",2,true\nacross,0,1,\n");
  REQUIRE(lines.lines.size() == 2);
  CHECK(lines.lines[0].rocks);
  CHECK(lines.lines[0].way == EdgeWay::other);
  CHECK_FALSE(lines.lines[1].rocks);
  const FaceReadings inches = read_readings(
      "lines.csv", "line,goes_in,stops_in,rocks\nalong,0.001,0.002,YES\nacross,0,0.001,No\n");
  REQUIRE(inches.lines.size() == 2);
  CHECK_THAT(inches.lines[0].goes_mm.value(), WithinAbs(0.0254, 1e-12));
  CHECK(inches.lines[0].rocks);
  CHECK_FALSE(inches.lines[1].rocks);
}

TEST_CASE("Lift tables that are nearly right are told what they lack") {
  for (const Row& row : {

           Row{"cam_deg,lfit_mm\n0,0\n",
               ":1:1: row = lfit_mm: no such column; the first row names two with their units, as "
               "in cam_deg,lift_mm; did you mean \"lift_mm\"?"},
           Row{"angle,lift_mm\n0,0\n",
               ":1:1: row = angle: no such column; the first row names two with their units, as in "
               "cam_deg,lift_mm"},
           Row{"cam_deg,lift_mm,crank_deg\n0,0,0\n",
               ":1:1: row = cam_deg,lift_mm,crank_deg: must name one column of angles and one of "
               "lifts: cam_deg,lift_mm"},
           Row{"cam_deg,lift_mm\n0,0.1\n10,1\n20,2\n30,1\n40,0\n",
               ": must begin and end with a lift of 0: measure from shut to shut"},
           Row{"cam_deg,lift_mm\n0,0\n10,1e3\n",
               ":3:1: row = 10,1e3: must be two numbers with decimal points"},
           Row{"cam_deg,lift_mm\n0,0\n10,5 mm\n",
               ":3:1: row = 10,5 mm: must be two numbers with decimal points"},
           Row{"cam_deg;lift_mm\n0;0\n10;0,5\n",
               ":3:1: row = 10;0,5: must be two numbers with decimal points"},
       }) {
    INFO(row.text);
    CHECK_THAT(said_of_table(row.text), StartsWith("inlet.csv" + row.said + "\n"));
  }
  const std::string fine = "crank_deg,cam_lift_thou\n0,0\n10,10\n20,20\n30,10\n40,0\n";
  for (const std::string name : {"Inlet_2.csv", "in let-7.CSV", "9"}) {
    INFO(name);
    CHECK_THAT(said_of_table(fine, name), !ContainsSubstring("table"));
  }
  for (const std::string name : {"inl\xC3\xA9t.csv", "a:b", "~x", "[x", "in/let"}) {
    INFO(name);
    CHECK_THAT(said_of_table(fine, name),
               ContainsSubstring("must be the plain name of a file beside the profile"));
  }
}

TEST_CASE("Bytes that begin like a WAV file and are none say so") {
  const auto said = [](const std::string& bytes) {
    return message_of([&] { static_cast<void>(read_sound("belt.wav", bytes)); });
  };
  CHECK_THAT(said("RIFF1234ACON" + std::string(100, 'x')), EndsWith("must be a WAV file: its first "
                                                                    "bytes are RIFF and WAVE"));
  CHECK_THAT(said("RIFF123"), ContainsSubstring("7 bytes: the WAV file ends in its header"));
}
