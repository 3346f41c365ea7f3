#include "twoturn/read/readings.hpp"

#include "support/catch.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

std::vector<Problem> problems_of(const std::string& text) {
  try {
    read_readings("head.csv", text);
  } catch (const InputError& error) {
    return error.problems();
  }
  return {};
}

struct Slip {
  std::string text;
  int line;
  std::string says;
};

const std::string kHead = "x_mm,y_mm,height_mm\n";

}  // namespace

TEST_CASE("a table in mm, with comments, blank lines and any divider") {
  for (const std::string divider : {",", ";", "\t"}) {
    std::string text =
        "# the head, gasket face up\nheight_mm,x_mm,y_mm\n\n0.01,0,0\r\n"
        "\"0.02\", 100 ,0\n0,0,80\n+0.03,100,80\n";
    for (char& c : text) {
      if (c == ',') c = divider[0];
    }
    const FaceReadings face = read_readings("head.csv", text);
    REQUIRE(face.points.size() == 4);
    CHECK(face.points[1] == Vec3(100, 0, 0.02));
    CHECK(face.points[3] == Vec3(100, 80, 0.03));
  }
}

TEST_CASE("inches and thou come out in mm") {
  const FaceReadings face =
      read_readings("head.csv", "x_in,y_in,height_thou\n0,0,0\n4,0,1\n0,3,2\n4,3,0\n");
  CHECK(face.points[1] == Vec3(4 * kMmPerInch, 0, kMmPerThou));
}

TEST_CASE("feeler lines from a table and from TOML are the same") {
  const FaceReadings table = read_readings(
      "lines.csv", "line,goes_mm,stops_mm,rocks\nalong,0.04,0.05,\ndiagonal 1,,0.03,yes\n");
  const FaceReadings toml = read_readings("lines.toml", R"(
[[line]]
name = "along"
gap_mm = "0.04..0.05"
[[line]]
name = "diagonal 1"
gap_mm = "..0.03"
rocks = true
)");
  CHECK(table.lines == toml.lines);
  REQUIRE(table.lines.size() == 2);
  CHECK(table.lines[1].way == EdgeWay::diagonal);
  CHECK(table.lines[1].rocks);
}

TEST_CASE("TOML carries points, datum, heights and limits") {
  const FaceReadings face = read_readings("head.toml", R"(title = "Harbour launch, head"
height_mm = 118.2
least_height_in = 4.65
datum_mm = [[0, 0, 0], [400, 0, 0.1], [0, 160, 0]]
points_mm = [[0, 0, 0], [400, 0, 0.01],
             [0, 160, 0.02]]
[[point]]
x_in = 15
y_in = 6
height_thou = 2
[limits]
strict_mm = 0.04
gap_thou = 8
)");
  CHECK(face.title == "Harbour launch, head");
  CHECK(face.points.size() == 4);
  CHECK(face.points[3] == Vec3(15 * kMmPerInch, 6 * kMmPerInch, 2 * kMmPerThou));
  CHECK(face.least_height_mm == 4.65 * kMmPerInch);
  CHECK(face.limits.strict_mm == 0.04);
  CHECK(face.limits.gap_mm == 8 * kMmPerThou);
  CHECK(face.datum.has_value());
}

TEST_CASE("gaps as people write them") {
  CHECK(read_gap("0.04..0.05").gap.goes_mm == 0.04);
  CHECK(read_gap("0.04..0.05").gap.stops_mm == 0.05);
  CHECK_FALSE(read_gap("..0.03").gap.goes_mm.has_value());
  CHECK_FALSE(read_gap("0.2..").gap.stops_mm.has_value());
  CHECK(read_gap("0.2").gap.stops_mm == 0.2);
  CHECK(read_gap(" 1.5 .. 2 thou").gap.stops_mm == 2 * kMmPerThou);
  CHECK_THAT(read_gap("0.05..0.04").fault, ContainsSubstring("wrong way round"));
  CHECK_THAT(read_gap("0,04..0,05").fault, ContainsSubstring("decimal comma"));
  CHECK_FALSE(read_gap("..").fault.empty());
  CHECK_FALSE(read_gap("-0.1..0.2").fault.empty());
  CHECK_FALSE(read_gap("nan..").fault.empty());
  CHECK_FALSE(read_gap("40..50").fault.empty());
}

