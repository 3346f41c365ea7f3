// The commands that make the report and the pictures, where they touch files and the screen.
#include "cli/command.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("The report ends as the check does and says nothing but its page") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("counts.toml", kCounts);
  for (const char* question :
       {"launch.toml", "counts.toml", "counts.toml --strict", "launch.toml --by-the-book"}) {
    const Ran report = bench.run(std::string("report ") + question);
    CHECK(report.code == bench.run(std::string("check ") + question).code);
    CHECK(report.out.rfind("<!DOCTYPE html>", 0) == 0);
    // Progress is for terminals alone.
    CHECK(report.err.empty());
  }
}

TEST_CASE("With -o the report is written whole, never over a file unless forced, and told of") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const std::string page = bench.run("report launch.toml").out;
  CHECK(bench.run("report launch.toml -o -").out == page);
  const Json file = done(bench, "report launch.toml --json -o report.html", 1).json();
  CHECK(bench.read("report.html") == page);
  CHECK(file["path"] == "report.html");
  CHECK(file["bytes"] == page.size());
  CHECK(file["moves"] == true);
  CHECK(file["findings"] == done(bench, "check launch.toml --json", 1).json()["findings"]);
  refused(bench, "report launch.toml -o report.html", 4);
  // With --json an error is a document too.
  CHECK(bench.run("report launch.toml --json").code == 2);
  CHECK(bench.run("draw launch.toml --json").code == 2);
  refused(bench, "report none.toml", 3);
  bench.write("counts.toml", kCounts);
  refused(bench, "draw launch.toml --true-size -o picture.svg", 2);
  refused(bench, "draw counts.toml --true-size", 2);
  refused(bench, "draw counts.toml --crank 90", 2);
}

}  // namespace
}  // namespace twoturn::test
