#include <cmath>
#include <regex>
#include <vector>

#include "cli/command.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::test {
namespace {

const std::string kProfile =
    std::string(" --profile '") + TWOTURN_SOURCE_DIR + "/profiles/harbour-launch.toml'";
const std::string kV6 =
    std::string(" --profile '") + TWOTURN_SOURCE_DIR + "/profiles/valley-rescue-v6.toml'";
const std::string kHead = std::string("'") + TWOTURN_SOURCE_DIR + "/examples/launch-head.csv'";

// One corner of nine up. Exact: less 0.000125 (x + y), that corner and the one opposite stand at 0,
// its two neighbours at -0.0375, all others between; over sqrt(1 + 2 x 0.000125^2).
const char* const kCorner =
    "x_mm,y_mm,height_mm\n0,0,0\n100,0,0\n200,0,0\n0,100,0\n100,100,0\n200,100,0\n0,200,0\n"
    "100,200,0\n200,200,0.05\n";

std::string flat_but(double corner) {
  return "x_mm,y_mm,height_mm\n0,0,0\n100,0,0\n0,100,0\n100,100," + std::to_string(corner) + "\n";
}

void collect(const Json& node, std::vector<double>& numbers, std::string& words) {
  if (node.is_number()) numbers.push_back(node.get<double>());
  if (node.is_string()) words += node.get<std::string>() + '\n';
  for (const Json& inner : node.is_structured() ? node : Json::array()) {
    collect(inner, numbers, words);
  }
}

// Every number of a text, by itself or as one of the document's, rounded as it is printed there.
void check_numbers(const std::string& text, const Json& document) {
  std::vector<double> numbers;
  std::string words;
  collect(document, numbers, words);
  static const std::regex number("[0-9]+(\\.[0-9]+)?");
  for (std::sregex_iterator it(text.begin(), text.end(), number), end; it != end; ++it) {
    const std::string found = it->str();
    const std::size_t point = found.find('.');
    const int digits = point == std::string::npos ? 0 : static_cast<int>(found.size() - point) - 1;
    bool there = words.find(found) != std::string::npos;
    for (const double value : numbers) there = there || fixed(std::abs(value), digits) == found;
    INFO("number " << found << " of\n" << text);
    CHECK(there);
  }
}

}  // namespace

TEST_CASE("Heights at points: out of flat by, first, in mm and thou") {
  const Bench bench;
  bench.write("head.csv", kCorner);
  CHECK_THAT(done(bench, "face head.csv").out,
             StartsWith("Out of flat by 0.037 mm (1.5 thou): within the strict 0.05 mm"));
  const Json heights = done(bench, "face head.csv --json").json()["heights"];
  constexpr double kPrinted13 = 0.5e-13;
  CHECK_THAT(heights["out_of_flat_mm"].get<double>(), WithinAbs(0.0374999994141, kPrinted13));
  CHECK_THAT(heights["least_squares_mm"].get<double>(), WithinAbs(0.0416666661844, kPrinted13));
  CHECK_THAT(heights["least_squares_vertical_mm"].get<double>(),
             WithinAbs(0.0416666666667, kPrinted13));
}

TEST_CASE("Exit codes of a face: flat 0, between 0 and 1 with --strict, refused 1") {
  const Bench bench;
  bench.write("good.csv", flat_but(0.05));  // half of it out of flat
  bench.write("between.csv", flat_but(0.15));
  bench.write("bad.csv", flat_but(0.25));
  done(bench, "face good.csv --strict", 0);
  CHECK_THAT(done(bench, "face between.csv", 0).out, ContainsSubstring("between the strict"));
  done(bench, "face between.csv --strict", 1);
  CHECK_THAT(done(bench, "face bad.csv", 1).out, ContainsSubstring("refused"));
  done(bench, "face bad.csv --limit-loose 0.2", 0);
  done(bench, "face good.csv --limit-loose 0.02", 1);
  done(bench, "face good.csv --limit-local 0.02", 1);
  done(bench, "face good.csv --height 118 --least-height 118.1", 1);
}

TEST_CASE("0.2 mm under the straight edge is refused as common practice") {
  const Bench bench;
  CHECK_THAT(done(bench, "face --along 0.2..0.25", 1).out, ContainsSubstring("common practice"));
  done(bench, "face --along 0.2..0.25 --limit-strict 0.3 --limit-loose 0.4", 1);
  done(bench, "face --along 0.15..0.2 --limit-strict 0.3 --limit-loose 0.4", 0);
  done(bench, "face --along 8..9thou", 1);
}

TEST_CASE("Feelers by options: what can be said and what cannot") {
  const Bench bench;
  const Ran ran =
      done(bench, "face --along 0.04..0.05 --across ..0.03 --diagonal 0.03.. --line 'bore 2=0.02'");
  CHECK_THAT(ran.out, StartsWith("Out of flat by at least 0.040 mm (1.6 thou)"));
  CHECK_THAT(ran.out, ContainsSubstring("What it does not say"));
  CHECK_THAT(ran.out, ContainsSubstring("Not felt yet: both diagonals"));
  CHECK(done(bench, "face --along 0.04..0.05 --json")
            .json()["feelers"]["out_of_flat_at_most_mm"]
            .is_null());
}

