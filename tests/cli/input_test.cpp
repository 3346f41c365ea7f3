#include <chrono>

#include "cli/command.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

const char* const kReaders[] = {"marks", "route", "teeth", "tensioner", "turns"};
const char* const kAllReaders[] = {"check", "draw",  "face",   "face --profile", "marks",
                                   "bolts", "park",  "report", "route",          "sheet",
                                   "teeth", "turns", "valves", "tensioner"};

// Longer than the 255 bytes that Linux lets a file's name have (NAME_MAX, limits.h).
const std::string kLongName(300, 'n');

TEST_CASE("A file that cannot be used ends every command with 3 and its name") {
  const Bench bench;
  std::filesystem::create_directory(bench.path("folder"));
  std::filesystem::create_symlink("gone.toml", bench.path("dangling.toml"));
  bench.write("empty.toml", "");
  bench.write("prose.toml", "Dear reader, this is not a profile.\n");
  for (const char* command : kAllReaders) {
    for (const char* file : {"gone.toml", "dangling.toml", "folder", "empty.toml", "prose.toml"}) {
      const Ran ran = refused(bench, std::string(command) + " " + file, 3);
      CHECK_THAT(ran.err, ContainsSubstring(file));
    }
  }
}

TEST_CASE("A name longer than any file's is a file that cannot be used, in every command") {
  const Bench bench;
  for (const char* command : kAllReaders) {
    const Ran ran = refused(bench, std::string(command) + " " + kLongName, 3);
    CHECK_THAT(ran.err, ContainsSubstring("cannot be opened: File name too long"));
  }
  bench.write("table.toml", std::string(kCounts) + "[[valve]]\nname = \"inlet\"\ntable = \"" +
                                kLongName + "\"\n");
  CHECK_THAT(refused(bench, "check table.toml", 3).err, ContainsSubstring("File name too long"));
}

TEST_CASE("Face takes standard input as the other commands do, up to 32 MB") {
  const Bench bench;
  bench.write("heights.csv", "x_mm,y_mm,height_mm\n0,0,0\n100,0,0\n0,80,0\n100,80,0.01\n");
  const Json file = done(bench, "face heights.csv --json").json();
  const Json piped = Json::parse(bench.run("face - --json", "<heights.csv").out);
  CHECK(file["verdict"] == piped["verdict"]);
  CHECK_THAT(refused(bench, "face /dev/zero", 3).err, ContainsSubstring("larger than 32 MB"));
  bench.write("huge.csv", "x_mm,y_mm,height_mm\n");
  std::filesystem::resize_file(bench.path("huge.csv"), 200'000'000);
  CHECK_THAT(refused(bench, "face huge.csv", 3).err, ContainsSubstring("larger than 32 MB"));
}

TEST_CASE("A file that may not be read says so") {
  const Bench bench;
  bench.write("locked.toml", kLaunch);
  std::filesystem::permissions(bench.path("locked.toml"), std::filesystem::perms::none);
  const bool root = std::ifstream(bench.path("locked.toml")).good();
  const Ran ran = bench.run("route locked.toml");
  // Root may read anything.
  CHECK(ran.code == (root ? 0 : 3));
  if (!root) CHECK_THAT(ran.err, ContainsSubstring("locked.toml"));
}

TEST_CASE("A huge file and an endless one are refused at once, never read whole") {
  const Bench bench;
  bench.write("huge.toml", "x = 1\n");
  std::filesystem::resize_file(bench.path("huge.toml"), 200'000'000);
  const auto begun = std::chrono::steady_clock::now();
  for (const char* file : {"huge.toml", "/dev/zero"}) {
    const Ran ran = refused(bench, std::string("route ") + file, 3);
    CHECK_THAT(ran.err, ContainsSubstring(file));
    CHECK_THAT(ran.err, ContainsSubstring("larger than 4 MB"));
  }
  const Ran piped = bench.run("route -", "</dev/zero");
  CHECK(piped.code == 3);
  CHECK_THAT(piped.err, ContainsSubstring("standard input"));
  // Each is a matter of milliseconds; ten seconds leave room for a busy machine and sanitizers.
  CHECK(std::chrono::steady_clock::now() - begun < std::chrono::seconds(10));
}

