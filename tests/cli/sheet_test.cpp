// The command that makes the job sheet.
#include "cli/command.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("The sheet goes to standard output as one page of HTML, or as text for a phone") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const std::string page = done(bench, "sheet launch.toml", 1).out;  // a cam a tooth late
  CHECK(page.rfind("<!DOCTYPE html>", 0) == 0);
  CHECK_THAT(page, ContainsSubstring("STOP: do not turn it"));
  CHECK_THAT(done(bench, "sheet launch.toml --phone", 1).out, ContainsSubstring("STOP"));
}

TEST_CASE("The sheet ends as the check does: stop 1, else 0, strict look again 1") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("counts.toml", kCounts);
  for (const char* question :
       {"launch.toml", "counts.toml", "counts.toml --strict", "launch.toml --by-the-book",
        "launch.toml --set build.teeth_out.cam=0"}) {
    CHECK(bench.run(std::string("sheet ") + question).code ==
          bench.run(std::string("check ") + question).code);
  }
}

TEST_CASE("With -o the sheet is written whole, and never over a file unless forced") {
  const Bench bench;
  bench.write("counts.toml", kCounts);
  const std::string text = done(bench, "sheet counts.toml").out;
  CHECK_THAT(done(bench, "sheet counts.toml -o sheet.html").out, ContainsSubstring("sheet.html"));
  CHECK(bench.read("sheet.html") == text);
  refused(bench, "sheet counts.toml --phone -o sheet.html", 4);
  CHECK(bench.read("sheet.html") == text);
  done(bench, "sheet counts.toml --phone -o sheet.html --force");
  CHECK(bench.read("sheet.html") == done(bench, "sheet counts.toml --phone").out);
  refused(bench, "sheet counts.toml --force", 2);
  refused(bench, "sheet none.toml", 3);
  refused(bench, "sheet", 2);
}

TEST_CASE("What is written of a stop says so on the screen as well") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  CHECK_THAT(done(bench, "sheet launch.toml -o sheet.html", 1).out,
             ContainsSubstring("STOP: do not turn it"));
}

TEST_CASE("The sheet's document has the file, its length, the findings and the check inside") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json file = done(bench, "sheet launch.toml --json -o sheet.html", 1).json();
  CHECK(file["command"] == "sheet");
  CHECK(file["form"] == "page");
  CHECK(file["path"] == "sheet.html");
  CHECK(file["bytes"] == bench.read("sheet.html").size());
  CHECK(file["verdict"] == "stop");
  const Json check = done(bench, "check launch.toml --json", 1).json();
  CHECK(file["findings"] == check["findings"]);
  CHECK(file["check"] == check);
  const Json none = done(bench, "sheet launch.toml --phone --json", 1).json();
  CHECK(none["form"] == "phone");
  CHECK(none["path"].is_null());
  CHECK(none["bytes"].is_null());
}

TEST_CASE("The samples are what the lines of README.md make") {
  const Bench bench;
  const std::string root = TWOTURN_SOURCE_DIR;
  const char* samples[][3] = {{"sheet", "night-bakery-van", "bakery-sheet.html"},
                              {"sheet", "harbour-launch", "launch-sheet.html"},
                              {"draw", "night-bakery-van", "bakery-picture.svg"},
                              {"report", "night-bakery-van", "bakery-report.html"}};
  for (const auto& [command, profile, sample] : samples) {
    std::ostringstream text;
    text << std::ifstream(root + "/examples/" + sample, std::ios::binary).rdbuf();
    INFO("twoturn " << command << " profiles/" << profile << ".toml -o examples/" << sample
                    << " --force");
    // Not whole in print where they differ: a page is long.
    const std::string made =
        bench.run(std::string(command) + " " + root + "/profiles/" + profile + ".toml").out;
    CHECK((made == text.str()));
  }
}

}  // namespace
}  // namespace twoturn::test
