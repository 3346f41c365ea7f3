#include <string>

#include "support/catch.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

constexpr const char* kProfile = R"([belt]
teeth = 111
[[pulley]]
name = "crank"
role = "crankshaft"
teeth = 20
[[pulley]]
name = "cam"
role = "camshaft"
teeth = 40
[[valve]]
name = "inlet"
table = "inlet.csv"
)";

DriveSpec read_with(const std::string& table) {
  return read_profile({"p.toml", kProfile, {}, [&](const std::string& name) {
                         return TableText{name, name == "inlet.csv" ? table : "", ""};
                       }});
}

std::string said_of(const std::string& table) {
  try {
    return read_with(table).valves[0].rows.empty() ? "no rows" : "";
  } catch (const InputError& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("A lift table is read in any unit and with any divider, cam deg as twice as much crank") {
  const DriveSpec spec =
      read_with("# by dial gauge\ncam_deg;cam_lift_in\n-40;0\n-20;0.1\n0;0.2\n20;.1\n40;0\n");
  const ValveSpec& valve = spec.valves[0];
  CHECK(valve.rows_at == LiftAtPart::cam);
  REQUIRE(valve.rows.size() == 5);
  CHECK(valve.rows[1].crank_deg == -40.0);
  CHECK_THAT(valve.rows[2].lift_mm, WithinAbs(5.08, 1e-12));  // exact: 0.2 in
  const DriveSpec other = read_with("lift_mm\tcrank_deg\n0\t0\n1\t10\n2\t20\n1\t30\n0\t40\n");
  CHECK(other.valves[0].rows_at == LiftAtPart::valve);
  CHECK(other.valves[0].rows[3].lift_mm == 1.0);
}

TEST_CASE("What is wrong with a lift table is told with its own name and line") {
  CHECK(said_of("") == "inlet.csv: nothing in it; begin with cam_deg,lift_mm");
  CHECK(said_of("cam_deg,lift\n0,0\n") ==
        "inlet.csv:1:1: row = lift: no such column; the first row names two with their units, as "
        "in cam_deg,lift_mm; did you mean \"lift_mm\"?");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n1,0,1\n") ==
        "inlet.csv:3:1: row = 1,0,1: must be two numbers with decimal points");
  for (const std::string columns : {"cam_deg,cam_deg", "cam_deg", "lift_mm,lift_mm"}) {
    CHECK_THAT(said_of(columns + "\n0,0\n"),
               ContainsSubstring("must name one column of angles and one of lifts"));
  }
  std::string long_table = "cam_deg,lift_mm\n";
  for (int k = 0; k <= 10000; ++k) long_table += std::to_string(k) + ",0\n";
  CHECK_THAT(said_of(long_table), ContainsSubstring("must have 10000 rows at most"));
  const std::string many(401, '9');
  for (const std::string& row : {many + ",0", "0," + many}) {
    CHECK_THAT(said_of("cam_deg,lift_mm\n" + row + "\n"),
               EndsWith("...: must be smaller: no such number"));
  }
  CHECK(said_of("cam_deg,lift_mm\n0,0\n0,1\n") ==
        "inlet.csv:3:1: row = 0,1: angles must rise from row to row");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n1,1\n2,0\n") ==
        "inlet.csv: must have 5 rows or more, not 3");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n1,1\n2,2\n3,1\n4,0.5\n") ==
        "inlet.csv: must begin and end with a lift of 0: measure from shut to shut");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n1,2\n2,1\n3,2\n4,0\n") ==
        "inlet.csv: the lift falls and rises again at row 4: measure that place again, a lobe has "
        "one nose");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n1,0\n2,0\n3,0\n4,0\n") ==
        "inlet.csv: must show a lift: all of it is 0");
  CHECK(said_of("cam_deg,lift_mm\n0,0\n100,1\n200,2\n300,1\n400,0\n") ==
        "inlet.csv: must span less than two turns of the crank");
}

TEST_CASE("A profile names the tables it wants, plain names only, and says which are not there") {
  std::vector<std::string> asked;
  const FindTable none = [&asked](const std::string& name) {
    asked.push_back(name);
    return TableText{name, "", "there is no such file"};
  };
  const auto said = [](const ProfileText& profile) -> std::string {
    try {
      read_profile(profile);
      return "";
    } catch (const InputError& error) {
      return error.what();
    }
  };
  CHECK_THAT(said({"p", kProfile, {}, {}}), ContainsSubstring("was not handed over"));
  CHECK_THAT(
      said({"p",
            std::string(kProfile) + "[[valve]]\nname = \"other\"\ntable = \"inlet.csv\"\n",
            {},
            none}),
      ContainsSubstring("p:13:9: valve.inlet.table = \"inlet.csv\": the lift table there is no "
                        "such file"));
  CHECK(asked == std::vector<std::string>{"inlet.csv"});
  for (const char* name : {"a/b.csv", "../etc/passwd", ".hidden"}) {
    CHECK_THAT(said({"p",
                     R"([[valve]]
name = "x"
table = ")" + std::string(name) +
                         "\"\n",
                     {},
                     none}),
               ContainsSubstring("must be the plain name of a file beside the profile"));
  }
  said({"p", "[[valve]\ntable = \"inlet.csv\"\n", {}, none});
  CHECK(asked.size() == 1);
}
