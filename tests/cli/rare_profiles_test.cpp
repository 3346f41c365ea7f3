// What few profiles have, through the command: a damper's mark, a slide, cams out alike, names with
// quotes, counts alone. Numbers beside them are by hand.
#include "cli/command.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

using demos::file_text;
using texts::on_one_line;
using texts::with;

// A bench with the saloon, its crank with a further mark.
void put_damper(const Bench& bench, const std::string& radius) {
  const std::string pin = "pin = { radius_mm = 55, play_mm = 0.1 }";
  const std::string mark = "\n[[pulley.mark]]\nname = \"damper\"\nat_deg = 75\n" + radius;
  bench.write("p.toml", with(file_text("hill-climb-saloon.toml"), pin, pin + mark));
  bench.write("hill-climb-saloon-inlet.csv", file_text("hill-climb-saloon-inlet.csv"));
}

}  // namespace

TEST_CASE(
    "why: a damper's mark that stands off is told by its own edge, or in degrees without one") {
  const Bench bench;
  put_damper(bench, "radius_mm = 70\n");
  const std::string edge = on_one_line(bench.run("why p.toml").out);
  // 5 deg at 70 mm: 70 x 5 x pi/180 = 6.1 mm.
  CHECK_THAT(edge, ContainsSubstring("the mark on the damper: 6.1 mm early (5.00 crank deg)"));
  const std::string seen = on_one_line(
      bench.run("why p.toml --pin crank=in --mark 'damper=6 crank deg late' --after 2").out);
  CHECK_THAT(seen, ContainsSubstring("the mark on the damper has moved"));
  // 6 deg at 70 mm: 7.33 mm.
  CHECK_THAT(seen, ContainsSubstring("the mark on the damper 7.3 mm late"));
}

TEST_CASE("sheet: the card trusts a damper's mark last, and names it") {
  const Bench bench;
  put_damper(bench, "radius_mm = 70\n");
  const std::string card = on_one_line(bench.run("sheet p.toml --card --phone").out);
  CHECK_THAT(card, ContainsSubstring("outer ring (the damper): it may have moved"));
  const std::string page = bench.run("sheet p.toml --card").out;
  CHECK_THAT(page, ContainsSubstring("the damper"));
  CHECK_THAT(bench.run("report p.toml").out, ContainsSubstring("damper"));
}

TEST_CASE("turns: cams that are out alike are put right at the crank, with one move") {
  const Bench bench;
  bench.write("p.toml", file_text("hill-climb-saloon.toml"));
  bench.write("hill-climb-saloon-inlet.csv", file_text("hill-climb-saloon-inlet.csv"));
  const std::string text =
      on_one_line(bench.run("turns p.toml --set 'build.teeth_out.crank=1 late'").out);
  CHECK_THAT(text, ContainsSubstring("all of them are out alike, so the belt sits wrong at the "
                                     "crank: turn the crank 1 tooth on"));
}

TEST_CASE("record: a blank one asks for the place that this tensioner shows") {
  const Bench bench;
  const std::string launch = file_text("harbour-launch.toml");
  const auto blank = [&](const std::string& profile, const std::string& file) {
    bench.write("p.toml", profile);
    done(bench, "sheet p.toml --record " + file);
    return bench.read(file);
  };
  CHECK_THAT(blank(launch, "a.toml"), ContainsSubstring("pointer_deg = \"\""));
  const std::size_t at = launch.find("pointer_deg");
  REQUIRE(at != std::string::npos);
  const std::string line = launch.substr(at, launch.find('\n', at) - at);
  const std::string roller = blank(with(launch, line, ""), "b.toml");
  CHECK_THAT(roller, ContainsSubstring("roller_deg = \"\""));
  CHECK_THAT(roller, !ContainsSubstring("pointer_deg"));
  // Names that TOML has to be told carefully.
  const std::string odd = blank(with(launch, "title = \"Harbour launch, single-cam four\"",
                                     "title = \"The \\\"old\\\" launch\\\\two\\u0007\""),
                                "c.toml");
  CHECK_THAT(odd, ContainsSubstring("profile = \"The \\\"old\\\" launch\\\\two"));
  done(bench, "check p.toml --record c.toml");
}

TEST_CASE("A profile of bolts alone makes a job card, and says that there is no belt to draw") {
  const Bench bench;
  const std::string bolts =
      "[[bolts]]\nname = \"head bolts\"\ncount = 10\n[[bolts.stage]]\ntorque_nm = 30\n";
  bench.write("p.toml", bolts);
  CHECK_THAT(on_one_line(bench.run("draw p.toml").out + bench.run("draw p.toml").err),
             ContainsSubstring("picture"));
  CHECK(bench.run("draw p.toml").code == 1);
  const std::string card = on_one_line(done(bench, "sheet p.toml --job-card --phone").out);
  CHECK_THAT(card, ContainsSubstring("numbers as in the manual:"));
  CHECK_THAT(card, !ContainsSubstring(", in order:"));
  // Teeth of a belt, and still no pulley.
  bench.write("p.toml", "[belt]\nteeth = 129\n" + bolts);
  CHECK(bench.run("sheet p.toml").code <= 1);
  CHECK(bench.run("draw p.toml").code == 1);
}

TEST_CASE("A record is written alone, and of the job as fitted; that is said before any work") {
  const Bench bench;
  bench.write("p.toml", file_text("harbour-launch.toml"));
  for (const std::string other : {"--card", "--job-card", "--phone", "--by-the-book", "--force"}) {
    INFO(other);
    refused(bench, "sheet p.toml --record r.toml " + other, 2);
    CHECK_FALSE(std::filesystem::exists(bench.path("r.toml")));
  }
  done(bench, "sheet p.toml --record r.toml");
  for (const std::string command : {"check", "bolts"}) {
    refused(bench, command + " p.toml --record r.toml --by-the-book", 2);
  }
}

}  // namespace twoturn::test
