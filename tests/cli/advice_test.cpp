// What is advised where a profile says little, or says it wrongly: no word of a part that is not
// there, and never milder than the numbers.
#include "cli/command.hpp"
#include "cli/drives.hpp"
#include "support/demos.hpp"
#include "support/texts.hpp"

namespace twoturn::test {
namespace {

struct Row {
  std::string asked;
  std::string said;
  std::string not_said;
};

std::string told(const Bench& bench, const std::string& asked) {
  return texts::on_one_line(bench.run(asked).out);
}

void check_all(const Bench& bench, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    const std::string text = told(bench, row.asked);
    INFO(row.asked << ":\n" << text);
    if (!row.said.empty()) CHECK_THAT(text, ContainsSubstring(row.said));
    if (!row.not_said.empty()) CHECK_THAT(text, !ContainsSubstring(row.not_said));
  }
}

}  // namespace

TEST_CASE("A crank is parked by the numbers, whatever is said of interference") {
  const Bench bench;
  bench.write("launch.toml", demos::text_of("harbour-launch"));
  const std::string said = "by what is stated no valve meets a piston";
  const std::string late =
      "check launch.toml --set 'build.teeth_out.cam=1 late' --set engine.interference=false";
  check_all(bench, {{late, "treat it as if they meet", said},
                    {late + " --set valve.inlet.room_tdc_mm=20 --set valve.exhaust.room_tdc_mm=20",
                     said, "treat it as if they meet"}});
}

TEST_CASE("A skim of which nobody can tell what it does leaves nothing in phase") {
  const Bench bench;
  const std::string launch = demos::text_of("harbour-launch");
  bench.write("whole.toml", launch);
  bench.write("lean.toml", texts::with(launch, "deck_deg = 4\n", ""));
  // What is missing of the valves takes nothing from it; a thousandth of a mm prints as nothing.
  bench.write("valves.toml", texts::with(launch, "room_tdc_mm = 4.4\n", ""));
  const std::string asked = std::string("face '") + TWOTURN_SOURCE_DIR +
                            "/examples/launch-head.csv' --skim 0.2 --profile ";
  const std::string in_phase = "leaves every timed shaft in phase";
  check_all(bench, {{asked + "whole.toml", "leaves the cam late", in_phase},
                    {asked + "lean.toml", "may move the timing", in_phase},
                    {texts::with(asked, "0.2", "0.001") + "valves.toml --set build.skim_mm.head=0",
                     in_phase, "may move the timing"}});
}

TEST_CASE("Advice names the parts that there are") {
  const Bench bench;
  bench.write("orchard.toml", demos::text_of("orchard-sprayer"));
  bench.write("van.toml",
              texts::with(demos::text_of("night-bakery-van"), "mass_g_per_m = 118\n", ""));
  bench.write("bolts.toml",
              "title = \"Bolts\"\n[[bolts]]\nname = \"head bolts\"\ncount = 4\n[[bolts]]\n"
              "name = \"cam bolts\"\n[[bolts.stage]]\ntorque_nm = 20\n");
  bench.write("overlap.toml", texts::with(kFixed, "379.789154598", "60"));
  check_all(bench,
            {{"check orchard.toml --set pulley.tensioner.tensioner.set_mm=30",
              "set_mm counts from the slack end", "seen from the pivot"},
             {"tension van.toml", "cannot be told yet: see what is missing", "is not given"},
             {"check overlap.toml", "Between these fixed centres no belt can run", "tensioner"}});
  CHECK_THAT(refused(bench, "bolts bolts.toml --reached 1 --group 'head bolts'", 2).err,
             ContainsSubstring("head bolts: what stages they have is not given"));
  CHECK_THAT(refused(bench, "bolts bolts.toml --reached 1 --group 'cam bolts'", 2).err,
             ContainsSubstring("cam bolts: their count is not given"));
}

TEST_CASE(
    "A tension that is wanted is asked for, also where no belt runs straight as it is named") {
  const Bench bench;
  bench.write("van.toml", demos::text_of("night-bakery-van"));
  bench.write("far.toml", texts::with(demos::text_of("night-bakery-van"),
                                      "to = \"water pump\"\ntarget_hz = 110",
                                      "to = \"crank\"\ntarget_n = 250"));
  // 250 N in every run without a load; in the one to measure on it is what the springs make of it.
  const std::string far = told(bench, "tension far.toml");
  CHECK_THAT(far, StartsWith("308 N, or 123 Hz"));
  CHECK_THAT(far, ContainsSubstring("inlet cam water pump 208 308 123"));
  for (const char* name : {"van", "far"}) {
    INFO(name);
    static_cast<void>(
        bench.run(std::string("sheet ") + name + ".toml --record " + name + "-r.toml"));
    CHECK_THAT(bench.read(std::string(name) + "-r.toml"), ContainsSubstring("\n[tension]\n"));
  }
}

}  // namespace twoturn::test
