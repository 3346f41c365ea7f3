// The command that tells bolts, and the job card and its record where they touch files.
#include "cli/command.hpp"

namespace twoturn::test {
namespace {

const char* const kBolts = R"(title = "Bolts alone"
[[bolts]]
name = "head bolts"
positions_mm = [[0, 0], [95, 0], [190, 0], [0, 84], [95, 84], [190, 84]]
pitch_mm = 1.25
threads = "oiled"
condition = "new"
[[bolts.stage]]
torque_lbf_ft = 30
[[bolts.stage]]
angle_deg = 90
[[bolts.stage]]
angle_deg = 90
[[tray]]
name = "tappets"
columns = 4
rows = 2
)";

TEST_CASE("Bolts alone are told stage by stage, in Nm and lbf ft") {
  const Bench bench;
  bench.write("bolts.toml", kBolts);
  const std::string text = done(bench, "bolts bolts.toml").out;
  // Exact: 30 lbf ft = 30 x 0.3048 x 0.45359237 x 9.80665 Nm = 40.674538...
  CHECK_THAT(text, ContainsSubstring("to 40.7 Nm (30 lbf ft)"));
  CHECK_THAT(text, ContainsSubstring("90 more: dot from 3 to 6 o'clock (180 in all)"));
  CHECK_THAT(text, ContainsSubstring("0.3125 mm along its\n   thread"));
  CHECK_THAT(text, ContainsSubstring("common practice"));
  const Json document = done(bench, "bolts bolts.toml --json").json();
  CHECK(document["groups"][0]["stages"][0]["torque_nm"].get<double>() ==
        30.0 * (0.3048 * 0.45359237 * 9.80665));
}

TEST_CASE("Where was I: the command tells the next move first") {
  const Bench bench;
  bench.write("bolts.toml", kBolts);
  const std::string text = done(bench, "bolts bolts.toml --reached 2,2,1,1").out;
  CHECK(text.rfind("Head bolts: next is bolt 5 of the order (6 in the list), stage 1: to 40.7 Nm",
                   0) == 0);
  CHECK_THAT(text, ContainsSubstring("   1 [x] 2 [x] 3 [x] 4 [x] 5 [ ] 6 [ ]\n2. "));
  CHECK_THAT(text, ContainsSubstring("   1 [x] 2 [x] 3 [ ] 4 [ ] 5 [ ] 6 [ ]\n3. "));
  const Json next = done(bench, "bolts bolts.toml --reached 3,3,3,3,3,2 --json").json()["next"][0];
  CHECK(next["reached"] == Json({3, 3, 3, 3, 3, 2}));
  CHECK(next["bolt"] == 6);
  CHECK(next["stage"] == 3);
  CHECK(next["ticks"] == 17);
  CHECK(
      done(bench, "bolts bolts.toml --reached 3,3,3,3,3,3 --json").json()["next"][0]["all_done"] ==
      true);
  refused(bench, "bolts bolts.toml --reached 4", 2);
  refused(bench, "bolts bolts.toml --reached 1,1,1,1,1,1,1", 2);
  refused(bench, "bolts bolts.toml --group 'head bolts'", 2);
  CHECK_THAT(refused(bench, "bolts bolts.toml --reached 1 --group 'head bolt'", 2).err,
             ContainsSubstring("head bolts"));
}

TEST_CASE("A profile without bolts ends with none and says what would tell") {
  const Bench bench;
  bench.write("counts.toml", "[[pulley]]\nname = \"a\"\n[[pulley]]\nname = \"b\"\n");
  const Ran ran = bench.run("bolts counts.toml");
  CHECK(ran.code == 1);
  CHECK_THAT(ran.out, ContainsSubstring("[[bolts]]"));
}

TEST_CASE("A sheet from bolts alone is a job card with grid, order drawn and tray") {
  const Bench bench;
  bench.write("bolts.toml", kBolts);
  const std::string page = done(bench, "sheet bolts.toml").out;
  CHECK_THAT(page, ContainsSubstring("aria-label=\"head bolts, stage 3, bolt 6\""));
  CHECK_THAT(page, ContainsSubstring("<svg"));
  CHECK_THAT(page, ContainsSubstring("aria-label=\"tappets 8 back\""));
  CHECK(page == done(bench, "sheet bolts.toml --job-card").out);
  const std::string phone = done(bench, "sheet bolts.toml --phone").out;
  CHECK_THAT(phone, ContainsSubstring("6 [ ]"));
}

TEST_CASE("Bad bolts are refused, each with its rule") {
  const Bench bench;
  const std::string before = "[[bolts]]\nname = \"b\"\n";
  const std::string stage = "[[bolts.stage]]\n";
  const struct {
    std::string text;
    const char* rule;
  } cases[] = {
      {"[[bolts]]\ncount = 4\n", "needs a name"},
      {before + before, "stands twice"},
      {before + "count = 0\n", "must be 1 or more"},
      {before + "holds = \"hed\"\n[[head]]\nname = \"head\"\n", "head"},
      {before + "count = 3\npositions_mm = [[0, 0], [1, 0]]\n", "positions_mm has 2 places"},
      {before + "positions_mm = [[0, 0], [0, 0]]\n", "two bolts in one place"},
      {before + "count = 3\norder = [1, 2, 2]\n", "each bolt from 1 to 3 once"},
      {before + "order = [1]\n", "say how many bolts"},
      {before + stage + "torque_nm = 40\nangle_deg = 90\n", "make two stages"},
      {before + stage, "a stage needs"},
      {before + stage + "torque_nm = -1\n", "must be more than 0"},
      {before + stage + "torque_nm = 40\ntorque_lbf_ft = 30\n", "the same torque stands twice"},
      {before + "pitch_mm = 0\n", "must be more than 0"},
      {before + "condition = \"old\"\n", "\"new\" or \"reused\""},
      {before + "threads = \"wet\"\n", "\"dry\" or \"oiled\""},
      {"[[access_hole]]\nname = \"none\"\n", "goes through no hole"},
      {"[[access_hole]]\nclosed_by = \"plug\"\n", "needs a name"},
      {"[[pulley]]\nname = \"c\"\npin = { access_hole = \"hol\" }\n[[access_hole]]\nname = "
       "\"hole\"\n",
       "must name an [[access_hole]]"},
      {"[[tray]]\nname = \"t\"\n", "say how many parts"},
      {"[[tray]]\nname = \"t\"\ncolumns = 0\n", "must be 1 or more"},
  };
  for (const auto& one : cases) {
    bench.write("bad.toml", one.text);
    INFO(one.text);
    CHECK_THAT(refused(bench, "bolts bad.toml", 3).err, ContainsSubstring(one.rule));
  }
}

}  // namespace
}  // namespace twoturn::test
