#include "cli/command.hpp"
#include "cli/drives.hpp"

namespace twoturn::test {
namespace {

const char* const kCommands[] = {"marks", "route", "teeth", "tensioner", "turns", "sections"};

TEST_CASE("Help is a result: exit 0, on standard output, with a plain word for each command") {
  const Bench bench;
  const Ran all = done(bench, "--help");
  for (const char* command : kCommands) {
    CHECK_THAT(all.out, ContainsSubstring(std::string("  ") + command));
    const Ran one = done(bench, std::string(command) + " --help");
    CHECK_THAT(one.out, ContainsSubstring("--json"));
    CHECK_FALSE(one.out.substr(0, one.out.find('\n')).empty());
  }
  CHECK_THAT(done(bench, "--version").out, StartsWith("twoturn "));
}

TEST_CASE("Wrong usage ends with 2, a reason on standard error and nothing on standard output") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  bench.write("fixed.toml", kFixed);
  for (const char* arguments : {"",
                                "route",
                                "route launch.toml launch.toml",
                                "route launch.toml --no-such-option",
                                "route launch.toml --at noon",
                                "route launch.toml --at 25:00",
                                "route launch.toml --at nan",
                                "route launch.toml --at 1e999",
                                "route launch.toml --at 3:5",
                                "route fixed.toml --at 30",
                                "route launch.toml --set pulley.cam.teeth",
                                "route launch.toml --set =3",
                                "teeth launch.toml --move cam",
                                "teeth fixed.toml --move spindel",
                                "teeth fixed.toml --move motor",
                                "teeth fixed.toml --along up",
                                "tensioner launch.toml --rows 0",
                                "tensioner launch.toml --rows 1000000",
                                "turns launch.toml --turns two",
                                "turns launch.toml --turns -1",
                                "turns launch.toml --step-deg 0",
                                "turns launch.toml --step-deg nan",
                                "marks --belt 0",
                                "marks --belt 111.5",
                                "marks --pitch -8",
                                "marks --section ZZ",
                                "marks --section ZA --pitch 8",
                                "marks --skim 300",
                                "marks --skim nan",
                                "marks --centre inf",
                                "marks --set belt.teeth=3",
                                "sections launch.toml"}) {
    refused(bench, arguments, 2);
  }
}

TEST_CASE("A slip of the pen in a command, a pulley or a section is answered with the nearest") {
  const Bench bench;
  bench.write("fixed.toml", kFixed);
  CHECK_THAT(refused(bench, "rout fixed.toml", 2).err,
             ContainsSubstring("did you mean \"route\"?"));
  CHECK_THAT(refused(bench, "teeth fixed.toml --move spindel", 2).err,
             ContainsSubstring("did you mean \"spindle\"?"));
  CHECK_THAT(refused(bench, "marks --section H8N", 2).err,
             ContainsSubstring("did you mean \"H8M\"?"));
}

TEST_CASE("With --json wrong usage is one document on standard output too") {
  const Bench bench;
  bench.write("launch.toml", kLaunch);
  for (const char* arguments : {"route --json", "rout --json", "route launch.toml --json --csv",
                                "route launch.toml --json --at noon", "marks --json --belt x"}) {
    const Json error = done(bench, arguments, 2).json().at("error");
    CHECK(error.at("kind") == "usage");
    CHECK(error.at("exit_code") == 2);
    CHECK_FALSE(error.at("text").get<std::string>().empty());
  }
}

}  // namespace
}  // namespace twoturn::test