TEST_CASE("With a profile the least skim goes through the drive in one step") {
  const Bench bench;
  const Json document = done(bench, "face " + kHead + kProfile + " --json").json();
  const Json skim = document["skim"];
  CHECK(skim["skim_mm"] == document["heights"]["out_of_flat_mm"]);
  CHECK(skim["already_mm"] == 0.2);
  const Json cam = skim["shafts"][0];
  CHECK(cam["error_crank_deg"].get<double>() < cam["before_crank_deg"].get<double>());
  CHECK_THAT(cam["put_back"]["gasket_mm"].get<double>(),
             WithinAbs(skim["total_mm"].get<double>(), 1e-9));
  // The same skim in the profile itself gives the same cam, as the command turns says.
  const std::string set = "turns '" + std::string(TWOTURN_SOURCE_DIR) +
                          "/profiles/harbour-launch.toml' --json --set build.skim_mm.head=" +
                          std::to_string(skim["total_mm"].get<double>());
  const Json turns = done(bench, set).json();
  std::vector<double> numbers;
  std::string words;
  collect(turns, numbers, words);
  bool met = false;
  for (const double value : numbers) {
    // std::to_string keeps six decimals of the skim.
    met = met || std::abs(value - cam["error_crank_deg"].get<double>()) < 1e-5;
  }
  CHECK(met);
}

TEST_CASE("Every number of a face's text stands in its document") {
  const Bench bench;
  bench.write("head.csv", kCorner);
  for (const std::string& arguments :
       {std::string("head.csv"), kHead + kProfile, kHead + kProfile + " --by-the-book --skim 0.4",
        kHead + kV6 + " --head 'left head' --skim 0.15",
        std::string("--along 0.04..0.05 --across ..0.03 --diagonal 0.05..0.06 --diagonal ..0.04"),
        std::string("head.csv --height 118.2 --least-height 118 --side 150 --along 0.12..")}) {
    check_numbers(bench.run("face " + arguments).out,
                  bench.run("face " + arguments + " --json").json());
  }
}

TEST_CASE("A table and a picture of the heights") {
  const Bench bench;
  bench.write("head.csv", kCorner);
  const std::string csv = done(bench, "face head.csv --csv").out;
  CHECK_THAT(csv, StartsWith("point,x_mm,y_mm,height_mm,above_low_plane_mm\r\n1,0,0,0,"));
  const std::string svg = done(bench, "face head.csv --svg").out;
  CHECK_THAT(svg, StartsWith("<svg xmlns="));
  CHECK(svg == done(bench, "face head.csv --svg").out);
}

TEST_CASE("The example runs, and its picture is written") {
  const Bench bench;
  const std::string command = std::string("TWOTURN_BUILD_DIR='") + TWOTURN_BINARY_DIR + "' '" +
                              TWOTURN_SOURCE_DIR + "/examples/face-first' '" +
                              bench.path("head.svg").string() + "' >'" +
                              bench.path("out").string() + "'";
  CHECK(std::system(command.c_str()) == 0);
  CHECK_THAT(bench.read("out"), ContainsSubstring("the least that trues the face, leaves"));
  CHECK_THAT(bench.read("head.svg"), EndsWith("</svg>\n"));
}

TEST_CASE("Readings that cannot be used end with 3 and their line") {
  const Bench bench;
  bench.write("bad.csv", "x_mm,y_mm,height_mm\n0,0,0\n100,0,0\n0,80,0,3\n");
  const Ran ran = bench.run("face bad.csv");
  CHECK(ran.code == 3);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, ContainsSubstring("bad.csv:4:1: 4 values for 3 columns"));
  CHECK(bench.run("face no-such.csv").code == 3);
  CHECK(bench.run("face .").code == 3);
  const Json error = bench.run("face bad.csv --json").json();
  CHECK(error["error"]["problems"][0]["line"] == 4);
}

TEST_CASE("Wrong usage of face ends with 2 and a reason") {
  const Bench bench;
  bench.write("head.csv", kCorner);
  for (const std::string& arguments :
       {std::string(""), std::string("--along 0.05..0.04"), std::string("--along thin"),
        std::string("--line 0.05"), std::string("head.csv --skim 0.1"),
        std::string("head.csv --side 0.1"), std::string("head.csv --side nan"),
        std::string("head.csv --limit-strict nan"), std::string("head.csv --svg --csv"),
        std::string("--along 0.05 --svg"), std::string("--along 0.05") + kProfile,
        "head.csv --skim 9" + kProfile, "head.csv --skim nan" + kProfile,
        "head.csv --head haed" + kProfile, "head.csv" + kV6,
        std::string("head.csv --limit-strict 0.2 --limit-loose 0.1")}) {
    const Ran ran = bench.run("face " + arguments);
    INFO("face " << arguments << "\n" << ran.out);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK_FALSE(ran.err.empty());
  }
  CHECK_THAT(bench.run("face head.csv --head haed" + kProfile).err,
             ContainsSubstring("did you mean \"head\"?"));
}

}  // namespace twoturn::test