TEST_CASE("Standard input reads like the file of the same text") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  for (const char* command : kReaders) {
    const Ran file = bench.run(std::string(command) + " launch.toml --json");
    const Ran piped = bench.run(std::string(command) + " - --json", "<launch.toml");
    CHECK(file.code < 2);
    CHECK(piped.code == file.code);
    CHECK(piped.out == file.out);
    CHECK(piped.err.empty());
  }
  CHECK(bench.run("route -").code == 3);
}

TEST_CASE("--set answers what if, and a value that cannot be is refused like the file's") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  const Json other = done(bench, "route launch.toml --set pulley.cam.teeth=38 --json").json();
  CHECK(other["pulleys"][2]["teeth"] == 38);
  const Json twice =
      done(bench, "marks launch.toml --set belt.teeth=120 --set pulley.cam.teeth=40 --json").json();
  CHECK(twice["paint"]["all_meet_turns"] == 6);
  CHECK_THAT(refused(bench, "route launch.toml --set pulley.cam.teth=38", 3).err,
             ContainsSubstring("teeth"));
  refused(bench, "route launch.toml --set pulley.cam.teeth=many", 3);
}

TEST_CASE("With --json an unusable profile lists every problem, each with its place") {
  const Bench bench;
  bench.write("bad.toml", "[belt]\nsection = \"ZZ\"\nteeeth = 111\n[[pulley]]\nname = \"crank\"\n");
  const Json error = done(bench, "route bad.toml --json", 3).json().at("error");
  CHECK(error["kind"] == "input");
  CHECK(error["exit_code"] == 3);
  REQUIRE(error["problems"].size() >= 2);
  for (const Json& problem : error["problems"]) {
    CHECK(problem["file"] == "bad.toml");
    for (const char* key : {"line", "column", "key", "value", "rule", "nearest", "text"}) {
      CHECK(problem.contains(key));
    }
  }
  const Json gone = done(bench, "route gone.toml --json", 3).json().at("error");
  CHECK(gone["problems"][0]["file"] == "gone.toml");
  CHECK(gone["problems"][0]["line"].is_null());
}

TEST_CASE("Too little given: what is missing, each with one measurement, and exit 1") {
  const Bench bench;
  bench.write("counts.toml", kCounts);
  for (const char* command : {"route", "teeth", "tensioner", "turns"}) {
    const std::string arguments = std::string(command) + " counts.toml";
    CHECK_THAT(done(bench, arguments, 1).out, ContainsSubstring("measure"));
    const Json document = done(bench, arguments + " --json", 1).json();
    CHECK(document["none"]["reason"] == "missing");
    REQUIRE_FALSE(document["missing"].empty());
    for (const Json& missing : document["missing"]) {
      for (const char* key : {"answer", "key", "measure"}) {
        CHECK_FALSE(missing[key].get<std::string>().empty());
      }
    }
  }
  CHECK(done(bench, "marks counts.toml --json").json()["paint"]["teeth_further_on"] == 40);
}

TEST_CASE("Two turns want the belt's tooth count, and say so") {
  const Bench bench;
  std::string launch = kLaunch;
  launch.erase(launch.find("teeth = 111"), std::string("teeth = 111").size());
  bench.write("launch.toml", launch);
  const Json document = done(bench, "turns launch.toml --json", 1).json();
  CHECK(document["missing"][0]["key"] == "belt.teeth");
  // What the count is not needed for is answered all the same.
  CHECK(done(bench, "teeth launch.toml --json").json()["fits"][0]["teeth"] == 111);
  done(bench, "tensioner launch.toml");
  done(bench, "route launch.toml");
}

}  // namespace
}  // namespace twoturn::test
