#include <filesystem>

#include "cli/command.hpp"

namespace twoturn::test {
namespace {

TEST_CASE("A starter goes to standard output, and check reads it from there") {
  const Bench bench;
  const Ran starter = done(bench, "starter --cams 2 --idlers 1 --pump");
  bench.write("mine.toml", starter.out);
  const Json check = done(bench, "check mine.toml --json").json();
  CHECK(check["verdict"] == "look again");
  CHECK(check["findings"][0]["code"] == "example-numbers");
  CHECK(done(bench, "check mine.toml --strict --json", 1).json()["verdict"] == "look again");
}

TEST_CASE("With -o the starter is written whole, and never over a file unless forced") {
  const Bench bench;
  const std::string text = done(bench, "starter").out;
  done(bench, "starter -o mine.toml");
  CHECK(bench.read("mine.toml") == text);
  CHECK_THAT(refused(bench, "starter --cams 2 -o mine.toml", 4).err, ContainsSubstring("--force"));
  CHECK(bench.read("mine.toml") == text);
  done(bench, "starter --cams 2 -o mine.toml --force");
  CHECK(bench.read("mine.toml") == done(bench, "starter --cams 2").out);
}

TEST_CASE("A starter that cannot be written leaves nothing behind") {
  const Bench bench;
  std::filesystem::create_directory(bench.path("folder"));
  refused(bench, "starter -o folder", 4);
  refused(bench, "starter -o no/such/place.toml", 4);
  refused(bench, "starter -o /dev/null --force", 4);
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(bench.path("."))) {
    files += entry.path().filename().string()[0] == '.' ? 0 : 1;
  }
  CHECK(files == 1);  // the folder
}

TEST_CASE("A forced starter goes through a link to the file behind it") {
  const Bench bench;
  bench.write("real.toml", "old\n");
  std::filesystem::create_symlink("real.toml", bench.path("link.toml"));
  done(bench, "starter -o link.toml --force");
  CHECK(std::filesystem::is_symlink(bench.path("link.toml")));
  CHECK(bench.read("real.toml") == done(bench, "starter").out);
}

TEST_CASE("The starter's document holds the text, or where it went and how long it is") {
  const Bench bench;
  const Json text = done(bench, "starter --cams 4 --json").json();
  CHECK(text["path"].is_null());
  CHECK(text["drive"]["heads"] == 2);
  CHECK(text["text"] == done(bench, "starter --cams 4").out);
  CHECK(text["sketches"] == done(bench, "starter --tensioner none --json").json()["sketches"]);
  const Json file = done(bench, "starter --paper --json -o sheet.txt").json();
  CHECK(file["path"] == "sheet.txt");
  CHECK(file["form"] == "paper");
  CHECK(file["bytes"] == bench.read("sheet.txt").size());
  CHECK(file["text"].is_null());
}

TEST_CASE("What a starter cannot be is wrong usage") {
  const Bench bench;
  for (const char* arguments :
       {"starter --cams 3", "starter --cams 0", "starter --cams 4 --heads 1",
        "starter --heads 2 --cams 2 --injection-pump", "starter --tensioner string",
        "starter --idlers 9", "starter --force", "starter mine.toml"}) {
    refused(bench, arguments, 2);
  }
}

}  // namespace
}  // namespace twoturn::test
