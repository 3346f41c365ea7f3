#include <algorithm>

#include "cli/command.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("Output that cannot be written ends with 4, whatever was to be said") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  for (const char* arguments :
       {"route launch.toml", "teeth launch.toml --json", "tensioner launch.toml --csv",
        "turns launch.toml --csv", "marks --belt 111 --crank 20 --cam 40", "sections", "--help",
        "--version", "route gone.toml --json"}) {
    for (const char* redirect : {">/dev/full", ">&-"}) {
      const Ran ran = bench.run(arguments, redirect);
      INFO(arguments << redirect << ": " << ran.err);
      CHECK(ran.code == 4);
      CHECK_THAT(ran.err, ContainsSubstring("could not be written"));
    }
  }
}

TEST_CASE("A name longer than any file's cannot be written; the longest that a file may have can") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  // 255 bytes is the most that a name may have on Linux (NAME_MAX, limits.h).
  const std::string longest = std::string(250, 'n') + ".html";
  for (const char* command :
       {"starter", "draw launch.toml", "report launch.toml", "sheet launch.toml"}) {
    const std::string target = std::string(command) + " -o ";
    CHECK_THAT(refused(bench, target + "n" + longest, 4).err,
               ContainsSubstring("File name too long"));
    CHECK_FALSE(std::filesystem::exists(bench.path(longest)));
    CHECK(bench.run(target + longest).code < 2);
    CHECK(std::filesystem::remove(bench.path(longest)));
  }
}

TEST_CASE("CSV has a row of names with units, as many fields in every row, and CR LF") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("fixed.toml", kFixed);
  for (const char* arguments :
       {"route launch.toml", "teeth launch.toml", "tensioner launch.toml --rows 5",
        "turns launch.toml --step-deg 90", "sections", "teeth fixed.toml"}) {
    const std::string csv = bench.run(std::string(arguments) + " --csv").out;
    std::istringstream lines(csv);
    std::string line;
    std::size_t commas = 0;
    int rows = 0;
    while (std::getline(lines, line)) {
      INFO(arguments << ": " << line);
      CHECK(line.back() == '\r');
      const auto here = static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
      if (rows++ == 0) commas = here;
      CHECK(here == commas);
    }
    CHECK(rows > 2);
    CHECK(csv.find("nan") == std::string::npos);
    CHECK(csv.find("inf") == std::string::npos);
  }
}

TEST_CASE("A name with a comma and quotes is one field of CSV") {
  const Bench bench;
  std::string launch = kLaunch;
  const std::string pump = "\"water pump\"";
  launch.replace(launch.find(pump), pump.size(), R"('pump, "new"')");
  bench.write("launch.toml", launch);
  CHECK_THAT(done(bench, "route launch.toml --csv").out,
             ContainsSubstring("\"pump, \"\"new\"\"\","));
}

TEST_CASE("Two turns in steps of 90 degrees are nine rows, from the integer step") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json steps =
      done(bench, "turns launch.toml --steps --step-deg 90 --json", 1).json()["steps"];
  REQUIRE(steps.size() == 9);
  for (std::size_t k = 0; k < steps.size(); ++k) {
    CHECK(steps[k]["crank_deg"] == 90.0 * static_cast<double>(k));
  }
}

}  // namespace
}  // namespace twoturn::test