TEST_CASE("every slip in a table is told with its line") {
  const std::string three = kHead + "0,0,0\n100,0,0\n0,80,0\n";
  const Slip slips[] = {
      {three, 4, "3 points here; a face needs four"},
      {kHead + "0,0,0\n1,1,0\n2,2,1\n3,3,0\n", 2, "one line"},
      {three + "100,80,0\n100,0,0.1\n", 6, "same spot as line 3"},
      {three + "100,80,nan\n", 5, "finite"},
      {three + "100,80,inf\n", 5, "finite"},
      {three + "100,80,\n", 5, "is empty"},
      {three + "100,80,0.3 mm\n", 5, "number alone"},
      {three + "100,80,zero\n", 5, "must be a number"},
      {three + "100,80,0,3\n", 5, "decimal comma"},
      {three + "100,80\n", 5, "2 values for 3 columns"},
      {"x_mm;y_mm;height_mm\n0;0;0,3\n", 2, "decimal comma: write 0.3"},
      {"x_mm,y_in,height_mm\n0,0,0\n", 1, "mixed units"},
      {"x_mm,y_mm,height_thou\n0,0,0\n", 1, "mixed units"},
      {"x_mm,y_mm\n0,0\n", 1, "column is missing"},
      {"x_mm,y_mm,height\n0,0,0\n", 1, "must say its unit"},
      {"x_mm,y_mm,hight_mm\n0,0,0\n", 1, "no such column; did you mean \"height_mm\"?"},
      {"x_mm,x_in,y_mm,height_mm\n", 1, "stands twice"},
      {"0,0,0\n100,0,0\n", 1, "first row must name the columns"},
      {"line,goes_mm,stops_mm\nalong,0.05,0.04\n", 2, "wrong way round"},
      {"line,goes_mm,stops_mm\nalong,,\n", 2, "which feeler goes"},
      {"line,goes_mm\nalong,0.05\n", 1, "column is missing"},
      {"", 0, "no readings"},
      {three + "1e9,80,0\n", 5, "no face is as large"},
  };
  for (const Slip& slip : slips) {
    const std::vector<Problem> problems = problems_of(slip.text);
    CAPTURE(slip.text);
    REQUIRE_FALSE(problems.empty());
    CHECK(problems.front().line == slip.line);
    CHECK_THAT(describe(problems.front()), ContainsSubstring(slip.says));
  }
}

TEST_CASE("every slip in TOML is told with its line") {
  const std::string points = "points_mm = [[0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 1, 0]]\n";
  const Slip slips[] = {
      {points + "hieght_mm = 3\n", 2, "did you mean \"height_mm\"?"},
      {points + "height_mm = \"3\"\n", 2, "must be a number"},
      {points + "height_mm = 3\nheight_in = 3\n", 3, "twice"},
      {"points_mm = [[0, 0, 0],\n[1, 0]]\n", 2, "three numbers"},
      {"points_mm = [[0, 0, 0],\n[1, 0, nan]]\n", 2, "finite"},
      {points + "datum_mm = [[0, 0, 0], [1, 1, 0], [2, 2, 0]]\n", 2, "not on a line"},
      {points + "[[line]]\nname = \"along\"\ngap_mm = \"0.05..0.04\"\n", 4, "wrong way round"},
      {points + "[[line]]\nname = \"along\"\n", 2, "needs a name"},
      {points + "[[point]]\nx_mm = 3\ny_in = 1\nheight_mm = 0\n", 2, "mixed units"},
      {"points_mm = 3\n", 1, "must be a list of points"},
      {"points_mm = [[0, 0, 0],\n[1, 0, 0, 5]]\n", 2, "was a decimal comma used?"},
      {"points_mm = [[0, 0, 0],\n7]\n", 2, "three numbers in brackets"},
      {points + "datum_mm = [[0, 0, 0], [1, 1, 0]]\n", 2, "three points"},
      {points + "[[point]]\nx_mm = 3\ny_mm = 1\n", 2, "needs x_mm, y_mm and height_mm"},
      {points + "[[point]]\nx_mm = 3\ny_mm = 1\nheight_mm = \"low\"\n", 5, "must be a number"},
      {points + "[[line]]\nname = \"along\"\ngap_mm = true\n", 4, ""},
      {points + "[[line]]\ngap_mm = 0.05\n", 2, "needs a name"},
      {points + "[limits]\nstrict_mm = 0.1\nloose_mm = 0.05\n", 0, "must not be above"},
      {points + "[limits]\nstrict_mm = 0\n", 3, "above nought"},
      {points + "title = 3\n", 2, "text in quotes"},
      {"points_mm = [[0, 0, 0]\n", 2, ""},
  };
  for (const Slip& slip : slips) {
    const std::vector<Problem> problems = problems_of(slip.text);
    CAPTURE(slip.text);
    REQUIRE_FALSE(problems.empty());
    if (!slip.says.empty()) CHECK(problems.front().line == slip.line);
    CHECK_THAT(describe(problems.front()), ContainsSubstring(slip.says));
  }
}

TEST_CASE("all problems come at once, in the file's order, but no more than a hundred") {
  const std::vector<Problem> two = problems_of(kHead + "0,0,a\n1,0,0\n0,1,b\n1,1,0\n");
  REQUIRE(two.size() == 2);
  CHECK(two[0].line == 2);
  CHECK(two[1].line == 4);
  CHECK(two[1].column == 5);
  std::string many = kHead;
  for (int i = 0; i < 1000; ++i) many += "0,0,a\n";
  CHECK(problems_of(many).size() == kMostProblems + 1);
}

TEST_CASE("more points than can be taken are refused at the first one too many") {
  std::string text = kHead;
  for (int i = 0; i <= kMostFacePoints; ++i) {
    text += std::to_string(i % 400) + "," + std::to_string(i / 400) + ",0\n";
  }
  const std::vector<Problem> problems = problems_of(text);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].line == kMostFacePoints + 2);
}
